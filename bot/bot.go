package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"log/slog"
	"sync"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// triesAtMost is how often a turn is tried before its entry is closed as failed.
const triesAtMost = 3

// turnsAtOnce is how many conversations have their turn at once. More would share no more of a
// commit, and messages that come meanwhile would wait behind them to be kept.
const turnsAtOnce = 64

// Bot takes messages, keeps batches and posts cards. Make one with New, hand its Receive to
// the chats, and Run it.
type Bot struct {
	Store *store.Store
	Chats []Chat
	Log   *slog.Logger
	// Drawer draws the papers of cards; nil: they are sent without.
	Drawer Drawer
	// Photos is the folder that pictures of labels are kept in, beside the store; "" keeps none.
	Photos string
	// Now is the clock. Only the bot has one.
	Now func() time.Time
	// Retry is the time to wait before the first new try of a failed post; it doubles up to
	// RetryMax.
	Retry, RetryMax time.Duration

	mu      sync.Mutex
	change  *sync.Cond             // something below changed
	queues  map[string][]waiting   // by conversation; present while a worker has it
	turns   chan struct{}          // holds one for each turn that is had now
	sending map[string]bool        // channels that a sender has
	heard   map[string]store.Milli // by platform: the newest message that was noted as heard
	busy    int                    // workers and senders at work
	running bool
	old     uint64 // Seq of the last post that waited when the bot started: an earlier run may have posted it
	ctx     context.Context
	work    sync.WaitGroup
	wake    chan struct{} // the due loop looks again
	zones   *zones
}

// waiting is an inbox entry that waits for its turn.
type waiting struct {
	store.Entry
	m     Message
	early parsed // what the grammar made of it when it came in
}

// New makes a bot on a store.
func New(s *store.Store, log *slog.Logger, chats ...Chat) *Bot {
	b := &Bot{
		Store: s, Chats: chats, Log: log, Now: time.Now,
		Retry: time.Second, RetryMax: time.Minute,
		queues:  map[string][]waiting{},
		turns:   make(chan struct{}, turnsAtOnce),
		sending: map[string]bool{},
		heard:   map[string]store.Milli{},
		wake:    make(chan struct{}, 1),
		zones:   &zones{byName: map[string]*time.Location{}},
	}
	b.change = sync.NewCond(&b.mu)
	return b
}

// Start takes up what an earlier run left: waiting entries and unsent cards. Until ctx ends
// the bot works; Wait then waits for what is in hand.
func (b *Bot) Start(ctx context.Context) error {
	if err := b.keepSecret(ctx); err != nil {
		return err
	}
	var left []store.Entry
	var old uint64
	err := b.Store.View(func(tx *store.Tx) (err error) {
		if left, err = tx.Waiting(0); err != nil {
			return err
		}
		old = tx.LastQueued()
		return nil
	})
	if err != nil {
		return fmt.Errorf("reading the inbox: %w", err)
	}
	b.mu.Lock()
	b.ctx, b.running, b.old = ctx, true, old
	b.mu.Unlock()
	for _, e := range left {
		w := waiting{Entry: e}
		if err := json.Unmarshal(e.Message, &w.m); err != nil {
			return fmt.Errorf("reading inbox entry %s: %w", e.ID, err)
		}
		b.enqueue(w)
	}
	b.send()
	return nil
}

// Run starts the bot, its chats and its due list, and returns when ctx ends or a chat gives
// up for good.
func (b *Bot) Run(ctx context.Context) error {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	if err := b.Start(ctx); err != nil {
		return err
	}
	done := make(chan error, len(b.Chats)+1)
	for _, c := range b.Chats {
		go func() { done <- c.Run(ctx, b) }()
	}
	go func() { done <- b.watch(ctx) }()
	err := <-done
	cancel()
	for range len(b.Chats) {
		if e := <-done; err == nil || errors.Is(err, context.Canceled) {
			err = e
		}
	}
	b.Wait()
	if errors.Is(err, context.Canceled) {
		return nil
	}
	return err
}

// Wait returns when no turn and no post is in hand any more. The context of Start must have ended.
func (b *Bot) Wait() {
	b.mu.Lock()
	b.running = false
	b.mu.Unlock()
	b.work.Wait()
}

// Settle returns when nothing that could be done now is left to do: every message received
// has had its turn, every card is posted, nothing is due.
func (b *Bot) Settle(ctx context.Context) error {
	stop := context.AfterFunc(ctx, b.change.Broadcast)
	defer stop()
	for {
		if err := b.Tick(ctx); err != nil {
			return err
		}
		b.mu.Lock()
		for b.busy > 0 && ctx.Err() == nil {
			b.change.Wait()
		}
		b.mu.Unlock()
		if err := ctx.Err(); err != nil {
			return err
		}
		idle, err := b.idle()
		if err != nil || idle {
			return err
		}
	}
}

