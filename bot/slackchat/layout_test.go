package slackchat

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/slack-go/slack"
	"pgregory.net/rapid"

	"salthand/bot"
)

var update = flag.Bool("update", false, "write the files of testdata/blocks anew")

// Each card of testdata/cards, as the bot made it, is laid out as the file of the same name in
// testdata/blocks. Those files were looked at as a picture in the sizes of a phone.
func TestLayout(t *testing.T) {
	files, err := filepath.Glob("testdata/cards/*.json")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d cards, %v", len(files), err)
	}
	for _, f := range files {
		golden(t, filepath.Join("testdata/blocks", filepath.Base(f)), written(t, pages(readCard(t, f))))
	}
}

// golden fails where got is not what the file holds.
func golden(t testing.TB, file string, got []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if b, err := os.ReadFile(file); err != nil || !bytes.Equal(b, got) {
		t.Errorf("this is otherwise than in %s (%v):\n%s", file, err, got)
	}
}

func readCard(t testing.TB, file string) (c bot.Card) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &c); err != nil {
		t.Fatal(err)
	}
	return c
}

// written is pages as testdata keeps them.
func written(t testing.TB, all []page) []byte {
	t.Helper()
	type message struct {
		Text   string `json:"text"`
		Blocks any    `json:"blocks"`
	}
	var out []message
	for _, p := range all {
		out = append(out, message{p.text, p.blocks})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(out); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Nothing in a card can become a mention, a link, a date or a picture: no text object holds a
// bare < or >, and one in Slack's markup neither links names nor holds the markup's signs.
func TestNothingInACardIsObeyed(t *testing.T) {
	for _, p := range pages(readCard(t, "testdata/cards/hostile.json")) {
		eachText(t, p, func(kind, text string, verbatim bool) {
			if strings.ContainsAny(text, "<>") {
				t.Errorf("%q holds a bare bracket", text)
			}
			if strings.Contains(text, "&amp;lt;") || strings.Contains(text, "&amp;amp;") {
				t.Errorf("%q is escaped twice", text)
			}
			if kind == "mrkdwn" {
				if !verbatim {
					t.Errorf("%q would have its names and addresses linked", text)
				}
				code := strings.HasPrefix(text, "```") && strings.HasSuffix(text, "```")
				if inner := strings.Trim(text, "`*"); code && strings.Contains(inner, "```") || !code && strings.ContainsAny(inner, "_~`") {
					t.Errorf("%q holds signs of the markup", text)
				}
			}
			if strings.ContainsAny(text, "\u202e\u200b\a") {
				t.Errorf("%q holds what a screen would obey", text)
			}
		})
	}
}

// eachText looks at every text object of a page.
func eachText(t testing.TB, p page, look func(kind, text string, verbatim bool)) {
	t.Helper()
	b, err := json.Marshal(p.blocks)
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			if kind, _ := v["type"].(string); kind == "mrkdwn" || kind == "plain_text" {
				verbatim, _ := v["verbatim"].(bool)
				look(kind, v["text"].(string), verbatim)
			}
			for _, e := range v {
				walk(e)
			}
		}
	}
	walk(v)
}

// What is to be typed is told from the words around it.
func TestNext(t *testing.T) {
	for text, want := range map[string]string{
		"A chef types  approve  in this thread.": "A chef types `approve` in this thread.",
		"Answer with its name, like  jar A7 .":   "Answer with its name, like `jar A7`.",
		"Type  a  or  b & c .":                   "Type `a` or `b &amp; c`.",
		"More:  help dose · help look":           "More: `help dose · help look`",
		"Answer with one of these.":              "Answer with one of these.",
		"Type  2*3  here.":                       "Type  2*3  here.", // would be bold
		"Type  .":                                "Type  .",
	} {
		parts := next(text)
		if got := parts[0].blocks[0].(*slack.SectionBlock).Text.Text; got != want || parts[0].text != text {
			t.Errorf("%q is shown as %q (%q), want %q", text, got, parts[0].text, want)
		}
	}
}

