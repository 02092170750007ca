package store

import (
	"fmt"
	"path/filepath"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// model is what the records should say, kept the plain way: slices, searched from end to end.
type model struct {
	batches []*modelBatch
	now     Milli
	inbox   []Entry // all, in order
	queue   []Post
	shown   map[string]uint32
	nextSeq uint64
	recipes []modelRecipe
	jars    map[string][]Filling

	people   []*modelPerson
	teams    map[string]bool // and channels: that are the kitchen's
	channels map[string]bool
	codes    map[string]Code
	newest   map[uint64]modelNewest // by batch
}

func newModel() *model {
	return &model{
		now: day, shown: map[string]uint32{}, jars: map[string][]Filling{}, people: modelOfTwo(), teams: map[string]bool{},
		channels: map[string]bool{}, codes: map[string]Code{}, newest: map[uint64]modelNewest{},
	}
}

type modelBatch struct {
	number   uint64
	state    State
	revision uint32
	cut      string
	talk     string
	askedBy  string
	askedAt  Milli
	lapse    Milli
	steps    []modelStep
	holds    int
	alarms   alarms
	paused   bool
	pausedAt Milli // of the last pause, and when its clock ran again
	ranAt    Milli
	startAt  Milli
	hands    []string
	recipe   string
	version  uint32
	from     FillingOf // that it was weighed from
	weigher  string
	weight   int64 // of the meat, mg

	where             string
	meat, ingredients []string
	readings, served  []int64
}

type modelStep struct {
	kind           string
	due, again     Milli
	ring           Milli
	on             int
	reminded, done bool
	kept           string
}

// move gives a step another time.
func (s *modelStep) move(due Milli, on int) { *s = modelStep{kind: s.kind, due: due, on: on} }

// at is when to remind of it.
func (s modelStep) at() Milli {
	if s.ring != 0 {
		return s.ring
	}
	return s.due
}

func (b *modelBatch) ended() bool {
	return slices.Contains([]State{StateFinished, StateDeclined, StateLapsed, StateDiscarded}, b.state)
}
func (b *modelBatch) waits() bool { return b.state == StateAsked || b.state == StateApproved }
func (b *modelBatch) runs() bool {
	return !b.ended() && !b.waits() && b.state != StateWeighed && b.state != StateChecked
}

func (b *modelBatch) hand(p string) {
	if !slices.Contains(b.hands, p) {
		b.hands = append(b.hands, p)
	}
}

// first is the step to be done first; with list, the one that the due list is for.
func (b *modelBatch) first(list bool) int {
	order := []int{}
	for i, s := range b.steps {
		if !s.done && !(list && (s.reminded || s.on > 0 && !b.steps[s.on-1].done)) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if list {
			return int(b.steps[i].at() - b.steps[j].at())
		}
		return int(b.steps[i].due - b.steps[j].due)
	})
	if len(order) == 0 || b.ended() {
		return -1
	}
	return order[0]
}

var (
	modelPeople = []string{ana, ben, "p3"}
	modelCuts   = []string{"belly", "loin", "ham"}
	modelTalks  = []string{"c1", "c2"}
	modelStates = []State{StateCuring, StateResting, StateSmoking, StateChilled}
	modelKinds  = []string{"turn", "rinse", "take out"}
)

