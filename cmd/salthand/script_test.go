package main

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"os/signal"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// The conversations run the real run, in a process of its own, with a login that a script
// may choose, and a clock that is some time ahead.
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"salthand": func() {
		w := here()
		if login := os.Getenv("LOGIN"); login != "" {
			w.login = login
		}
		if ahead, err := time.ParseDuration(os.Getenv("AHEAD")); err == nil {
			w.now = func() time.Time { return time.Now().Add(ahead) }
		}
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		err := run(ctx, os.Args[1:], w)
		stop()
		os.Exit(status(err))
	}, "hurried": serveHurried})
}

// talkZone is the time zone that conversations are had in.
const talkZone = "Europe/Paris"

// talkDay is the beginning of the day that conversations are had on, whatever day it is: their
// cards name days of the week.
func talkDay() time.Time {
	zone, err := time.LoadLocation(talkZone)
	if err != nil {
		panic(err)
	}
	return time.Date(2026, time.November, 25, 0, 0, 0, 0, zone)
}

// Every conversation in testdata/scripts.
//
//	status N COMMAND…     runs it, and wants that exit status
//	field PATH WANT [TOL] wants a field of the JSON object that was printed last
func TestConversations(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/scripts",
		Setup: func(e *testscript.Env) error {
			e.Setenv("TZ", talkZone)
			e.Setenv("AHEAD", time.Until(talkDay().Add(12*time.Hour)).String())
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"status": wantStatus, "field": wantField},
	})
}

func wantStatus(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want || neg {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}

func wantField(ts *testscript.TestScript, neg bool, args []string) {
	var at any
	ts.Check(json.Unmarshal([]byte(ts.ReadFile("stdout")), &at))
	for _, name := range strings.Split(args[0], ".") {
		switch in := at.(type) {
		case map[string]any:
			at = in[name]
		case []any:
			i, err := strconv.Atoi(name)
			ts.Check(err)
			if i >= len(in) {
				ts.Fatalf("%s: only %d there", args[0], len(in))
			}
			at = in[i]
		default:
			ts.Fatalf("%s: nothing under %s", args[0], name)
		}
	}
	ok := false
	switch got := at.(type) {
	case string:
		ok = got == args[1]
	case bool:
		ok = strconv.FormatBool(got) == args[1]
	case float64:
		want, err := strconv.ParseFloat(args[1], 64)
		ts.Check(err)
		tolerance := 1e-9
		if len(args) > 2 {
			tolerance, err = strconv.ParseFloat(args[2], 64)
			ts.Check(err)
		}
		ok = math.Abs(got-want) <= tolerance
	}
	if ok == neg {
		ts.Fatalf("%s is %v, want %s", args[0], at, args[1])
	}
}
