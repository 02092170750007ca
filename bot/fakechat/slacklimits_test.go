package fakechat

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"
)

func letters(n int) string { return strings.Repeat("é", n) } // a character each, two bytes

// listOf is a JSON list of n items; %d in the item is its number.
func listOf(n int, item string) string {
	items := make([]string, n)
	for i := range items {
		items[i] = strings.ReplaceAll(item, "%d", fmt.Sprint(i))
	}
	return "[" + strings.Join(items, ",") + "]"
}

func plainText(n int) string { return `{"type":"plain_text","text":"` + letters(n) + `"}` }

func actionsOf(element string) string {
	return `[{"type":"actions","elements":[` + element + `]}]`
}

func button(extra string) string {
	return actionsOf(`{"type":"button","text":{"type":"plain_text","text":"Go"}` + extra + `}`)
}

func confirm(title, text, yes, no int) string {
	return button(`,"confirm":{"title":` + plainText(title) + `,"text":` + plainText(text) + `,"confirm":` + plainText(yes) + `,"deny":` + plainText(no) + `}`)
}

func inputOf(rest string) string {
	return `[{"type":"input","element":{"type":"plain_text_input"},` + rest + `}]`
}

const option = `{"text":{"type":"plain_text","text":"no. %d"},"value":"%d"}`

// The figures are those of docs.slack.dev/reference/block-kit (blocks, block elements and
// composition objects, each on its page), read off anew here.
var blockLimits = []struct {
	name   string
	most   int
	blocks func(n int) string
	where  string // the JSON pointer that the refusal names
}{
	{"blocks of a message", 50, func(n int) string { return listOf(n, `{"type":"divider"}`) }, "/blocks]"},
	{"text of a section", 3000, func(n int) string { return `[{"type":"section","text":` + plainText(n) + `}]` }, "/blocks/0/text/text]"},
	{"fields", 10, func(n int) string { return `[{"type":"section","fields":` + listOf(n, plainText(1)) + `}]` }, "/blocks/0/fields]"},
	{"text of a field", 2000, func(n int) string { return `[{"type":"section","fields":[` + plainText(n) + `]}]` }, "/blocks/0/fields/0/text]"},
	{"header", 150, func(n int) string { return `[{"type":"header","text":` + plainText(n) + `}]` }, "/blocks/0/text/text]"},
	{"elements of a context", 10, func(n int) string { return `[{"type":"context","elements":` + listOf(n, plainText(1)) + `}]` }, "/blocks/0/elements]"},
	{"elements of actions", 25, func(n int) string {
		return `[{"type":"actions","elements":` + listOf(n, `{"type":"button","action_id":"a%d","text":{"type":"plain_text","text":"Go"}}`) + `}]`
	}, "/blocks/0/elements]"},
	{"words of a button", 75, func(n int) string { return actionsOf(`{"type":"button","text":` + plainText(n) + `}`) }, "/elements/0/text/text]"},
	{"value of a button", 2000, func(n int) string { return button(`,"value":"` + letters(n) + `"`) }, "/elements/0/value]"},
	{"address of a button", 3000, func(n int) string { return button(`,"url":"` + letters(n) + `"`) }, "/elements/0/url]"},
	{"action_id", 255, func(n int) string { return button(`,"action_id":"` + letters(n) + `"`) }, "/elements/0/action_id]"},
	{"block_id", 255, func(n int) string { return `[{"type":"divider","block_id":"` + letters(n) + `"}]` }, "/blocks/0/block_id]"},
	{"title of a confirmation", 100, func(n int) string { return confirm(n, 1, 1, 1) }, "/confirm/title/text]"},
	{"text of a confirmation", 300, func(n int) string { return confirm(1, n, 1, 1) }, "/confirm/text/text]"},
	{"yes of a confirmation", 30, func(n int) string { return confirm(1, 1, n, 1) }, "/confirm/confirm/text]"},
	{"no of a confirmation", 30, func(n int) string { return confirm(1, 1, 1, n) }, "/confirm/deny/text]"},
	{"options of an overflow menu", 5, func(n int) string { return actionsOf(`{"type":"overflow","options":` + listOf(n, option) + `}`) }, "/elements/0/options]"},
	{"options of a select", 100, func(n int) string { return actionsOf(`{"type":"static_select","options":` + listOf(n, option) + `}`) }, "/elements/0/options]"},
	{"options of checkboxes", 10, func(n int) string { return actionsOf(`{"type":"checkboxes","options":` + listOf(n, option) + `}`) }, "/elements/0/options]"},
	{"words of an option", 75, func(n int) string {
		return actionsOf(`{"type":"static_select","options":[{"text":` + plainText(n) + `,"value":"1"}]}`)
	}, "/options/0/text/text]"},
	{"value of an option", 150, func(n int) string {
		return actionsOf(`{"type":"static_select","options":[{"text":` + plainText(1) + `,"value":"` + letters(n) + `"}]}`)
	}, "/options/0/value]"},
	{"placeholder", 150, func(n int) string {
		return actionsOf(`{"type":"static_select","placeholder":` + plainText(n) + `,"options":` + listOf(1, option) + `}`)
	}, "/placeholder/text]"},
	{"words beside a picture", 2000, func(n int) string {
		return `[{"type":"image","image_url":"https://kitchen.example/a.png","alt_text":"` + letters(n) + `"}]`
	}, "/blocks/0/alt_text]"},
	{"title of a picture", 2000, func(n int) string {
		return `[{"type":"image","image_url":"https://kitchen.example/a.png","alt_text":"a","title":` + plainText(n) + `}]`
	}, "/blocks/0/title/text]"},
	{"markdown", 12000, func(n int) string { return `[{"type":"markdown","text":"` + letters(n) + `"}]` }, "/blocks/0/text]"},
	{"markdown of two blocks", 12000, func(n int) string {
		return `[{"type":"markdown","text":"` + letters(n/2) + `"},{"type":"markdown","text":"` + letters(n-n/2) + `"}]`
	}, "/blocks]"},
	{"label of an input", 2000, func(n int) string { return inputOf(`"label":` + plainText(n)) }, "/blocks/0/label/text]"},
	{"hint of an input", 2000, func(n int) string { return inputOf(`"label":` + plainText(1) + `,"hint":` + plainText(n)) }, "/blocks/0/hint/text]"},
	{"longest line typed into an input", 3000, func(n int) string {
		return `[{"type":"input","label":` + plainText(1) + `,"element":{"type":"plain_text_input","max_length":` + fmt.Sprint(n) + `}}]`
	}, "/element/max_length]"},
	{"rows of a table", 100, func(n int) string {
		return `[{"type":"table","rows":` + listOf(n, `[{"type":"raw_text","text":"a"}]`) + `}]`
	}, "/blocks/0/rows]"},
	{"cells of a row", 20, func(n int) string {
		return `[{"type":"table","rows":[` + listOf(n, `{"type":"raw_text","text":"a"}`) + `]}]`
	}, "/blocks/0/rows/0]"},
}