// idle reports whether the inbox and the due list have nothing for now and no card waits
// for its first try.
func (b *Bot) idle() (bool, error) {
	idle := true
	err := b.Store.View(func(tx *store.Tx) error {
		due, err := tx.DueUntil(milli(b.Now()), 1)
		if err != nil {
			return err
		}
		waiting, err := tx.Waiting(1)
		if err != nil {
			return err
		}
		idle = len(due) == 0 && len(waiting) == 0
		return nil
	})
	b.mu.Lock()
	defer b.mu.Unlock()
	return idle && b.busy == 0, err
}

// Receive keeps a message that is for the bot and sets its turn going. When it returns
// without an error the message is on disk, or was not for the bot.
func (b *Bot) Receive(ctx context.Context, m Message) (Reply, error) {
	m.Received = b.Now()
	if m.At.IsZero() {
		m.At = m.Received
	}
	reply, err := b.receive(ctx, m)
	if err == nil {
		err = b.hear(ctx, m)
	}
	return reply, err
}

func (b *Bot) receive(ctx context.Context, m Message) (Reply, error) {
	switch m.What {
	case Pressed:
		if f, ok, err := b.form(m); ok || err != nil {
			return Reply{Form: &f}, err // a reply of the moment: the press itself is not kept
		}
	case Filled:
		if wrong, err := b.fill(&m); len(wrong) > 0 || err != nil {
			return Reply{Wrong: wrong}, err
		}
	}
	r, ok, err := b.look(m)
	if err != nil || !ok || !r.forBot() {
		return Reply{}, err
	}
	if c, ok := r.phrase.Command.(grammar.Join); ok && c.Code != "" {
		secret, err := b.secret()
		if err != nil {
			return Reply{}, err
		}
		m.Text, m.Code = grammar.Canonical(grammar.Join{}), sealed(secret, c.Code)
	}
	if len(m.Files) > 0 && takesPhoto(r.phrase.Command) {
		b.keepPhotos(ctx, &m)
	}
	raw, err := json.Marshal(m)
	if err != nil {
		return Reply{}, fmt.Errorf("keeping message %s: %w", m.ID, err)
	}
	e := store.Entry{ID: m.entryID(), Conversation: m.Place.String(), Received: milli(m.Received), Message: raw}
	fresh := false
	err = b.Store.Update(ctx, func(tx *store.Tx) error {
		var err error
		fresh, err = tx.Receive(e)
		return err
	})
	if err != nil {
		return Reply{Text: r.theirs(m).say("I can't write my records: nothing you type is kept.")}, fmt.Errorf("keeping message %s: %w", m.ID, err)
	}
	if fresh {
		b.enqueue(waiting{e, m, r.parsed})
	}
	return Reply{}, nil
}

// entryID is what tells one platform event from another.
func (m Message) entryID() string {
	return m.Place.channel().String() + m.ID
}

// enqueue gives an entry to its conversation's worker, and starts one where none is at work.
func (b *Bot) enqueue(e waiting) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if !b.running {
		return // Start finds it in the inbox
	}
	_, taken := b.queues[e.Conversation]
	b.queues[e.Conversation] = append(b.queues[e.Conversation], e)
	if !taken {
		b.busy++
		b.work.Go(func() { b.converse(e.Conversation) })
	}
}

// converse takes a conversation's entries in order until none is left.
func (b *Bot) converse(conversation string) {
	for {
		b.mu.Lock()
		queue := b.queues[conversation]
		if len(queue) == 0 || b.ctx.Err() != nil {
			delete(b.queues, conversation)
			b.busy--
			b.change.Broadcast()
			b.mu.Unlock()
			return
		}
		b.mu.Unlock()
		b.turns <- struct{}{}
		b.take(queue[0])
		<-b.turns
		b.mu.Lock()
		b.queues[conversation] = b.queues[conversation][1:]
		b.mu.Unlock()
		b.send()
		b.lookAgain()
	}
}

// take gives an entry its turn, up to triesAtMost times; then it is closed as failed, kept,
// and answered politely.
func (b *Bot) take(e waiting) {
	for try := 1; try <= triesAtMost; try++ {
		err := b.turn(b.ctx, e)
		if err == nil || b.ctx.Err() != nil {
			return
		}
		b.Log.Error("a turn failed", "entry", e.ID, "try", try, "err", err)
	}
	err := b.Store.Update(b.ctx, func(tx *store.Tx) error {
		t := b.newTurn(tx, e)
		if err := t.post(Card{Kind: NoteCard, Title: "That went wrong here, and nothing of it was written.",
			Lines: []string{"What you typed is kept under " + e.ID + "."}, Next: "Please type it once more, or tell who looks after this bot."}); err != nil {
			return err
		}
		return tx.CloseEntry(e.ID, "failed", e.Received)
	})
	if err != nil {
		b.Log.Error("a failed entry could not be closed", "entry", e.ID, "err", err)
	}
}

func milli(t time.Time) store.Milli { return store.Milli(t.UnixMilli()) }
func (b *Bot) lookAgain() {
	select {
	case b.wake <- struct{}{}:
	default:
	}
}
