package store

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"math"
)

// Query asks for batches. A zero field does not narrow.
type Query struct {
	Cut     string
	Person  string // id of somebody who asked, approved, started or did a step
	State   State
	Held    bool   // only those held
	Paused  bool   // only those whose clock stands
	Jar     string // weighed from it; not weighed: reckoned with it. As it was first written
	Filling uint32 // of Jar; 0: any
	Lot     string // of the jar, whatever its case
	Place   string // name of the place that they are in; only open ones
	Recipe  string
	Version uint32   // of Recipe; 0: any
	Words   []string // each stands in what was said of the batch, or begins a word there: WordsIn
	From    Milli    // asked at this instant or later; 0: no bound
	To      Milli    // asked before this instant; 0: no bound
	After   string
	Limit   int // most on a page; 0: 20
}

const pageLimit = 20

// The kinds of key in the look bucket. Behind kitchen and value each ends in the instant of
// asking and the number: a page is one seek in each index that the query names, and from there
// backwards, and all of them are in the same order.
const (
	lookCross   = 'x' // its value is a cut, a person and a state that ends; each may be left open
	lookState   = 's' // one that does not end: few batches stand in it at a time
	lookHeld    = 'h'
	lookPaused  = 'z'
	lookRecipe  = 'r'
	lookVersion = 'v' // of a recipe
	lookStarted = 't' // by the instant of the start; its value is a row of totals
	lookWord    = 'w' // its value has no length before it and a zero behind, so that words that begin alike stand together
	lookJar     = 'j'
	lookFilling = 'f'
	lookLot     = 'l'
	lookPlace   = 'i' // in it

	lookJarWith    = 'J' // a jar or a recipe, and a cut or a person: see cross
	lookRecipeWith = 'R'
)

// tailLen is the length of the end that all keys of look have in common.
const tailLen = 16

func lookPrefix(kind byte, kitchen, value string) key {
	return key(nil).kind(kind).text(kitchen).text(value)
}

func tail(asked Milli, number uint64) key { return key(nil).time(asked).num(number) }

func (b *Batch) lookKeys() []derived {
	t := tail(b.AskedAt, b.Number)
	d := make([]derived, 0, 8+len(b.People))
	add := func(kind byte, value string) {
		d = append(d, derived{bucketLook, lookPrefix(kind, b.Kitchen, value).join(t), present})
	}
	for _, c := range b.crosses() {
		d = append(d, derived{bucketLook, c.prefix(b.Kitchen).join(t), present})
	}
	if !b.State.ends() {
		add(lookState, string(b.State))
	}
	if b.Held() && b.Open() {
		add(lookHeld, "")
	}
	if b.Paused() && b.Open() {
		add(lookPaused, "")
	}
	if b.Where != "" && b.Open() {
		add(lookPlace, b.Where)
	}
	from, lot := b.source()
	with := func(kind byte, value string) {
		for _, p := range withPrefixes(kind, b.Kitchen, value, b.Card.Cut, b.People...) {
			d = append(d, derived{bucketLook, p.join(t), present})
		}
	}
	if from.Jar != "" {
		add(lookJar, from.Jar)
		add(lookFilling, from.String())
		with(lookJarWith, from.Jar)
	}
	if lot != "" {
		add(lookLot, folded(lot))
	}
	if b.Card.Recipe != "" {
		add(lookRecipe, folded(b.Card.Recipe))
		add(lookVersion, versionValue(b.Card.Recipe, b.Card.RecipeVersion))
		with(lookRecipeWith, folded(b.Card.Recipe))
	}
	if b.StartedAt != 0 {
		started := lookPrefix(lookStarted, b.Kitchen, "").join(tail(b.StartedAt, b.Number))
		d = append(d, derived{bucketLook, started, b.row()})
	}
	return d
}

// cross is where an index of its own stands for cut, person and state together. Indexes that
// are long and have little in common, as of a person and a cut that he never cures, would be
// read from end to end to find where they meet.
type cross struct {
	cut, person string
	state       State // one that ends
}

func (c cross) prefix(kitchen string) key {
	return key(nil).kind(lookCross).text(kitchen).text(c.cut).text(c.person).text(string(c.state))
}

// crosses are all that a batch stands in.
func (b *Batch) crosses() []cross {
	states := []State{""}
	if b.State.ends() {
		states = append(states, b.State)
	}
	all := make([]cross, 0, 4*(1+len(b.People)))
	for _, s := range states {
		for _, cut := range []string{"", b.Card.Cut} {
			all = append(all, cross{cut, "", s})
			for _, p := range b.People {
				all = append(all, cross{cut, p, s})
			}
		}
	}
	return all
}

// withPrefixes are those of a jar or a recipe together with a cut, and with each of some people;
// "" is left out. Fillings, lots and versions come and go: what they have in common with a
// person stands close together, or is found in one leap.
func withPrefixes(kind byte, kitchen, value, cut string, people ...string) (all []key) {
	begin := lookPrefix(kind, kitchen, value)
	if cut != "" {
		all = append(all, begin.join(key("c").text(cut)))
	}
	for _, p := range people {
		if p != "" {
			all = append(all, begin.join(key("p").text(p)))
		}
	}
	return all
}

func versionValue(recipe string, n uint32) string { return fmt.Sprintf("%s v%d", folded(recipe), n) }

