package bot

import (
	"cmp"
	"errors"

	"salthand/cure"
	"salthand/grammar"
)

// Answer is the machine answer to one phrase. Fields are added, never renamed; one that
// doesn't apply is absent. Concentrations are mg of sodium salt per kg of the basis unless
// As says otherwise; masses are grams, fractions of a whole are 0 to 1, *_pct are per cent.
type Answer struct {
	Kind         string               `json:"kind"`
	Asked        string               `json:"asked"`
	Phrase       string               `json:"phrase,omitempty"`
	Region       string               `json:"region"`
	Cut          string               `json:"cut,omitempty"`
	Class        string               `json:"class,omitempty"`
	Method       string               `json:"method,omitempty"`
	Basis        string               `json:"basis,omitempty"`
	BasisG       *float64             `json:"basis_g,omitempty"`
	SaltBasis    string               `json:"salt_basis,omitempty"`
	SaltBasisG   *float64             `json:"salt_basis_g,omitempty"`
	Add          []MachineAmount      `json:"add,omitempty"`
	PerKilo      []MachineAmount      `json:"per_kg_pickle,omitempty"`
	PickleG      *float64             `json:"pickle_g,omitempty"`
	NitritePPM   *float64             `json:"nitrite_ppm,omitempty"`
	OtherPPM     *float64             `json:"nitrite_ppm_other_basis,omitempty"` // skin on: on the weight without, or with, the skin
	NitratePPM   *float64             `json:"nitrate_ppm,omitempty"`
	SaltPct      *float64             `json:"salt_pct,omitempty"`
	SaltTotalG   *float64             `json:"salt_total_g,omitempty"`
	SaltCureG    *float64             `json:"salt_in_cure_g,omitempty"`
	BandPPM      *float64             `json:"band_ppm,omitempty"` // ± ppm that weighing the cure leaves, k = 2
	Limits       []MachineLimit       `json:"limits,omitempty"`
	Found        *MachineFound        `json:"found,omitempty"`
	Days         *MachineDays         `json:"days,omitempty"`
	Each         []MachinePiece       `json:"each,omitempty"` // where the pieces have thicknesses of their own
	Core         *MachineBand         `json:"core,omitempty"`
	ByWater      *MachineByWater      `json:"by_water,omitempty"`
	LeftDays     *MachineBand         `json:"left_days,omitempty"` // after what was logged
	Activity     *MachineActivity     `json:"water_activity,omitempty"`
	Beside       []MachineRegion      `json:"beside,omitempty"` // the same grams beside other regions' rules
	Drying       *MachineDrying       `json:"drying,omitempty"`
	Fermentation *MachineFermentation `json:"fermentation,omitempty"`
	Heat         []MachineHeat        `json:"heat,omitempty"`
	Assumed      []string             `json:"assumed"`
	Cautions     []MachineCaution     `json:"cautions"`
	Stop         *MachineStop         `json:"stop,omitempty"`
	Ask          *MachineAsk          `json:"ask,omitempty"`
	Steps        []string             `json:"steps,omitempty"`
	Answer       string               `json:"answer,omitempty"`
}

