package fakechat

import (
	"encoding/json"
	"fmt"
	"slices"
	"time"
)

// envelope is one thing to be told, over all tries.
type envelope struct {
	kind     string // events_api, interactive, slash_commands
	what     string
	event    string // event_id
	payload  json.RawMessage
	raised   time.Time
	acked    bool
	givenUp  bool
	last     *delivery
	answered chan json.RawMessage // gets what came with the first acknowledgement
}

// delivery is one try.
type delivery struct {
	SlackDelivery
	of      *envelope
	socket  *socket
	callOff func()
}

// The kinds of envelopes.
const (
	kindEvents      = "events_api"
	kindInteractive = "interactive"
	kindSlash       = "slash_commands"
)

// raise tells the app something, with whatever goes wrong on the way.
func (s *Slack) raise(e *envelope) {
	e.raised, e.answered = s.set.Now(), make(chan json.RawMessage, 1)
	f := s.set.Faults
	if s.closed || len(s.live()) == 0 && s.chance("lost in gap", f.LostInGap) {
		e.givenUp = true
		return
	}
	s.pending++
	if s.chance("undecodable", f.Undecodable) {
		s.raiseBroken(`{"type":"event_callback","event":{"type":"message","ts":17,"channel":{"is":"no string"}}}`, "undecodable")
	}
	if s.chance("unknown event", f.UnknownEvent) {
		s.raiseBroken(`{"type":"event_callback","event":{"type":"kettle_boiled","event_ts":"1.000001"},"event_id":"Ev0"}`, "kettle_boiled")
	}
	d := s.try(e, s.number("E"), 0, "")
	if s.chance("shuffled", f.Shuffled) {
		s.held = append(s.held, d)
		s.after(20*time.Millisecond, s.release) // when no next one comes
		return
	}
	s.dispatch(d)
	if s.chance("twice", f.Twice) {
		s.dispatch(s.try(e, s.number("E"), 0, ""))
	}
	if s.chance("twice same", f.TwiceSame) {
		s.dispatch(s.try(e, d.Envelope, 0, ""))
	}
	s.release()
	if s.chance("cut", f.Cut) {
		s.afterThis(d, frame{then: "cut"})
	} else if s.chance("disconnected", f.Disconnected) {
		s.afterThis(d, frame{data: disconnectFrame("refresh_requested"), then: "close"})
	}
}

// afterThis queues a frame on the socket that a delivery went to.
func (s *Slack) afterThis(d *delivery, f frame) {
	if d.socket != nil {
		d.socket.push(f)
	}
}

// release sends what was held back.
func (s *Slack) release() {
	held := s.held
	s.held = nil
	for _, d := range held {
		s.dispatch(d)
	}
}

// raiseBroken sends an envelope that the client can't make sense of, and has to acknowledge.
func (s *Slack) raiseBroken(payload, what string) {
	s.pending++
	e := &envelope{kind: kindEvents, what: what, payload: json.RawMessage(payload), raised: s.set.Now(), answered: make(chan json.RawMessage, 1)}
	s.dispatch(s.try(e, s.number("E"), 0, ""))
}

// Strange sends an event whose payload is the given JSON, of whatever shape.
func (s *Slack) Strange(payload string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.raiseBroken(payload, "strange")
}

// Repeat sends a delivery once more, as the platform may an hour later: the same event, by an
// envelope id of its own.
func (s *Slack) Repeat(old SlackDelivery) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.pending++
	e := &envelope{kind: old.Kind, what: old.What, event: old.Event, payload: old.Payload, raised: s.set.Now(), answered: make(chan json.RawMessage, 1)}
	s.dispatch(s.try(e, s.number("E"), old.Attempt, old.Reason))
}

func (s *Slack) try(e *envelope, id string, attempt int, reason string) *delivery {
	d := &delivery{of: e, SlackDelivery: SlackDelivery{
		Envelope: id, Event: e.event, Kind: e.kind, What: e.what, Attempt: attempt, Reason: reason, Payload: e.payload,
	}}
	e.last = d
	s.byID[id] = append(s.byID[id], d)
	return d
}

