package slackchat

import (
	"context"
	"io"
	"time"

	"github.com/slack-go/slack"

	"salthand/bot"
)

// answerWithin is how long a reply of the moment may take: what opens a form dies after 3 s
// (docs.slack.dev, handling user interaction, seen second-hand).
const answerWithin = 3 * time.Second

// answer shows a reply of the moment. It may be lost, and nothing depends on it.
func (r *run) answer(ctx context.Context, trigger string, m bot.Message, reply bot.Reply) {
	ctx, cancel := context.WithTimeout(ctx, answerWithin)
	defer cancel()
	if reply.Form != nil {
		v, err := view(*reply.Form, m.Place)
		if err == nil {
			_, err = r.api.OpenViewContext(ctx, trigger, v)
		}
		if err != nil {
			r.Log.Warn("a form could not be opened", "err", r.clean(err))
		}
	}
	if text := shown(reply.Text); text != "" {
		opts := append(quiet(text), slack.MsgOptionTS(m.Place.Thread)) // without the thread it would stand in the channel
		if m.Place.Thread == "" {
			opts = quiet(text)
		}
		if _, err := r.api.PostEphemeralContext(ctx, m.Place.Channel, m.Account.User, opts...); err != nil {
			r.Log.Warn("a hint could not be shown", "err", r.clean(err))
		}
	}
}

// quiet are the options of every message: its text, in which nothing is obeyed, linked or
// previewed. Each is given once: the library would send a second text beside the first.
func quiet(text string) []slack.MsgOption {
	return []slack.MsgOption{
		slack.MsgOptionText(escape(text), false), slack.MsgOptionDisableMarkdown(), slack.MsgOptionParse(false), slack.MsgOptionLinkNames(false),
		slack.MsgOptionDisableLinkUnfurl(), slack.MsgOptionDisableMediaUnfurl(),
	}
}

// open makes what fetches a file that came with a message. The library sends the token only
// to Slack's own hosts, and to where the Web API is.
func (c *Chat) open(url string) func(context.Context) (io.ReadCloser, error) {
	return func(ctx context.Context) (io.ReadCloser, error) {
		read, write := io.Pipe()
		done := make(chan struct{})
		go func() {
			defer close(done)
			write.CloseWithError(c.clean(c.api.GetFileContext(ctx, url, write)))
		}()
		return &download{read, done}, nil
	}
}

// download is a file on its way. Close waits until nothing of it runs any more.
type download struct {
	*io.PipeReader
	done chan struct{}
}

func (d *download) Close() error {
	err := d.PipeReader.Close()
	<-d.done
	return err
}
