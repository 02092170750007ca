package fakechat

import (
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// replyURL is a response_url: a short-lived right to answer one action.
type replyURL struct {
	channel, thread, user string
	post                  *SlackPost      // what was pressed, if it was a message
	seen                  *SlackEphemeral // what was pressed, if it was an ephemeral
	slash                 bool
	made                  time.Time
	uses                  int
}

func (s *Slack) newReplyURL(r replyURL) string {
	r.made = s.set.Now()
	id := s.number("R")
	s.replies[id] = &r
	return s.base + "/actions/" + SlackTeam + "/" + id
}

// answerBody is what a response_url or the acknowledgement of a slash command takes.
type answerBody struct {
	Text         string          `json:"text"`
	Blocks       json.RawMessage `json:"blocks"`
	ResponseType string          `json:"response_type"`
	Thread       string          `json:"thread_ts"`
	Replace      bool            `json:"replace_original"`
	Delete       bool            `json:"delete_original"`
}

// serveReplyURL takes an answer. It needs no token: the address is the right.
func (s *Slack) serveReplyURL(w http.ResponseWriter, r *http.Request) {
	a, _, _, bad := readArgs(r)
	s.mu.Lock()
	if s.outage {
		s.mu.Unlock()
		hangUp(w)
		return
	}
	call := SlackCall{Method: "response_url", At: s.set.Now(), Args: a, JSON: true, Status: http.StatusOK}
	fault := s.faultFor("response_url")
	u := s.replies[lastPart(r.URL.Path)]
	var no *refusal
	switch {
	case fault.before():
		no = fault.refusal()
	case u == nil:
		no = &refusal{code: "no_such_url"}
	case bad != "":
		no = &refusal{code: bad}
	case u.uses >= replyUses:
		no = &refusal{code: "used_url"}
	case s.set.Now().Sub(u.made) > s.set.ReplyLife:
		no = &refusal{code: "expired_url"}
	default:
		u.uses++
		no = s.answered(u, answerBody{
			Text: a["text"], Blocks: json.RawMessage(a["blocks"]), ResponseType: a["response_type"], Thread: a["thread_ts"],
			Replace: a.is("replace_original"), Delete: a.is("delete_original"),
		})
	}
	if no != nil {
		call.Error = no.code
		if !fault.before() {
			call.Status = http.StatusNotFound
			s.problem("response_url", no.code, fmt.Sprint(no.messages))
		}
	}
	s.calls = append(s.calls, call)
	s.touch()
	s.mu.Unlock()
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	if call.Status != http.StatusOK {
		w.WriteHeader(call.Status)
	}
	s.answer(w, r, fault, answerJSON(nil, no, ""))
}

func lastPart(p string) string {
	for i := len(p) - 1; i >= 0; i-- {
		if p[i] == '/' {
			return p[i+1:]
		}
	}
	return p
}

// answered does what an answer says.
func (s *Slack) answered(u *replyURL, b answerBody) *refusal {
	var blocks json.RawMessage
	if raw := string(b.Blocks); raw != "" && raw != "null" {
		var no *refusal
		if blocks, no = s.checkMessageBlocks(raw); no != nil {
			return no
		}
	}
	if b.Text == "" && len(blocks) == 0 && !b.Delete {
		return &refusal{code: "no_text"}
	}
	switch {
	case b.Delete && u.post != nil:
		s.remove(u.post)
	case b.Delete && u.seen != nil:
		u.seen.Deleted = true
	case b.Replace && u.post != nil && b.ResponseType != "ephemeral":
		before := s.messageJSON(u.post, false)
		u.post.Text, u.post.Blocks = b.Text, blocks
		s.edited(u.post, SlackBot, before)
	case b.Replace && u.seen != nil:
		u.seen.Text, u.seen.Blocks = b.Text, blocks
		u.seen.Replaced++
	case (b.Replace || b.Delete) && u.slash:
		return &refusal{code: "cant_update_message"} // what a slash command answered can't be replaced
	case b.ResponseType == "in_channel":
		p := &SlackPost{Channel: u.channel, Thread: b.Thread, User: SlackBot, BotID: SlackBotID, Team: SlackTeam, Text: b.Text, Blocks: blocks}
		if p.Thread != "" && s.find(u.channel, p.Thread) == nil {
			p.Thread = ""
		}
		s.keep(p)
		s.said(p)
	default:
		s.ephemeral = append(s.ephemeral, &SlackEphemeral{
			Channel: u.channel, TS: s.stamp(), Thread: b.Thread, User: u.user, Text: b.Text, Blocks: blocks,
		})
	}
	s.touch()
	return nil
}
