package slackchat

import (
	"context"
	"hash/maphash"
	"sync"
	"time"

	"salthand/bot"
)

const (
	lanesAtMost   = 64              // events that are taken at once
	waitingAtMost = 16384           // events that wait, in all
	readWithin    = 2 * time.Second // of its coming, an event is read: what Slack has not told of a person by then is left empty
	ackTries      = 2 * time.Second
	tellEvery     = time.Minute
)

// job is one event that waits for its turn.
type job struct {
	// read makes the message of it; ok is false where nobody said anything.
	read func(ctx context.Context) (m bot.Message, ok bool)
	// ack acknowledges it with what Reply has for the acknowledgement; nil: nobody waits for it.
	ack func(reply bot.Reply)
	// answer shows what is answered at once; nil: nobody is there to see it.
	answer func(ctx context.Context, m bot.Message, r bot.Reply)
	came   time.Time // zero: nobody waits for it
}

// lanes give events to the bot: those of one conversation in the order in which they came,
// those of several at once.
type lanes struct {
	chat  *Chat
	front bot.Front
	seed  maphash.Seed
	ready func(ctx context.Context, came time.Time) // waits until an event may be taken
	rows  []chan job
	work  sync.WaitGroup
	told  time.Time // when somebody was last told that one is full
}

func newLanes(ctx context.Context, c *Chat, front bot.Front, ready func(ctx context.Context, came time.Time)) *lanes {
	l := &lanes{chat: c, front: front, ready: ready, seed: maphash.MakeSeed(), rows: make([]chan job, lanesAtMost)}
	for i := range l.rows {
		row := make(chan job, waitingAtMost/lanesAtMost)
		l.rows[i] = row
		l.work.Go(func() {
			for j := range row {
				l.ready(ctx, j.came)
				if ctx.Err() == nil { // what is left over is not acknowledged: it comes again
					l.take(ctx, j)
				}
			}
		})
	}
	return l
}

// row is the lane of a conversation.
func (l *lanes) row(conversation string) chan job {
	return l.rows[maphash.String(l.seed, conversation)%uint64(len(l.rows))]
}

// put lets an event wait for its turn and never waits itself. One that finds its lane full is
// dropped without an acknowledgement: Slack delivers it again.
func (l *lanes) put(conversation string, j job) {
	j.came = time.Now()
	select {
	case l.row(conversation) <- j:
	default:
		if now := time.Now(); now.Sub(l.told) > tellEvery {
			l.told = now
			l.chat.alarm(errFull)
		}
	}
}

// close takes no more events and returns when those that wait are done.
func (l *lanes) close() {
	for _, row := range l.rows {
		close(row)
	}
	l.work.Wait()
}

// take gives one event to the bot. It is acknowledged once the bot has kept it, or has no use
// for it; otherwise Slack delivers it again.
func (l *lanes) take(ctx context.Context, j job) {
	var reply bot.Reply
	reading, done := ctx, context.CancelFunc(func() {})
	if !j.came.IsZero() {
		reading, done = context.WithDeadline(ctx, j.came.Add(readWithin))
	}
	m, ok := j.read(reading)
	done()
	if ok {
		var err error
		if reply, err = l.receive(ctx, m); err != nil {
			l.chat.Log.Error("an event was not kept and is not acknowledged", "message", m.ID, "channel", m.Place.Channel, "err", err)
			if j.answer != nil && reply.Text != "" {
				j.answer(ctx, m, bot.Reply{Text: reply.Text})
			}
			return
		}
	}
	if j.ack != nil {
		j.ack(reply)
	}
	if j.answer != nil && (reply.Text != "" || reply.Form != nil) {
		j.answer(ctx, m, reply)
	}
}

// receive hands a message to the bot. A panic is that message's alone.
func (l *lanes) receive(ctx context.Context, m bot.Message) (reply bot.Reply, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = panicked(p)
		}
	}()
	return l.front.Receive(ctx, m)
}
