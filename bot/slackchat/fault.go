package slackchat

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/slack-go/slack"
)

// secrets are the forms of what must stand in no log: tokens, and the ticket in a
// connection's address.
var secrets = regexp.MustCompile(`(?i)(x(?:ox[a-z]|app|wfp)[a-z.]*-)[0-9A-Za-z%._-]+|([?&](?:ticket|app_id|token)=)[^&\s"]+`)

// scrub takes the secrets out of a text.
func (c *Chat) scrub(s string) string {
	for _, t := range []string{c.BotToken, c.AppToken} {
		s = strings.ReplaceAll(s, t, "(token)")
	}
	return secrets.ReplaceAllString(s, "$1$2…")
}

// fault is what went wrong with a call, told without a secret. The library's own error can't
// be got out of it: it may hold one.
type fault struct {
	code string // Slack's word for it; "": none
	text string
	is   error // what it counts as: a context's end; nil: nothing
}

func (f *fault) Error() string { return f.text }
func (f *fault) Unwrap() error { return f.is }

// clean is an error of the library without a secret in it.
func (c *Chat) clean(err error) error {
	if err == nil {
		return nil
	}
	f := &fault{text: "slack: " + c.scrub(err.Error())}
	for _, end := range []error{context.Canceled, context.DeadlineExceeded, errBare} {
		if errors.Is(err, end) {
			f.is = end
		}
	}
	var said slack.SlackErrorResponse
	if errors.As(err, &said) {
		f.code = said.Err
		if said.Needed != "" {
			f.text += " (needed: " + c.scrub(said.Needed) + ")"
		}
		if m := said.ResponseMetadata.Messages; len(m) > 0 {
			f.text += ": " + c.scrub(strings.Join(m, "; "))
		}
	}
	return f
}

// codeOf is Slack's word for what went wrong; "" where it said none.
func codeOf(err error) string {
	var f *fault
	if errors.As(err, &f) {
		return f.code
	}
	return ""
}

// lost says what to do about a token or an app that Slack takes no more. No new try mends it.
var lost = map[string]string{
	"invalid_auth":            "the token is not one of this workspace: copy it anew from the app's page",
	"not_authed":              "no token came through: give it anew",
	"account_inactive":        "the app was taken out of the workspace, or its user is switched off: install it again",
	"token_revoked":           "the token was revoked: install the app again and take the new one",
	"token_expired":           "the token has run out: switch token rotation off and take a new one",
	"missing_scope":           "a right is missing: paste the manifest anew and install the app again; the app token needs connections:write",
	"not_allowed_token_type":  "that is the wrong kind of token: the bot token begins with xoxb-, the app token with xapp-",
	"no_permission":           "the workspace does not let the app do this: ask its admin",
	"org_login_required":      "the workspace is being moved: ask its admin",
	"ekm_access_denied":       "the workspace's admin has closed it",
	"team_access_not_granted": "the app is not approved for this workspace: ask its admin",
	"app_not_found":           "the app is gone: make it anew with the manifest",
}

// lostFor tells whether an error ends the chat for good, and words it with the next step.
func lostFor(err error, what string) error {
	next, ok := lost[codeOf(err)]
	if !ok {
		return nil
	}
	return fmt.Errorf("slack refuses %s (%w): %s; then  salthand slack check", what, err, next)
}

// refused are the answers to a post that no new try mends, though the bot is well: the
// channel is gone, or the bot may not post there.
var refused = []string{
	"channel_not_found", "not_in_channel", "is_archived", "restricted_action", "restricted_action_read_only_channel",
	"restricted_action_thread_only_channel", "restricted_action_non_threadable_channel", "restricted_action_thread_locked",
	"cannot_reply_to_message", "thread_not_found", "message_limit_exceeded", "user_not_found", "user_disabled", "is_inactive", "cannot_dm_bot",
	"messages_tab_disabled", "as_user_not_supported",
	"team_not_found",
}

// isRefused reports whether a post is refused for good.
func isRefused(err error) bool { return slices.Contains(refused, codeOf(err)) }

// gone are the answers to an update of a message that stands no more, or can't be changed any
// more: its card is posted anew.
var gone = []string{"message_not_found", "cant_update_message", "edit_window_closed"}

// badShape are the answers to blocks that Slack does not take: the text alone still says it all.
var badShape = []string{"invalid_blocks", "invalid_blocks_format", "msg_blocks_too_long", "msg_too_long", "too_many_attachments", "block_mismatch"}

// passing are Slack's words for trouble of its own, which a new try may mend.
var passing = []string{"internal_error", "fatal_error", "service_unavailable", "request_timeout", "ratelimited", "rate_limited", "accesslimited", "team_added_to_org"}

// mayPass reports whether a new try may mend what went wrong, with the same tokens or others.
func mayPass(err error) bool {
	code := codeOf(err)
	return code == "" || slices.Contains(passing, code) || lost[code] != "" && code != "missing_scope"
}
