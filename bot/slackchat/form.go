package slackchat

import (
	"encoding/json"
	"strings"

	"github.com/slack-go/slack"

	"salthand/bot"
)

const (
	formID  = "salthand.form" // callback_id of the bot's forms
	inputID = "value"         // action_id of every input: the block's id names the field
)

// origin is where a form was opened from. A form that is sent tells nothing of it by itself.
type origin struct {
	Button  string `json:"button"` // what the button carried
	Channel string `json:"channel"`
	Thread  string `json:"thread,omitempty"`
	press   bot.Press
}

// originOf reads what a form carries.
func originOf(private string) (o origin, ok bool) {
	if json.Unmarshal([]byte(private), &o) != nil {
		return o, false
	}
	o.press, ok = pressOf(o.Button)
	return o, ok
}

// view is a form as Slack opens it for who pressed at a place.
func view(f bot.Form, at bot.Place) (slack.ModalViewRequest, error) {
	private, err := json.Marshal(origin{Button: buttonValue(f.Press), Channel: at.Channel, Thread: at.Thread})
	if err != nil {
		return slack.ModalViewRequest{}, err
	}
	v := slack.ModalViewRequest{
		Type: slack.VTModal, CallbackID: formID, PrivateMetadata: string(private),
		Title: plain(firstOf(shown(f.Title), titleAtMost)), Submit: plain(firstOf(shown(f.Send), titleAtMost)),
	}
	for _, p := range section("", joined(f.Lines)) {
		v.Blocks.BlockSet = append(v.Blocks.BlockSet, p.blocks...)
	}
	for _, field := range f.Fields {
		in := slack.NewPlainTextInputBlockElement(nil, inputID).WithInitialValue(bot.Visible(field.Value))
		in.MaxLength = inputAtMost
		b := slack.NewInputBlock(field.Name, plain(firstOf(shown(field.Label), inputLabelMost)), nil, in).WithOptional(field.Optional)
		if hint := shown(field.Hint); hint != "" {
			b.Hint = plain(firstOf(hint, inputLabelMost))
		}
		v.Blocks.BlockSet = append(v.Blocks.BlockSet, b)
	}
	return v, nil
}

// wrong is the acknowledgement of a form that can't be taken: its fields, and why. It is kept
// small, since a big one closes the socket.
func wrong(fields map[string]string) *slack.ViewSubmissionResponse {
	said := map[string]string{}
	room := ackAtMost / 4
	for name, why := range fields {
		said[name] = firstOf(shown(why), room/len(fields))
		if strings.TrimSpace(said[name]) == "" {
			said[name] = "?" // Slack takes no empty words
		}
	}
	return slack.NewErrorsViewSubmissionResponse(said)
}
