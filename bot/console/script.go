package console

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"salthand/bot"
)

// Script plays a conversation. Each line is one of
//
//	NAME: TEXT                       said in the cure channel
//	NAME in 3: TEXT                  said in the thread of batch 3
//	NAME sends FILE: TEXT            said with a file; it lies in the folder where the script is played, or below
//	NAME presses approve on 3.1      a button of dose card 3, revision 1
//	NAME edits 3: TEXT               the message that asked for batch 3 is edited
//	NAME edits last: TEXT            their last message is
//	NAME deletes 3, NAME deletes last
//	wait 2 d                         the script's clock moves; what falls due meanwhile happens
//	away 3 d                         the bot was away so long: what fell due waits for its return
//	again                            the platform delivers the last line once more
//	together … end                   the lines between are delivered at once
//	# …                              a remark
//
// A text that begins with @salthand is a mention.
type Script struct {
	Console *Console
	Bot     *bot.Bot
	// Clock is the script's own clock, or nil where the real one runs: then it can't wait.
	Clock *Clock
	// FirstSpeaker is called with the first name that speaks, before it does.
	FirstSpeaker func(name string) error

	last   bot.Message
	lastOf map[string]bot.Message // what each account said last
	spoke  bool
}

// Clock stands still but for the waits of a script, and a second for each line.
type Clock struct {
	mu sync.Mutex
	t  time.Time
}

// NewClock is a clock that stands at t.
func NewClock(t time.Time) *Clock { return &Clock{t: t} }

// Now is where the clock stands.
func (c *Clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.t
}

// set moves the clock forward, never back.
func (c *Clock) set(t time.Time) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if t.After(c.t) {
		c.t = t
	}
}

var (
	said    = regexp.MustCompile(`^([\pL][\pL\pN_-]*)(?: in ([0-9]{1,9}))?(?: sends ([^:]+))?:\s*(.*)$`)
	presses = regexp.MustCompile(`^([\pL][\pL\pN_-]*) presses ([a-z]+) on ([0-9]{1,9})\.([0-9]{1,9})$`)
	edits   = regexp.MustCompile(`^([\pL][\pL\pN_-]*) (edits|deletes) ([0-9]{1,9}|last)(?::\s*(.*))?$`)
	waits   = regexp.MustCompile(`^(wait|away) ([0-9]+(?:\.[0-9]+)?) ?(s|min|h|d|w)$`)
)

// unit is what a wait counts in.
var unit = map[string]time.Duration{"s": time.Second, "min": time.Minute, "h": time.Hour, "d": 24 * time.Hour, "w": 7 * 24 * time.Hour}

// Play plays a script to its end. The bot must have been started. An error names the line.
func (s *Script) Play(ctx context.Context, in io.Reader) error {
	lines := bufio.NewScanner(in)
	lines.Buffer(nil, 1<<20)
	var group []bot.Message
	grouped := false
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(lines.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		fmt.Fprintln(s.Console.Out, "> "+bot.Visible(line))
		var err error
		switch {
		case line == "together":
			grouped, group = true, nil
		case line == "end":
			err = s.deliver(ctx, group)
			grouped = false
		default:
			var m *bot.Message
			if m, err = s.line(ctx, line); err == nil && m != nil {
				if grouped {
					group = append(group, *m)
				} else {
					err = s.deliver(ctx, []bot.Message{*m})
				}
			}
		}
		if err != nil {
			return fmt.Errorf("line %d of the script: %w", n, err)
		}
	}
	if err := lines.Err(); err != nil {
		return fmt.Errorf("reading the script: %w", err)
	}
	return s.Bot.Settle(ctx)
}

