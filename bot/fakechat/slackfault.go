package fakechat

import (
	"net/http"
	"strconv"
	"time"
)

// SlackFault is one broken answer of the Web API.
type SlackFault struct {
	Status     int           // 429, 500, 503: nothing took effect
	RetryAfter time.Duration // with 429; 0 leaves the header out
	Error      string        // {"ok":false,"error":…}: nothing took effect
	Bare       bool          // {"ok":false} and no word more: nothing took effect
	Malformed  bool          // the call took effect, and the answer breaks off in the middle
	Lost       bool          // the call took effect, and the connection dies without an answer
	Slow       time.Duration // the answer comes late, or the connection dies late
}

// before tells whether the fault keeps the call from taking effect.
func (f SlackFault) before() bool { return f.Status != 0 || f.Error != "" || f.Bare }

// refusal is what stands in the answer.
func (f SlackFault) refusal() *refusal {
	if f.Error == "" && f.Status == http.StatusTooManyRequests {
		return &refusal{code: "ratelimited"}
	}
	return &refusal{code: f.Error}
}

// SlackFaults are shares, from 0 to 1, of what goes wrong by chance. Each kind has a row of
// throws of its own under SlackSettings.Seed.
type SlackFaults struct {
	// Of the calls of the Web API.
	Limited     float64       // 429 with Retry-After
	LimitedBare float64       // 429 without it
	Error500    float64       // nothing took effect
	Error503    float64       // nothing took effect
	Lost        float64       // it took effect, and no answer comes
	Malformed   float64       // it took effect, and the answer breaks off
	Bare        float64       // {"ok":false} without an error; nothing took effect
	Slow        float64       // the answer comes late
	SlowBy      time.Duration // of a slow answer; 0: 50 ms
	RetryAfter  time.Duration // of a 429; 0: 1 s

	// Of the envelopes.
	Twice        float64 // delivered once more by an envelope id of its own
	TwiceSame    float64 // delivered once more by the same envelope id
	Shuffled     float64 // overtaken by the next one
	Cut          float64 // the socket is cut after it
	Disconnected float64 // a disconnect frame follows, and the socket is closed
	Undecodable  float64 // an envelope that can't be decoded goes before it
	UnknownEvent float64 // an event of a type that nobody knows goes before it
	UnknownBlock float64 // a person's message carries a block of a type that nobody knows
	LostInGap    float64 // raised while no socket is open, and never delivered
}

// SetFaults changes what goes wrong by chance, from now on.
func (s *Slack) SetFaults(f SlackFaults) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.set.Faults = f
}

// directed is a fault that a test asked for.
type directed struct {
	fault SlackFault
	left  int // below 0: until Mend
}

// Break makes the next calls of a method fail, times of them or, below 0, all until Mend.
// Besides the methods there are "upload", "download", "response_url", and "link" for the
// dialling of a socket: there a Status refuses it, and Lost hangs up before the greeting.
func (s *Slack) Break(method string, times int, f SlackFault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.broken[method] = append(s.broken[method], &directed{fault: f, left: times})
}

// Mend ends what Break began.
func (s *Slack) Mend(method string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.broken, method)
}

// Outage cuts every connection and refuses new ones, until it is switched off.
func (s *Slack) Outage(on bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.outage = on
	if on {
		s.drop(s.live()...)
	}
	s.touch()
}

// asked is the fault that a test asked for, for this call of a method.
func (s *Slack) asked(method string) (SlackFault, bool) {
	row := s.broken[method]
	if len(row) == 0 {
		return SlackFault{}, false
	}
	d := row[0]
	if d.left > 0 {
		d.left--
	}
	if d.left == 0 {
		s.broken[method] = row[1:]
	}
	return d.fault, true
}

// faultFor is what happens to this call of a method.
func (s *Slack) faultFor(method string) SlackFault {
	if f, ok := s.asked(method); ok {
		return f
	}
	f := s.set.Faults
	after := f.RetryAfter
	if after == 0 {
		after = time.Second
	}
	slow := f.SlowBy
	if slow == 0 {
		slow = 50 * time.Millisecond
	}
	// One throw a kind and call, whatever comes of it, keeps the rows in step.
	var got SlackFault
	for _, k := range []struct {
		name  string
		share float64
		fault SlackFault
	}{
		{"slow", f.Slow, SlackFault{Slow: slow}},
		{"malformed", f.Malformed, SlackFault{Malformed: true}},
		{"lost", f.Lost, SlackFault{Lost: true}},
		{"bare", f.Bare, SlackFault{Bare: true}},
		{"503", f.Error503, SlackFault{Status: http.StatusServiceUnavailable}},
		{"500", f.Error500, SlackFault{Status: http.StatusInternalServerError}},
		{"429 bare", f.LimitedBare, SlackFault{Status: http.StatusTooManyRequests}},
		{"429", f.Limited, SlackFault{Status: http.StatusTooManyRequests, RetryAfter: after}},
	} {
		if s.chance(method+" "+k.name, k.share) {
			got = k.fault
		}
	}
	return got
}

// answer writes the answer of a call, or what the fault makes of it.
func (s *Slack) answer(w http.ResponseWriter, r *http.Request, f SlackFault, body []byte) {
	if f.Slow > 0 {
		t := time.NewTimer(f.Slow)
		select {
		case <-t.C:
		case <-r.Context().Done():
		case <-s.ctx.Done():
		}
		t.Stop()
	}
	h := w.Header()
	switch {
	case f.Lost:
		hangUp(w)
		return
	case f.Bare:
		body = []byte(`{"ok":false}`)
	case f.Malformed:
		body = body[:len(body)/2]
	case f.Status != 0:
		if f.RetryAfter > 0 {
			h.Set("Retry-After", strconv.Itoa(int(f.RetryAfter.Round(time.Second)/time.Second)))
		}
		if f.Status != http.StatusTooManyRequests {
			h.Set("Content-Type", "text/html; charset=utf-8")
			body = []byte("<html><title>Server Error</title></html>")
		}
		w.WriteHeader(f.Status)
	}
	// A client that is gone doesn't read its answer: nothing to do about it.
	_, _ = w.Write(body)
}

// hangUp ends the connection of a call without an answer.
func hangUp(w http.ResponseWriter) {
	conn, _, err := http.NewResponseController(w).Hijack()
	if err == nil {
		_ = conn.Close()
	}
}
