package slackchat

import (
	"regexp"
	"strings"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// escape writes text so that Slack shows it as it is: nothing in it becomes a mention, a link
// or a date. It is done once, where a text object or a message's text is made.
func escape(s string) string { return entities.Replace(s) }

var entities = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;")

// shown makes text fit to be shown: line ends stay, what a screen would obey or hide goes.
func shown(s string) string {
	if !strings.Contains(s, "\n") {
		return strings.TrimSpace(bot.Visible(s))
	}
	lines := strings.Split(s, "\n")
	for i, l := range lines {
		lines[i] = strings.TrimRight(bot.Visible(l), " ")
	}
	return strings.TrimSpace(strings.Join(lines, "\n"))
}

// width is how many characters Slack counts: UTF-16 units, of the escaped text to be sure.
func width(s string) (n int) {
	for _, r := range s {
		n += widthOf(r)
	}
	return n
}

func widthOf(r rune) int {
	switch {
	case r == '&':
		return len("&amp;")
	case r == '<' || r == '>':
		return len("&lt;")
	case r > 0xffff:
		return 2
	}
	return 1
}

// plain is a text object that shows its text as it is.
func plain(s string) *slack.TextBlockObject {
	return slack.NewTextBlockObject(slack.PlainTextType, escape(s), false, false)
}

// marked is a text object in Slack's markup. Verbatim keeps names of channels, people and
// addresses in it from becoming links.
func marked(s string) *slack.TextBlockObject {
	return slack.NewTextBlockObject(slack.MarkdownType, s, false, true)
}

// emojiName is what Slack would draw as a picture. The hours of a time are none.
var emojiName = regexp.MustCompile(`:(?:100|1234|[0-9]*[A-Za-z_+'-][A-Za-z0-9_+'-]*):`)

// tame reports whether text means the same in Slack's markup as in plain text. There is no
// way to escape the markup's own signs.
func tame(s string) bool { return !strings.ContainsAny(s, "*_~`>") && !emojiName.MatchString(s) }

// led is text with a bold lead before it, or all in plain letters where markup would change
// what the text says.
func led(lead, rest string) *slack.TextBlockObject {
	if lead == "" {
		return plain(rest)
	}
	if !tame(lead) || !tame(rest) {
		return plain(lead + rest)
	}
	bold := strings.ReplaceAll(escape(lead), "\n", "*\n*") // bold ends at the end of its line
	return marked("*" + bold + "*" + escape(rest))
}

// pieces cuts text into pieces of at most so many characters: between lines, else between
// words, else between letters. Nothing is left out but the space that was cut at.
func pieces(s string, most int) (out []string) {
	for {
		end := prefix(s, most)
		if end == len(s) {
			break
		}
		cut := strings.LastIndexByte(s[:end], '\n')
		if cut <= 0 {
			cut = strings.LastIndexByte(s[:end], ' ')
		}
		if cut <= 0 {
			out, s = append(out, s[:end]), s[end:]
			continue
		}
		out, s = append(out, s[:cut]), s[cut+1:]
	}
	if s != "" {
		out = append(out, s)
	}
	return out
}

// prefix is the number of bytes of the longest beginning of s that counts at most most
// characters.
func prefix(s string, most int) int {
	n := 0
	for i, r := range s {
		if n += widthOf(r); n > most {
			return i
		}
	}
	return len(s)
}