// event draws an event that may fit or not, and gives the model's own view of that: change
// is nil where it must be refused.
func (m *model) event(t *rapid.T) (e Event, change func()) {
	who := rapid.SampledFrom(modelPeople).Draw(t, "who")
	m.now += Milli(rapid.IntRange(0, 3).Draw(t, "hours")) * hour
	at := m.now
	kind := rapid.SampledFrom([]string{
		"ask", "ask", "revise", "approve", "approve", "weigh", "check", "start", "start", "done", "done", "move", "add", "remind", "remind",
		"void", "hold", "release", "decline", "lapse", "discard", "finish", "alarm", "drop", "ring", "take", "escalate", "pause", "pause", "resume", "resume",
		"place", "meat", "ingredient", "measure", "serve", "weight",
	}).Draw(t, "kind")
	cut := rapid.SampledFrom(modelCuts).Draw(t, "cut")
	lapse := at + Milli(rapid.IntRange(0, 24).Draw(t, "lapse"))*hour
	if kind == "ask" || len(m.batches) == 0 {
		n := uint64(len(m.batches) + rapid.SampledFrom([]int{1, 1, 1, 1, 2}).Draw(t, "number"))
		talk := rapid.SampledFrom(modelTalks).Draw(t, "talk")
		a := asked(cut, talk, lapse)
		a.Card.Recipe = rapid.SampledFrom([]string{"", bacon, "ham cure"}).Draw(t, "recipe")
		if a.Card.Recipe != "" {
			a.Card.RecipeVersion = uint32(rapid.IntRange(1, 2).Draw(t, "version"))
		}
		e = of(n, who, at, a)
		if n != uint64(len(m.batches)+1) {
			return e, nil
		}
		return e, func() {
			m.batches = append(m.batches, &modelBatch{
				number: n, state: StateAsked, revision: 1, cut: cut, talk: talk, askedBy: who, askedAt: at, lapse: lapse, hands: []string{who},
				recipe: a.Card.Recipe, version: a.Card.RecipeVersion, weight: a.Card.WeightMg,
			})
		}
	}
	among := m.batches
	if open := slices.DeleteFunc(slices.Clone(among), (*modelBatch).ended); len(open) > 0 && rapid.IntRange(0, 7).Draw(t, "ended too") < 7 {
		among = open
	}
	b := rapid.SampledFrom(among).Draw(t, "batch")
	i := rapid.IntRange(-1, len(b.steps)).Draw(t, "step")
	there := i >= 0 && i < len(b.steps) && !b.steps[i].done
	revision := b.revision + uint32(rapid.SampledFrom([]int{0, 0, 0, 1}).Draw(t, "revision"))
	due := at + Milli(rapid.IntRange(0, 100).Draw(t, "due"))*hour
	name := rapid.SampledFrom(modelKinds).Draw(t, "name")
	if there {
		name = b.steps[i].kind
	}
	state := rapid.SampledFrom(modelStates).Draw(t, "state")
	fits := false
	var body Body
	end := func(s State) func() { return func() { b.state = s; b.lapse = 0 } }
	switch kind {
	case "revise":
		body, fits = Revised{Card: card(revision+1, cut), Lapse: lapse}, b.waits() && revision == b.revision
		change = func() {
			b.state, b.revision, b.cut, b.lapse = StateAsked, revision+1, cut, lapse
			b.recipe, b.version = "", 0 // of no recipe any more
		}
	case "approve":
		a := approved(revision, lapse)
		a.Own = rapid.Bool().Draw(t, "own")
		body, fits = a, b.state == StateAsked && revision == b.revision && (a.Own || who != b.askedBy)
		change = func() { b.state, b.lapse = StateApproved, lapse; b.hand(who) }
	case "void":
		body, fits = ApprovalVoided{Why: "w", Lapse: lapse}, b.state == StateApproved
		change = func() { b.state, b.lapse = StateAsked, lapse }
	case "weigh":
		w := Weighed{Revision: revision, CureMg: 8_000, Jar: rapid.SampledFrom(modelJars).Draw(t, "jar"), Filling: 1}
		body, fits = w, (b.state == StateApproved || b.state == StateWeighed) && b.holds == 0 && revision == b.revision
		change = func() {
			b.state, b.lapse, b.from, b.weigher = StateWeighed, 0, FillingOf{w.Jar, 1}, who
			b.hand(who)
		}
	case "check":
		c := Checked{CureMg: 8_000, Jar: rapid.SampledFrom(modelJars).Draw(t, "jar"), Filling: 1, Own: rapid.Bool().Draw(t, "own")}
		body, fits = c, b.state == StateWeighed && b.holds == 0 && b.from.Jar == c.Jar && (c.Own || b.weigher != who)
		change = func() { b.state = StateChecked; b.hand(who) }
	case "start":
		steps := []Step{}
		for range rapid.IntRange(0, 4).Draw(t, "steps") {
			s := step(rapid.SampledFrom(modelKinds).Draw(t, "name"), at+Milli(rapid.IntRange(0, 200).Draw(t, "due"))*hour)
			s.On = rapid.IntRange(0, len(steps)).Draw(t, "on")
			steps = append(steps, s)
		}
		body, fits = Started{Steps: steps}, (b.state == StateApproved || b.state == StateWeighed || b.state == StateChecked) && b.holds == 0
		change = func() {
			b.state, b.lapse = StateCuring, 0
			for _, s := range steps {
				b.steps = append(b.steps, modelStep{kind: s.Kind, due: s.Due, on: s.On})
			}
			b.startAt = at
			b.hand(who)
		}
	case "done":
		body, fits = StepDone{Step: i, Kind: name, State: state}, b.runs() && (there || i == -1)
		change = func() {
			if i == -1 {
				b.steps = append(b.steps, modelStep{kind: name})
				i = len(b.steps) - 1
			}
			b.steps[i].done, b.state = true, state
			b.hand(who)
		}
	case "move":
		i = max(i, 0) // -1 adds a step
		there = i < len(b.steps) && !b.steps[i].done && b.steps[i].kind == name
		body, fits = StepMoved{Step: i, To: step(name, due), Why: "snooze"}, b.runs() && there
		change = func() { b.steps[i].move(due, 0) }
	case "add":
		body, fits = StepMoved{Step: -1, To: step(name, due), Why: "remind"}, b.runs()
		change = func() { b.steps = append(b.steps, modelStep{kind: name, due: due}) }
	case "remind":
		kept := rapid.SampledFrom([]string{"", "", "held"}).Draw(t, "kept")
		again := Milli(0)
		if kept == "" {
			again = due * Milli(rapid.IntRange(0, 1).Draw(t, "again"))
		}
		body, fits = Reminded{Step: i, Kept: kept, Again: again}, b.runs() && there && (!b.steps[i].reminded || b.steps[i].kept != "")
		change = func() { b.steps[i].reminded, b.steps[i].kept, b.steps[i].again = true, kept, again }
	case "drop":
		body, fits = StepDropped{Step: i, Why: "w"}, b.runs() && there
		change = func() { b.steps[i].done = true }
	case "ring":
		body, fits = ReminderMoved{Step: i, To: due, Why: "quiet"}, b.runs() && there && !b.steps[i].reminded
		change = func() { b.steps[i].ring = due }
	case "take":
		body, fits = Acknowledged{Step: i}, b.runs() && there && b.steps[i].reminded
		change = func() { b.steps[i].again = 0; b.hand(who) }
	case "escalate":
		body, fits = Escalated{Step: i, To: "chefs", Again: due}, b.runs() && there && b.steps[i].reminded
		change = func() { b.steps[i].again = due }
	case "pause":
		body, fits = Paused{Why: "w"}, b.runs() && !b.paused && at >= b.ranAt
		change = func() { b.paused, b.pausedAt = true, at }
	case "resume":
		clock := at + Milli(rapid.IntRange(-1, 24).Draw(t, "thaw"))*hour
		r := Resumed{Clock: clock}
		for j, s := range b.steps {
			if !s.done {
				r.Moves = append(r.Moves, Move{j, Step{Kind: s.kind, Due: s.due + clock - b.pausedAt, On: s.on}})
			}
		}
		body, fits = r, b.runs() && b.paused && clock >= at
		change = func() {
			b.paused, b.ranAt = false, clock
			for _, m := range r.Moves {
				b.steps[m.Step].move(m.To.Due, m.To.On)
			}
		}
	case "hold":
		body, fits, change = Held{Why: "w"}, !b.ended(), func() { b.holds++ }
	case "release":
		body, fits, change = Released{Why: "w"}, !b.ended() && b.holds > 0, func() { b.holds-- }
	case "alarm":
		what, to := rapid.SampledFrom([]string{"approval", "digest"}).Draw(t, "what"), due*Milli(rapid.IntRange(0, 1).Draw(t, "set"))
		body, fits, change = AlarmSet{What: what, At: to}, !b.ended(), func() {
			if b.alarms == nil {
				b.alarms = alarms{}
			}
			if b.alarms[what] = to; to == 0 {
				delete(b.alarms, what)
			}
		}
	case "decline":
		body, fits, change = Declined{}, b.waits(), end(StateDeclined)
	case "lapse":
		body, fits, change = Lapsed{}, b.waits(), end(StateLapsed)
	case "discard":
		body, fits, change = Discarded{}, !b.ended(), end(StateDiscarded)
	case "finish":
		body, fits, change = Finished{}, b.runs() && b.holds == 0, end(StateFinished)
	default:
		body, fits, change = m.along(t, kind, b, at)
	}
	if !fits {
		change = nil
	}
	return of(b.number, who, at, body), change
}