// Batches gives a page of batches, those asked for last first, and a cursor for the page
// after it, "" where there is none. It reads the indexes that the query names, and only
// records that belong on the page.
func (tx *Tx) Batches(kitchen string, q Query) (page []Batch, more string, err error) {
	limit := q.Limit
	if limit <= 0 {
		limit = pageLimit
	}
	err = tx.back(kitchen, q, func(number uint64, end key) (bool, error) {
		if len(page) == limit {
			more = hex.EncodeToString(end)
			return false, nil
		}
		b, ok, err := loadBatch(tx, kitchen, number)
		if ok {
			page = append(page, b)
		}
		return true, err
	})
	if err != nil {
		return nil, "", err
	}
	return page, more, nil
}

// back walks the batches of a query, those asked for last first, as long as fn wants more. It
// reads the indexes that the query names, and no record. end is the end that their keys have in
// common, at which a page may begin.
func (tx *Tx) back(kitchen string, q Query, fn func(number uint64, end key) (more bool, err error)) error {
	at, err := q.begin()
	if err != nil {
		return err
	}
	walks := tx.walks(tx.indexes(kitchen, q))
	for {
		if at = meet(walks, at); at == nil {
			return nil
		}
		r := keyReader{rest: at}
		if asked := r.time(); q.From != 0 && asked < q.From {
			return nil
		}
		if more, err := fn(r.num(), at); err != nil || !more {
			return err
		}
		if at = before(at); at == nil {
			return nil
		}
	}
}

// begin is the end of key at which the page may begin.
func (q Query) begin() (key, error) {
	at := tail(math.MaxInt64, math.MaxUint64)
	if q.To != 0 {
		at = tail(q.To-1, math.MaxUint64)
	}
	if q.After == "" {
		return at, nil
	}
	cursor, err := hex.DecodeString(q.After)
	if err != nil || len(cursor) != tailLen {
		return nil, ErrCursor
	}
	if bytes.Compare(cursor, at) < 0 {
		at = cursor
	}
	return at, nil
}

// index is one index, or several of which any will do.
type index []key

// indexes are those that the query names: a batch must stand in each of them.
func (tx *Tx) indexes(kitchen string, q Query) []index {
	var all []index
	add := func(kind byte, value string) { all = append(all, index{lookPrefix(kind, kitchen, value)}) }
	c := cross{q.Cut, q.Person, q.State}
	if q.State != "" && !q.State.ends() {
		add(lookState, string(q.State))
		c.state = ""
	}
	if c != (cross{}) {
		all = append(all, index{c.prefix(kitchen)})
	}
	if q.Held {
		add(lookHeld, "")
	}
	if q.Paused {
		add(lookPaused, "")
	}
	with := func(kind byte, value string) {
		for _, p := range withPrefixes(kind, kitchen, value, q.Cut, q.Person) {
			all = append(all, index{p})
		}
	}
	if q.Jar != "" {
		add(lookJar, q.Jar)
		with(lookJarWith, q.Jar)
		if q.Filling != 0 {
			add(lookFilling, FillingOf{q.Jar, q.Filling}.String())
		}
	}
	if q.Lot != "" {
		add(lookLot, folded(q.Lot))
	}
	if q.Recipe != "" {
		add(lookRecipe, folded(q.Recipe))
		with(lookRecipeWith, folded(q.Recipe))
		if q.Version != 0 {
			add(lookVersion, versionValue(q.Recipe, q.Version))
		}
	}
	if q.Place != "" {
		add(lookPlace, q.Place)
	}
	for _, w := range q.Words {
		all = append(all, tx.forms(kitchen, w))
	}
	if len(all) == 0 {
		all = append(all, index{c.prefix(kitchen)})
	}
	return all
}

// walk is where a page stands in one index, or in several of which any will do.
type walk []*stand

// stand is where a walk stands in an index.
type stand struct {
	prefix key
	cursor cursor
	from   key // prefix and the end that was sought
	end    key // nil: none was sought yet
	over   bool
}

func (tx *Tx) walks(indexes []index) []walk {
	all := make([]walk, len(indexes))
	for i, in := range indexes {
		for _, p := range in {
			all[i] = append(all[i], &stand{prefix: p, cursor: tx.cursor(bucketLook)})
		}
	}
	return all
}

// meet gives the last end at or before one that every walk comes to; nil: there is none. Each
// in turn leaps back to where the others are.
func meet(walks []walk, at key) key {
	for agreed := 0; agreed < len(walks); {
		for _, w := range walks {
			end := w.leap(at)
			switch {
			case end == nil:
				return nil
			case bytes.Equal(end, at):
				agreed++
			default:
				at, agreed = end, 1
			}
			if agreed == len(walks) {
				break
			}
		}
	}
	return at
}

// leap gives the last end at or before one; nil: there is none.
func (w walk) leap(at key) (last key) {
	for _, s := range w {
		if end := s.leap(at); end != nil && bytes.Compare(end, last) > 0 {
			last = end
		}
	}
	return last
}

// steps is how far a stand goes on foot before it seeks: what is near is found sooner so.
const steps = 4

func (s *stand) leap(at key) key {
	for n := 0; !s.over && (s.end == nil || bytes.Compare(s.end, at) > 0); n++ {
		var k key
		if s.end == nil || n == steps {
			s.from = append(append(s.from[:0], s.prefix...), at...)
			k, _ = s.cursor.seekBack(s.from)
		} else {
			k, _ = s.cursor.prev()
		}
		s.over = !bytes.HasPrefix(k, s.prefix) || len(k) != len(s.prefix)+tailLen
		if !s.over {
			s.end = k[len(s.prefix):]
		}
	}
	if s.over {
		return nil
	}
	return s.end
}

// before is the greatest end below this one; nil: there is none.
func before(at key) key {
	prev := bytes.Clone(at)
	for i := len(prev) - 1; i >= 0; i-- {
		prev[i]--
		if prev[i] != math.MaxUint8 {
			return prev
		}
	}
	return nil
}