// Whatever a card holds, each page keeps the limits of the platform and nothing is left out.
func TestPagesKeepTheLimits(t *testing.T) {
	text := rapid.Custom(func(t *rapid.T) string {
		s := rapid.SampledFrom([]string{"3.2 kg belly", "nitrite <5 & >1", "<!channel>", "*x*", "naïve 咸肉 🥓", "", "line\nline", "word"}).Draw(t, "text")
		return strings.Repeat(s+" ", rapid.SampledFrom([]int{1, 1, 1, 2, 30, 300}).Draw(t, "times"))
	})
	lines := rapid.SliceOfN(text, 0, 30)
	rapid.Check(t, func(t *rapid.T) {
		c := bot.Card{
			Kind:  rapid.SampledFrom([]bot.Kind{bot.DoseCard, bot.StopCard, bot.NoteCard, bot.EmergencyCard, bot.ListCard}).Draw(t, "kind"),
			Batch: rapid.Uint64Max(3).Draw(t, "batch"),
			Title: text.Draw(t, "title"), Lines: lines.Draw(t, "lines"), Status: lines.Draw(t, "status"), Choices: lines.Draw(t, "choices"),
			Small: text.Draw(t, "small"), Next: text.Draw(t, "next"),
			Facts: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bot.Fact { return bot.Fact{Label: text.Draw(t, "label"), Lines: lines.Draw(t, "of")} }), 0, 9).Draw(t, "facts"),
			Weigh: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bot.Weigh {
				return bot.Weigh{Item: text.Draw(t, "item"), Amount: "8.0 g", Note: text.Draw(t, "note")}
			}), 0, 60).Draw(t, "weigh"),
			Warnings: rapid.SliceOfN(rapid.Custom(func(t *rapid.T) bot.Warning { return bot.Warning{Level: "warn", Text: text.Draw(t, "warning")} }), 0, 9).Draw(t, "warnings"),
		}
		for i := range rapid.IntRange(0, 60).Draw(t, "buttons") {
			c.Buttons = append(c.Buttons, bot.Button{Label: text.Draw(t, "button"), Press: bot.Press{Action: bot.DoDone, Batch: uint64(i), Revision: 1}})
		}
		all := pages(c)
		for _, p := range all {
			keepsLimits(t, p)
		}
		wantAllSaid(t, c, all)
	})
}

// keepsLimits checks a page against the limits as docs.slack.dev gives them, in UTF-16 units.
func keepsLimits(t *rapid.T, p page) {
	t.Helper()
	b, err := json.Marshal(p.blocks)
	if err != nil {
		t.Fatal(err)
	}
	var blocks []struct {
		Type     string
		Text     struct{ Text string }
		Elements []struct {
			ActionID string `json:"action_id"`
			Value    string
			Text     any
		}
	}
	if err := json.Unmarshal(b, &blocks); err != nil {
		t.Fatal(err)
	}
	if len(blocks) == 0 || len(blocks) > 50 {
		t.Fatalf("%d blocks", len(blocks))
	}
	ids := map[string]bool{}
	total := 0
	for _, k := range blocks {
		n := len(utf16.Encode([]rune(k.Text.Text)))
		most := map[string]int{"header": 150, "section": 3000}[k.Type]
		if (most > 0) != (n > 0) || n > most {
			t.Fatalf("a %s of %d characters", k.Type, n)
		}
		total += n
		if len(k.Elements) > map[string]int{"actions": 25, "context": 10}[k.Type] {
			t.Fatalf("%d elements in %s", len(k.Elements), k.Type)
		}
		for _, e := range k.Elements {
			if k.Type == "context" {
				n := len(utf16.Encode([]rune(fmt.Sprint(e.Text))))
				if n == 0 || n > 3000 {
					t.Fatalf("a context of %d characters", n)
				}
				total += n
				continue
			}
			if ids[e.ActionID] || len(e.ActionID) == 0 || len(e.ActionID) > 255 || len(e.Value) > 2000 {
				t.Fatalf("the button %+v", e)
			}
			ids[e.ActionID] = true
			if label := e.Text.(map[string]any)["text"].(string); label == "" || len(utf16.Encode([]rune(label))) > 75 {
				t.Fatalf("the label %q", label)
			}
		}
	}
	if total > 13_200 {
		t.Fatalf("%d characters on a page", total)
	}
}

// wantAllSaid fails where a word of a card is on no page.
func wantAllSaid(t *rapid.T, c bot.Card, all []page) {
	t.Helper()
	words := func(s string) string { return strings.Join(strings.Fields(s), "") }
	var said strings.Builder
	for _, p := range all {
		said.WriteString(p.text)
	}
	got := words(said.String())
	parts := append([]string{c.Title, c.Small, c.Next}, c.Lines...)
	parts = append(append(parts, c.Status...), c.Choices...)
	for _, f := range c.Facts {
		parts = append(append(parts, f.Label), f.Lines...)
	}
	for _, w := range c.Weigh {
		parts = append(parts, w.Amount, w.Item, w.Note)
	}
	for _, w := range c.Warnings {
		parts = append(parts, w.Text)
	}
	for _, p := range parts {
		if !strings.Contains(got, words(p)) {
			t.Fatalf("%.60q is said nowhere", p)
		}
	}
}

// What a button carries comes back as it was, whatever pressed it years later.
func TestButtonValue(t *testing.T) {
	for _, p := range []bot.Press{{Action: bot.DoApprove, Batch: 42, Revision: 3}, {Action: bot.DoTake, Batch: 1 << 63, Revision: 1<<32 - 1}, {Action: bot.DoHold}, {Action: bot.DoPick, Revision: 2, Ask: "577msy2adi7hh2wn"}} {
		if got, ok := pressOf(buttonValue(p)); !ok || got != p {
			t.Errorf("%q is read as %+v, want %+v", buttonValue(p), got, p)
		}
	}
	for _, v := range []string{"", "1 approve 42", "2 approve 42 3", "1 approve x 3", "1 approve 42 -1", "1 approve 42 4294967296", "approve"} {
		if p, ok := pressOf(v); ok {
			t.Errorf("%q is read as %+v", v, p)
		}
	}
}
