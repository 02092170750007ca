package grammar

import (
	"strings"
	"time"

	"salthand/cure"
)

// Told is a line in free words that names a situation of the trade: what it is, and what was
// said of it. It is no phrase, and nothing in it is an order.
type Told struct {
	Of   Situation
	Said Facts
}

func (Told) command() {}

// Situation is what a line in free words tells or asks about: one of the names in situations.
type Situation string

// Facts are the quantities and names of a line in free words, each as it was typed, in the
// order in which they were typed. Nothing is worked out.
type Facts struct {
	OneBatch bool                  // it is said in the thread of a batch, or names one
	Meat     Dose                  // the cut, the pieces, the method, the days, the size, the skin, a region; no cure
	Product  string                // "bacon", "jerky": what it is to become; "" not said
	Amounts  []Amount              // curing salts; one without a quantity was only named
	Meant    []Amount              // what it should have been: "not tsp", "instead of #2"
	Logged   cure.Given[cure.Gram] // the weight that the record has: "log says 2.4 kg"
	For      cure.Given[cure.Gram] // the meat that a cure was weighed for: "cure for 40 lb"
	Card     cure.Given[cure.Gram] // what the card says of a cure, one of Loose: "card said 7.5 g"
	Again    cure.Given[cure.Gram] // of a cure that was named before: "another 8 g"
	Off      cure.Given[cure.Gram] // what was cut away: "trimmed 600 g off"
	Salt     cure.Given[cure.Gram]
	Sugar    cure.Given[cure.Gram]
	Liquid   cure.Given[cure.Gram] // water, brine, marinade: 1,000 g a litre; a gallon that wasn't said to be either is the US one
	// Imperial is the liquid if the gallon was the imperial one; unset where that was said.
	Imperial     cure.Given[cure.Gram]
	SaltShare    cure.Given[cure.Fraction] // "2.5% salt"
	SugarShare   cure.Given[cure.Fraction]
	Shares       []cure.Fraction // per cents of nothing that was named
	Pumps        []cure.Fraction
	Rates        []PerVolume      // "3 oz per gal"
	Parts        []Part           // "450/425/75"
	Loose        []cure.Gram      // weights of nothing that was named
	Times        cure.Given[Part] // "double": 2; "1/3 too much": 4/3
	Targets      []cure.PPM
	Temperatures []cure.Celsius
	Spans        []time.Duration           // "3 days", "36 h"
	Age          cure.Given[time.Duration] // "day 4"
	Depths       []cure.Millimetre
	PH           cure.Given[PH]
	Numbers      []Part      // numbers without a unit
	Doubts       []*Question // amounts with two readings: "1.250 g"
	Cues         []string    // names of the cues that the line has, sorted
}

// Part is a bare number: of parts in a mix, of times.
type Part float64

// PerVolume is an amount for each measure of water or pickle: "3 oz cure per gal".
type PerVolume struct {
	Of   Amount    // with Grams or Spoons
	In   cure.Gram // of water: 3,785.411784 for a US gallon
	Also cure.Gram // the imperial one, where it was not said which; else 0
}

// Has reports whether the line has a cue.
func (f Facts) Has(cue string) bool {
	for _, c := range f.Cues {
		if c == cue {
			return true
		}
	}
	return false
}

// wrongKind reports whether one curing salt is where another was meant.
func (f Facts) wrongKind() bool {
	if len(f.Meant) == 0 || len(f.Amounts) == 0 {
		return false
	}
	is, was := f.Amounts[0].Kind, f.Meant[0].Kind
	dosed := func(k cure.AgentKind) bool { return k == cure.No1 || k == cure.No2 || k == cure.NitritedSalt }
	return is != was && dosed(is) && dosed(was)
}

// Weight is the meat in all.
func (f Facts) Weight() (all cure.Gram) {
	for _, p := range f.Meat.Pieces {
		all += p
	}
	return all
}

// situation is a row of the table of situations: its name and the cues that it needs, in
// words: "a b|c !d" wants a, and b or c, and not d.
type situation struct {
	name  Situation
	needs string
}

// rule is the needs of a situation, taken apart: one of each list must be there, none of not.
type rule struct {
	name Situation
	want [][]string
	not  []string
}

var rules = readRules(situations)

func readRules(table []situation) []rule {
	out := make([]rule, 0, len(table))
	for _, s := range table {
		r := rule{name: s.name}
		for _, need := range strings.Fields(s.needs) {
			if cue, ok := strings.CutPrefix(need, "!"); ok {
				r.not = append(r.not, cue)
				continue
			}
			r.want = append(r.want, strings.Split(need, "|"))
		}
		out = append(out, r)
	}
	return out
}

