package cure

import (
	"slices"
	"time"
)

// Occasion is what a cure is wanted for. What nobody said is left unset; Which fills it.
type Occasion struct {
	Region  Given[Region]
	On      time.Time // the day whose law applies
	Cut     string    // Cut.Name
	Method  Given[Method]
	Heated  Given[bool]
	Hanging time.Duration // from the end of the cure to the knife, elapsed, at most 5 years; 0: not hung
}

// Advice is which cure goes with an occasion, and why.
type Advice struct {
	Occasion Occasion    // filled in
	Class    string      // the row of classes.csv that decided
	Kinds    []AgentKind // that fit, the best first; NoCure where none is proposed
	Reasons  []Reason
	Barred   []Barred // what doesn't go, and why
}

// Reason is why a kind is proposed. Words are the bot's.
type Reason struct {
	Code       string
	Got, Bound float64 // in the unit that the code's comment gives
	Limit      *Limit  // where a figure of the law decides
}

// Barred is a kind that doesn't go. Limit is the figure of 0 that bars it, where one does.
type Barred struct {
	Kind  AgentKind
	Code  string
	Limit *Limit
}

// The codes of reasons.
const (
	WhyTaste      = "for taste"           // confit and fish
	WhySilent     = "no ingoing limit"    // the law has no figure for what may go in; Limit: the one for what may be left, if there is one
	WhyHeated     = "heated"              // nitrate has no time to turn into nitrite before the heat
	WhyShort      = "not hung long"       // nitrite alone lasts; Got: days, Bound: 30
	WhyLong       = "hung long"           // nitrite alone is spent, nitrate makes more of it; Got: days, Bound: 30
	WhyNoNitrate  = "nitrate not allowed" // hung long, and nitrite alone all the same; Limit: the figure of 0
	WhyLimit      = "limit"               // the lowest figure for nitrite; Got: 0, Bound: ppm as NaNO2
	WhyTotal      = "total"               // nitrite and nitrate are limited together; Bound: ppm
	WhyUnverified = "unverified"          // the figure that lets nitrate in is from memory; Bound: ppm
	WhyUndiluted  = "undiluted"           // bars nitrite that is not made down
	WhyNoFigure   = "no figure"           // bars nitrate alone: there is no figure to dose it by
)

// hangingSpan catches a slipped unit. Common practice, no source.
var hangingSpan = span{"hanging", 0, 5 * 365, "d"}

// Which says which cure goes with an occasion: nitrite alone for what is heated or eaten
// within 30 days, nitrite with nitrate for what hangs longer (common practice, no source), as
// far as the law of the region allows. What hangs longer counts as raw and dry cured where
// nothing else was said. The error is a *Missing or a *Stop.
func Which(o Occasion) (Advice, error) {
	cut, c, err := o.fill()
	if err != nil {
		return Advice{}, err
	}
	a := Advice{Occasion: o, Class: c.name, Barred: []Barred{{Kind: PureNitrite, Code: WhyUndiluted}}}
	rules := c.inForce(o.On)
	allowed := a.nitrate(rules)
	switch {
	case o.request().forTaste(cut):
		a.none(WhyTaste, nil)
	case !bounded(rules, "nitrite"):
		a.none(WhySilent, left(rules))
	default:
		a.pick(rules, allowed)
	}
	return a, nil
}

