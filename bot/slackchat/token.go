package slackchat

import (
	"regexp"
	"strconv"
	"strings"

	"salthand/bot"
)

// token is what Slack writes between brackets in a text: a mention, a link, a date. Brackets
// that a person typed come escaped.
var token = regexp.MustCompile(`<([^<>]*)>`)

var unescape = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&amp;", "&").Replace

// emphasis are the signs around words that only say how they look. What is struck through
// keeps its signs: whoever struck it does not mean it.
var emphasis = []*regexp.Regexp{
	regexp.MustCompile("()```([^`]+)```()"),
	regexp.MustCompile("()`([^`\n]+)`()"),
	regexp.MustCompile(`(^|[\s(,;])\*([^*\s][^*\n]*)\*($|[\s),.:;!?])`),
	regexp.MustCompile(`(^|[\s(,;])_([^_\s][^_\n]*)_($|[\s),.:;!?])`),
}

// words is a text in Slack's form as the bot reads it: people and groups as @name with who
// they are, everything else as a person sees it.
func (r reader) words(raw string) (text string, mentions map[string]bot.Account, mentioned bool) {
	var b strings.Builder
	for at := 0; ; {
		m := token.FindStringSubmatchIndex(raw[at:])
		if m == nil {
			b.WriteString(unescape(raw[at:]))
			break
		}
		b.WriteString(unescape(raw[at : at+m[0]]))
		inside, label, _ := strings.Cut(raw[at+m[2]:at+m[3]], "|")
		at += m[1]
		switch user, isUser := strings.CutPrefix(inside, "@"); {
		case isUser && user == r.user:
			mentioned = true
		case isUser:
			p := r.who(user)
			mentions = named(mentions, &b, firstSaid(p.name, user), bot.Account{Platform: Platform, Team: p.teamOr(r.team), User: user})
		case strings.HasPrefix(inside, "!subteam^"):
			group := strings.TrimPrefix(inside, "!subteam^")
			name := firstSaid(strings.TrimPrefix(unescape(label), "@"), firstSaid(r.handle(group), group))
			mentions = named(mentions, &b, name, bot.Account{Platform: Platform, Team: r.team, User: group, Group: true})
		default:
			b.WriteString(seen(inside, unescape(label)))
		}
	}
	text = b.String()
	for _, e := range emphasis {
		text = e.ReplaceAllString(text, "$1$2$3")
	}
	if mentioned {
		text = strings.TrimLeft(text, " ,:\u00a0")
	}
	return strings.TrimSpace(text), mentions, mentioned
}

// seen is what a person sees of a token that names no account.
func seen(inside, label string) string {
	switch {
	case strings.HasPrefix(inside, "#"):
		return "#" + strings.TrimPrefix(firstSaid(label, inside), "#")
	case strings.HasPrefix(inside, "!date^"):
		return label
	case strings.HasPrefix(inside, "!"):
		return "@" + strings.TrimPrefix(firstSaid(label, strings.TrimPrefix(inside, "!")), "@")
	}
	return firstSaid(label, unescape(inside))
}

func firstSaid(label, other string) string {
	if label != "" {
		return label
	}
	return other
}

// named writes the one word that stands for who is named, and notes who that is.
func named(mentions map[string]bot.Account, b *strings.Builder, name string, account bot.Account) map[string]bot.Account {
	if mentions == nil {
		mentions = map[string]bot.Account{}
	}
	first := strings.Map(func(c rune) rune {
		if strings.ContainsRune(" \t\n,;?!:@", c) {
			return '.'
		}
		return c
	}, bot.Visible(name))
	word := first
	for n := 2; ; n++ {
		if known, taken := mentions[word]; !taken || known == account {
			break
		}
		word = first + strconv.Itoa(n)
	}
	mentions[word] = account
	b.WriteString("@" + word)
	return mentions
}