// line is the message that a line makes; nil where it makes none.
func (s *Script) line(ctx context.Context, line string) (*bot.Message, error) {
	if w := waits.FindStringSubmatch(line); w != nil {
		return nil, s.wait(ctx, w[1] == "away", w[2], w[3])
	}
	if s.Clock != nil {
		s.Clock.set(s.Clock.Now().Add(time.Second))
	}
	var m bot.Message
	if line == "again" {
		if s.last.ID == "" {
			return nil, fmt.Errorf("nothing was said yet")
		}
		m = s.last
		return &m, nil
	}
	if p := presses.FindStringSubmatch(line); p != nil {
		place, err := s.thread(p[3])
		if err != nil {
			return nil, err
		}
		batch, _ := strconv.ParseUint(p[3], 10, 64)
		revision, _ := strconv.ParseUint(p[4], 10, 32)
		m = s.Console.message(p[1], "", place, s.Bot.Now())
		m.What, m.Press = bot.Pressed, &bot.Press{Action: bot.Action(p[2]), Batch: batch, Revision: uint32(revision)}
	} else if p := edits.FindStringSubmatch(line); p != nil {
		var err error
		if m, err = s.changed(p[1], p[2] == "deletes", p[3], p[4]); err != nil {
			return nil, err
		}
	} else if p := said.FindStringSubmatch(line); p != nil {
		if err := s.introduce(p[1]); err != nil {
			return nil, err
		}
		place := Place()
		if p[2] != "" {
			var err error
			if place, err = s.thread(p[2]); err != nil {
				return nil, err
			}
		}
		m = s.Console.message(p[1], p[4], place, s.Bot.Now())
		mention(&m)
		if p[3] != "" {
			m.Files = []bot.Attached{sent(strings.TrimSpace(p[3]))}
		}
	} else {
		return nil, fmt.Errorf("%q is none of  NAME: TEXT ,  NAME in 3: TEXT ,  wait 2 d", line)
	}
	s.last = m
	if m.What == bot.Said {
		if s.lastOf == nil {
			s.lastOf = map[string]bot.Message{}
		}
		s.lastOf[m.Account.User] = m
	}
	return &m, nil
}

// changed is an edit or a deletion: of the message that asked for a batch, or of the last.
func (s *Script) changed(name string, deleted bool, of, text string) (bot.Message, error) {
	m := s.Console.message(name, text, Place(), s.Bot.Now())
	m.What = bot.Edited
	if deleted {
		m.What = bot.Deleted
	}
	if of == "last" {
		last, ok := s.lastOf[m.Account.User]
		if !ok {
			return m, fmt.Errorf("%s has said nothing yet", name)
		}
		m.Said, m.Place, m.Top = last.ID, last.Place, last.Top
	} else {
		place, err := s.thread(of)
		if err != nil {
			return m, err
		}
		m.Said, m.Place, m.Top = place.Thread, place, true
	}
	mention(&m)
	return m, nil
}

// mention takes the bot's name off the front of a text.
func mention(m *bot.Message) {
	if rest, ok := strings.CutPrefix(m.Text, "@salthand"); ok {
		m.Text, m.Mentioned = strings.TrimLeft(rest, " ,:"), true
	}
}

func (s *Script) introduce(name string) error {
	if s.spoke || s.FirstSpeaker == nil {
		return nil
	}
	s.spoke = true
	return s.FirstSpeaker(name)
}

// thread is the place where a batch is talked about.
func (s *Script) thread(batch string) (bot.Place, error) {
	n, err := strconv.ParseUint(batch, 10, 64)
	if err != nil {
		return bot.Place{}, err
	}
	return threadOf(s.Bot, n)
}

func threadOf(b *bot.Bot, n uint64) (bot.Place, error) {
	place, ok, err := b.ThreadOf(Place(), n)
	if err != nil {
		return place, err
	}
	if !ok {
		return place, fmt.Errorf("there is no batch %d", n)
	}
	return place, nil
}

// deliver hands messages in at the same moment and waits until all is answered.
func (s *Script) deliver(ctx context.Context, group []bot.Message) error {
	errs := make([]error, len(group))
	var hands sync.WaitGroup
	for i, m := range group {
		hands.Go(func() {
			var reply bot.Reply
			reply, errs[i] = s.Bot.Receive(ctx, m)
			if reply.Text != "" {
				fmt.Fprintln(s.Console.Out, reply.Text)
			}
		})
	}
	hands.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return s.Bot.Settle(ctx)
}

// wait moves the clock from one due moment to the next, so that each happens at its own
// time; where the bot is away it moves at once.
func (s *Script) wait(ctx context.Context, away bool, count, of string) error {
	if s.Clock == nil {
		return fmt.Errorf("a kept store keeps real time: wait and away work on a scratch store only")
	}
	n, err := strconv.ParseFloat(count, 64)
	if err != nil {
		return err
	}
	until := s.Clock.Now().Add(time.Duration(n * float64(unit[of])))
	for !away {
		next, ok, err := s.Bot.NextDue()
		if err != nil {
			return err
		}
		if !ok || next.After(until) {
			break
		}
		s.Clock.set(next)
		if err := s.Bot.Settle(ctx); err != nil {
			return err
		}
	}
	s.Clock.set(until)
	return s.Bot.Settle(ctx)
}
