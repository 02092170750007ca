package bot

import (
	"encoding/json"
	"fmt"

	"salthand/grammar"
	"salthand/store"
)

// openNote is a question that waits, as the store keeps it.
type openNote struct {
	ID    string       `json:"id,omitempty"` // by which its buttons know it
	Open  grammar.Open `json:"open"`
	Place Place        `json:"place"` // where it was asked
	Asker string       `json:"asker"` // person whose phrase it completes
	Via   string       `json:"via,omitempty"`
	Entry string       `json:"entry,omitempty"` // inbox id of the message that it was asked about
	Batch uint64       `json:"batch,omitempty"` // that was named before the phrase; the phrase that an answer completes names none
	// Language is the one that it was asked in: the phrase that an answer completes has none.
	Language string `json:"language,omitempty"`
}

// anyone stands for whoever answers in the thread.
const anyone = ""

// ask posts a question and keeps it open: in its thread for anyone, in the channel for the
// person asked.
func (t *turn) ask(c Card, choices []grammar.Choice, add string) error {
	note := openNote{ID: opID(t.id, t.cards+1), Open: grammar.Open{Choices: choices, Append: add}, Place: t.place, Asker: t.person.ID, Via: t.m.Via, Entry: t.entry.ID, Batch: t.reading.phrase.Batch, Language: string(t.theirs)}
	if t.reading.asked != nil {
		note.Asker, note.Via = t.reading.asked.Asker, t.reading.asked.Via
	}
	raw, err := json.Marshal(note)
	if err != nil {
		return fmt.Errorf("keeping a question: %w", err)
	}
	if err := t.tx.AskQuestion(t.place.String(), anyone, raw); err != nil {
		return err
	}
	if err := t.tx.AskQuestion(t.place.channel().String(), t.person.ID, raw); err != nil {
		return err
	}
	if len(c.Buttons) == 0 && len(choices) <= picksAtMost {
		for i, choice := range choices {
			c.Buttons = append(c.Buttons, Button{choice.Label, Press{Action: DoPick, Revision: uint32(i + 1), Ask: note.ID}})
		}
	}
	return t.post(c)
}

// picksAtMost is how many choices are buttons too: more hide the question on a phone.
const picksAtMost = 8

// picked is the choice that a button of a question stands for; false: that question is not open
// any more, or another one is.
func (note *openNote) picked(p Press) (phrase string, ok bool) {
	if note == nil || note.ID == "" || note.ID != p.Ask || p.Revision < 1 || int(p.Revision) > len(note.Open.Choices) {
		return "", false
	}
	return note.Open.Choices[p.Revision-1].Phrase, true
}

// openQuestion is the question that a message of a person may answer, or nil.
func openQuestion(tx *store.Tx, m Message, person string) (*openNote, error) {
	raw, ok, err := tx.OpenQuestion(m.Place.String(), anyone)
	if err == nil && !ok && m.Top && person != "" {
		raw, ok, err = tx.OpenQuestion(m.Place.channel().String(), person)
	}
	if err != nil || !ok {
		return nil, err
	}
	var note openNote
	if err := json.Unmarshal(raw, &note); err != nil {
		return nil, fmt.Errorf("reading an open question: %w", err)
	}
	return &note, nil
}

// closeQuestion forgets the question that the message answered, wherever it was open.
func (t *turn) closeQuestion() error {
	if err := t.tx.AskQuestion(t.place.String(), anyone, nil); err != nil {
		return err
	}
	return t.tx.AskQuestion(t.place.channel().String(), t.reading.asked.Asker, nil)
}
