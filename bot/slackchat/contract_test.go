package slackchat

import (
	"encoding/json"
	"regexp"
	"testing"
	"time"

	"salthand/bot"
	"salthand/bot/chattest"
	"salthand/bot/fakechat"
)

// obeyed are the tokens that Slack acts on.
var obeyed = regexp.MustCompile(`<[^<>]+>`)

func TestContract(t *testing.T) {
	chattest.Test(t, func(t *testing.T) *chattest.Rig {
		s := openShop(t, fakechat.SlackSettings{AckWithin: 200 * time.Millisecond, Redeliver: []time.Duration{0, 0, 0}})
		root := s.slack.Say(s.ana, s.cure, "", "3.2 kg belly")
		other := s.slack.AddChannel(fakechat.SlackChannel{Name: "other", Members: []string{s.ana, fakechat.SlackBot}})
		shut := s.slack.AddChannel(fakechat.SlackChannel{Name: "shut", Members: []string{s.ana, fakechat.SlackBot}})
		s.slack.Archive(shut, s.ana)
		at := func(channel, thread string) bot.Place {
			return bot.Place{Platform: Platform, Team: fakechat.SlackTeam, Channel: channel, Thread: thread}
		}
		// The beginnings of the conversations are not part of what the contract hears.
		s.run().connected()
		s.taken()
		s.close()
		return &chattest.Rig{
			Chat: s.chat,
			Another: func() bot.Chat {
				c, err := New(s.chat.Config)
				if err != nil {
					t.Fatal(err)
				}
				return c
			},
			Channels: []bot.Place{at(s.cure, root), at(other, ""), at(s.slack.Direct(s.luis), "")},
			Shut:     at(shut, ""),
			Said: func(at bot.Place) (said []chattest.Post) {
				for _, p := range s.slack.Posts(at.Channel) {
					if p.BotID != fakechat.SlackBotID || p.Deleted || p.Thread != at.Thread {
						continue
					}
					said = append(said, chattest.Post{Text: unescape(p.Text), Obeyed: append(obeyed.FindAllString(p.Text, -1), obeyedInBlocks(t, p.Blocks)...)})
				}
				return said
			},
			Say: func(text string) string { return s.slack.Say(s.ana, s.cure, root, text) },
			Fail: func(how chattest.Failure) {
				s.slack.Break("chat.postMessage", 1, map[chattest.Failure]fakechat.SlackFault{chattest.Unheard: {Lost: true}, chattest.Down: {Status: 503}}[how])
			},
			Settled: s.taken,
			Secrets: []string{botSecret, appSecret, "very-secret"},
		}
	})
}

// obeyedInBlocks are the tokens in the texts of blocks. In plain text there are none.
func obeyedInBlocks(t *testing.T, blocks json.RawMessage) (tokens []string) {
	t.Helper()
	var v any
	if err := json.Unmarshal(blocks, &v); err != nil {
		t.Fatal(err)
	}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, e := range v {
				walk(e)
			}
		case map[string]any:
			if text, ok := v["text"].(string); ok {
				tokens = append(tokens, obeyed.FindAllString(text, -1)...)
			}
			for _, e := range v {
				walk(e)
			}
		}
	}
	walk(v)
	return tokens
}
