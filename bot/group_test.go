package bot

import (
	"strings"
	"testing"
)

// A group of the platform gives a role as long as one is in it, judged anew at every message.
func TestGroupRole(t *testing.T) {
	k := openKitchen(t)
	pass := Account{Platform: "table", Team: "t", User: "S1", Group: true}
	say := func(who, line string, told bool, groups ...string) Card {
		t.Helper()
		m := k.message(who, line, "")
		m.Mentioned, m.GroupsTold, m.Groups = true, told, groups
		m.Mentions = map[string]Account{"pass": pass}
		k.deliver(m)
		return k.table.last()
	}
	roles := func(who, want string) {
		t.Helper()
		c := say("ana", "people", false)
		for _, line := range c.Lines {
			if strings.HasPrefix(line, who+": ") && !strings.HasPrefix(line, who+": "+want+",") {
				t.Errorf("the list says %q, want %s to be %s", line, who, want)
			}
		}
	}
	say("noor", "chef @pass", true, "S1")
	roles("noor", "plain cook") // only a chef gives roles
	if c := say("ana", "chef @pass", true); !strings.Contains(c.Title, "Whoever is in @pass is chef here") {
		t.Fatalf("chef @pass is answered with %q", c.Title)
	}
	say("noor", "due", true, "S9", "S1")
	roles("noor", "chef")
	if c := say("ana", "people", false); c.Lines[len(c.Lines)-1] != "whoever is in @pass: chef" {
		t.Errorf("the list of people ends with %q", c.Lines[len(c.Lines)-1])
	}
	say("ana", exampleDose, true)
	say("noor", "batch 1: approve", false) // the platform did not tell: what was known stands
	if c := k.shownAs("1/batch/1/dose/1"); !strings.Contains(c.Status[0], "approved by noor") {
		t.Errorf("the card says %q", c.Status)
	}
	say("noor", "due", true)
	roles("noor", "plain cook")
	say("ana", exampleDose, true)
	if c := say("noor", "batch 2: approve", true); !strings.Contains(c.Title, "not a chef") {
		t.Errorf("out of the group, noor's approval is answered with %q", c.Title)
	}
	say("noor", "due", true, "S1")
	say("ana", "chef noor", true)
	say("noor", "due", true) // given by name, it stays
	roles("noor", "chef")
	say("ana", "no longer chef @pass", true)
	say("cleo", "due", true, "S1")
	roles("cleo", "plain cook")
}
