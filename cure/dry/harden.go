package dry

import (
	"time"

	"salthand/cure"
)

// Drop is a rate that fell sharply: the sign of case hardening, a dry rim that shuts the wet
// core in. The weight may still come to its target while the core stays wet.
type Drop struct{ Before, After Rate }

// The marks of a drop. Source: trade practice, from memory ("falls more than 50 % in a few
// days while far from the target"); days and share are how that is taken here.
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
func (s Series) Hardened(target, division cure.Gram) (drop Drop, sign bool, err error) {
	rates, err := s.Rates()
	if err != nil {
		return Drop{}, false, err
	}
	if !(target > 0 && target < s[0].Weight) || !(division > 0 && division <= s[0].Weight/10) {
		return Drop{}, false, ErrRange
	}
	sharpest := 1.0
	for i, a := range rates {
		if a.From < settle {
			continue
		}
		for j := i + 1; j < len(rates); j++ {
			b := rates[j]
			togo := (s[j+1].Weight - target) / (s[0].Weight - target)
			if b.middle()-a.middle() > few || togo <= far {
				break
			}
			if left := b.most(s[0].Weight, division) / a.least(s[0].Weight, division); a.least(s[0].Weight, division) > 0 && left < sharp && left < sharpest {
				drop, sign, sharpest = Drop{a, b}, true, left
			}
		}
	}
	return drop, sign, nil
}

func (r Rate) middle() time.Duration { return (r.From + r.To) / 2 }

// most and least are the rate with both weighings off by a division.
func (r Rate) most(hung, division cure.Gram) float64 {
	return float64(r.Daily) + float64(2*division/hung)/days(r.To-r.From)
}

func (r Rate) least(hung, division cure.Gram) float64 {
	return float64(r.Daily) - float64(2*division/hung)/days(r.To-r.From)
}
