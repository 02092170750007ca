package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"salthand/bot"
	"salthand/bot/console"
	"salthand/bot/fakechat"
	"salthand/bot/paper"
	"salthand/bot/slackchat"
	"salthand/cure"
	"salthand/store"
)

// workspace is a stand-in of Slack that outlives the bot, with the clock of a script.
type workspace struct {
	slack  *fakechat.Slack
	http   *http.Transport
	cure   string
	people map[string]string // user ids by name
	mu     sync.Mutex
	now    time.Time
}

func newWorkspace() (w *workspace, err error) {
	w = &workspace{people: map[string]string{}, http: &http.Transport{}, now: talkDay().Add(scriptStart)}
	if w.slack, err = fakechat.StartSlack(fakechat.SlackSettings{Now: w.clock}); err != nil {
		return nil, err
	}
	w.cure = w.slack.AddChannel(fakechat.SlackChannel{Name: "cure", Members: []string{fakechat.SlackBot}})
	return w, nil
}

func (w *workspace) close() (errs []error) {
	for _, p := range complaints(w.slack) {
		errs = append(errs, fmt.Errorf("the platform complains: %+v", p))
	}
	w.http.CloseIdleConnections()
	return append(errs, w.slack.Close())
}

func (w *workspace) clock() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.now
}

// moveTo moves the clock forward, never back.
func (w *workspace) moveTo(t time.Time) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if t.After(w.now) {
		w.now = t
	}
}

// person is the user of a name, who is in the cure channel.
func (w *workspace) person(name string) string {
	key := strings.ToLower(name)
	if w.people[key] == "" {
		w.people[key] = w.slack.AddPerson(fakechat.SlackPerson{Name: name})
		w.slack.Join(w.people[key], w.cure)
	}
	return w.people[key]
}

func account(user string) bot.Account {
	return bot.Account{Platform: slackchat.Platform, Team: fakechat.SlackTeam, User: user}
}

// talk is one conversation with the bot.
type talk struct {
	*workspace
	bot    *bot.Bot
	chat   *printed
	out    io.Writer
	folder string
	lastOf map[string]string // ts of what each user said last
	last   string            // ts of the last message
	group  bool
}

// workspaces are those of one script, by the store of the bot in them.
type workspaces map[string]*workspace

func (ws workspaces) close() (err error) {
	for _, w := range ws {
		err = errors.Join(append(w.close(), err)...)
	}
	return err
}

// play plays a conversation in a bot of its own: on the workspace that the store was used in
// before, else on a new one.
func (ws workspaces) play(ts *testscript.TestScript, script string, args []string) (err error) {
	flags := flag.NewFlagSet("onslack", flag.ContinueOnError)
	scratch := flags.Bool("scratch", false, "")
	path := flags.String("store", fmt.Sprintf("on-slack-%d.db", len(ws)), "")
	region := flags.String("region", "us", "")
	papers := flags.String("papers", "papers", "")
	var chefs []string
	flags.Func("chef", "", func(name string) error { chefs = append(chefs, name); return nil })
	if err := flags.Parse(args); err != nil {
		return err
	}
	w := ws[*path]
	if w == nil {
		if w, err = newWorkspace(); err != nil {
			return err
		}
		ws[*path] = w
	}
	setup := bot.Setup{Name: "kitchen", Region: cure.Region(*region), Zone: talkZone, Scratch: *scratch,
		Cure: bot.Place{Platform: slackchat.Platform, Team: fakechat.SlackTeam, Channel: w.cure}}
	for _, name := range chefs {
		setup.Chefs = append(setup.Chefs, bot.Chef{Name: name, Account: account(w.person(name))})
	}
	s, err := store.Open(ts.MkAbs(*path), store.Options{Scratch: *scratch})
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	log := slog.New(slog.NewTextHandler(ts.Stderr(), &slog.HandlerOptions{Level: slog.LevelWarn}))
	chat, err := slackchat.New(slackchat.Config{APIURL: w.slack.APIURL(), BotToken: w.slack.BotToken(), AppToken: w.slack.AppToken(),
		HTTP: &http.Client{Transport: w.http, Timeout: 15 * time.Second}, Log: log, PostEvery: time.Nanosecond, OpenEvery: time.Millisecond})
	if err != nil {
		return err
	}
	t := &talk{workspace: w, out: ts.Stdout(), folder: ts.MkAbs("."), lastOf: map[string]string{},
		chat: &printed{Chat: chat, slack: w.slack, screen: &console.Console{Out: ts.Stdout(), Papers: ts.MkAbs(*papers)}, buttons: map[bot.Press]standing{}, asked: map[string]bool{}, open: map[string]bool{}}}
	t.bot = bot.New(s, log, t.chat)
	t.bot.Now, t.bot.Drawer, t.bot.Photos = w.clock, paper.Pen{}, photosOf(ts.MkAbs(*path))
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute)
	if err := t.bot.Open(ctx, setup); err != nil {
		cancel()
		return err
	}
	if err := t.bot.Start(ctx); err != nil {
		cancel()
		return err
	}
	ran := make(chan error, 1)
	go func() { ran <- chat.Run(ctx, t.bot) }()
	defer func() {
		cancel()
		if e := <-ran; !errors.Is(e, context.Canceled) {
			err = errors.Join(err, e)
		}
		t.bot.Wait()
	}()
	if err := w.slack.Until(ctx, func() bool { return w.slack.Sockets() > 0 }); err != nil {
		return err
	}
	for n, line := range strings.Split(ts.ReadFile(script), "\n") {
		if line = strings.TrimSpace(line); line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if err := t.line(ctx, line); err != nil {
			return fmt.Errorf("line %d of the conversation: %s: %w", n+1, line, err)
		}
	}
	return nil
}