// TestModel runs random commands against the store and against a plain model of it, opens
// the file anew in between, and compares.
func TestModel(t *testing.T) {
	runs := 0
	rapid.Check(t, func(r *rapid.T) {
		runs++
		path := filepath.Join(t.TempDir(), fmt.Sprint(runs, ".db"))
		s, err := Open(path, Options{})
		if err != nil {
			r.Fatal(err)
		}
		defer func() { _ = s.Close() }()
		peopled(t, s)
		m := newModel()
		r.Repeat(map[string]func(*rapid.T){
			"event":  func(r *rapid.T) { m.happen(r, s) },
			"undo":   func(r *rapid.T) { m.undo(r, s) },
			"person": func(r *rapid.T) { m.person(r, s) },
			"code":   func(r *rapid.T) { m.code(r, s) },
			"recipe": func(r *rapid.T) { m.recipe(r, s) },
			"jar":    func(r *rapid.T) { m.jar(r, s) },
			"inbox":  func(r *rapid.T) { m.message(r, s) },
			"outbox": func(r *rapid.T) { m.post(r, s) },
			"reopen": func(r *rapid.T) {
				if err := s.Close(); err != nil {
					r.Fatal(err)
				}
				if s, err = Open(path, Options{}); err != nil {
					r.Fatal(err)
				}
			},
			"": func(r *rapid.T) { m.compare(r, s) },
		})
		if d, err := s.Verify(); err != nil || len(d) > 0 {
			r.Fatalf("verify: %v %v", d, err)
		}
	})
}
