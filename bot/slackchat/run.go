package slackchat

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log"
	"sync"
	"time"

	"github.com/slack-go/slack"
	"github.com/slack-go/slack/socketmode"

	"salthand/bot"
)

const (
	finishWithin = 3 * time.Second        // at the end, for events that are in hand
	flushFor     = 200 * time.Millisecond // then, for acknowledgements on their way: the library writes them and tells nobody
	helloWithin  = time.Minute            // between two tries to learn who the bot is, at most
)

var errFull = errors.New("slack: more events wait than are kept waiting: the newest are dropped, and delivered again later")

func panicked(p any) error { return fmt.Errorf("slack: taking an event panicked: %v", p) }

// run is one Run.
type run struct {
	*Chat
	me     reader // the bot's own ids
	lanes  *lanes
	client *socketmode.Client
	missed *missed
	again  chan struct{}  // the connection is to be opened anew
	side   sync.WaitGroup // answers of the moment
}

// Run takes events until ctx ends, then finishes within five seconds. It returns early where
// Slack takes the tokens no more. Everything else is tried again, paced.
func (c *Chat) Run(ctx context.Context, front bot.Front) error {
	me, err := c.meAtLast(ctx)
	if err != nil {
		return err
	}
	// What is in hand is finished after ctx has ended.
	work, stop := context.WithCancel(context.WithoutCancel(ctx))
	defer stop()
	r := &run{Chat: c, me: reader{team: me.TeamID, user: me.UserID, open: c.open}, again: make(chan struct{}, 1),
		// The library's log goes nowhere: it would print what people write.
		client: socketmode.New(c.api, socketmode.OptionPingInterval(c.Silent), socketmode.OptionLog(log.New(io.Discard, "", 0)))}
	r.missed = newMissed(r, front)
	r.lanes = newLanes(work, c, front, r.missed.looked)
	looking, stopLooking := context.WithCancel(work)
	defer stopLooking()
	connection, hangUp := context.WithCancel(work)
	defer hangUp()
	var held sync.WaitGroup
	held.Go(func() { r.missed.watch(looking) })
	lost := make(chan error, 1)
	connected := make(chan struct{})
	go func() {
		defer close(connected)
		lost <- r.hold(connection)
	}()

	err = r.events(ctx, lost)

	late := time.AfterFunc(finishWithin, stop)
	defer late.Stop()
	stopLooking()
	held.Wait()
	r.lanes.close()
	r.side.Wait()
	if ctx.Err() != nil {
		pause(work, flushFor)
	}
	hangUp()
	<-connected
	return err
}

// meAtLast asks who the bot is until Slack answers.
func (c *Chat) meAtLast(ctx context.Context) (*slack.AuthTestResponse, error) {
	for wait := c.OpenEvery; ; wait = min(2*wait, helloWithin) {
		me, err := c.me(ctx)
		if err == nil {
			return me, nil
		}
		if lost := lostFor(err, "the bot token"); lost != nil {
			return nil, lost
		}
		if ctx.Err() == nil {
			c.Log.Warn("slack can't be reached", "err", err, "again_in", wait)
		}
		if err := pause(ctx, wait); err != nil {
			return nil, err
		}
	}
}

// hold keeps a connection up until ctx ends, or Slack refuses one for good.
func (r *run) hold(ctx context.Context) error {
	for {
		one, cut := context.WithCancel(ctx)
		watched := make(chan struct{})
		go func() {
			defer close(watched)
			select {
			case <-r.again:
				cut()
			case <-one.Done():
			}
		}()
		err := r.clean(r.client.RunContext(one))
		cut()
		<-watched
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if lost := lostFor(err, "a connection"); lost != nil {
			return lost
		}
		r.Log.Warn("the connection to slack ended and is opened anew", "err", err)
	}
}

// reopen has the connection opened anew; it never waits.
func (r *run) reopen() {
	select {
	case r.again <- struct{}{}:
	default:
	}
}

// events takes what comes over the connection, and waits for nothing else: a connection that
// is not read from dies, and is not opened again.
func (r *run) events(ctx context.Context, lost <-chan error) error {
	for {
		select {
		case ev := <-r.client.Events:
			if err := r.event(ev); err != nil {
				return err
			}
		case err := <-lost:
			return err
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

// event takes one event of the library. An error ends the run.
func (r *run) event(ev socketmode.Event) error {
	switch ev.Type {
	case socketmode.EventTypeHello:
		r.Log.Info("connected to slack")
		r.missed.lookNow()
	case socketmode.EventTypeConnectionError:
		if e, ok := ev.Data.(*slack.ConnectionErrorEvent); ok {
			err := r.clean(e.ErrorObj)
			if lost := lostFor(err, "the app token"); lost != nil {
				return lost
			}
			r.Log.Warn("no connection to slack", "err", err, "try", e.Attempt)
		}
	case socketmode.EventTypeErrorWriteFailed:
		r.Log.Warn("an acknowledgement could not be written: the event comes again")
	case socketmode.EventTypeErrorBadMessage:
		if e, ok := ev.Data.(*socketmode.ErrorBadMessage); ok {
			r.unreadable(e)
		}
	case socketmode.EventTypeEventsAPI:
		r.eventsAPI(ev)
	case socketmode.EventTypeInteractive:
		r.interactive(ev)
	case socketmode.EventTypeSlashCommand:
		r.lanes.put("", r.onlyAck(ev.Request.EnvelopeID))
	}
	return nil
}