// The lines of a conversation, as console.Script has them.
var (
	saidLine  = regexp.MustCompile(`^([\pL][\pL\pN_-]*)(?: in ([0-9]+))?(?: sends ([^:]+))?:\s*(.*)$`)
	pressLine = regexp.MustCompile(`^([\pL][\pL\pN_-]*) presses ([a-z]+) on ([0-9]+)\.([0-9]+)$`)
	editLine  = regexp.MustCompile(`^([\pL][\pL\pN_-]*) (edits|deletes) ([0-9]+|last)(?::\s*(.*))?$`)
	waitLine  = regexp.MustCompile(`^(wait|away) ([0-9]+(?:\.[0-9]+)?) ?(s|min|h|d|w)$`)
	approves  = regexp.MustCompile(`^([\pL][\pL\pN_-]*) in ([0-9]+): approve$`)
	unit      = map[string]time.Duration{"s": time.Second, "min": time.Minute, "h": time.Hour, "d": 24 * time.Hour, "w": 7 * 24 * time.Hour}
)

// line does what a line says, and waits until all is answered.
func (t *talk) line(ctx context.Context, line string) error {
	fmt.Fprintln(t.out, "> "+line)
	if m := waitLine.FindStringSubmatch(line); m != nil {
		return t.wait(ctx, m[1] == "away", m[2], m[3])
	}
	t.moveTo(t.clock().Add(time.Second))
	var err error
	switch {
	case line == "together":
		t.group = true
	case line == "end":
		t.group = false
	case line == "again":
		t.again()
	case pressLine.MatchString(line):
		m := pressLine.FindStringSubmatch(line)
		err = t.press(m[1], m[2], m[3], m[4])
	case approves.MatchString(line):
		m := approves.FindStringSubmatch(line)
		err = t.approve(m[1], m[2])
	case editLine.MatchString(line):
		m := editLine.FindStringSubmatch(line)
		err = t.edit(m[1], m[2] == "deletes", m[3], m[4])
	case saidLine.MatchString(line):
		m := saidLine.FindStringSubmatch(line)
		err = t.say(m[1], m[2], strings.TrimSpace(m[3]), m[4])
	default:
		err = errors.New("no line of a conversation")
	}
	if err != nil || t.group {
		return err
	}
	return t.settle(ctx)
}

// settle waits until all that was said is acknowledged and answered.
func (t *talk) settle(ctx context.Context) error {
	if err := t.slack.Until(ctx, func() bool { return t.slack.Pending() == 0 }); err != nil {
		return err
	}
	if err := t.bot.Settle(ctx); err != nil {
		return err
	}
	return t.chat.settled()
}

