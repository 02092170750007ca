package cure

import "math"

// molarKNO3 is the molar mass of potassium nitrate, g/mol, from IUPAC standard atomic weights.
const molarKNO3 = 101.102

// parts is what a gram of a curing salt brings, in grams. What is left out is neither
// nitrite, nitrate nor salt.
type parts struct {
	nitrite Fraction // NaNO2
	nitrate Fraction // as NaNO3
	salt    Fraction // NaCl
}

func (p parts) none() bool { return p.nitrite == 0 && p.nitrate == 0 }

// parts takes the undiluted salts as pure where their strength isn't said, saltpetre always:
// potassium nitrate, worth 0.84067 of its weight as NaNO3. A vegetable powder brings the
// nitrite and nitrate that are stated, and no salt that could be counted on.
func (a Agent) parts() parts {
	whole := func(f Fraction) Fraction {
		if f == 0 {
			return 1
		}
		return f
	}
	switch a.Kind {
	case NoAgent, NoCure:
		return parts{}
	case PureNitrite:
		return parts{nitrite: whole(a.Nitrite)}
	case PureNitrate:
		return parts{nitrate: whole(a.Nitrate)}
	case Saltpetre:
		return parts{nitrate: molarNaNO3 / molarKNO3}
	case VegetablePowder:
		return parts{a.Nitrite, a.Nitrate, 0}
	}
	if a.Nitrite == 0 && a.Nitrate == 0 {
		return parts{}
	}
	return parts{a.Nitrite, a.Nitrate, 1 - a.Nitrite - a.Nitrate}
}

// nitrateAsWeighed is what a gram brings of nitrate by the weight of the salt itself, as laws
// that take each salt by its own weight count it.
func (a Agent) nitrateAsWeighed() Fraction {
	if a.Kind == Saltpetre {
		return 1
	}
	return a.parts().nitrate
}

// inRegion is the cure with the region's usual strength where none is said.
func (a Agent) inRegion(region Region) Agent {
	if a.Nitrite == 0 && a.Nitrate == 0 {
		if usual, ok := a.Kind.usual(region); ok {
			return usual
		}
	}
	return a
}

// leastStrength is the weakest that anything is called a cure, %. Common practice, no source.
const leastStrength = 0.01

// plausible refuses a strength that a cure of this name can't have.
func (a Agent) plausible(r Request) error {
	nitrite, nitrate := 100*float64(a.Nitrite), 100*float64(a.Nitrate)
	both := nitrite + nitrate
	stop := &Stop{Rule: StopStrength, What: "nitrite", Max: 100, Unit: "%", Request: r}
	switch {
	case a.Kind > VegetablePowder || math.IsNaN(both) || math.IsInf(both, 0):
		return stop
	case both > 0 && both < leastStrength:
		return &Stop{Rule: StopStrength, What: "nitrite", Got: both, Min: leastStrength, Unit: "%", Request: r}
	case nitrite < 0 || nitrate < 0 || both > 100*(1+1e-9):
		stop.Got = both
		return stop
	case (a.Kind == No1 || a.Kind == NitritedSalt) && nitrate > 0:
		return &Stop{Rule: StopStrength, What: "nitrate", Got: nitrate, Unit: "%", Request: r}
	}
	var err error
	switch a.Kind {
	case No1:
		err = mixNitrite.check(nitrite, r)
	case No2:
		if err = mixNitrite.check(nitrite, r); err == nil {
			err = mixNitrate.check(nitrate, r)
		}
	case NitritedSalt:
		err = saltedNitrite.check(nitrite, r)
	}
	if s, ok := err.(*Stop); ok {
		s.Rule = StopStrength
		return s
	}
	return nil
}
