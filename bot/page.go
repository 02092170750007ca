package bot

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// shown is a look back as far as it was shown, as the store keeps it: "more" shows what follows.
type shown struct {
	Phrase string      `json:"phrase"`          // canonical
	Batch  uint64      `json:"batch,omitempty"` // that was named before it
	At     store.Milli `json:"at"`              // when it was asked: "last month" is counted from it
	Lines  int         `json:"lines"`           // shown so far
	Over   bool        `json:"over,omitempty"`  // nothing follows
	After  string      `json:"after,omitempty"` // cursor of the next page of a query
	Last   []string    `json:"last,omitempty"`  // keys of the rows of the page that was shown last
}

// shownFor is how long "more" has something to go on with.
const shownFor = 24 * time.Hour

// countAtMost is how far the batches of a query are counted.
const countAtMost = 10_000

// row is a line of a list. Its key finds it again where lines before it have gone.
type row struct{ key, line string }

// rowOf is the row of a batch that stands once in its list.
func rowOf(b store.Batch, line string) row { return row{fmt.Sprint(b.Number), line} }

// shownTo is how far a look back was shown where a message of a person stands; nil: nothing was,
// or long ago.
func shownTo(tx *store.Tx, m Message, person string) (*shown, error) {
	raw, ok, err := tx.Shown(m.Place.String(), anyone)
	if err == nil && !ok && m.Top && person != "" {
		raw, ok, err = tx.Shown(m.Place.channel().String(), person)
	}
	if err != nil || !ok {
		return nil, err
	}
	var s shown
	if err := json.Unmarshal(raw, &s); err != nil {
		return nil, fmt.Errorf("reading how far a list was shown: %w", err)
	}
	if (milli(m.Received) - s.At).Duration() > shownFor {
		return nil, nil
	}
	return &s, nil
}

// more answers "more": the page behind the one that was shown last.
func (t *turn) more() error {
	l, s := t.theirs, t.reading.shown
	switch {
	case s == nil:
		return t.note(l.say("There is no list here to go on with."), l.say("Ask for one first, like  who cured belly last month  or  due ."))
	case s.Over:
		return t.note(l.say("That was all of it: nothing more to show."))
	}
	p, err := grammar.Parse(s.Phrase, settingOf(t.kitchen, s.Batch > 0))
	if err != nil {
		return t.note(l.say("That list can't be gone on with: the kitchen's words have changed."), l.say("Ask for it anew."))
	}
	p.Batch = s.Batch
	t.back = s
	return t.answer(p)
}

// listed posts the page of a query that is to be shown, newest first.
func (t *turn) listed(title string, q store.Query) error {
	count, err := t.tx.Count(t.kitchen.ID, q, countAtMost)
	if err != nil {
		return err
	}
	q.Limit = pageOf
	if t.back != nil {
		q.After = t.back.After
	}
	batches, after, err := t.tx.Batches(t.kitchen.ID, q)
	if err != nil {
		return err
	}
	c := Card{Kind: ListCard, Title: title}
	for _, b := range batches {
		line, err := t.batchLine(b, t.zone)
		if err != nil {
			return err
		}
		c.Lines = append(c.Lines, line)
	}
	if count == 0 {
		c.Title = t.theirs.say("No batch like that.")
	}
	now := shown{Lines: len(batches), After: after, Over: after == ""}
	if t.back != nil {
		now.Lines += t.back.Lines
	}
	return t.postPage(c, count, now)
}

// paged posts the page of a list that is to be shown: its first rows, or those behind the page
// before. Nothing is left out where rows have gone meanwhile.
func (t *turn) paged(c Card, rows []row, size int) error {
	from := 0
	if t.back != nil {
		for i, r := range rows {
			if slices.Contains(t.back.Last, r.key) {
				from = i + 1
			}
		}
	}
	to := min(from+size, len(rows))
	now := shown{Lines: to, Over: to == len(rows)}
	for _, r := range rows[from:to] {
		c.Lines = append(c.Lines, r.line)
		now.Last = append(now.Last, r.key)
	}
	return t.postPage(c, len(rows), now)
}

// postPage posts a page of a list: how many there are, which stand on it, and how to see the
// rest, which is kept for "more".
func (t *turn) postPage(c Card, count int, now shown) error {
	l := t.theirs
	now.Phrase, now.Batch, now.At = grammar.Canonical(t.reading.phrase.Command), t.reading.phrase.Batch, t.now
	if t.back != nil {
		now.Phrase, now.Batch, now.At = t.back.Phrase, t.back.Batch, t.back.At
	}
	if count > 0 {
		c.Title += ": " + counted(l, count)
	}
	if first := now.Lines - len(c.Lines); first > 0 || !now.Over {
		c.Title += ", " + l.say("here %d to %d", first+1, now.Lines)
	}
	if !now.Over {
		rest := l.say("And %d more: type  more .", count-now.Lines)
		if count >= countAtMost {
			rest = l.say("And more of them: type  more .")
		}
		c.Next = strings.TrimSpace(rest + " " + c.Next)
	}
	raw, err := json.Marshal(now)
	if err != nil {
		return fmt.Errorf("keeping how far a list was shown: %w", err)
	}
	if err := t.tx.KeepShown(t.place.String(), anyone, raw); err != nil {
		return err
	}
	if err := t.tx.KeepShown(t.place.channel().String(), t.person.ID, raw); err != nil {
		return err
	}
	return t.post(c)
}

// counted is a number that may not have been counted to its end.
func counted(l tongue, n int) string {
	if n >= countAtMost {
		return l.say("%d or more", n)
	}
	return fmt.Sprint(n)
}
