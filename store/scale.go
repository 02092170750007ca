package store

// Scale is what a scale showed of a check weight, when it was last checked.
type Scale struct {
	WeightMg int64  `json:"weight_mg"` // of the check weight, as stamped on it
	ShownMg  int64  `json:"shown_mg"`
	By       string `json:"by"`
	At       Milli  `json:"at"`
}

// ScaleChecked is a check weight put on a scale.
type ScaleChecked struct {
	Scale    string `json:"scale"` // "cure", "meat"
	WeightMg int64  `json:"weight_mg"`
	ShownMg  int64  `json:"shown_mg"`
}

func (s ScaleChecked) fold(_ records, k *Kitchen, e Event) error {
	switch {
	case e.Person == "":
		return misfit(e, "", MisfitPerson)
	case s.Scale == "" || s.WeightMg <= 0 || s.ShownMg < 0:
		return misfit(e, "", MisfitScale)
	}
	if last, ok := k.Scales[s.Scale]; ok && last.At > e.Happened {
		return nil // noted late: a newer check stands
	}
	if k.Scales == nil {
		k.Scales = map[string]Scale{}
	}
	k.Scales[s.Scale] = Scale{WeightMg: s.WeightMg, ShownMg: s.ShownMg, By: e.Person, At: e.Happened}
	return nil
}

func (s ScaleChecked) pointsTo() []string { return []string{"scale " + s.Scale} }
