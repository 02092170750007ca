package fakechat

import (
	"encoding/json"
	"fmt"
	"unicode/utf8"
)

// blockCheck holds blocks against the documentation of Block Kit and collects what is wrong,
// worded as the platform words it.
type blockCheck struct {
	wrong    []string
	ids      map[string]bool
	letters  int // of all texts together
	markdown int
	tables   int
	modal    bool
	newID    func() string
}

type object = map[string]any

func (c *blockCheck) fail(at, format string, a ...any) {
	c.wrong = append(c.wrong, fmt.Sprintf("[ERROR] "+format+" [json-pointer:"+at+"]", a...))
}

// checkMessageBlocks reads the blocks of a message, checks them, and fills in the ids that the
// platform fills in.
func (s *Slack) checkMessageBlocks(raw string) (json.RawMessage, *refusal) {
	var blocks []any
	if json.Unmarshal([]byte(raw), &blocks) != nil {
		return nil, &refusal{code: "invalid_blocks_format"}
	}
	c := &blockCheck{newID: func() string { return s.number("b") }}
	c.blocks("/blocks", blocks, maxBlocks)
	if len(c.wrong) > 0 {
		return nil, &refusal{code: "invalid_blocks", messages: c.wrong}
	}
	if c.letters > maxBlockText {
		return nil, &refusal{code: "msg_blocks_too_long"}
	}
	return mustJSON(blocks), nil
}

func (c *blockCheck) blocks(at string, blocks []any, most int) {
	c.ids = map[string]bool{}
	if len(blocks) > most {
		c.fail(at, "no more than %d items allowed", most)
	}
	for i, v := range blocks {
		here := fmt.Sprintf("%s/%d", at, i)
		b, ok := v.(object)
		if !ok {
			c.fail(here, "must be an object")
			continue
		}
		c.block(here, b)
	}
	if c.markdown > maxMarkdown {
		c.fail(at, "markdown blocks together must be less than %d characters", maxMarkdown+1)
	}
	if c.tables > 1 {
		c.fail(at, "only_one_table_allowed")
	}
}

func (c *blockCheck) block(at string, b object) {
	id, has := b["block_id"].(string)
	switch {
	case !has || id == "":
		b["block_id"] = c.newID()
	case c.ids[id]:
		c.fail(at+"/block_id", "`block_id` %q already exists", id)
	}
	c.bound(at, b, "block_id", maxBlockID)
	if id, ok := b["block_id"].(string); ok {
		c.ids[id] = true
	} else {
		b["block_id"] = c.newID() // refused already
	}
	switch b["type"] {
	case "section":
		c.section(at, b)
	case "header":
		c.textObject(at+"/text", b["text"], maxHeader, "plain_text")
	case "context":
		c.items(at, b, "elements", 1, maxContext, func(here string, e object) {
			if e["type"] == "image" {
				c.image(here, e)
			} else {
				c.textObject(here, e, maxSection, "")
			}
		})
	case "actions":
		actions := map[string]bool{}
		c.items(at, b, "elements", 1, maxActions, func(here string, e object) { c.element(here, e, actions) })
	case "divider":
	case "image":
		c.image(at, b)
		if b["title"] != nil {
			c.textObject(at+"/title", b["title"], maxImageTitle, "plain_text")
		}
	case "input":
		c.input(at, b)
	case "markdown":
		c.text(at+"/text", b["text"], 1, maxMarkdown)
		text, _ := b["text"].(string)
		c.markdown += utf8.RuneCountInString(text)
	case "rich_text":
		c.items(at, b, "elements", 0, 1<<20, func(string, object) {})
	case "table":
		c.table(at, b)
	case "video", "call", "file":
		c.fail(at, "a block of type %q is not for this app", b["type"])
	default:
		c.fail(at+"/type", "unsupported type: %v", b["type"])
	}
	if c.modal && (b["type"] == "markdown" || b["type"] == "table") {
		c.fail(at+"/type", "unsupported type: %v", b["type"])
	}
}

