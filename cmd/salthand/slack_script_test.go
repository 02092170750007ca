package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"go.uber.org/goleak"
)

// terminalOnly are the conversations that can't be had on Slack, and why.
var terminalOnly = map[string]string{
	"ask":            "no chat: one phrase on the command line",
	"figures":        "no chat: one phrase on the command line",
	"people":         "it names the terminal's accounts, and makes people known by a bare name",
	"kept_store":     "whose login a line was typed at, which Slack has none of",
	"jar_photo":      "files that the terminal may not open",
	"edited":         "a message that is deleted is edited, which Slack lets nobody do",
	"stale_approval": "a button is pressed that stands no more, which the stand-in lets nobody do",
}

// A line of a script that plays a conversation, and the line before that says which.
var (
	talks = regexp.MustCompile(`^exec salthand (--.*)$`)
	given = regexp.MustCompile(`^stdin (\S+)$`)
)

// Every conversation of the terminal is had on Slack too: people of the stand-in type and
// press, the adapter reads and posts, and what then stands in the channel is printed as the
// terminal prints it, so that the script finds all that it looks for.
func TestConversationsOnSlack(t *testing.T) {
	t.Cleanup(func() { goleak.VerifyNone(t) })
	all, err := filepath.Glob("../../testdata/scripts/*.txtar")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	var names []string
	for _, path := range all {
		name := strings.TrimSuffix(filepath.Base(path), ".txtar")
		names = append(names, name)
		if terminalOnly[name] != "" {
			continue
		}
		script, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name+".txtar"), []byte(onSlackInstead(string(script))), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for name := range terminalOnly {
		if !slices.Contains(names, name) {
			t.Errorf("there is no conversation %s to leave out", name)
		}
	}
	testscript.Run(t, testscript.Params{Dir: dir,
		Setup: func(e *testscript.Env) error {
			e.Setenv("TZ", talkZone)
			ws := workspaces{}
			e.Defer(func() {
				if err := ws.close(); err != nil {
					e.T().Log(err)
					e.T().FailNow()
				}
			})
			e.Values["slack"] = ws
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){"status": wantStatus, "field": wantField, "onslack": onSlack},
	})
}

// onSlackInstead has a script's conversations played with the command onslack.
func onSlackInstead(script string) string {
	lines := strings.Split(script, "\n")
	stdin := ""
	for i, line := range lines {
		if strings.HasPrefix(line, "-- ") {
			break
		}
		if m := given.FindStringSubmatch(line); m != nil {
			stdin = m[1]
		}
		if m := talks.FindStringSubmatch(line); m != nil {
			lines[i] = "onslack " + stdin + " " + m[1]
		}
	}
	return strings.Join(lines, "\n")
}

// onSlack plays a conversation: onslack FILE FLAGS…, the flags of salthand chat.
func onSlack(ts *testscript.TestScript, neg bool, args []string) {
	if neg {
		ts.Fatalf("a conversation on Slack is played to its end")
	}
	ts.Check(ts.Value("slack").(workspaces).play(ts, args[0], args[1:]))
}