// fill settles what was not said.
func (o *Occasion) fill() (Cut, class, error) {
	r := o.request()
	if !o.Region.Set() || !o.Region.Value.known() {
		return Cut{}, class{}, &Missing{What: "region", Request: r}
	}
	cut, ok := FindCut(o.Cut)
	if !ok {
		return Cut{}, class{}, &Missing{What: "cut", Request: r}
	}
	if err := hangingSpan.check(o.Hanging.Hours()/24, r); err != nil {
		return cut, class{}, err
	}
	long := o.Hanging > longHanging
	if o.Method.Value == NoMethod {
		o.Method = Given[Method]{cut.Method, FromCut}
		if long && cut.Method != Ground {
			o.Method = Given[Method]{DryRub, FromRule}
		}
	}
	if cut.Method == Ground && o.Method.Value != Ground {
		return cut, class{}, &Stop{Rule: StopNotCut, What: o.Method.Value.String(), Request: r}
	}
	switch {
	case o.Method.Value == Confit:
		o.Heated = o.Heated.Or(true, FromRule)
	case long:
		o.Heated = o.Heated.Or(false, FromRule)
	}
	o.Heated = o.Heated.Or(cut.Heated, FromCut)
	c, ok := findClass(o.Region.Value, cut.Group, o.Method.Value, o.Heated.Value)
	if !ok {
		return cut, class{}, &Missing{What: "method", Request: o.request()}
	}
	return cut, c, nil
}

func (o Occasion) request() Request {
	return Request{Region: o.Region, On: o.On, Cut: o.Cut, Method: o.Method, Heated: o.Heated}
}

// nitrate reports whether nitrate may go in, and bars what brings it where it may not.
func (a *Advice) nitrate(rules []rule) bool {
	if !bounded(rules, "nitrate") {
		a.bar(WhyNoFigure, nil, PureNitrate, Saltpetre)
		return false
	}
	low := strictest(rules, "nitrate").limit
	if low.Value == 0 {
		a.bar(WhyNoNitrate, &low, No2, PureNitrate, Saltpetre)
		return false
	}
	return true
}

func (a *Advice) bar(code string, l *Limit, kinds ...AgentKind) {
	for _, k := range kinds {
		a.Barred = append(a.Barred, Barred{k, code, l})
	}
}

func (a *Advice) why(code string, got, bound float64, l *Limit) {
	a.Reasons = append(a.Reasons, Reason{code, got, bound, l})
}

// none proposes no cure.
func (a *Advice) none(code string, l *Limit) {
	a.Kinds = []AgentKind{NoCure}
	a.why(code, 0, 0, l)
}

// left is the figure for what may be left of nitrite in the finished food; nil where there
// is none.
func left(rules []rule) *Limit {
	i := slices.IndexFunc(rules, func(r rule) bool { return r.limit.Kind == "residual max" && r.limit.concerns("nitrite") })
	if i < 0 {
		return nil
	}
	return &rules[i].limit
}

// pick chooses between nitrite alone and nitrite with nitrate.
func (a *Advice) pick(rules []rule, allowed bool) {
	o := a.Occasion
	days, bound := o.Hanging.Hours()/24, longHanging.Hours()/24
	long := o.Hanging > longHanging && !o.Heated.Value
	a.Kinds = alone(o.Region.Value)
	switch {
	case long && allowed:
		a.Kinds = []AgentKind{No2}
		a.why(WhyLong, days, bound, nil)
		a.ofNitrate(strictest(rules, "nitrate").limit)
	case long:
		a.why(WhyLong, days, bound, nil)
		for _, b := range a.Barred {
			if b.Kind == No2 {
				a.why(WhyNoNitrate, days, 0, b.Limit)
			}
		}
	case o.Heated.Value:
		a.why(WhyHeated, 0, 0, nil)
	default:
		a.why(WhyShort, days, bound, nil)
	}
	low := strictest(rules, "nitrite").limit
	a.why(WhyLimit, 0, float64(low.sodium()), &low)
}

// ofNitrate says what there is to say of the figure that lets nitrate in.
func (a *Advice) ofNitrate(l Limit) {
	if l.concerns("nitrite") {
		a.why(WhyTotal, 0, float64(l.Value), &l)
	}
	if !l.Enforced {
		a.why(WhyUnverified, 0, float64(l.sodium()), &l)
	}
}

// alone are the kinds with nitrite alone that a region uses. Nitrited salt is what is sold
// in Europe (secondary).
func alone(region Region) []AgentKind {
	if region == "eu" {
		return []AgentKind{NitritedSalt, No1}
	}
	return []AgentKind{No1}
}
