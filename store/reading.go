package store

import "slices"

type (
	// Measured is a reading of a batch along its way.
	Measured struct {
		What   string `json:"what"`  // "weight", "core", "ph", "aw"
		Value  int64  `json:"value"` // mg without the tare; thousandths of °C, of pH, of water activity
		Unit   string `json:"unit"`  // as it was typed: "kg", "lb", "c", "f"; "" for pH and water activity
		TareMg int64  `json:"tare_mg,omitempty"`
		AtC    *int64 `json:"at_milli_c,omitempty"` // temperature of the sample; nil: not said
	}
	// MeatLot is where the meat of a batch came from.
	MeatLot struct {
		Lot           string `json:"lot"`
		Supplier      string `json:"supplier,omitempty"`
		Establishment string `json:"establishment,omitempty"`
		Received      *int64 `json:"received_milli_c,omitempty"` // temperature on arrival; nil: not said
	}
	// Served is some of a batch that left the kitchen.
	Served struct {
		Portions int64  `json:"portions,omitempty"`
		Mg       int64  `json:"mg,omitempty"`
		To       string `json:"to,omitempty"` // "": not said
	}
)

func (Measured) kind() string { return "measured" }
func (MeatLot) kind() string  { return "meat lot" }
func (Served) kind() string   { return "served" }

// Reading is a Measured as the record keeps it.
type Reading struct {
	Event  uint64 `json:"event"` // its number
	At     Milli  `json:"at"`    // when it was taken
	By     string `json:"by"`
	What   string `json:"what"`
	Value  int64  `json:"value"`
	TareMg int64  `json:"tare_mg,omitempty"`
	AtC    *int64 `json:"at_milli_c,omitempty"`
}

// Serving is a Served as the record keeps it.
type Serving struct {
	At Milli  `json:"at"`
	By string `json:"by"`
	Served
}

// What can be measured.
const (
	WeightReading = "weight"
	CoreReading   = "core"
	PHReading     = "ph"
	AwReading     = "aw"
)

// ReadingsOf gives the readings of one kind, by when they were taken.
func (b *Batch) ReadingsOf(what string) (all []Reading) {
	for _, r := range b.Readings {
		if r.What == what {
			all = append(all, r)
		}
	}
	return all
}

// MeatLotSubject is what the trail calls a lot of meat.
func MeatLotSubject(lot string) string { return "meat lot " + folded(lot) }

func (m MeatLot) words() []string { return WordsIn(m.Lot + " " + m.Supplier + " " + m.Establishment) }
func (s Served) words() []string  { return WordsIn(s.To) }

func (m MeatLot) pointsTo() []string { return []string{MeatLotSubject(m.Lot)} }

func (Measured) undoable() bool { return true }
func (MeatLot) undoable() bool  { return true }
func (Served) undoable() bool   { return true }

func (m Measured) apply(b *Batch, e Event) error {
	switch m.What {
	case WeightReading, CoreReading, PHReading, AwReading:
	default:
		return misfit(e, b.State, MisfitReading)
	}
	at := len(b.Readings)
	for at > 0 && b.Readings[at-1].At > e.Happened {
		at--
	}
	b.Readings = slices.Insert(slices.Clone(b.Readings), at, Reading{
		Event: e.Seq, At: e.Happened, By: e.Person, What: m.What, Value: m.Value, TareMg: m.TareMg, AtC: m.AtC,
	})
	return nil
}

func (m MeatLot) apply(b *Batch, e Event) error {
	if m.Lot == "" {
		return misfit(e, b.State, MisfitReading)
	}
	b.Meat = append(slices.Clip(b.Meat), m)
	return nil
}

func (s Served) apply(b *Batch, e Event) error {
	switch {
	case !b.State.runs():
		return misfit(e, b.State, MisfitState)
	case b.Held():
		return misfit(e, b.State, MisfitHold)
	case s.Portions <= 0 && s.Mg <= 0:
		return misfit(e, b.State, MisfitReading)
	}
	b.Served = append(slices.Clip(b.Served), Serving{At: e.Happened, By: e.Person, Served: s})
	return nil
}
