package fakechat

import (
	"encoding/json"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"github.com/gorilla/websocket"
)

// socket is one connection of Socket Mode.
type socket struct {
	n       int
	conn    *websocket.Conn
	queue   []frame
	wake    chan struct{}
	open    map[*delivery]bool // written here, not acknowledged yet
	greeted bool
	dead    bool
	silent  bool
}

// frame is one thing to be written, and what happens after it.
type frame struct {
	data []byte
	d    *delivery
	then string // "", cut or close
}

func (k *socket) push(f frame) {
	k.queue = append(k.queue, f)
	select {
	case k.wake <- struct{}{}:
	default:
	}
}

// cut ends the connection without a word.
func (k *socket) cut() {
	k.dead = true
	// A connection that is gone already can't be closed better.
	_ = k.conn.Close()
}

func (s *Slack) openConnection(args) (reply, *refusal) {
	ticket := s.number("W")
	s.tickets[ticket] = true
	return reply{"url": "ws" + strings.TrimPrefix(s.base, "http") + "/link/?ticket=" + ticket + "&app_id=" + SlackApp}, nil
}

// live are the sockets that envelopes may go to.
func (s *Slack) live() []*socket {
	return slices.DeleteFunc(slices.Clone(s.sockets), func(k *socket) bool { return k.dead || !k.greeted })
}

var upgrader = websocket.Upgrader{CheckOrigin: func(*http.Request) bool { return true }}

func (s *Slack) serveSocket(w http.ResponseWriter, r *http.Request) {
	ticket := r.URL.Query().Get("ticket")
	s.mu.Lock()
	ok, outage := s.tickets[ticket], s.outage
	delete(s.tickets, ticket) // a link is good for one connection
	fault, _ := s.asked("link")
	s.mu.Unlock()
	switch {
	case fault.Status != 0:
		s.answer(w, r, fault, nil)
		return
	case outage:
		hangUp(w)
		return
	case !ok:
		http.Error(w, "no such ticket", http.StatusForbidden)
		return
	}
	conn, err := upgrader.Upgrade(w, r, nil)
	if err != nil {
		return // Upgrade has answered
	}
	k := &socket{conn: conn, wake: make(chan struct{}, 1), open: map[*delivery]bool{}}
	s.mu.Lock()
	k.n = len(s.sockets) + 1
	s.sockets = append(s.sockets, k)
	if s.closed || s.outage || fault.Lost {
		k.cut()
	} else if len(s.live()) >= maxSockets {
		k.push(frame{data: disconnectFrame("too_many_websockets"), then: "close"})
	} else {
		s.greet(k)
	}
	s.touch()
	s.mu.Unlock()

	left := make(chan struct{})
	s.wg.Go(func() { s.write(k, left) })
	s.read(k)
	close(left)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(k)
}

// drop cuts connections, and takes back what they still owed.
func (s *Slack) drop(sockets ...*socket) {
	for _, k := range sockets {
		k.cut()
	}
	for _, k := range sockets {
		s.abandon(k)
	}
	s.touch()
}

// greet says hello on a new connection, and sends what has waited for one.
func (s *Slack) greet(k *socket) {
	k.greeted = true
	k.push(frame{data: mustJSON(map[string]any{
		"type": "hello", "num_connections": len(s.live()), "connection_info": map[string]any{"app_id": SlackApp},
		"debug_info": map[string]any{"host": fmt.Sprintf("applink-%d", k.n), "build_number": 1, "approximate_connection_time": 18060},
	})})
	waiting := s.backlog
	s.backlog = nil
	for _, d := range waiting {
		s.dispatch(d)
	}
}

// read takes acknowledgements until the connection ends.
func (s *Slack) read(k *socket) {
	for {
		_, data, err := k.conn.ReadMessage()
		if err != nil {
			return
		}
		if len(data) > maxFrame {
			s.mu.Lock()
			s.problem("socket", "frame_too_long", fmt.Sprintf("a frame of %d bytes", len(data)))
			k.dead = true
			s.mu.Unlock()
			reason := websocket.FormatCloseMessage(closeBig, fmt.Sprintf("Max frame length of %d has been exceeded.", maxFrame))
			_ = k.conn.WriteControl(websocket.CloseMessage, reason, time.Now().Add(time.Second))
			return
		}
		var ack struct {
			Envelope string          `json:"envelope_id"`
			Payload  json.RawMessage `json:"payload"`
		}
		err = json.Unmarshal(data, &ack)
		s.mu.Lock()
		if err != nil || ack.Envelope == "" {
			s.problem("socket", "bad_frame", string(data))
		} else {
			s.ack(k, ack.Envelope, ack.Payload)
		}
		s.mu.Unlock()
	}
}

// write sends what is queued, and pings, until the connection ends.
func (s *Slack) write(k *socket, left <-chan struct{}) {
	ping := time.NewTicker(s.set.PingEvery)
	defer ping.Stop()
	for {
		s.mu.Lock()
		var f frame
		some := len(k.queue) > 0 && !k.dead
		if some {
			f, k.queue = k.queue[0], k.queue[1:]
			if f.d != nil {
				s.sent(f.d)
			}
		}
		silent := k.silent
		s.mu.Unlock()
		if !some {
			select {
			case <-k.wake:
			case <-left:
				return
			case <-ping.C:
				if !silent {
					// A failed ping shows at the reader.
					_ = k.conn.WriteControl(websocket.PingMessage, fmt.Appendf(nil, "Ping from applink-%d", k.n), time.Now().Add(time.Second))
				}
			}
			continue
		}
		if !silent {
			_ = k.conn.SetWriteDeadline(time.Now().Add(10 * time.Second))
			if err := k.conn.WriteMessage(websocket.TextMessage, f.data); err != nil {
				f.then = "cut"
			}
		}
		if f.then != "" {
			s.mu.Lock()
			if f.then == "close" {
				_ = k.conn.WriteControl(websocket.CloseMessage, websocket.FormatCloseMessage(websocket.CloseNormalClosure, ""), time.Now().Add(time.Second))
			}
			s.drop(k)
			s.mu.Unlock()
		}
	}
}

func disconnectFrame(reason string) []byte {
	return mustJSON(map[string]any{"type": "disconnect", "reason": reason, "debug_info": map[string]any{"host": "applink-1"}})
}

// Disconnect sends a disconnect frame to every socket: "warning" leaves them open,
// "refresh_requested" and "link_disabled" close them.
func (s *Slack) Disconnect(reason string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, k := range s.live() {
		f := frame{data: disconnectFrame(reason)}
		if reason != "warning" {
			f.then = "close"
		}
		k.push(f)
	}
}

// Cut ends every connection of Socket Mode without a word.
func (s *Slack) Cut() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.drop(s.live()...)
}

// Silence makes the sockets that are open now stay open and say nothing more: no envelopes,
// no pings. What is sent there is lost until it is sent again elsewhere.
func (s *Slack) Silence() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, k := range s.live() {
		k.silent = true
	}
}

// Frame sends one text frame as it is to every socket.
func (s *Slack) Frame(data string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, k := range s.live() {
		k.push(frame{data: []byte(data)})
	}
}