func (c *blockCheck) section(at string, b object) {
	if b["text"] == nil && b["fields"] == nil {
		c.fail(at, "missing required field: text or fields")
	}
	if b["text"] != nil {
		c.textObject(at+"/text", b["text"], maxSection, "")
	}
	if b["fields"] != nil {
		c.items(at, b, "fields", 1, maxFields, func(here string, f object) { c.textObject(here, f, maxField, "") })
	}
	if b["accessory"] != nil {
		if e, ok := b["accessory"].(object); ok {
			c.element(at+"/accessory", e, map[string]bool{})
		} else {
			c.fail(at+"/accessory", "must be an object")
		}
	}
}

func (c *blockCheck) input(at string, b object) {
	c.textObject(at+"/label", b["label"], maxInputLabel, "plain_text")
	if b["hint"] != nil {
		c.textObject(at+"/hint", b["hint"], maxInputHint, "plain_text")
	}
	e, ok := b["element"].(object)
	if !ok {
		c.fail(at+"/element", "missing required field: element")
		return
	}
	if e["type"] == "button" || e["type"] == "overflow" || e["type"] == "image" {
		c.fail(at+"/element/type", "unsupported type: %v", e["type"])
	}
	c.element(at+"/element", e, map[string]bool{})
}

func (c *blockCheck) table(at string, b object) {
	c.tables++
	rows, _ := b["rows"].([]any)
	if len(rows) == 0 || len(rows) > maxTableRows {
		c.fail(at+"/rows", "a table has from 1 to %d rows", maxTableRows)
	}
	for i, r := range rows {
		here := fmt.Sprintf("%s/rows/%d", at, i)
		cells, ok := r.([]any)
		if !ok || len(cells) > maxTableCells {
			c.fail(here, "no more than %d items allowed", maxTableCells)
		}
		for j, v := range cells {
			cell, _ := v.(object)
			switch cell["type"] {
			case "raw_text":
				c.text(fmt.Sprintf("%s/%d/text", here, j), cell["text"], 1, maxSection)
			case "rich_text":
			default:
				c.fail(fmt.Sprintf("%s/%d/type", here, j), "unsupported type: %v", cell["type"])
			}
		}
	}
}

// items checks a list of objects and goes through it.
func (c *blockCheck) items(at string, b object, key string, least, most int, each func(string, object)) {
	list, _ := b[key].([]any)
	if len(list) < least {
		c.fail(at+"/"+key, "no fewer than %d items allowed", least)
	}
	if len(list) > most {
		c.fail(at+"/"+key, "no more than %d items allowed", most)
	}
	for i, v := range list {
		here := fmt.Sprintf("%s/%s/%d", at, key, i)
		if o, ok := v.(object); ok {
			each(here, o)
		} else {
			c.fail(here, "must be an object")
		}
	}
}

// textObject checks a text object. kind is the only type that may stand here, or empty for
// plain_text and mrkdwn.
func (c *blockCheck) textObject(at string, v any, most int, kind string) {
	o, ok := v.(object)
	if !ok {
		c.fail(at, "missing required field: text")
		return
	}
	t := o["type"]
	if t != "plain_text" && t != "mrkdwn" || kind != "" && t != kind {
		c.fail(at+"/type", "unsupported type: %v", t)
	}
	if t == "mrkdwn" && o["emoji"] != nil {
		c.fail(at+"/emoji", "additional property: emoji")
	}
	c.text(at+"/text", o["text"], 1, most)
}

// text checks the length of a string, in characters.
func (c *blockCheck) text(at string, v any, least, most int) {
	text, ok := v.(string)
	n := utf8.RuneCountInString(text)
	switch {
	case !ok:
		c.fail(at, "must be a string")
	case n < least:
		c.fail(at, "must be more than %d characters", least-1)
	case n > most:
		c.fail(at, "must be less than %d characters", most+1)
	}
	c.letters += n
}
