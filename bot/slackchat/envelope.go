package slackchat

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"

	"github.com/slack-go/slack"
	"github.com/slack-go/slack/slackevents"
	"github.com/slack-go/slack/socketmode"

	"salthand/bot"
)

// with is the reader with who people are.
func (r *run) with(ctx context.Context) reader {
	me := r.me
	me.who = func(user string) person { return r.people.who(ctx, user) }
	me.groups = func(user string) ([]string, bool) { return r.people.groupsOf(ctx, user) }
	me.handle = func(group string) string { return r.people.handle(ctx, group) }
	return me
}

// acknowledge makes what acknowledges an envelope.
func (r *run) acknowledge(envelope string) func(bot.Reply) {
	return func(reply bot.Reply) {
		var payload any
		if len(reply.Wrong) > 0 {
			payload = wrong(reply.Wrong)
		}
		// It waits where no connection stands: not for ever.
		ctx, cancel := context.WithTimeout(context.Background(), ackTries)
		defer cancel()
		if err := r.client.AckCtx(ctx, envelope, payload); err != nil {
			r.Log.Warn("an event could not be acknowledged: it comes again", "err", r.clean(err))
		}
	}
}

// onlyAck is an event that says nothing.
func (r *run) onlyAck(envelope string) job {
	return job{read: func(context.Context) (m bot.Message, ok bool) { return m, false }, ack: r.acknowledge(envelope)}
}

// unreadable acknowledges an envelope that the library can't read, and notes its kind. It
// would come again and again otherwise.
func (r *run) unreadable(e *socketmode.ErrorBadMessage) {
	var of struct {
		EnvelopeID string `json:"envelope_id"`
		Type       string `json:"type"`
		Payload    struct {
			Type  string `json:"type"`
			Event struct {
				Type    string `json:"type"`
				Subtype string `json:"subtype"`
			} `json:"event"`
		} `json:"payload"`
	}
	err := json.Unmarshal(e.Message, &of)
	var shape *json.UnmarshalTypeError
	if err != nil && !errors.As(err, &shape) {
		r.Log.Warn("slack sent what is no event")
		return
	}
	r.Log.Warn("slack sent an event that can't be read", "type", of.Type, "payload", of.Payload.Type, "event", of.Payload.Event.Type, "subtype", of.Payload.Event.Subtype)
	if of.EnvelopeID != "" {
		r.lanes.put("", r.onlyAck(of.EnvelopeID))
	}
}

// eventsAPI takes an event of the Events API.
func (r *run) eventsAPI(ev socketmode.Event) {
	outer, _ := ev.Data.(slackevents.EventsAPIEvent)
	j := r.onlyAck(ev.Request.EnvelopeID)
	conversation := ""
	switch e := outer.InnerEvent.Data.(type) {
	case *slackevents.MessageEvent:
		conversation = conversationOf(e)
		j.read = func(ctx context.Context) (bot.Message, bool) { return r.with(ctx).event(e) }
		r.missed.heard(e.Channel, e.TimeStamp)
	case *slackevents.AppMentionEvent:
		conversation = e.Channel + "/" + cmp.Or(e.ThreadTimeStamp, e.TimeStamp)
		j.read = func(ctx context.Context) (bot.Message, bool) { return r.with(ctx).appMention(e) }
	case *slackevents.UserChangeEvent:
		r.people.forget(e.User.ID)
	}
	if outer.Type == slackevents.AppRateLimited {
		r.alarm(errors.New("slack: this workspace sends more events than it may: some are lost"))
	}
	r.lanes.put(conversation, j)
}

// conversationOf is the conversation that a message event is of.
func conversationOf(e *slackevents.MessageEvent) string {
	of := e.Message
	if e.SubType == "message_deleted" {
		of = e.PreviousMessage
	}
	if of == nil {
		of = &slack.Msg{Timestamp: e.DeletedTimeStamp}
	}
	thread := of.ThreadTimestamp
	if thread == "" && !e.IsIM() && !directID(e.Channel) {
		thread = of.Timestamp
	}
	return e.Channel + "/" + thread
}

// interactive takes a press of a button or a form that was sent.
func (r *run) interactive(ev socketmode.Event) {
	cb, _ := ev.Data.(slack.InteractionCallback)
	j := r.onlyAck(ev.Request.EnvelopeID)
	conversation := ""
	answer := func(ctx context.Context, m bot.Message, reply bot.Reply) {
		r.side.Go(func() { r.answer(ctx, cb.TriggerID, m, reply) })
	}
	switch cb.Type {
	case slack.InteractionTypeBlockActions:
		conversation = cb.Container.ChannelID + "/" + cmp.Or(cb.Container.ThreadTs, cb.Message.ThreadTimestamp, cb.Container.MessageTs)
		j.read, j.answer = func(ctx context.Context) (bot.Message, bool) { return r.with(ctx).pressed(cb) }, answer
	case slack.InteractionTypeViewSubmission:
		if of, ok := originOf(cb.View.PrivateMetadata); ok {
			conversation = of.Channel + "/" + of.Thread
		}
		j.read, j.answer = func(ctx context.Context) (bot.Message, bool) { return r.with(ctx).filled(cb) }, answer
	}
	r.lanes.put(conversation, j)
}