var atName = regexp.MustCompile(`@([\pL][\pL\pN_-]*)`)

func (t *talk) say(name, batch, file, text string) error {
	user := t.person(name)
	for _, m := range atName.FindAllStringSubmatch(text, -1) {
		if m[1] != fakechat.SlackBotName {
			t.person(m[1])
		}
	}
	thread := ""
	if batch != "" {
		var err error
		if thread, err = t.threadOf(batch); err != nil {
			return err
		}
	}
	if file == "" {
		t.last = t.slack.Say(user, t.cure, thread, text)
	} else {
		data, err := os.ReadFile(filepath.Join(t.folder, file))
		if err != nil {
			return err
		}
		t.last = t.slack.Share(user, t.cure, thread, text, fakechat.SlackFile{Name: filepath.Base(file), Bytes: data})
	}
	t.lastOf[user] = t.last
	if thread == "" {
		thread = t.last
	}
	t.chat.expect(thread)
	return nil
}

// threadOf is the thread of a batch.
func (t *talk) threadOf(batch string) (string, error) {
	n, err := strconv.ParseUint(batch, 10, 64)
	if err != nil {
		return "", err
	}
	at, ok, err := t.bot.ThreadOf(bot.Place{Platform: slackchat.Platform, Team: fakechat.SlackTeam, Channel: t.cure}, n)
	if err == nil && !ok {
		err = fmt.Errorf("there is no batch %d", n)
	}
	return at.Thread, err
}

// approve presses the button of the dose card where there is one, and types it where not.
func (t *talk) approve(name, batch string) error {
	n, err := strconv.ParseUint(batch, 10, 64)
	if err != nil {
		return err
	}
	if at, ok := t.chat.newest(bot.DoApprove, n); ok {
		return t.slack.Press(t.person(name), t.cure, at.ts, at.label)
	}
	return t.say(name, batch, "", "approve")
}

func (t *talk) press(name, action, batch, revision string) error {
	n, err := strconv.ParseUint(batch, 10, 64)
	if err != nil {
		return err
	}
	r, err := strconv.ParseUint(revision, 10, 32)
	if err != nil {
		return err
	}
	at, ok := t.chat.button(bot.Press{Action: bot.Action(action), Batch: n, Revision: uint32(r)})
	if !ok {
		return errors.New("no such button was ever posted")
	}
	return t.slack.Press(t.person(name), t.cure, at.ts, at.label)
}

func (t *talk) edit(name string, deletes bool, of, text string) error {
	ts, ok := t.lastOf[t.person(name)]
	if of != "last" {
		var err error
		if ts, err = t.threadOf(of); err != nil {
			return err
		}
	} else if !ok {
		return fmt.Errorf("%s has said nothing yet", name)
	}
	if p, ok := t.slack.Post(t.cure, ts); !ok || p.Deleted || p.User != t.person(name) {
		return fmt.Errorf("nobody else's message, and none that is gone, can be changed")
	}
	if deletes {
		t.slack.Delete(t.cure, ts)
	} else {
		t.slack.Edit(t.cure, ts, text)
	}
	return nil
}

// again has the last message delivered once more.
func (t *talk) again() {
	all := t.slack.Deliveries()
	for i := len(all) - 1; i >= 0; i-- {
		if strings.Contains(string(all[i].Payload), `"ts":"`+t.last+`"`) {
			t.slack.Repeat(all[i])
			return
		}
	}
}

// wait moves the clock from one due moment to the next; where the bot is away, at once.
func (t *talk) wait(ctx context.Context, away bool, count, of string) error {
	n, err := strconv.ParseFloat(count, 64)
	if err != nil {
		return err
	}
	until := t.clock().Add(time.Duration(n * float64(unit[of])))
	for !away {
		next, ok, err := t.bot.NextDue()
		if err != nil {
			return err
		}
		if !ok || next.After(until) {
			break
		}
		t.moveTo(next)
		if err := t.settle(ctx); err != nil {
			return err
		}
	}
	t.moveTo(until)
	return t.settle(ctx)
}
