package bot

import (
	"context"
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// lateAfter is how far apart the time that something happened and the time that it was
// noted may be before the record says "late".
const lateAfter = 15 * time.Minute

// turn is one command against one state, in one transaction. It is deterministic in both,
// since it may run several times.
type turn struct {
	tx      *store.Tx
	m       Message
	entry   store.Entry
	id      string // ids of cards derive from it
	now     store.Milli
	zones   *zones
	photos  string // the folder of the photos
	kitchen store.Kitchen
	zone    *time.Location // the kitchen's
	ours    tongue         // the kitchen's: for cards that others act on
	theirs  tongue         // the person's: for what is said to one alone
	person  store.Person
	reading reading
	place   Place           // where cards go
	why     string          // a dose is revised, where it was said
	back    *shown          // of the look back whose next page is asked for
	cards   int             // posted so far in this turn
	touched []uint64        // batches that something was noted of
	held    []uint64        // those that were held
	mass    *store.Incident // several were, at once
}

// turn takes one inbox entry.
func (b *Bot) turn(ctx context.Context, e waiting) error {
	return b.Store.Update(ctx, func(tx *store.Tx) error {
		t := b.newTurn(tx, e)
		if err := t.take(e.early); err != nil {
			return err
		}
		if err := t.finishUp(); err != nil {
			return err
		}
		return tx.CloseEntry(e.ID, "done", e.Received)
	})
}

func (b *Bot) newTurn(tx *store.Tx, e waiting) *turn {
	return &turn{tx: tx, zones: b.zones, photos: b.Photos, m: e.m, entry: e.Entry, id: e.ID, now: e.Received, place: e.m.Place, ours: english, theirs: english}
}

// take reads the message against the state of this moment and answers it.
func (t *turn) take(early parsed) error {
	r, ok, err := read(t.tx, t.m, early)
	if err != nil || !ok || !r.forBot() {
		return err
	}
	t.reading = r
	if r.foreign {
		t.theirs = r.theirs(t.m)
		return t.firstAnswer()
	}
	t.in(r.kitchen)
	if t.person, err = t.join(r); err != nil {
		return err
	}
	if t.person, err = t.byGroups(t.person); err != nil {
		return err
	}
	t.theirs = r.theirs(t.m)
	if t.m.Code != nil {
		return t.joinedBy()
	}
	if r.changed != nil {
		return t.change()
	}
	if r.late {
		return t.note(t.theirs.say("That question is not open any more."), t.theirs.say("Answer the newest one, or type the phrase once more."))
	}
	if r.asked != nil {
		t.place = r.asked.Place
		if err := t.closeQuestion(); err != nil {
			return err
		}
	}
	if r.err != nil {
		return t.notUnderstood(r.err)
	}
	return t.answer(r.phrase)
}

// answer does what a phrase asks for.
func (t *turn) answer(p grammar.Phrase) error {
	p.Command = t.instead(p.Command)
	if no, err := t.mayNot(p); no || err != nil {
		return err
	}
	switch c := p.Command.(type) {
	case grammar.Dose:
		return t.dose(c, p.Batch)
	case grammar.Due:
		return t.due(c)
	case grammar.Who:
		return t.who(c)
	case grammar.More:
		return t.more()
	case grammar.Totals:
		return t.totals(c)
	case grammar.WriteRecipe:
		return t.writeRecipe(c)
	case grammar.ApproveRecipe:
		return t.approveRecipe(c)
	case grammar.WithdrawRecipe:
		return t.withdrawRecipe(c)
	case grammar.ShowRecipe:
		return t.showRecipe(c.Name)
	case grammar.Recall:
		return t.recall(c)
	case grammar.WasOff:
		return t.wasOff(c)
	case grammar.LabelIngredient:
		return t.labelIngredient(c)
	case grammar.Find:
		return t.find(c.Text)
	case grammar.WhoLogged:
		return t.whoLogged(c.Batch)
	case grammar.ListRecipes:
		return t.listRecipes()
	case grammar.NamePlace, grammar.ShowPlace, grammar.ReadPlace, grammar.WasWarm:
		return t.ofPlace(c)
	case grammar.Correct:
		if ofPlaceReading(c) {
			return t.correctReading(c)
		}
	case grammar.NotTaken:
		if c.Place != "" {
			return t.placeNotRead(c)
		}
	case grammar.HoldAll:
		return t.holdAll(c)
	case grammar.ShowIncident:
		return t.showIncident(c.Number)
	case grammar.ReleaseIncident:
		return t.releaseIncident(c)
	case grammar.Help:
		return t.post(helpCard(t.theirs, c.Topic))
	case grammar.Emergency:
		return t.post(emergencyCards(t.theirs, t.ours, t.kitchen.Region))
	case grammar.BlankSheet:
		return t.blankSheet()
	case grammar.Export:
		return t.export(c.Span)
	case grammar.Scanned:
		return t.scanned(c)
	case grammar.Told:
		return t.told(c)
	case grammar.Chatter:
		return t.post(helpLine(t.theirs))
	}
	if m, ok := p.Command.(grammar.Mix); ok {
		if may, err := t.mayMix(m); !may || err != nil {
			return err
		}
	}
	s := t.settings()
	if _, ok := p.Command.(grammar.Check); ok {
		s.jars = t.jarAsLabelled // what is in already is looked at, whatever became of its jar
	}
	if f, ok := figures(t.theirs, p.Command, s); ok {
		return t.reply(f, func(l tongue) figured { f, _ := figures(l, p.Command, s); return f })
	}
	if ofBatch(p.Command) {
		return t.batch(p)
	}
	if ok, err := t.jarOrder(p.Command); ok {
		return err
	}
	if done, err := t.ofShift(p.Command); done || err != nil {
		return err
	}
	return t.setUp(p.Command)
}

// in sets the kitchen that the turn is about.
func (t *turn) in(k store.Kitchen) {
	t.kitchen, t.zone = k, t.zones.of(k)
	t.ours = oursOf(k)
	t.theirs = t.ours
}

// join makes a person known at the first thing taken from the account.
func (t *turn) join(r reading) (store.Person, error) {
	if r.known {
		return r.person, nil
	}
	a := t.m.Account
	p := store.Person{ID: personID(a), Name: t.m.Name, Accounts: []string{a.String()}}
	t.person = p
	return p, t.append(0, store.PersonJoined{ID: p.ID, Name: p.Name, Account: a.String()})
}

// append writes one event of this turn.
func (t *turn) append(batch uint64, body store.Body) error {
	return t.appendAt(batch, body, milli(t.m.At))
}

// appendAt writes one event that happened at another time than it was said.
func (t *turn) appendAt(batch uint64, body store.Body, happened store.Milli) error {
	t.touch(batch, body)
	_, err := t.tx.Append(store.Event{
		Kitchen: t.kitchen.ID, Batch: batch, Person: t.person.ID, Account: t.m.Account.String(), Via: t.m.Via,
		Entry: t.entry.ID, Happened: happened, Noted: t.now,
		Late: (t.now - happened).Duration().Abs() > lateAfter, Body: body,
	})
	return err
}

// post puts a card into the outbox, at the turn's place. A card without a key is one of its own.
func (t *turn) post(c Card) error {
	return t.postAt(t.place, c)
}

func (t *turn) postAt(at Place, c Card) error {
	if c.Also == nil {
		c.in(t.theirs)
	}
	return t.queue(at, c)
}

// queue puts a card into the outbox as it is worded. A dose card is kept, so that it can say
// later what became of its batch.
func (t *turn) queue(at Place, c Card) error {
	t.cards++
	if c.Key == "" {
		c.Key = t.id + "#" + strconv.Itoa(t.cards)
	}
	if c.Revision == 0 {
		c.Revision = 1
	}
	c.Op = opID(t.id, t.cards)
	card, err := json.Marshal(c)
	if err != nil {
		return fmt.Errorf("writing card %s: %w", c.Key, err)
	}
	place, err := json.Marshal(at)
	if err != nil {
		return fmt.Errorf("writing the place of card %s: %w", c.Key, err)
	}
	return t.tx.Queue(store.Post{Key: c.Key, Revision: c.Revision, Channel: at.channel().String(), Place: place, Card: card, Op: c.Op, Queued: t.now,
		Keep: c.Batch != 0 && !c.done && (c.Kind == DoseCard || c.Kind == RequestCard)})
}

// opID is the operation id of the n-th card of a turn.
func opID(turn string, n int) string {
	sum := sha256.Sum256([]byte(turn + "#" + strconv.Itoa(n)))
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

// note posts a short answer to one person. The last line says what to do now, where there
// are two or more.
func (t *turn) note(title string, next ...string) error { return t.post(noteCard(title, next...)) }

// announce posts what happened to a batch: everybody in its thread goes by it.
func (t *turn) announce(word func(l tongue) Card) error { return t.post(t.both(word)) }

func noteCard(title string, next ...string) Card {
	return Card{Kind: NoteCard, Title: title, Next: strings.Join(next, " ")}
}

// notUnderstood answers a phrase that asks back or can't be read.
func (t *turn) notUnderstood(err error) error {
	var q *grammar.Question
	if errors.As(err, &q) {
		return t.ask(questionCard(t.theirs, t.reading.text, q), q.Choices, q.Append)
	}
	var e *grammar.Error
	if errors.As(err, &e) {
		if t.reading.where == inCureChannel {
			return t.post(shortErrorCard(t.theirs, e))
		}
		return t.post(errorCard(t.theirs, t.reading.text, e))
	}
	return err
}
