package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestTokens(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tokens")
	const secret = "xoxb-1-secret"
	write := func(text string, mode os.FileMode) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
	}
	env := map[string]string{"SALTHAND_TOKENS": path}
	w := world{env: func(name string) string { return env[name] }}

	if got, err := w.tokens(slackBotToken); err != nil || got[slackBotToken] != "" {
		t.Errorf("without a file: %v, %v", got, err)
	}
	write("# of the kitchen\n\nSLACK_BOT_TOKEN = \""+secret+"\"\n", 0o600)
	if got, err := w.tokens(slackBotToken, slackAppToken); err != nil || got[slackBotToken] != secret || got[slackAppToken] != "" {
		t.Errorf("from the file: %v, %v", got, err)
	}
	env[slackBotToken] = " xoxb-2 \n"
	if got, err := w.tokens(slackBotToken); err != nil || got[slackBotToken] != "xoxb-2" {
		t.Errorf("the environment comes first: %v, %v", got, err)
	}
	write(secret+"\n", 0o600)
	if _, err := w.tokens(slackBotToken); err == nil || strings.Contains(err.Error(), secret) || !strings.Contains(err.Error(), "line 1 is not NAME=VALUE") {
		t.Errorf("a line that is no NAME=VALUE: %v", err)
	}
	write("SLACK_BOT_TOKEN="+secret+"\n", 0o640)
	if _, err := w.tokens(slackBotToken); err == nil || strings.Contains(err.Error(), secret) || !strings.Contains(err.Error(), "chmod 600 "+path) {
		t.Errorf("a file that others can read: %v", err)
	}
}