// Each limit is kept to the character: as much as it allows is posted, one more is refused,
// and the refusal names the place.
func TestSlackBlockLimits(t *testing.T) {
	a := newApp(t, SlackSettings{})
	for _, l := range blockLimits {
		if got := a.call("chat.postMessage", "channel", a.cure, "text", "t", "blocks", l.blocks(l.most)); got.json["ok"] != true {
			t.Errorf("%s, %d: %.300s", l.name, l.most, got.body)
		}
		got := a.refused("invalid_blocks", "chat.postMessage", "channel", a.cure, "text", "t", "blocks", l.blocks(l.most+1))
		if messages := fmt.Sprint(got.json["response_metadata"]); !strings.Contains(messages, l.where) {
			t.Errorf("%s: %.300s doesn't name %s", l.name, messages, l.where)
		}
	}
}

// Source: docs.slack.dev/reference/block-kit, each object's page.
func TestSlackBlockRules(t *testing.T) {
	a := newApp(t, SlackSettings{})
	for name, blocks := range map[string]string{
		"a header in mrkdwn":          `[{"type":"header","text":{"type":"mrkdwn","text":"8 g"}}]`,
		"an empty text":               `[{"type":"section","text":{"type":"mrkdwn","text":""}}]`,
		"a section with nothing":      `[{"type":"section"}]`,
		"a button in mrkdwn":          actionsOf(`{"type":"button","text":{"type":"mrkdwn","text":"Go"}}`),
		"a style that is none":        button(`,"style":"warning"`),
		"the same block_id twice":     `[{"type":"divider","block_id":"a"},{"type":"divider","block_id":"a"}]`,
		"the same action_id twice":    actionsOf(`{"type":"button","action_id":"a","text":` + plainText(1) + `},{"type":"button","action_id":"a","text":` + plainText(1) + `}`),
		"a menu of one":               actionsOf(`{"type":"overflow","options":` + listOf(1, option) + `}`),
		"a type that is none":         `[{"type":"hologram"}]`,
		"an element that is none":     actionsOf(`{"type":"lever"}`),
		"a button in an input":        `[{"type":"input","label":` + plainText(1) + `,"element":{"type":"button","text":` + plainText(1) + `}}]`,
		"a typed field among buttons": actionsOf(`{"type":"plain_text_input"}`),
		"a number field of no kind":   `[{"type":"input","label":` + plainText(1) + `,"element":{"type":"number_input"}}]`,
		"a picture without words":     `[{"type":"image","image_url":"https://kitchen.example/a.png"}]`,
		"a picture of nothing":        `[{"type":"image","alt_text":"a"}]`,
		"two tables":                  `[{"type":"table","rows":[[{"type":"raw_text","text":"a"}]]},{"type":"table","rows":[[{"type":"raw_text","text":"a"}]]}]`,
		"no block at all":             `["divider"]`,
	} {
		if got := a.call("chat.postMessage", "channel", a.cure, "text", "t", "blocks", blocks); got.json["error"] != "invalid_blocks" {
			t.Errorf("%s: %.200s", name, got.body)
		}
	}
	a.refused("invalid_blocks_format", "chat.postMessage", "channel", a.cure, "text", "t", "blocks", `{"type":"divider"}`)
}

