package bot

import (
	"cmp"
	"errors"

	"salthand/grammar"
	"salthand/store"
)

// where is how directly something is said to the bot.
type where string

const (
	toBot         where = "to the bot" // a mention or a direct message
	inThread      where = "in a batch's thread"
	inCureChannel where = "in the cure channel"
	elsewhere     where = "elsewhere"
)

// hearing is what the bot makes of it.
type hearing string

const (
	wholePhrase hearing = "a whole phrase"  // has an amount, names a batch, asks, or sets up the kitchen
	bareVerb    hearing = "a bare verb"     // "approve", "turned"
	nearMiss    hearing = "a near miss"     // a weight and a cut, cure or method, and one clause fails
	broken      hearing = "a broken phrase" // some other phrase that fails
	mishap      hearing = "a mishap"
	emergency   hearing = "an emergency"
	nothing     hearing = "nothing for the bot"
)

// heard is the addressing table: whether the bot takes what it hears where. What it does
// not take is not kept. An answer to an open question is heard as the whole phrase that it
// completes.
var heard = map[where]map[hearing]bool{
	toBot:         {wholePhrase: true, bareVerb: true, nearMiss: true, broken: true, mishap: true, emergency: true, nothing: true},
	inThread:      {wholePhrase: true, bareVerb: true, nearMiss: true, broken: true, mishap: true, emergency: true, nothing: false},
	inCureChannel: {wholePhrase: true, bareVerb: false, nearMiss: true, broken: false, mishap: true, emergency: true, nothing: false},
	elsewhere:     {wholePhrase: false, bareVerb: false, nearMiss: false, broken: false, mishap: false, emergency: true, nothing: false},
}

// reading is a message as it was understood against the records.
type reading struct {
	kitchen store.Kitchen
	person  store.Person
	known   bool // person is
	foreign bool // the team belongs to no kitchen
	where   where
	open    []uint64  // open batches of the conversation, oldest first
	batches []uint64  // all of them
	asked   *openNote // the question that the message answers
	late    bool      // it picks an answer to a question that is not open any more
	changed *changed  // what it edits or deletes of what the bot had taken
	shown   *shown    // how far a list was shown, where the next page is asked for
	parsed
}

// oursOf is the tongue of a kitchen's cards.
func oursOf(k store.Kitchen) tongue { return tongueNamed(k.Settings[setLanguage], english) }

// theirs is the tongue that the person is answered in: the one that was chosen, else that
// of the question that is answered or of the line itself, else the platform's, else the
// kitchen's. That a line is English tells something only in an English kitchen.
func (r reading) theirs(m Message) tongue {
	said := r.phrase.Language
	if r.asked != nil {
		said = r.asked.Language
	}
	ours := oursOf(r.kitchen)
	if tongueNamed(said, english) == english && ours != english {
		said = "" // the phrases that cards show to be typed are English in every kitchen
	}
	return tongueNamed(cmp.Or(r.person.Language, said, m.Language), ours)
}

// parsed is what the grammar made of a line. It depends on nothing but text and setting, so
// that one parse serves where they are the same.
type parsed struct {
	text    string // the phrase: what was typed, or what the answer completes
	setting grammar.Setting
	phrase  grammar.Phrase
	err     error // *grammar.Question or *grammar.Error
}

// parse reads a line, or takes the parse of an earlier look at it.
func parse(text string, set grammar.Setting, early parsed) parsed {
	if early.text == text && early.setting == set && early.phrase.Command != nil {
		return early
	}
	p := parsed{text: text, setting: set}
	p.phrase, p.err = grammar.Parse(text, set)
	return p
}

// look reads a message against the records of this moment, outside of any turn.
func (b *Bot) look(m Message) (r reading, ok bool, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		r, ok, err = read(tx, m, parsed{})
		return err
	})
	return r, ok, err
}

