package slackchat

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// buttonForm stands before what a button carries. Buttons stay for years: a later form gets
// another word, and this one is still read.
const buttonForm = "1"

// buttonValue is what a button carries: what it does, of which batch, and the revision of the
// card that it stands on. It decides nothing by itself.
func buttonValue(p bot.Press) string {
	return fmt.Sprintf("%s %s %d %d", buttonForm, p.Action, p.Batch, p.Revision)
}

// pressOf reads what a button carries.
func pressOf(value string) (p bot.Press, ok bool) {
	f := strings.Fields(value)
	if len(f) != 4 || f[0] != buttonForm {
		return p, false
	}
	batch, err := strconv.ParseUint(f[2], 10, 64)
	revision, err2 := strconv.ParseUint(f[3], 10, 32)
	return bot.Press{Action: bot.Action(f[1]), Batch: batch, Revision: uint32(revision)}, err == nil && err2 == nil
}

// styles are the buttons that are coloured.
var styles = map[bot.Action]slack.Style{
	bot.DoApprove: slack.StylePrimary, bot.DoDecline: slack.StyleDanger, bot.DoHold: slack.StyleDanger,
}

// buttons are offered in rows of as many as a row takes.
func buttons(all []bot.Button) (parts []part) {
	for row := 0; len(all) > 0; row++ {
		n := min(len(all), buttonsAtMost)
		var elements []slack.BlockElement
		var labels []string
		for i, b := range all[:n] {
			label := firstOf(cmp.Or(shown(b.Label), string(b.Press.Action)), labelAtMost)
			// Ids in one message must differ.
			e := slack.NewButtonBlockElement(fmt.Sprintf("%s.%d", b.Press.Action, row*buttonsAtMost+i), buttonValue(b.Press), plain(label))
			elements, labels = append(elements, e.WithStyle(styles[b.Press.Action])), append(labels, "["+label+"]")
		}
		parts = append(parts, part{blocks: []slack.Block{slack.NewActionBlock("", elements...)}, text: strings.Join(labels, "  ")})
		all = all[n:]
	}
	return parts
}

// firstOf is the beginning of s that has room; the last letter of one that has none is "…".
func firstOf(s string, most int) string {
	if width(s) <= most {
		return s
	}
	return s[:prefix(s, most-1)] + "…"
}
