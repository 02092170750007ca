package paper

import (
	"strings"
	"testing"
)

// A text keeps all of its letters in a room of no width.
func TestWrapWithoutRoom(t *testing.T) {
	lines := style{size: 10}.wrap("salt box", -5)
	if got := strings.Join(lines, ""); got != "saltbox" {
		t.Errorf("got %q", got)
	}
}
