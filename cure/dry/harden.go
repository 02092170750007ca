package dry

import "time"

// Drop is a rate that fell sharply: the sign of case hardening, a dry rim that shuts the wet
// core in. The weight may still come to its target while the core stays wet.
type Drop struct{ Before, After Rate }

// The marks of a drop. That the rate falls by half within days, far from the target, is
// trade practice, from memory; the days and the shares are how that is taken here.
const (
	sharp  = 0.5     // share of the earlier rate that is left
	few    = 7 * day // between the middles of the two spans
	far    = 0.25    // share of the target loss that is still to go
	settle = 3 * day // by the law of √t the rate halves within a week until day 2.3 of itself
)

// Hardened is the sharpest drop of the rate, if there is one: the later of two spans, a week
// apart at most, lost less than half of the earlier a day, with more than a quarter of the
// target loss still to go. The first three days don't count, nor what one division on each
// weighing may explain. It is a sign, no proof: a damper room does the same. Errors as of
// Finish, but two weighings are enough for "no".
func (s Series) Hardened(a Aim) (drop Drop, sign bool, err error) {
	rates, err := s.Rates()
	if err != nil {
		return Drop{}, false, err
	}
	hung := s[0].Weight
	if err := a.check(hung); err != nil || a.Target >= hung {
		return Drop{}, false, ErrRange
	}
	may := func(r Rate) float64 { return float64(2*a.Division/hung) / days(r.To-r.From) } // both weighings off
	sharpest := 1.0
	for i, before := range rates {
		least := float64(before.Daily) - may(before)
		if before.From < settle || least <= 0 {
			continue
		}
		for j := i + 1; j < len(rates); j++ {
			later := rates[j]
			togo := (s[j+1].Weight - a.Target) / (hung - a.Target)
			if later.middle()-before.middle() > few || togo <= far {
				break
			}
			if left := (float64(later.Daily) + may(later)) / least; left < sharp && left < sharpest {
				drop, sign, sharpest = Drop{before, later}, true, left
			}
		}
	}
	return drop, sign, nil
}

func (r Rate) middle() time.Duration { return (r.From + r.To) / 2 }
