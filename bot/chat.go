package bot

import (
	"context"
	"errors"
	"time"
)

// Front is what a chat may ask of the bot.
type Front interface {
	// Receive hands one message to the bot. An error means that it is not kept and must not
	// be acknowledged to the platform.
	Receive(ctx context.Context, m Message) (Reply, error)
	// Watched tells where a platform may have said something that was not heard, and since
	// when. What is read there again is handed to Receive, marked Again, before anything
	// newer is: whatever was taken already is not taken twice.
	Watched(ctx context.Context, platform string) (Watched, error)
}

// Chat is one platform. An adapter knows its platform's events, looks and limits, and
// nothing about curing.
type Chat interface {
	// Platform is the name in Place.Platform and Account.Platform.
	Platform() string
	// Run takes events until ctx ends or the platform refuses for good.
	Run(ctx context.Context, front Front) error
	// Post puts a card up and returns the platform's id of it. It may be called from several
	// goroutines, but never twice at once for one channel.
	Post(ctx context.Context, p Posting) (id string, err error)
	// Pace is the shortest time between two posts to one channel.
	Pace() time.Duration
}

// Posting is one card on its way to a place.
type Posting struct {
	At   Place
	Card Card
	// Posted is the platform's id of an older revision of the card that stands there, or "".
	Posted string
	// Doubtful says that an earlier try of this revision may have reached the platform though
	// nobody noted it: the adapter looks for Card.Op there before it posts.
	Doubtful bool
	// Queued is when the card was made.
	Queued time.Time
}

// ErrRefused wraps an error of Chat.Post that no new try will mend: the channel is gone, or
// the bot has no right to post there.
var ErrRefused = errors.New("the platform refuses for good")
