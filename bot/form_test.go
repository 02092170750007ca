package bot

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// press is a button pressed on a batch's dose card.
func (k *kitchen) press(who string, a Action, n uint64, revision uint32, thread string) Reply {
	k.t.Helper()
	m := k.message(who, "", thread)
	m.What, m.Press = Pressed, &Press{Action: a, Batch: n, Revision: revision}
	r, err := k.Receive(k.t.Context(), m)
	if err != nil {
		k.t.Fatal(err)
	}
	k.settle()
	return r
}

// fillIn sends a form that was filled in.
func (k *kitchen) fillIn(who string, f *Form, thread string, fields map[string]string) Reply {
	k.t.Helper()
	if f == nil {
		k.t.Fatal("no form was opened")
	}
	m := k.message(who, "", thread)
	m.What, m.Press, m.Fields = Filled, &f.Press, fields
	r, err := k.Receive(k.t.Context(), m)
	if err != nil {
		k.t.Fatal(err)
	}
	k.settle()
	return r
}

func fieldNames(f *Form) (all []string) {
	for _, one := range f.Fields {
		all = append(all, one.Name)
	}
	return all
}

// Buttons that need words open a form, and what is filled in does what the typed line would.
func TestForms(t *testing.T) {
	k := openKitchen(t)
	k.say("ana", "jar A7 is no 1, 6.25% nitrite, lot 2291", "")
	k.say("ana", "weighing on", "")
	ask := k.say("ana", "3.2 kg belly, dry rub, 7 days, jar A7", "")
	newest := func(want string) {
		t.Helper()
		if c := k.table.last(); !strings.Contains(c.Title+strings.Join(c.Lines, " "), want) {
			t.Errorf("the newest card says %q %q, want %q in it", c.Title, c.Lines, want)
		}
	}

	r := k.press("cleo", DoDecline, 1, 1, ask.ID)
	if r.Form != nil {
		t.Error("a cook was given the form to decline")
	}
	newest("cleo is not a chef here")

	r = k.press("cleo", DoChange, 1, 1, ask.ID)
	if r.Form == nil || r.Form.Fields[0].Value != "3.2 kg pork belly, dry rub, 7 days, jar A7" {
		t.Fatalf("change opens %+v", r.Form)
	}
	if w := k.fillIn("cleo", r.Form, ask.ID, map[string]string{"phrase": "3.2 kg"}).Wrong; w["phrase"] == "" {
		t.Error("half a phrase was taken")
	}
	k.fillIn("cleo", r.Form, ask.ID, map[string]string{"phrase": "3.4 kg belly, dry rub, 7 days, jar A7"})
	if c := k.table.last(); c.Kind != DoseCard || c.Title != "3.4 kg pork belly, dry rub, 7 days, jar A7" {
		t.Fatalf("a changed phrase is answered with %q %q", c.Kind, c.Title)
	}
	if r = k.press("cleo", DoChange, 1, 1, ask.ID); r.Form != nil {
		t.Error("a replaced card still opens the form of its phrase")
	}

	k.press("ben", DoApprove, 1, 2, ask.ID)
	r = k.press("dani", DoWeigh, 1, 2, ask.ID)
	if want := []string{"cure", "jar", "salt", "before", "after", "why"}; r.Form == nil || !slices.Equal(fieldNames(r.Form), want) {
		t.Fatalf("weigh in opens %+v, want the fields %v", r.Form, want)
	}
	for _, f := range r.Form.Fields {
		if f.Value != "" {
			t.Errorf("the field %s is filled with %q: it is what the scale shows that counts", f.Name, f.Value)
		}
	}
	for _, wrong := range []map[string]string{
		{"cure": "8.5 cure, jar B2", "salt": "77", "jar": "A7"},
		{"cure": "8.5", "salt": "lots", "jar": "A7"},
		{"cure": "8.5", "salt": "77", "jar": "A7: typed"},
		{"cure": "8.5\n9", "salt": "77", "jar": "A7"},
	} {
		if w := k.fillIn("dani", r.Form, ask.ID, wrong).Wrong; len(w) != 1 {
			t.Errorf("%v: wrong are %v, want one field", wrong, w)
		}
	}
	k.fillIn("dani", r.Form, ask.ID, map[string]string{"cure": "8.5 g", "salt": "77.1", "jar": "A7", "before": "842.0", "after": "833.5"})
	newest("weighed 8.5 g cure from jar A7")

	r = k.press("cleo", DoHold, 1, 2, ask.ID)
	k.fillIn("dani", r.Form, ask.ID, map[string]string{"why": "bag leaks\nagain"})
	newest("bag leaks again")
	k.wait(time.Minute)
}

// A choice of a question is a button too, good as long as that question is open.
func TestPick(t *testing.T) {
	k := openKitchen(t)
	ask := k.say("ana", "1.250 g belly, dry rub, 7 days", "")
	q := k.table.last()
	if q.Kind != QuestionCard || len(q.Buttons) != len(q.Choices) || q.Buttons[1].Press.Action != DoPick {
		t.Fatalf("the question offers %+v for %q", q.Buttons, q.Choices)
	}
	pick := func(who string, p Press) Card {
		t.Helper()
		m := k.message(who, "", ask.ID)
		m.What, m.Press = Pressed, &p
		k.deliver(m)
		return k.table.last()
	}
	wrong := q.Buttons[1].Press
	wrong.Ask = "another"
	if c := pick("ana", wrong); !strings.Contains(c.Title, "not open any more") {
		t.Errorf("a button of another question is answered with %q", c.Title)
	}
	if c := pick("ana", q.Buttons[1].Press); c.Kind != DoseCard || c.Title != "1.25 kg pork belly, dry rub, 7 days" {
		t.Errorf("%q is answered with %q %q", q.Buttons[1].Label, c.Kind, c.Title)
	}
	if c := pick("ben", q.Buttons[0].Press); !strings.Contains(c.Title, "not open any more") {
		t.Errorf("once it is answered, a button gets %q", c.Title)
	}
}
