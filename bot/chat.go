package bot

import (
	"context"
	"errors"
	"time"
)

// Receive hands one message to the bot. An error means that it is not kept and must not be
// acknowledged to the platform.
type Receive func(ctx context.Context, m Message) (Reply, error)

// Chat is one platform. An adapter knows its platform's events, looks and limits, and
// nothing about curing.
type Chat interface {
	// Platform is the name in Place.Platform and Account.Platform.
	Platform() string
	// Run takes events until ctx ends or the platform refuses for good.
	Run(ctx context.Context, receive Receive) error
	// Post puts a card up at a place and returns the platform's id of it. posted is the id
	// under which an older revision of the card stands, or "". It may be called from
	// several goroutines, but never twice at once for one channel.
	Post(ctx context.Context, at Place, c Card, posted string) (id string, err error)
	// Pace is the shortest time between two posts to one channel.
	Pace() time.Duration
}

// ErrRefused wraps an error of Chat.Post that no new try will mend: the channel is gone, or
// the bot has no right to post there.
var ErrRefused = errors.New("the platform refuses for good")
