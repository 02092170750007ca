package fakechat

import (
	"encoding/json"
	"maps"
	"slices"
	"time"
)

// SlackCall is one call of the Web API, or of an upload, a download or a response_url.
type SlackCall struct {
	Method string
	At     time.Time
	Args   map[string]string // without the token; lists and objects as JSON
	JSON   bool              // they came as a JSON body
	Status int
	Error  string // of {"ok":false}
	Lost   bool   // it took effect, and the answer never came
}

// SlackProblem is something that the client did and that the platform refuses, or that is bad
// manners: an error that is no fault of ours, an acknowledgement that came late or never, a
// thread that isn't there.
type SlackProblem struct {
	At     time.Time
	Where  string // a method, "socket", "view" …
	Code   string // missing_scope, invalid_blocks, late_ack …
	Detail string
}

func (s *Slack) problem(where, code, detail string) {
	s.problems = append(s.problems, SlackProblem{At: s.set.Now(), Where: where, Code: code, Detail: detail})
	s.touch()
}

// Problems are all problems so far, oldest first. A fault that was asked for is none.
func (s *Slack) Problems() []SlackProblem {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.problems)
}

// Posts are the messages of a channel, threads included, oldest first, deleted ones too.
func (s *Slack) Posts(channel string) []SlackPost {
	s.mu.Lock()
	defer s.mu.Unlock()
	return copies(s.posts[channel], func(*SlackPost) bool { return true })
}

// Thread are the root and the replies of a thread, oldest first.
func (s *Slack) Thread(channel, root string) []SlackPost {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []*SlackPost
	if p := s.find(channel, root); p != nil {
		found = append(found, p)
	}
	return copies(append(found, s.threads[channel+"/"+root]...), func(*SlackPost) bool { return true })
}

// BotPosts are the messages of the app under test, in all channels, oldest first in each.
func (s *Slack) BotPosts() []SlackPost {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackPost
	for _, id := range s.order {
		found = append(found, copies(s.posts[id], func(p *SlackPost) bool { return p.BotID == SlackBotID })...)
	}
	return found
}

func copies(posts []*SlackPost, wanted func(*SlackPost) bool) []SlackPost {
	var found []SlackPost
	for _, p := range posts {
		if wanted(p) {
			found = append(found, copyOf(p))
		}
	}
	return found
}

// Post is one message.
func (s *Slack) Post(channel, ts string) (SlackPost, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	p := s.find(channel, ts)
	if p == nil {
		return SlackPost{}, false
	}
	return copyOf(p), true
}

// Ephemerals are what single persons saw, oldest first.
func (s *Slack) Ephemerals() []SlackEphemeral {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackEphemeral
	for _, e := range s.ephemeral {
		found = append(found, *e)
	}
	return found
}

// Uploads are the files that were shared, oldest first.
func (s *Slack) Uploads() []SlackFile {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackFile
	for _, f := range s.uploads {
		if f.User == SlackBot {
			found = append(found, *f)
		}
	}
	return found
}

// Calls are the calls of a method, or of all when it is empty, oldest first.
func (s *Slack) Calls(method string) []SlackCall {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackCall
	for _, c := range s.calls {
		if method == "" || c.Method == method {
			c.Args = maps.Clone(c.Args)
			found = append(found, c)
		}
	}
	return found
}

// SlackDelivery is one envelope on its way: each try is one of its own.
type SlackDelivery struct {
	Envelope string // envelope_id
	Event    string // event_id; "" for clicks, forms and slash commands
	Kind     string // events_api, interactive, slash_commands
	What     string // message, block_actions, /cure …
	Attempt  int    // 0 the first time
	Reason   string // of a redelivery
	Socket   int    // number of the socket, from 1
	Sent     time.Time
	Acked    time.Time // zero: not yet, or never
	Answer   json.RawMessage
	Payload  json.RawMessage
}

// Delay is the time from delivery to acknowledgement. It is false where none came.
func (d SlackDelivery) Delay() (time.Duration, bool) {
	return d.Acked.Sub(d.Sent), !d.Acked.IsZero()
}

// Deliveries are all envelopes that went out, in order.
func (s *Slack) Deliveries() []SlackDelivery {
	s.mu.Lock()
	defer s.mu.Unlock()
	var found []SlackDelivery
	for _, d := range s.deliveries {
		found = append(found, d.SlackDelivery)
	}
	return found
}

// Pending counts what waits: for a socket, for an acknowledgement, or for a redelivery.
func (s *Slack) Pending() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.pending
}

// Sockets counts the open connections that have been greeted.
func (s *Slack) Sockets() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return len(s.live())
}
