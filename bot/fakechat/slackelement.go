package fakechat

import "strings"

// element checks one interactive element. taken holds the action ids of its block.
func (c *blockCheck) element(at string, e object, taken map[string]bool) {
	if e["type"] == "image" {
		c.image(at, e)
		return
	}
	id, has := e["action_id"].(string)
	switch {
	case !has || id == "":
		e["action_id"] = c.newID()
	case taken[id]:
		c.fail(at+"/action_id", "`action_id` %q already exists for this block", id)
	}
	c.bound(at, e, "action_id", maxActionID)
	if id, ok := e["action_id"].(string); ok {
		taken[id] = true
	}
	if e["confirm"] != nil {
		c.confirm(at+"/confirm", e["confirm"])
	}
	if e["placeholder"] != nil {
		c.textObject(at+"/placeholder", e["placeholder"], maxPlaceholder, "plain_text")
	}
	kind, _ := e["type"].(string)
	switch kind {
	case "button":
		c.textObject(at+"/text", e["text"], maxButtonText, "plain_text")
		c.bound(at, e, "value", maxButtonValue)
		c.bound(at, e, "url", maxURL)
		c.bound(at, e, "accessibility_label", maxButtonText)
		if style := e["style"]; style != nil && style != "primary" && style != "danger" {
			c.fail(at+"/style", "must be one of primary, danger")
		}
	case "overflow":
		c.options(at, e, minOverflow, maxOverflow)
	case "static_select", "multi_static_select":
		if e["option_groups"] == nil {
			c.options(at, e, 1, maxOptions)
		} else {
			c.items(at, e, "option_groups", 1, maxOptions, func(here string, g object) {
				c.textObject(here+"/label", g["label"], maxOptionText, "plain_text")
				c.options(here, g, 1, maxOptions)
			})
		}
	case "checkboxes", "radio_buttons":
		c.options(at, e, 1, maxChoices)
	case "plain_text_input", "number_input", "email_text_input", "url_text_input":
		c.typedInput(at, e, kind)
	case "datepicker", "timepicker", "datetimepicker", "users_select", "conversations_select", "channels_select",
		"multi_users_select", "multi_conversations_select", "multi_channels_select", "external_select", "multi_external_select":
	case "file_input", "rich_text_input":
		if !strings.HasSuffix(at, "/element") {
			c.fail(at+"/type", "unsupported type: %v", kind)
		}
	default:
		c.fail(at+"/type", "unsupported type: %v", e["type"])
	}
}

func (c *blockCheck) typedInput(at string, e object, kind string) {
	if !strings.HasSuffix(at, "/element") {
		c.fail(at+"/type", "unsupported type: %v", kind) // only an input block holds it
	}
	if _, ok := e["is_decimal_allowed"].(bool); kind == "number_input" && !ok {
		c.fail(at+"/is_decimal_allowed", "missing required field: is_decimal_allowed")
	}
	for _, key := range []string{"min_length", "max_length"} {
		if n, ok := e[key].(float64); ok && (n < 0 || n > maxInputLength) {
			c.fail(at+"/"+key, "must be between 0 and %d", maxInputLength)
		}
	}
}

// bound checks an optional string that is not shown.
func (c *blockCheck) bound(at string, e object, key string, most int) {
	if e[key] == nil {
		return
	}
	letters := c.letters
	c.text(at+"/"+key, e[key], 0, most)
	c.letters = letters // only what is shown counts against the length of a message
}

func (c *blockCheck) options(at string, e object, least, most int) {
	c.items(at, e, "options", least, most, func(here string, o object) {
		kind := "plain_text"
		if e["type"] == "checkboxes" || e["type"] == "radio_buttons" {
			kind = ""
		}
		c.textObject(here+"/text", o["text"], maxOptionText, kind)
		if o["value"] == nil {
			c.fail(here+"/value", "missing required field: value")
		}
		c.bound(here, o, "value", maxOptionValue)
		if o["description"] != nil {
			c.textObject(here+"/description", o["description"], maxOptionText, kind)
		}
	})
}

func (c *blockCheck) confirm(at string, v any) {
	o, ok := v.(object)
	if !ok {
		c.fail(at, "must be an object")
		return
	}
	c.textObject(at+"/title", o["title"], maxConfirmHead, "plain_text")
	c.textObject(at+"/text", o["text"], maxConfirmText, "")
	c.textObject(at+"/confirm", o["confirm"], maxConfirmWord, "plain_text")
	c.textObject(at+"/deny", o["deny"], maxConfirmWord, "plain_text")
}

func (c *blockCheck) image(at string, e object) {
	if e["image_url"] == nil && e["slack_file"] == nil {
		c.fail(at, "missing required field: image_url or slack_file")
	}
	c.bound(at, e, "image_url", maxURL)
	c.text(at+"/alt_text", e["alt_text"], 1, maxAlt)
}
