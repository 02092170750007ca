package slackchat

import (
	"bytes"
	"context"
	"fmt"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// upload shares the papers of a card beneath it. They come at least once, and again where it
// is not known whether they came: Slack tells no message of them that could be looked for.
func (c *Chat) upload(ctx context.Context, p bot.Posting, card string) error {
	thread := p.At.Thread
	if thread == "" && !directID(p.At.Channel) {
		thread = card
	}
	for _, f := range p.Card.Files {
		if len(f.Bytes) == 0 { // the library takes no empty file
			c.alarm(fmt.Errorf("slack: the paper %s is empty and is not shared", f.Name))
			continue
		}
		_, err := call(ctx, c, func() (*slack.FileSummary, error) {
			return c.api.UploadFileContext(ctx, slack.UploadFileParameters{
				Filename: f.Name, Title: f.Name, FileSize: len(f.Bytes), Reader: bytes.NewReader(f.Bytes), Channel: p.At.Channel, ThreadTimestamp: thread})
		})
		switch {
		case err == nil:
		case mayPass(err):
			return err
		default: // the card stands, and the channel's other cards must not be held up
			c.alarm(fmt.Errorf("the paper %s could not be shared: %w", f.Name, err))
		}
	}
	return nil
}