// The parts of an Answer.
type (
	// MachineAmount is one thing to weigh.
	MachineAmount struct {
		Item       string   `json:"item"` // "cure", "salt", "sugar", "ascorbate", "water"
		Name       string   `json:"name,omitempty"`
		NitritePct *float64 `json:"nitrite_pct,omitempty"`
		NitratePct *float64 `json:"nitrate_pct,omitempty"`
		Grams      float64  `json:"grams"`
		WeighG     float64  `json:"weigh_g"`
	}
	// MachineLimit is the dose beside one limit.
	MachineLimit struct {
		Agent      string   `json:"agent"`
		Kind       string   `json:"kind"`
		PPM        float64  `json:"ppm"`
		As         string   `json:"as"`
		Basis      string   `json:"basis"`
		Source     string   `json:"source"`
		SourceSeen string   `json:"source_seen"`
		Enforced   bool     `json:"enforced"`
		Got        *float64 `json:"got,omitempty"`
		Verdict    string   `json:"verdict"`
	}
	// MachineDays are days: asked for, and until the core has 95 % of equilibrium.
	MachineDays struct {
		Asked   *float64 `json:"asked,omitempty"`
		Fast    float64  `json:"fast"`
		Likely  float64  `json:"likely"`
		Slow    float64  `json:"slow"`
		PlanFor float64  `json:"plan_for"`
	}
	// MachinePiece is one of several pieces. Add is absent where they share a pickle.
	MachinePiece struct {
		GreenG      float64         `json:"green_g"`
		ThicknessMM float64         `json:"thickness_mm"`
		Add         []MachineAmount `json:"add,omitempty"`
		Days        MachineDays     `json:"days"`
	}
	// MachineBand are shares of equilibrium at the core.
	MachineBand struct {
		Fast   float64 `json:"fast"`
		Likely float64 `json:"likely"`
		Slow   float64 `json:"slow"`
	}
	// MachineByWater is what the meat of a cover brine has by the rule of the meat's water.
	MachineByWater struct {
		SaltPct    float64 `json:"salt_pct"`
		NitritePPM float64 `json:"nitrite_ppm"`
	}
	// MachineRegion is a dose beside the rules of another region.
	MachineRegion struct {
		Region  string         `json:"region"`
		Class   string         `json:"class"`
		Limits  []MachineLimit `json:"limits"`
		Changed []string       `json:"changed"` // agents with another verdict there
	}
	// MachineFound is what a check found. NitritePPM is absent where there is no likely value.
	MachineFound struct {
		NitritePPM *float64 `json:"nitrite_ppm,omitempty"`
		Low        float64  `json:"low"`
		High       float64  `json:"high"`
		NitratePPM *float64 `json:"nitrate_ppm,omitempty"`
		SaltPct    float64  `json:"salt_pct"`
		RightG     float64  `json:"right_g"`            // of the cure that was meant
		DiluteG    *float64 `json:"dilute_g,omitempty"` // uncured meat that brings it to the target
		TopUpG     *float64 `json:"top_up_g,omitempty"` // of the cure that is missing
	}
	// MachineActivity is water activity between its bounds.
	MachineActivity struct {
		Low    float64 `json:"low"`
		Likely float64 `json:"likely"`
		High   float64 `json:"high"`
	}
	// MachineDrying is how far a hung piece has dried; days are counted from the hanging.
	MachineDrying struct {
		LossPct    float64  `json:"loss_pct"`
		Never      bool     `json:"never"`
		EarlyDays  *float64 `json:"early_days,omitempty"`
		LikelyDays *float64 `json:"likely_days,omitempty"`
		LateDays   *float64 `json:"late_days,omitempty"`
	}
	// MachineFermentation is a fermentation beside its limit.
	MachineFermentation struct {
		DegreeHours float64  `json:"degree_hours"`
		Limit       float64  `json:"limit"`
		Unit        string   `json:"unit"`
		State       string   `json:"state"` // "running", "soured", "hold"
		LeftH       *float64 `json:"left_h,omitempty"`
	}
	// MachineHeat is a rule of heat or cold beside what was logged.
	MachineHeat struct {
		Rule    string   `json:"rule"`
		State   string   `json:"state"`
		Minutes *float64 `json:"minutes,omitempty"`
		Credit  *float64 `json:"credit,omitempty"` // 1 is all of what the rule asks for
		Source  string   `json:"source"`
		Seen    string   `json:"source_seen"`
	}
	// MachineCaution is one caution.
	MachineCaution struct {
		Code  string `json:"code"`
		Level string `json:"level"`
		Text  string `json:"text"`
	}
	// MachineStop is why there is no dose.
	MachineStop struct {
		Rule     string   `json:"rule"`
		Got      float64  `json:"got"`
		Max      float64  `json:"max"`
		Unit     string   `json:"unit"`
		Source   string   `json:"source"`
		AllowedG *float64 `json:"allowed_g,omitempty"`
	}
	// MachineAsk is the question back. Column is in runes from 1.
	MachineAsk struct {
		Column  int      `json:"column,omitempty"`
		Width   int      `json:"width,omitempty"`
		Text    string   `json:"text"`
		Choices []string `json:"choices,omitempty"`
		Example string   `json:"example,omitempty"`
	}
)

// some is a pointer to a number that is present.
func some(x float64) *float64 { return &x }

var itemCodes = map[cure.Item]string{
	cure.CureItem: "cure", cure.SaltItem: "salt", cure.SugarItem: "sugar", cure.AscorbateItem: "ascorbate", cure.WaterItem: "water",
	cure.BoxSaltItem: "box salt",
}

// agentCodes are the curing salts that an amount names.
var agentCodes = map[cure.AgentKind]string{cure.No1: "no. 1", cure.No2: "no. 2", cure.NitritedSalt: "nitrited salt"}

// machineDose is a dose as a machine answer.
func machineDose(l tongue, d cure.Dose, phrase string) Answer {
	r := d.Request
	a := Answer{
		Kind: "dose", Asked: "dose", Phrase: phrase, Region: string(r.Region.Value), Cut: r.Cut, Class: d.Class, Method: r.Method.Value.String(),
		Basis: d.Basis.String(), BasisG: some(float64(d.BasisMass)), SaltBasis: d.SaltBasis.String(), SaltBasisG: some(float64(d.SaltMass)),
		Add: machineAmounts(d.Add, r), PerKilo: machineAmounts(d.PerKilo, r),
		NitritePPM: some(float64(d.Nitrite)), NitratePPM: some(float64(d.Nitrate)),
		SaltPct: some(100 * float64(d.Salt)), SaltTotalG: some(float64(d.SaltTotal)), SaltCureG: some(float64(d.SaltInCure)), BandPPM: some(float64(d.Band)),
		Assumed: append([]string{}, assumed(l, d)...), Cautions: machineCautions(warnings(l, d)),
	}
	if b, ok := balanceOf(d); ok {
		a.ByWater = &MachineByWater{SaltPct: 100 * float64(b.salt.ByWater), NitritePPM: 1e6 * float64(b.nitrite.ByWater)}
	}
	if d.Pickle > 0 {
		a.PickleG = some(float64(d.Pickle))
	}
	if d.AsWeighed > 0 {
		a.OtherPPM = some(float64(d.AsWeighed))
	}
	for _, c := range d.Limits {
		a.Limits = append(a.Limits, machineLimit(c))
	}
	for _, s := range cure.Steps(d) {
		a.Steps = append(a.Steps, l.say("%s after %s", stepName(l, s.Kind), span(l, s.After)))
	}
	if !d.Time.Criterion {
		return a
	}
	days := machineDays(d.Time)
	a.Days = &days
	a.Each = machinePieces(d)
	if r.Days.Set() {
		a.Days.Asked = some(daysOf(r.Days.Value))
		a.Core = &MachineBand{Fast: float64(d.Time.Core.Fast), Likely: float64(d.Time.Core.Likely), Slow: float64(d.Time.Core.Slow)}
	}
	return a
}

