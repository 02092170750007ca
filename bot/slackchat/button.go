package slackchat

import (
	"cmp"
	"fmt"
	"slices"
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
	value := fmt.Sprintf("%s %s %d %d", buttonForm, p.Action, p.Batch, p.Revision)
	if p.Ask != "" {
		value += " " + p.Ask
	}
	return value
}

// pressOf reads what a button carries.
func pressOf(value string) (p bot.Press, ok bool) {
	f := strings.Fields(value)
	if len(f) < 4 || len(f) > 5 || f[0] != buttonForm {
		return p, false
	}
	if len(f) == 5 {
		p.Ask = f[4]
	}
	batch, err := strconv.ParseUint(f[2], 10, 64)
	revision, err2 := strconv.ParseUint(f[3], 10, 32)
	p.Action, p.Batch, p.Revision = bot.Action(f[1]), batch, uint32(revision)
	return p, err == nil && err2 == nil
}

// picks reports whether buttons are the choices of a question.
func picks(all []bot.Button) bool {
	return slices.ContainsFunc(all, func(b bot.Button) bool { return b.Press.Action == bot.DoPick })
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
