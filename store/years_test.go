package store

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"testing"
)

// A kitchen of many years, the same each time: what is in the cure at once is a few hundred
// batches, nearly all have ended; some hands only ever cure some cuts; a few batches were
// entered late.
const (
	yearsHands = 14
	yearsOpen  = 600 // batches that have not ended
	yearsCuts  = 24
	yearsJars  = 6

	yearsPeopled = 4 // events before the first batch
)

// years draws the events of such a kitchen.
type years struct {
	random *rand.Rand
	card   Card
	now    Milli
	open   []*yearsBatch // the oldest first
}

// yearsBatch is a batch that has not ended, and what comes next of it.
type yearsBatch struct {
	number uint64
	hands  [2]string
	next   []Body
}

func handNamed(i int) string { return fmt.Sprintf("slack/T024BE7LD/U%08d", i) }

func cutNamed(i int) string {
	return []string{"pork belly", "loin", "boneless ham", "brisket", "ground pork", "duck legs", "coppa", "jowl"}[i%8] + []string{"", ", skin on", ", smoked"}[i/8]
}

func jarNamed(i int) string { return fmt.Sprint("A", 1+i) }

func newYears(t testing.TB) *years {
	t.Helper()
	answer, err := os.ReadFile("testdata/answer.json") // as `salthand ask --json` prints it
	if err != nil {
		t.Fatal(err)
	}
	c := card(1, cutNamed(0))
	c.Answer = answer[:len(answer)-1]
	for d := range 9 {
		c.Steps = append(c.Steps, PlannedStep{Kind: "turn", AfterSeconds: int64(d+1) * 86_400})
	}
	return &years{random: rand.New(rand.NewPCG(11, 25)), card: c, now: day}
}

// skewed draws below n, the first ones far more often than the last.
func (y *years) skewed(n int) int { return int(float64(n) * y.random.Float64() * y.random.Float64()) }

// cutOf draws a cut for a person: the odd ones never cure the first eight.
func (y *years) cutOf(hand int) int {
	if hand%2 == 1 {
		return 8 + y.skewed(yearsCuts-8)
	}
	return y.skewed(yearsCuts)
}

// ask draws the next batch.
func (y *years) ask(number uint64) Event {
	y.now += Milli(y.random.IntN(190)) * 1000
	asker := y.skewed(yearsHands)
	other := (asker + 1 + y.random.IntN(yearsHands-1)) % yearsHands
	c := y.card
	cut := y.cutOf(asker)
	c.Cut = cutNamed(cut)
	c.Phrase = fmt.Sprintf("3.2 kg %s, dry rub, 7 days", c.Cut)
	jar := y.random.IntN(yearsJars) // filled anew every hundred batches or so; three fillings are of one lot
	c.Jar, c.Filling, c.Lot = jarNamed(jar), uint32(1+number/600), fmt.Sprint("L", number/1800)
	if cut%2 == 0 { // each recipe is for one cut
		c.Recipe, c.RecipeVersion = "house "+c.Cut, uint32(1+number/20_000)
	}
	b := &yearsBatch{number: number, hands: [2]string{handNamed(asker), handNamed(other)}}
	steps := make([]Step, len(c.Steps))
	for i, s := range c.Steps {
		steps[i] = step(s.Kind, y.now+Milli(s.AfterSeconds)*1000)
	}
	bound := approved(1, 0)
	bound.Jar, bound.Filling = c.Jar, c.Filling
	turn := StepDone{Step: 0, Kind: "turn", State: StateCuring}
	switch n := y.random.IntN(100); {
	case n < 3:
		b.next = []Body{Declined{Why: "too salty"}}
	case n < 6:
		b.next = []Body{Lapsed{Why: "not approved"}}
	case n < 9:
		b.next = []Body{bound, started(steps...), Held{Why: "bag leaks"}, turn, Discarded{Why: "slimy"}}
	case n < 20:
		b.next = []Body{bound, started(steps...), Reminded{Step: 0}, turn, Held{Why: "bag leaks"}, Released{Why: "new bag"}, Finished{}}
	default:
		b.next = []Body{bound, started(steps...), turn, Finished{}}
	}
	y.open = append(y.open, b)
	e := of(number, b.hands[0], y.now, Asked{Card: c, Conversation: fmt.Sprintf("slack/T024BE7LD/C0CURE/%d.%06d", y.now/1000, number), Lapse: y.now + day})
	if y.random.IntN(50) == 0 {
		e.Happened -= Milli(y.random.IntN(int(2 * day)))
		e.Late = true
	}
	return e
}

// goOn draws what happens next to the oldest batch, which ends it at last.
func (y *years) goOn() (Event, bool) {
	if len(y.open) <= yearsOpen {
		return Event{}, false
	}
	b := y.open[0]
	hand := b.hands[1]
	if len(b.next)%2 == 1 {
		hand = b.hands[0]
	}
	body := b.next[0]
	if _, ok := body.(Approved); ok {
		hand = b.hands[1]
	}
	if b.next = b.next[1:]; len(b.next) == 0 {
		y.open = slices.Delete(y.open, 0, 1)
	} else {
		i := 1 + y.random.IntN(len(y.open)-1)
		y.open[0], y.open[i] = y.open[i], y.open[0]
	}
	return of(b.number, hand, y.now, body), true
}

// fillYears appends a kitchen of so many batches, about five times as many events. It goes on
// with one that was not filled to its end.
func fillYears(t testing.TB, s *Store, batches uint64) {
	t.Helper()
	there := uint64(0)
	see(t, s, func(tx *Tx) error { there = tx.last(bucketEvents); return nil })
	if there == 0 {
		peopled(t, s)
	}
	y := newYears(t)
	drawn := uint64(yearsPeopled)
	for n := uint64(1); n <= batches; {
		err := s.Update(context.Background(), func(tx *Tx) error {
			add := func(e Event) error {
				if drawn++; drawn <= there {
					return nil
				}
				_, err := tx.Append(e)
				return err
			}
			for end := min(n+500, batches+1); n < end; n++ {
				if err := add(y.ask(n)); err != nil {
					return err
				}
				for e, ok := y.goOn(); ok; e, ok = y.goOn() {
					if err := add(e); err != nil {
						return err
					}
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}
