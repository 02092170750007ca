package slackchat

import (
	"cmp"
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"time"

	"github.com/slack-go/slack"
)

// Config is how the bot reaches Slack. The tokens are secret: they come into no log and no
// error.
type Config struct {
	// APIURL is where the Web API is, https, or http on loopback; "": Slack's own.
	APIURL   string
	BotToken string       // xoxb-…
	AppToken string       // xapp-…, for the connection
	HTTP     *http.Client // nil: one that waits 15 s for an answer
	Log      *slog.Logger // nil: the default
	// Alarm is told of what somebody should look at though the bot goes on by itself:
	// connections that don't last, messages that were missed. nil: it is only logged.
	Alarm func(error)

	// PostEvery is the shortest time between two posts to a channel; 0: a second.
	PostEvery time.Duration
	// OpenEvery is the shortest time between two openings of a connection; 0: a second. It
	// doubles while connections don't last, up to OpenMost; 0: a minute.
	OpenEvery, OpenMost time.Duration
	// Silent is how long a connection may bring nothing, not even a ping; 0: 30 s.
	Silent time.Duration
	// CheckEvery is how often missed messages are looked for while a connection stands; 0: 10 min.
	CheckEvery time.Duration
	// Remember is how long what Slack told of a person's groups is taken for true; 0: 5 min.
	Remember time.Duration
}

// Chat is the adapter of Slack. Make it with New.
type Chat struct {
	Config
	wire   *wire
	api    *slack.Client
	people *people
	mu     sync.Mutex
	self   *slack.AuthTestResponse // once it is known
}

// New makes the adapter. It calls nobody yet.
func New(cfg Config) (*Chat, error) {
	base, err := apiURL(cfg.APIURL)
	if err != nil {
		return nil, err
	}
	if !strings.HasPrefix(cfg.BotToken, "xoxb-") {
		return nil, errors.New("slack: the bot token must begin with xoxb-: take the Bot User OAuth Token of the app's page OAuth & Permissions")
	}
	if !strings.HasPrefix(cfg.AppToken, "xapp-") {
		return nil, errors.New("slack: the app token must begin with xapp-: make one with connections:write on the app's page Basic Information")
	}
	for of, usual := range map[*time.Duration]time.Duration{
		&cfg.PostEvery: postEvery, &cfg.OpenEvery: time.Second, &cfg.OpenMost: time.Minute,
		&cfg.Silent: 30 * time.Second, &cfg.CheckEvery: 10 * time.Minute, &cfg.Remember: 5 * time.Minute,
	} {
		*of = cmp.Or(*of, usual)
	}
	if cfg.HTTP == nil {
		cfg.HTTP = &http.Client{Timeout: 15 * time.Second}
	}
	if cfg.HTTP.CheckRedirect == nil {
		client := *cfg.HTTP
		client.CheckRedirect = func(_ *http.Request, via []*http.Request) error {
			if strings.HasPrefix(via[0].URL.String(), base) {
				return http.ErrUseLastResponse // a call carries a token in its body, which would go along
			}
			return nil
		}
		cfg.HTTP = &client
	}
	if cfg.Log == nil {
		cfg.Log = slog.Default()
	}
	c := &Chat{Config: cfg}
	c.wire = &wire{http: cfg.HTTP, base: base, every: cfg.OpenEvery, most: cfg.OpenMost, alarm: c.alarm}
	c.api = slack.New(cfg.BotToken, slack.OptionAPIURL(base), slack.OptionAppLevelToken(cfg.AppToken), slack.OptionHTTPClient(c.wire))
	c.people = &people{chat: c, known: map[string]*known{}}
	return c, nil
}

// apiURL is where the Web API is, with the slash at its end. Tokens go there, so that it is
// https, or on this machine.
func apiURL(given string) (string, error) {
	if given == "" {
		return slack.APIURL, nil
	}
	u, err := url.Parse(given)
	if err != nil {
		return "", errors.New("slack: the API URL can't be read") // it may hold a secret
	}
	ip := net.ParseIP(u.Hostname())
	loopback := u.Hostname() == "localhost" || ip != nil && ip.IsLoopback()
	if u.Host == "" || u.User != nil || u.RawQuery != "" || u.Scheme != "https" && !(u.Scheme == "http" && loopback) {
		return "", errors.New("slack: the API URL must be https, or http on this machine (127.0.0.1), without a password or a query")
	}
	return strings.TrimSuffix(u.String(), "/") + "/", nil
}

// Platform is Slack's name.
func (c *Chat) Platform() string { return Platform }

// Pace is the shortest time between two posts to one channel.
func (c *Chat) Pace() time.Duration { return c.PostEvery }

// alarm tells somebody, and the log.
func (c *Chat) alarm(err error) {
	c.Log.Warn("slack needs a look", "err", err)
	if c.Alarm != nil {
		c.Alarm(err)
	}
}

// me is who the bot is, as Slack says.
func (c *Chat) me(ctx context.Context) (*slack.AuthTestResponse, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.self != nil {
		return c.self, nil
	}
	me, err := call(ctx, c, func() (*slack.AuthTestResponse, error) { return c.api.AuthTestContext(ctx) })
	if err != nil {
		return nil, err
	}
	if me.UserID == "" || me.TeamID == "" {
		return nil, errors.New("slack: auth.test does not say who the bot is")
	}
	c.self = me
	return me, nil
}

// String names the chat without its tokens.
func (c *Chat) String() string { return "slack at " + c.wire.base }

// GoString is String, so that no way of printing shows a token.
func (c *Chat) GoString() string { return c.String() }

// String names where Slack is, without the tokens.
func (c Config) String() string { return "slack at " + cmp.Or(c.APIURL, slack.APIURL) }

// GoString is String.
func (c Config) GoString() string { return c.String() }
