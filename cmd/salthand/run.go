package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/user"
	"path/filepath"
	"strings"
	"time"
	_ "time/tzdata" // a bare machine has no time zones

	"github.com/alecthomas/kong"
	"golang.org/x/term"

	"salthand/cure"
)

// world is everything outside the program that run touches.
type world struct {
	in       io.Reader
	out, err io.Writer
	terminal bool   // in and out are a person's terminal
	width    int    // columns of the terminal; 0: out is none
	login    string // who sits there, by the operating system
	data     string // folder for what is kept
	config   string // folder for what is set up
	env      func(name string) string
	zone     string // IANA name of the local time zone
	now      func() time.Time
}

// narrowest is the least width that cards are laid out for.
const narrowest = 40

// here is the world that the program was started in.
func here() world {
	w := world{in: os.Stdin, out: os.Stdout, err: os.Stderr, now: time.Now, zone: localZone(), env: os.Getenv,
		terminal: term.IsTerminal(int(os.Stdin.Fd())) && term.IsTerminal(int(os.Stdout.Fd()))}
	if columns, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil {
		w.width = max(columns, narrowest)
	}
	if u, err := user.Current(); err == nil {
		w.login = u.Username
	}
	if dir, err := os.UserConfigDir(); err == nil {
		w.config = dir
	}
	w.data = os.Getenv("XDG_DATA_HOME")
	if home, err := os.UserHomeDir(); w.data == "" && err == nil {
		w.data = filepath.Join(home, ".local", "share")
	}
	return w
}

// localZone is the IANA name of the time zone that this computer keeps, or UTC.
func localZone() string {
	name := os.Getenv("TZ")
	if link, err := os.Readlink("/etc/localtime"); name == "" && err == nil {
		_, name, _ = strings.Cut(link, "zoneinfo/")
	}
	if _, err := time.LoadLocation(name); name == "" || err != nil {
		return "UTC"
	}
	return name
}

// commands are the command line.
type commands struct {
	Chat   chatCommand   `cmd:"" default:"withargs" help:"Chat at the terminal (the default). Piped input is played as a conversation script."`
	Serve  serveCommand  `cmd:"" help:"Serve the kitchen's team chat: Slack, by the tokens in the environment or in a file that only you can read."`
	Slack  slackCommand  `cmd:"" help:"Set the Slack app up."`
	Ask    askCommand    `cmd:"" help:"Answer one phrase, without a chat and without a store."`
	Verify verifyCommand `cmd:"" help:"Fold every record anew from the events and compare."`
}

// statusError is an end with an exit status of its own and nothing more to say.
type statusError int

func (s statusError) Error() string { return fmt.Sprintf("exit status %d", int(s)) }

// status is the exit status that an error of run stands for.
func status(err error) int {
	var s statusError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &s):
		return int(s)
	}
	return 1
}

// run does what the arguments say. What it returns has been told to the user already.
func run(ctx context.Context, args []string, w world) (err error) {
	var c commands
	exited := -1
	parser, err := kong.New(&c, kong.Name("salthand"), kong.Description("Exact curing doses, and the batches of a kitchen."),
		kong.Writers(w.out, w.err), kong.Exit(func(code int) { exited = code }), kong.UsageOnError(),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(w))
	if err != nil {
		return err
	}
	parsed, err := parser.Parse(args)
	if exited >= 0 { // --help
		return nil
	}
	if err == nil {
		err = parsed.Run()
	}
	var s statusError
	if err != nil && !errors.As(err, &s) {
		fmt.Fprintln(w.err, "salthand: "+err.Error())
	}
	return err
}

// regionFlag is a region that there are rules for.
type regionFlag cure.Region

// UnmarshalText takes a region's name.
func (r *regionFlag) UnmarshalText(text []byte) error {
	for _, one := range cure.Regions() {
		if strings.EqualFold(string(one), string(text)) {
			*r = regionFlag(one)
			return nil
		}
	}
	return fmt.Errorf("no region %q: there are %v", text, cure.Regions())
}
