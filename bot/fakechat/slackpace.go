package fakechat

import (
	"math"
	"net/http"
	"time"
)

// bucket counts calls of one kind: it fills at a steady rate up to a burst, and each call
// takes one out.
type bucket struct {
	left float64
	at   time.Time
}

// take takes one call out, and reports whether there was one.
func (b *bucket) take(now time.Time, every time.Duration, burst float64) bool {
	if b.at.IsZero() {
		b.left = burst
	} else {
		b.left = math.Min(burst, b.left+float64(now.Sub(b.at))/float64(every))
	}
	b.at = now
	if b.left < 1 {
		return false
	}
	b.left--
	return true
}

// usualPost is the pace of posting to one channel that the documentation asks for.
// Source: docs.slack.dev/apis/web-api/rate-limits, "special tier".
const usualPost = time.Second

// pace counts a call against its tier, and reports whether it may go on. Where no limit is
// kept, what is over is only counted.
func (s *Slack) pace(name string, m slackMethod, channel string) bool {
	kind, every, burst, kept := name, time.Duration(0), float64(s.set.PostBurst), s.set.Tiers
	if m.tier == 0 {
		kind, every, kept = name+" "+channel, s.set.PostEvery, s.set.PostEvery > 0
		if !kept {
			every = usualPost
		}
	} else {
		every, burst = time.Minute/time.Duration(m.tier), float64(max(m.tier, s.set.PostBurst))
	}
	b, ok := s.buckets[kind]
	if !ok {
		b = &bucket{}
		s.buckets[kind] = b
	}
	if b.take(s.set.Now(), every, burst) {
		return true
	}
	s.tooFast[name]++
	return !kept
}

// tooSoon is the answer to a call that came too fast: wait whole seconds, at least one.
func (s *Slack) tooSoon(m slackMethod) SlackFault {
	f := SlackFault{Status: http.StatusTooManyRequests, Error: "rate_limited"}
	every := s.set.PostEvery
	if m.tier != 0 {
		f.Error, every = "ratelimited", time.Minute/time.Duration(m.tier)
	}
	f.RetryAfter = max(time.Second, time.Duration(math.Ceil(every.Seconds()))*time.Second)
	return f
}

// TooFast tells how many calls of each method came faster than its tier allows, beyond a
// burst, whether or not they were refused.
func (s *Slack) TooFast() map[string]int {
	s.mu.Lock()
	defer s.mu.Unlock()
	counts := map[string]int{}
	for name, n := range s.tooFast {
		counts[name] = n
	}
	return counts
}