// read understands a message. early is the parse of an earlier look at it, if any. ok is
// false where the message comes from a team that no kitchen knows, or is of a kind that says
// nothing.
func read(tx *store.Tx, m Message, early parsed) (r reading, ok bool, err error) {
	if m.Guest {
		return r, false, nil
	}
	r.kitchen, ok, err = kitchenOf(tx, m)
	if err != nil {
		return r, false, err
	}
	if !ok {
		r = foreign(m, early)
		_, open, err := tx.Kitchen(homeKitchen)
		return r, m.What == Said && (!open || r.typesCode(m)), err
	}
	r.person, r.known, err = tx.PersonOf(r.kitchen.ID, m.Account.String())
	if err != nil {
		return r, false, err
	}
	r.open, r.batches, err = tx.BatchesIn(m.Place.String())
	if err != nil {
		return r, false, err
	}
	switch {
	case m.What == Pressed || m.What == Filled || m.Direct || m.Mentioned:
		r.where = toBot
	case len(r.batches) > 0:
		r.where = inThread
	case isCureChannel(r.kitchen, m.Place):
		r.where = inCureChannel
	default:
		r.where = elsewhere
	}
	r.changed, err = changeOf(tx, r.kitchen.ID, m, r.batches)
	if err != nil || m.What == Deleted {
		return r, r.changed != nil, err
	}
	if r.changed != nil {
		thread := len(r.batches) > 0 && r.changed.ask == nil
		r.parsed = parse(m.Text, settingOf(r.kitchen, thread), early)
		return r, true, nil
	}
	switch {
	case m.What == Pressed && m.Press.Action == DoPick:
		if r.asked, err = openQuestion(tx, m, r.person.ID); err != nil {
			return r, false, err
		}
		phrase, ok := r.asked.picked(*m.Press)
		if !ok {
			r.asked, r.late = nil, true
			return r, true, nil
		}
		r.parsed = parse(phrase, settingOf(r.kitchen, len(r.batches) > 0), early)
		if r.phrase.Batch == 0 {
			r.phrase.Batch = r.asked.Batch
		}
		return r, true, nil
	case m.What == Pressed:
		r.phrase = pressed(*m.Press)
		return r, true, nil
	case m.What == Filled: // a line that was put together: its English is not the person's
		r.parsed = parse(m.Text, settingOf(r.kitchen, true), early)
		r.phrase.Language = ""
		return r, true, nil
	}
	r.asked, err = openQuestion(tx, m, r.person.ID)
	if err != nil {
		return r, false, err
	}
	text := m.Text
	if r.asked != nil {
		if phrase, ok := r.asked.Open.Answer(m.Text); ok {
			text = phrase
		} else {
			r.asked = nil
		}
	}
	r.parsed = parse(text, settingOf(r.kitchen, len(r.batches) > 0), early)
	if r.asked != nil && r.phrase.Batch == 0 {
		r.phrase.Batch = r.asked.Batch
	}
	if _, ok := r.phrase.Command.(grammar.More); ok {
		r.shown, err = shownTo(tx, m, r.person.ID)
	}
	return r, err == nil, err
}

// foreign reads a message of a team that belongs to no kitchen. Once there is a kitchen such a
// team is heard only where a code is typed.
func foreign(m Message, early parsed) reading {
	r := reading{foreign: true, where: elsewhere, parsed: parse(m.Text, grammar.Setting{}, early)}
	if m.Direct || m.Mentioned {
		r.where = toBot
	}
	return r
}

// typesCode reports whether the message carries a one-time code.
func (r reading) typesCode(m Message) bool {
	c, ok := r.phrase.Command.(grammar.Join)
	return m.Code != nil || ok && c.Code != ""
}

// pressed is the phrase that a button stands for.
func pressed(p Press) grammar.Phrase {
	ph := grammar.Phrase{Batch: p.Batch}
	switch p.Action {
	case DoApprove:
		ph.Command = grammar.Approve{Revision: p.Revision}
	case DoDecline:
		ph.Command = grammar.Decline{}
	case DoDone:
		ph.Command = grammar.Did{}
	case DoSnooze:
		ph.Command = grammar.Snooze{For: snoozeButton}
	case DoTake:
		ph.Command = grammar.OnIt{}
	case DoAccept:
		ph.Command = grammar.Accept{}
	case DoStart:
		ph.Command = grammar.Start{}
	case DoHold:
		ph.Command = grammar.HoldIt{}
	case DoChange, DoWeigh: // no form was opened: the batch is past that
		ph.Command = grammar.ShowBatch{}
	}
	return ph
}

// forBot tells whether the bot takes the message. An edit or a deletion of what it has taken
// it always takes.
func (r reading) forBot() bool { return r.changed != nil || heard[r.where][r.hearing()] }

// hearing is the row of the addressing table that the message stands in.
func (r reading) hearing() hearing {
	var question *grammar.Question
	var failed *grammar.Error
	switch {
	case errors.As(r.err, &question):
		return wholePhrase
	case errors.As(r.err, &failed) && failed.Near:
		return nearMiss
	case r.err != nil:
		return broken
	case r.phrase.Batch != 0:
		return wholePhrase
	}
	switch r.phrase.Command.(type) {
	case grammar.Emergency:
		return emergency
	case grammar.Told:
		return mishap
	case grammar.Chatter:
		return nothing
	case grammar.WeighedIn:
		return wholePhrase // it has amounts
	case grammar.More:
		if r.shown == nil {
			return bareVerb
		}
	}
	if ofBatch(r.phrase.Command) {
		return bareVerb
	}
	return wholePhrase
}

// ofBatch reports whether a command is about one batch.
func ofBatch(c grammar.Command) bool {
	switch c := c.(type) {
	case grammar.Print, grammar.Amend, grammar.CorrectWeight, grammar.WeighedIn, grammar.Seen, grammar.Approve, grammar.Decline, grammar.NeverMind, grammar.Undo, grammar.Start, grammar.Did, grammar.Snooze,
		grammar.Remind, grammar.Finish, grammar.HoldIt, grammar.ReleaseIt, grammar.Discard, grammar.PutIn,
		grammar.WhereIs, grammar.WeighsNow, grammar.Measured, grammar.ServedIt, grammar.MeatFrom, grammar.ShowBatch,
		grammar.AddIngredient, grammar.AskAllergens, grammar.Added:
		return true
	case grammar.ShowSteps, grammar.MoveStep, grammar.DropStep, grammar.Soak, grammar.Pause, grammar.Resume, grammar.OnIt, grammar.SetOwner:
		return true
	case grammar.SetBackup:
		return !c.Kitchen
	case grammar.NotTaken:
		return c.Place == ""
	case grammar.Correct:
		return !ofPlaceReading(c)
	}
	return false
}
