package grammar

import (
	"strings"
	"time"
)

// The commands that set a kitchen up.
type (
	// KitchenHere gives the channel that it is typed in to a kitchen of its own, by its name:
	// "kitchen pastry here".
	KitchenHere struct{ Name string }
	// CureChannel: "cure channel here", "cure channel off": of the channel that it is typed in.
	CureChannel struct{ On bool }
	// HomeChannel: "home channel here": where approvals and digests are posted.
	HomeChannel struct{}
	// Units are what weights of meat are shown in beside the metric ones: "units us", "units metric".
	Units struct{ US bool }
	// Default is what a phrase that says nothing else means: "default cure no 1 6.25%",
	// "default 2.5% salt". Clauses has a cure or a salt.
	Default struct{ Clauses Dose }
	// NoDefault: "default cure off", "default salt off".
	NoDefault struct{ Of string } // "cure" or "salt"
	// ApprovalTime is when the chefs are reminded of what waits for approval, or when it is
	// passed on to another: "approval reminder 30 min", "approval passed on 60 min", or off.
	ApprovalTime struct {
		PassedOn bool
		After    time.Duration // 0: off
	}
)

func (KitchenHere) command()  {}
func (CureChannel) command()  {}
func (HomeChannel) command()  {}
func (Units) command()        {}
func (Default) command()      {}
func (NoDefault) command()    {}
func (ApprovalTime) command() {}

func (c KitchenHere) canonical() string { return "kitchen " + c.Name + " here" }
func (HomeChannel) canonical() string   { return "home channel here" }
func (c Default) canonical() string     { return "default " + canonicalDose(c.Clauses) }
func (c NoDefault) canonical() string   { return "default " + c.Of + " off" }

func (c CureChannel) canonical() string {
	if c.On {
		return "cure channel here"
	}
	return "cure channel off"
}

func (c Units) canonical() string {
	if c.US {
		return "units us"
	}
	return "units metric"
}

func (c ApprovalTime) canonical() string {
	out := "approval reminder "
	if c.PassedOn {
		out = "approval passed on "
	}
	if c.After == 0 {
		return out + "off"
	}
	return out + canonicalSpan(c.After)
}

// hereWords mean the channel that a line is typed in; offWords switch something off.
var (
	hereWords = map[string]bool{"here": true, "aqui": true, "ici": true}
	offWords  = map[string]bool{"off": true, "apagado": true, "no": true, "non": true, "arret": true}
)

// ofSetup reads the verbs that set a kitchen up. The verb stands at t.
func (r *reading) ofSetup(t token, rest string) (Command, error) {
	word := fold(strings.Trim(rest, " .!"))
	switch t.value {
	case "kitchen":
		at := strings.LastIndexAny(rest, " \t")
		if at < 0 || !hereWords[fold(strings.Trim(rest[at:], " .!"))] {
			return nil, nil
		}
		if name := nameOf(rest[:at]); name != "" {
			return KitchenHere{name}, nil
		}
	case "cure channel":
		switch {
		case hereWords[word]:
			return CureChannel{true}, nil
		case offWords[word]:
			return CureChannel{false}, nil
		}
	case "home channel":
		if hereWords[word] {
			return HomeChannel{}, nil
		}
	case "units":
		switch word {
		case "us", "lb", "imperial":
			return Units{true}, nil
		case "metric", "kg", "metricas", "metriques":
			return Units{false}, nil
		}
	case "approval reminder", "approval passed on":
		return r.approvalTime(t, word)
	case "default":
		return r.byDefault(t)
	}
	return nil, nil
}

// approvalTime reads the time after which an approval is reminded of.
func (r *reading) approvalTime(t token, word string) (Command, error) {
	out := ApprovalTime{PassedOn: t.value == "approval passed on"}
	if offWords[word] {
		return out, nil
	}
	at := stretch{t.start, t.end}
	from := 0
	for from < len(r.toks) && r.toks[from].start < t.end {
		from++
	}
	if left := r.toks[from:]; len(left) == 2 && left[0].kind == numberKind && left[1].kind == spanKind {
		d, err := r.span(left[0].value, left[1].value, stretch{left[0].start, left[1].end})
		if err != nil {
			return nil, err
		}
		if d >= time.Minute && d <= 24*time.Hour {
			out.After = d
			return out, nil
		}
	}
	e := r.fail("not a time", at)
	e.Example = endings[t.value]
	return nil, e
}

// byDefault reads the cure or the salt that a kitchen takes where none is said.
func (r *reading) byDefault(t token) (Command, error) {
	rest := r.text[t.end:]
	lead, behind, _ := strings.Cut(strings.TrimSpace(rest), " ")
	what := map[string]string{"cure": "cure", "cura": "cure", "salt": "salt", "sal": "salt", "sel": "salt"}[fold(lead)]
	if what != "" && offWords[fold(strings.TrimSpace(behind))] {
		return NoDefault{what}, nil
	}
	ways := []string{rest}
	switch what {
	case "cure":
		ways = append(ways, behind)
	case "salt":
		ways = append(ways, behind+" salt") // "salt 2.5%"
	}
	for _, way := range ways {
		again := reading{text: way, thread: true, dates: r.dates, stripped: true}
		p, err := again.line()
		r.work += again.work
		a, ok := p.Command.(Amend)
		d := a.Clauses
		cured := canonicalDose(Dose{Kind: d.Kind, Nitrite: d.Nitrite, Nitrate: d.Nitrate})
		salted := canonicalDose(Dose{Salt: d.Salt})
		if said := canonicalDose(d); err == nil && ok && said != "" && (said == cured || said == salted) {
			return Default{d}, nil
		}
	}
	if what == "" {
		return nil, nil // talk that begins so
	}
	e := r.fail("unknown word", stretch{t.start, t.end})
	e.Example = endings[t.value]
	return nil, e
}