func TestSlackTextLimits(t *testing.T) {
	a := newApp(t, SlackSettings{})
	// The total that users report, no page states it: about 13,200 characters.
	four := strings.TrimSuffix(listOf(4, `{"type":"section","text":`+plainText(3000)+`}`), "]")
	total := func(n int) string { return four + `,{"type":"section","text":` + plainText(n) + `}]` }
	a.must("chat.postMessage", "channel", a.cure, "text", "t", "blocks", total(1000))
	a.refused("msg_blocks_too_long", "chat.postMessage", "channel", a.cure, "text", "t", "blocks", total(1300))
	// docs.slack.dev/reference/methods/chat.postMessage: cut after 40,000 characters.
	ts := a.must("chat.postMessage", "channel", a.cure, "text", letters(40001)).text("ts")
	if p, _ := a.s.Post(a.cure, ts); len([]rune(p.Text)) != 40000 {
		t.Errorf("%d characters were kept", len([]rune(p.Text)))
	}
	if codes := a.problems(); codes[len(codes)-1] != "text_cut" {
		t.Errorf("problems: %v", codes)
	}
	a.refused("no_text", "chat.postMessage", "channel", a.cure)
	a.must("chat.update", "channel", a.cure, "ts", ts, "text", letters(4000))
	a.refused("msg_too_long", "chat.update", "channel", a.cure, "ts", ts, "text", letters(4001))
	a.refused("invalid_metadata_format", "chat.postMessage", "channel", a.cure, "text", "t", "metadata", `{"event_payload":{}}`)
}

// The figures are those of docs.slack.dev/reference/views/modal-views.
func TestSlackViewLimits(t *testing.T) {
	a := newApp(t, SlackSettings{})
	open := func(view string) answer {
		a.s.mu.Lock()
		trigger := a.s.newTrigger(a.ana, "")
		a.s.mu.Unlock()
		body, err := json.Marshal(map[string]any{"trigger_id": trigger, "view": json.RawMessage(view)})
		if err != nil {
			t.Fatal(err)
		}
		return a.send(http.MethodPost, a.s.APIURL()+"views.open", "application/json", a.s.BotToken(), string(body))
	}
	modal := func(title int, rest string) string {
		return `{"type":"modal","title":` + plainText(title) + rest + `}`
	}
	none := `,"blocks":[]`
	for _, l := range []struct {
		name string
		most int
		view func(n int) string
	}{
		{"title", 24, func(n int) string { return modal(n, none) }},
		{"submit", 24, func(n int) string { return modal(1, none+`,"submit":`+plainText(n)) }},
		{"close", 24, func(n int) string { return modal(1, none+`,"close":`+plainText(n)) }},
		{"private_metadata", 3000, func(n int) string { return modal(1, none+`,"private_metadata":"`+letters(n)+`"`) }},
		{"callback_id", 255, func(n int) string { return modal(1, none+`,"callback_id":"`+letters(n)+`"`) }},
		{"blocks", 100, func(n int) string { return modal(1, `,"blocks":`+listOf(n, `{"type":"divider"}`)) }},
		{"label", 2000, func(n int) string {
			return modal(1, `,"submit":`+plainText(1)+`,"blocks":`+inputOf(`"label":`+plainText(n)))
		}},
	} {
		if got := open(l.view(l.most)); got.json["ok"] != true {
			t.Errorf("%s, %d: %.300s", l.name, l.most, got.body)
		}
		if got := open(l.view(l.most + 1)); got.json["error"] != "invalid_arguments" {
			t.Errorf("%s, %d: %.300s", l.name, l.most+1, got.body)
		}
	}
	for name, view := range map[string]string{
		"an input without submit": modal(1, `,"blocks":`+inputOf(`"label":`+plainText(1))),
		"no blocks":               modal(1, ""),
		"a home tab":              `{"type":"home","title":` + plainText(1) + none + `}`,
		"markdown":                modal(1, `,"blocks":[{"type":"markdown","text":"a"}]`),
	} {
		if got := open(view); got.json["error"] != "invalid_arguments" {
			t.Errorf("%s: %.300s", name, got.body)
		}
	}
}
