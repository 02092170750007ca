package fakechat

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"net"
	"net/http"
	"sync"
	"time"
)

// The one workspace and app that a Slack holds.
const (
	SlackTeam    = "T0FAKE0001" // the team
	SlackApp     = "A0FAKE0001" // the app under test
	SlackBot     = "U0FAKEBOT1" // the user that the app posts as
	SlackBotID   = "B0FAKE0001" // the bot of that user
	SlackBotName = "salthand"   // its name, that people type after an @
	SlackDomain  = "fakekitchen"
)

// Slack is a workspace on loopback. Its methods may be called from several goroutines.
type Slack struct {
	set    SlackSettings
	base   string // http://127.0.0.1:port
	server *http.Server
	stop   context.CancelFunc
	ctx    context.Context
	wg     sync.WaitGroup

	mu      sync.Mutex
	changed chan struct{} // closed and made anew whenever something changed
	closed  bool
	timers  map[*time.Timer]struct{}
	serial  map[string]int // the last number given out, by kind
	lastTS  time.Time
	dice    map[string]*rand.Rand

	people    map[string]*SlackPerson
	channels  map[string]*SlackChannel
	order     []string // channel ids as they were made
	groups    []*SlackGroup
	posts     map[string][]*SlackPost // by channel, oldest first
	threads   map[string][]*SlackPost // replies by channel/root, oldest first
	ephemeral []*SlackEphemeral
	files     map[string]*SlackFile
	uploads   []*SlackFile
	views     []*SlackView
	triggers  map[string]*trigger
	replies   map[string]*replyURL
	revoked   string // the error that the bot token gets, when it is gone

	calls    []SlackCall
	problems []SlackProblem
	buckets  map[string]*bucket
	tooFast  map[string]int

	sockets    []*socket
	tickets    map[string]bool
	backlog    []*delivery // waits for a socket
	held       []*delivery // kept back so that the next one overtakes it
	deliveries []*delivery
	byID       map[string][]*delivery // by envelope id
	pending    int                    // envelopes that nobody has taken yet
	outage     bool

	broken map[string][]*directed
}

// StartSlack listens on a free port of loopback until Close.
func StartSlack(set SlackSettings) (*Slack, error) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("listen: %w", err)
	}
	s := &Slack{
		set:      set.filled(),
		base:     "http://" + l.Addr().String(),
		changed:  make(chan struct{}),
		timers:   map[*time.Timer]struct{}{},
		serial:   map[string]int{},
		dice:     map[string]*rand.Rand{},
		people:   map[string]*SlackPerson{},
		channels: map[string]*SlackChannel{},
		posts:    map[string][]*SlackPost{},
		threads:  map[string][]*SlackPost{},
		files:    map[string]*SlackFile{},
		triggers: map[string]*trigger{},
		replies:  map[string]*replyURL{},
		buckets:  map[string]*bucket{},
		tooFast:  map[string]int{},
		tickets:  map[string]bool{},
		byID:     map[string][]*delivery{},
		broken:   map[string][]*directed{},
	}
	s.people[SlackBot] = &SlackPerson{ID: SlackBot, Name: SlackBotName, RealName: SlackBotName, Bot: true, TZ: "America/Los_Angeles", Locale: "en-US"}
	s.ctx, s.stop = context.WithCancel(context.Background())
	mux := http.NewServeMux()
	mux.HandleFunc("/api/", s.serveAPI)
	mux.HandleFunc("/link/", s.serveSocket)
	mux.HandleFunc("/upload/v1/", s.serveUpload)
	mux.HandleFunc("/files-pri/", s.serveDownload)
	mux.HandleFunc("/actions/", s.serveReplyURL)
	s.server = &http.Server{Handler: s.counted(mux), ReadHeaderTimeout: 10 * time.Second}
	s.wg.Go(func() {
		if err := s.server.Serve(l); !errors.Is(err, http.ErrServerClosed) {
			s.mu.Lock()
			defer s.mu.Unlock()
			s.problem("server", "", err.Error())
		}
	})
	return s, nil
}

// Close hangs up every connection and waits until nothing of the fake runs any more.
func (s *Slack) Close() error {
	s.mu.Lock()
	s.closed = true
	for t := range s.timers {
		if t.Stop() {
			s.wg.Done()
		}
	}
	clear(s.timers)
	for _, k := range s.sockets {
		k.cut()
	}
	s.touch()
	s.mu.Unlock()
	s.stop()
	err := s.server.Close()
	s.wg.Wait()
	return err
}

// counted lets Close wait for the calls that are being answered.
func (s *Slack) counted(h http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		closed := s.closed
		if !closed {
			s.wg.Add(1)
		}
		s.mu.Unlock()
		if closed {
			hangUp(w)
			return
		}
		defer s.wg.Done()
		h.ServeHTTP(w, r)
	})
}

// APIURL is what the client is pointed at, with the slash at its end.
func (s *Slack) APIURL() string { return s.base + "/api/" }

// BotToken is the token that the Web API takes.
func (s *Slack) BotToken() string { return s.set.BotToken }

// AppToken is the token that apps.connections.open takes.
func (s *Slack) AppToken() string { return s.set.AppToken }

// Until waits until done is true. It is asked again whenever something changed: a post, a
// call, an acknowledgement, a connection.
func (s *Slack) Until(ctx context.Context, done func() bool) error {
	for {
		s.mu.Lock()
		changed := s.changed
		s.mu.Unlock()
		if done() {
			return nil
		}
		select {
		case <-changed:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// touch wakes everybody in Until. The lock is held, here and in every function of this
// package that begins with a small letter and changes the state.
func (s *Slack) touch() {
	close(s.changed)
	s.changed = make(chan struct{})
}

// after runs f with the lock held, once, unless the fake is closed before. The returned
// function calls it off.
func (s *Slack) after(d time.Duration, f func()) (callOff func()) {
	if s.closed {
		return func() {}
	}
	s.wg.Add(1)
	var t *time.Timer
	t = time.AfterFunc(d, func() {
		defer s.wg.Done()
		s.mu.Lock()
		defer s.mu.Unlock()
		if _, waiting := s.timers[t]; waiting {
			delete(s.timers, t)
			f()
		}
	})
	s.timers[t] = struct{}{}
	return func() {
		if _, waiting := s.timers[t]; waiting {
			delete(s.timers, t)
			if t.Stop() {
				s.wg.Done()
			}
		}
	}
}

// number gives out the next id of a kind, the same in every run.
func (s *Slack) number(prefix string) string {
	s.serial[prefix]++
	return fmt.Sprintf("%s0FAKE%04d", prefix, s.serial[prefix])
}

// stamp gives out a ts that no message has: seconds and microseconds.
func (s *Slack) stamp() string {
	now := s.set.Now().UTC().Truncate(time.Microsecond)
	if !now.After(s.lastTS) {
		now = s.lastTS.Add(time.Microsecond)
	}
	s.lastTS = now
	return fmt.Sprintf("%d.%06d", now.Unix(), now.Nanosecond()/1000)
}

// chance throws the die of one kind. Each kind has a row of throws of its own, so that the
// n-th call of a method meets the same fault in every run of a seed.
func (s *Slack) chance(kind string, share float64) bool {
	if share <= 0 {
		return false
	}
	return s.die(kind).Float64() < share
}

func (s *Slack) die(kind string) *rand.Rand {
	d, ok := s.dice[kind]
	if !ok {
		h := fnv.New64a()
		h.Write([]byte(kind))
		d = rand.New(rand.NewPCG(s.set.Seed, h.Sum64()))
		s.dice[kind] = d
	}
	return d
}