// told reads the line as free words. The first situation of the table whose cues are all
// there is the one; else it may tell of something gone wrong; false: it does neither.
func (r *reading) told(batch uint64) (Told, bool) {
	cues := r.cues()
	if strange, _ := r.strange(); strange < 1 { // a phrase with a slip in it
		return r.somethingWrong(batch)
	}
	f := r.facts()
	f.Cues = append(f.Cues, cues...)
	has := make(map[string]bool, len(f.Cues)+8)
	for _, c := range f.Cues {
		has[c] = true
	}
	f.OneBatch = r.thread || batch != 0
	f.mark(has)
	for _, rule := range rules {
		if rule.fits(has) {
			f.Cues = sortedKeys(has)
			return Told{Of: rule.name, Said: f}, true
		}
	}
	return r.somethingWrong(batch)
}

// dosed reads a line that nothing else fits as an amount of cure that went on an amount of
// meat: such figures are examined, whatever the line says besides.
func (r *reading) dosed() (Told, bool) {
	if !r.cured && !r.has(agentKind, vagueKind) {
		return Told{}, false
	}
	f := r.facts()
	if len(f.Meat.Pieces) == 0 {
		return Told{}, false
	}
	for _, a := range f.Amounts {
		if a.Grams.Set() || a.Spoons.Set() {
			return Told{Of: WentIn, Said: f}, true
		}
	}
	return Told{}, false
}

func (r rule) fits(has map[string]bool) bool {
	for _, n := range r.not {
		if has[n] {
			return false
		}
	}
	for _, want := range r.want {
		found := false
		for _, w := range want {
			found = found || has[w]
		}
		if !found {
			return false
		}
	}
	return true
}

// mark adds the cues that lie in the facts and not in words. Their names begin with a colon.
func (f *Facts) mark(has map[string]bool) {
	f.eachMark(func(cue string, is bool) {
		if is {
			has[cue] = true
		}
	})
}

func (f *Facts) eachMark(set func(cue string, is bool)) {
	set(":thread", f.OneBatch)
	set(":meat", len(f.Meat.Pieces) > 0)
	set(":two-weights", len(f.Meat.Pieces) > 1 || len(f.Meat.Pieces) == 1 && len(f.Loose) > 0)
	set(":cut", f.Meat.Cut != "" || f.Product != "")
	set(":loose", len(f.Loose) > 0)
	set(":for", f.For.Set())
	set(":logged", f.Logged.Set())
	set(":off", f.Off.Set())
	set(":card", f.Card.Set() && len(f.Loose) > 1)
	set(":meant", len(f.Meant) > 0)
	set(":salt", f.Salt.Set() || f.SaltShare.Set())
	set(":salt-share", f.SaltShare.Set())
	set(":ounces-as-tenths", f.ouncesAsTenths())
	set(":plain-salt-grams", f.Salt.Set())
	set(":liquid", f.Liquid.Set())
	set(":gallon", f.Imperial.Set())
	set(":share", len(f.Shares) > 0)
	set(":pump", len(f.Pumps) > 0)
	set(":per-volume", len(f.Rates) > 0)
	set(":parts", len(f.Parts) > 2)
	set(":times", f.Times.Set())
	set(":target", len(f.Targets) > 0)
	set(":degrees", len(f.Temperatures) > 0)
	set(":above-cold", f.warmest() > coldLimit)
	set(":falling", f.fallen())
	set(":span", len(f.Spans) > 0 || f.Age.Set() || f.Meat.Days.Set())
	set(":depth", len(f.Depths) > 0)
	set(":ph", f.PH.Set())
	set(":number", len(f.Numbers) > 0)
	set(":doubt", len(f.Doubts) > 0)
	strength, dose := f.figures()
	set(":strength-figure", strength)
	set(":dose-figure", dose)
	_, more := f.share()
	set(":share-too-much", more)
	set("wrong-kind", f.wrongKind())
	for _, a := range f.Amounts {
		set(":cure", true)
		set(":no-1", a.Kind == cure.No1)
		set(":no-2", a.Kind == cure.No2)
		set(":nitrited-salt", a.Kind == cure.NitritedSalt)
		set(":saltpetre", a.Kind == cure.Saltpetre)
		set(":powder", a.Kind == cure.VegetablePowder)
		set(":pure-nitrite", a.Kind == cure.PureNitrite)
		set(":no-cure", a.Kind == cure.NoCure)
		set(":cure-grams", a.Grams.Set())
		set(":cure-share", a.Rate.Set())
		set(":spoon", a.Spoons.Set())
		set(":cure-amount", a.Grams.Set() || a.Rate.Set() || a.Spoons.Set())
		set(":strength", a.Nitrite.Set())
	}
	for _, rate := range f.Rates {
		set(":spoon", rate.Of.Spoons.Set())
		set(":cure", true)
	}
}