func machinePieces(d cure.Dose) (out []MachinePiece) {
	for _, p := range d.Each {
		out = append(out, MachinePiece{GreenG: float64(p.Green), ThicknessMM: float64(p.Thickness),
			Add: machineAmounts(p.Add, d.Request), Days: machineDays(p.Time)})
	}
	return out
}

func machineDays(t cure.Timing) MachineDays {
	return MachineDays{Fast: daysOf(t.To.Fast), Likely: daysOf(t.To.Likely), Slow: daysOf(t.To.Slow), PlanFor: daysOf(t.PlanFor)}
}

func machineLimit(c cure.Check) MachineLimit {
	l := MachineLimit{Agent: c.Limit.Agent, Kind: c.Limit.Kind, PPM: float64(c.Limit.Value), As: c.Limit.As, Basis: c.Limit.Basis,
		Source: c.Limit.Source, SourceSeen: c.Limit.Seen, Enforced: c.Limit.Enforced, Verdict: machineVerdict(c)}
	if c.Verdict != cure.NotCheckable {
		l.Got = some(float64(c.Got))
	}
	return l
}

// machineVerdict is the verdict; passing a limit that is not confirmed is "not verified".
func machineVerdict(c cure.Check) string {
	if c.Verdict == cure.Over && !c.Limit.Enforced {
		return "not verified"
	}
	return c.Verdict.String()
}

func machineAmounts(amounts []cure.Amount, r cure.Request) (out []MachineAmount) {
	for _, a := range amounts {
		m := MachineAmount{Item: itemCodes[a.Item], Grams: float64(a.Exact), WeighG: float64(a.Weigh)}
		if a.Item == cure.CureItem {
			m.Name = agentCodes[r.Agent.Value.Kind]
			m.NitritePct, m.NitratePct = some(100*float64(r.Agent.Value.Nitrite)), some(100*float64(r.Agent.Value.Nitrate))
		}
		out = append(out, m)
	}
	return out
}

func machineCautions(ws []Warning) []MachineCaution {
	out := []MachineCaution{}
	for _, w := range ws {
		out = append(out, MachineCaution{w.Code, w.Level, w.Text})
	}
	return out
}

// Ask answers one phrase without a chat and without records, in one of Tongues; "" is English.
func Ask(phrase, language string, s Settings) (Answer, Card) {
	p, err := grammar.Parse(phrase, grammar.Setting{})
	l := tongueNamed(cmp.Or(language, p.Language), english)
	base := Answer{Asked: "dose", Region: string(s.Region.Value), Assumed: []string{}, Cautions: []MachineCaution{}}
	var q *grammar.Question
	var e *grammar.Error
	switch {
	case errors.As(err, &q):
		return unclear(base, questionCard(l, phrase, q), "")
	case errors.As(err, &e):
		return unclear(base, errorCard(l, phrase, e), e.Example)
	}
	if f, ok := figures(l, p.Command, s); ok {
		return f.answer, f.card
	}
	switch c := p.Command.(type) {
	case grammar.Emergency:
		base.Kind, base.Asked = "emergency", "emergency"
		return spoken(base, emergencyCard(l, string(s.Region.Value)))
	case grammar.Help:
		base.Kind, base.Asked = "help", "help"
		return spoken(base, helpCard(l, c.Topic))
	case grammar.Chatter:
		return unclear(base, helpLine(l), exampleDose)
	}
	return unclear(base, Card{Kind: NoteCard, Title: l.say("That needs a kitchen's records, and ask has none."), Next: l.say("Type it in  salthand chat , or ask for a dose:  %s", exampleDose)}, exampleDose)
}

// unclear is the answer to what is asked back or not understood.
func unclear(base Answer, c Card, example string) (Answer, Card) {
	f := figured{answer: base, card: c}.unclear(example)
	return f.answer, f.card
}

// spoken is an answer that is a card and no figures.
func spoken(base Answer, c Card) (Answer, Card) {
	base.Answer = c.Title
	for _, w := range c.Warnings {
		base.Cautions = append(base.Cautions, MachineCaution{w.Code, w.Level, w.Text})
	}
	return base, c
}
