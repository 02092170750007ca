package diffuse

import "time"

// Spell is a stretch of elapsed time at one temperature.
type Spell struct {
	For time.Duration
	At  Celsius
}

// frozen is below what meat is frozen and nothing moves.
const frozen Celsius = -1

// Over is how far diffusion over the length l has come after spells, one after the other.
// Where only the diffusivity changes, Tau is the sum over the spells, exactly. Below −1 °C
// it stands still. The error is ErrRange above 20 °C and for a negative time.
// Source: Crank 1975, §7.1 (from memory); checked against finite volumes.
func (s Speed) Over(spells []Spell, l Metre) (sum Tau, err error) {
	for _, one := range spells {
		if one.For < 0 {
			return 0, ErrRange
		}
		if one.At < frozen {
			continue
		}
		d, err := s.At(one.At)
		if err != nil {
			return 0, err
		}
		sum += d.Tau(one.For, l)
	}
	return sum, nil
}