// dispatch hands a delivery to one of the open sockets, or lets it wait for one.
func (s *Slack) dispatch(d *delivery) {
	if d.of.kind != kindEvents && !s.set.RedeliverUI && s.set.Now().Sub(d.of.raised) > s.set.AckWithin {
		s.giveUp(d.of) // nobody waits for it any more
		return
	}
	live := s.live()
	if len(live) == 0 {
		s.backlog = append(s.backlog, d)
		return
	}
	k := live[s.die("socket").IntN(len(live))]
	d.socket, d.Socket = k, k.n
	v := map[string]any{
		"envelope_id": d.Envelope, "type": d.Kind, "payload": d.of.payload, "accepts_response_payload": d.Kind != kindEvents,
	}
	if d.Kind == kindEvents {
		v["retry_attempt"], v["retry_reason"] = d.Attempt, d.Reason
	}
	k.open[d] = true
	k.push(frame{data: mustJSON(v), d: d})
}

// sent notes that a delivery goes out now, and waits for its acknowledgement.
func (s *Slack) sent(d *delivery) {
	d.Sent = s.set.Now()
	s.deliveries = append(s.deliveries, d)
	d.callOff = s.after(s.set.AckWithin, func() { s.overdue(d) })
	s.touch()
}

// ack takes an acknowledgement in.
func (s *Slack) ack(k *socket, id string, payload json.RawMessage) {
	tries := s.byID[id]
	at := slices.IndexFunc(tries, func(d *delivery) bool { return d.Acked.IsZero() && !d.Sent.IsZero() })
	if at < 0 {
		if len(tries) == 0 {
			s.problem("socket", "unknown_envelope", id)
		}
		return // acknowledged before, on another socket
	}
	d := tries[at]
	d.Acked, d.Answer = s.set.Now(), payload
	d.callOff()
	delete(d.socket.open, d)
	if len(payload) > 0 && string(payload) != "null" && d.Kind == kindEvents {
		s.problem("socket", "ack_payload", "an event takes no answer: "+string(payload))
	}
	if e := d.of; !e.acked && !e.givenUp {
		e.acked = true
		s.pending--
		e.answered <- payload
	}
	s.touch()
}

// overdue is what happens to a delivery that was not acknowledged in time.
func (s *Slack) overdue(d *delivery) {
	if !d.socket.dead && !d.socket.silent {
		s.problem("socket", "late_ack", fmt.Sprintf("%s %s: no acknowledgement within %v", d.What, d.Envelope, s.set.AckWithin))
	}
	delete(d.socket.open, d)
	s.again(d)
}

// again sends the event once more, a little later each time, unless somebody has taken it.
func (s *Slack) again(d *delivery) {
	e := d.of
	if e.acked || e.givenUp || e.last != d {
		return
	}
	if e.kind != kindEvents && !s.set.RedeliverUI || d.Attempt >= len(s.set.Redeliver) {
		s.giveUp(e)
		return
	}
	s.after(s.set.Redeliver[d.Attempt], func() {
		if !e.acked {
			s.dispatch(s.try(e, s.number("E"), d.Attempt+1, "timeout"))
		}
	})
}

func (s *Slack) giveUp(e *envelope) {
	if !e.acked && !e.givenUp {
		e.givenUp = true
		s.pending--
		s.touch()
	}
}

// abandon takes back what a dead socket still owed. It goes to another one, by the same
// envelope id.
func (s *Slack) abandon(k *socket) {
	var owed []*delivery
	for d := range k.open {
		owed = append(owed, d)
	}
	slices.SortFunc(owed, func(a, b *delivery) int { return a.of.raised.Compare(b.of.raised) })
	clear(k.open)
	for _, d := range owed {
		if d.callOff != nil {
			d.callOff()
		}
		if d.of.acked || d.of.givenUp || d.of.last != d {
			continue
		}
		s.dispatch(s.try(d.of, d.Envelope, d.Attempt, d.Reason))
	}
}
