package store

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// oneOfEach has an event of each kind, with every field filled.
var oneOfEach = []Body{
	KitchenOpened{Name: "n", Region: "us", Zone: "UTC", Scratch: true},
	Setting{Key: "region", Old: "us", New: "eu"},
	PersonJoined{ID: "p", Name: "n", Account: "a"},
	RoleGiven{ID: "p", Role: "chef", By: "slack/T1/S1"},
	LanguageChosen{ID: "p", Old: "en", New: "es"},
	Asked{Card: fullCard, Conversation: "c", Place: json.RawMessage(`["a"]`), Lapse: 1},
	Revised{Card: fullCard, Lapse: 1},
	Approved{Revision: 1, WeightMg: 2, CureMg: 3, Jar: "A7", Filling: 1, Strength: "s", Law: "l", Own: true, Why: "w", Lapse: 4},
	Declined{Why: "w"},
	Lapsed{Why: "w"},
	Started{Steps: []Step{{Kind: "turn", Local: "l", Zone: "z", Due: 1}}},
	StepDone{Step: -1, Kind: "turn", State: StateCuring, CoreMilliC: -1},
	StepMoved{Step: 1, To: Step{Kind: "turn", Local: "l", Zone: "z", Due: -1}, Why: "snooze"},
	Reminded{Step: 2},
	Held{Why: "w"},
	Released{Why: "w"},
	Discarded{Why: "w"},
	Corrected{Entry: 3, Old: Noted{Measured{What: "ph", Value: 5200}, 7}, New: Noted{Measured{What: "ph", Value: 5100}, 8}, Void: true, Why: "w"},
	TopUpApproved{WeightMg: 4, AddMg: 5, CureMg: 6, Strength: "s", Law: "l", Own: true, Why: "w"},
	Added{CureMg: 5, Jar: "A7", Filling: 1, Lot: "l", Why: "w"},
	Restarted{CureMg: 5, NitriteMilliPPM: 6, Read: true, Own: true},
	PlaceCorrected{Entry: 3, Place: "walk-in 2", OldMilliC: 9000, NewMilliC: 3000, Unit: "c", Why: "w"},
	NotTaken{What: "turn", Step: 1, Of: 7, DayOnly: true, Over: true, Why: "w"}, PlaceNotRead{Place: "walk-in 2", Of: 7, DayOnly: true, Why: "w"},
	Finished{}, AlarmSet{"approval", 7}, KitchenAlarmSet{"digest", 7},
	JarFilled{Jar: "A7", Filling: 2, Label: fullLabel, Parts: []Part{{FillingOf{"E6", 1}, 5}}, SaltMg: 6},
	JarRead{Jar: "A7", Filling: 2, Own: true}, JarApproved{Jar: "A7", Filling: 2, Own: true},
	JarLabelled{Jar: "A7", Filling: 2, Old: Label{Lot: "x"}, New: fullLabel, Why: "w"},
	JarPhotographed{Jar: "A7", Filling: 2, Old: "o", New: "n"},
	JarWeighed{Jar: "A7", Filling: 2, Mg: 842_000, Batch: 3},
	JarMarked{Jar: "A7", Filling: 2, Old: JarInUse, New: JarEmpty, Why: "w"},
	Weighed{Revision: 1, CureMg: 2, SaltMg: 3, Jar: "A7", Filling: 4, Lot: "2291", Why: "w"},
	Checked{CureMg: 2, Jar: "A7", Filling: 4, Own: true},
	ScaleChecked{Scale: "cure", WeightMg: 100_000, ShownMg: 99_900},
	StepDropped{1, "w"}, ReminderMoved{1, 7, "quiet"}, Acknowledged{1}, Escalated{1, "backup", 7},
	Paused{"w"}, Resumed{7, "w", []Move{{1, Step{"turn", "2026-11-26T09:00", "UTC", 7, 2, 3, 4, true}}}}, Thawed{7, nil}, OwnerSet{"p", "q", "w"}, BackupSet{"p", "q"},
	IngredientLabelled{Ingredient{"n", "l"}, []string{"d"}, true}, IngredientAdded{Ingredient{"n", "l"}},
	AwayNoted{"p", 1, 2}, HandOverOffered{"p", "q", []uint64{1}}, HandOverEnded{"p", true},
}

var fullLabel = Label{AgentKind: "no. 1", NitriteMilliPPM: 62_500_000, NitrateMilliPPM: 1, Known: "bag", Dyed: "dyed", Lot: "2291", Doubt: "d"}

var fullCard = Card{
	Revision: 1, Phrase: "<½ & \u2028>", Cut: "c", Class: "c", Method: "m", Region: "r", WeightMg: 1 << 60, CureMg: -1, SaltMg: 3, Agent: "a", AgentKind: "k", AgentNitriteMilliPPM: 62_500_000, AgentNitrateMilliPPM: 7,
	NitriteMilliPPM: 4, Jar: "j", Filling: 8, Lot: "l", Undyed: true, Hold: true, PlanSeconds: 5, Steps: []PlannedStep{{"turn", 6, 1, 7}}, Answer: json.RawMessage(`{"a":"<½>"}`),
}

func TestEventBytes(t *testing.T) {
	seen := map[string]bool{}
	for _, b := range oneOfEach {
		e := Event{Seq: 7, Kitchen: "k", Batch: 1, Person: "p", Account: "a", Via: "v", Entry: "e", Happened: -1, Noted: 2, Late: true, Body: b}
		data, err := encodeEvent(e)
		if err != nil {
			t.Fatal(err)
		}
		got, err := decodeEvent(7, data)
		if d := cmp.Diff(e, got); d != "" || err != nil {
			t.Errorf("%s: %v (-want +got):\n%s", e.Kind(), err, d)
		}
		if seen[e.Kind()] {
			t.Errorf("two kinds are named %q", e.Kind())
		}
		seen[e.Kind()] = true
	}
}

func TestRecordBytes(t *testing.T) {
	tests := []struct {
		value any
		want  string
	}{
		{question{[]byte{1}}, `J{"v":1,"question":"AQ=="}`},
		{struct{}{}, `J{"v":1}`},
		{posted{PlatformID: "<a>"}, `J{"v":1,"platform_id":"<a>"}`},
	}
	for _, test := range tests {
		if got, err := encode(test.value); string(got) != test.want || err != nil {
			t.Errorf("%+v: %s (%v), want %s", test.value, got, err, test.want)
		}
	}
	if _, err := encode(7); err == nil {
		t.Error("a number is not a record, and was encoded")
	}
	for _, bad := range []string{"", "J", "J{}", `J{"v":0}`, `J{"v":2}`, `J{"v":}`, `J{"v":1`, `J{"v":99999999999999999999}`, `C{"v":1}`, `J{"a":1,"v":1}`, `J{"v":1}x`, `J{"v":1,"question":7}`,
		"D", "Dx", "D\x00\x00", string(deflated([]byte("J" + strings.Repeat(" ", deflateFrom))))} {
		var q question
		if err := decode([]byte(bad), &q); err == nil {
			t.Errorf("%s was read", bad)
		}
	}
}

func TestKeyOrder(t *testing.T) {
	instants := []Milli{-1 << 63, -1, 0, 1, 1 << 40, 1<<63 - 1}
	for i, a := range instants {
		for j, b := range instants {
			if got, want := bytes.Compare(key(nil).time(a), key(nil).time(b)), compare3(i, j); got != want {
				t.Errorf("%d and %d: %d, want %d", a, b, got, want)
			}
		}
		r := keyReader{rest: key(nil).time(a).text("é").num(1 << 63)}
		if at, s, n := r.time(), r.text(), r.num(); at != a || s != "é" || n != 1<<63 || r.bad || len(r.rest) != 0 {
			t.Errorf("%d: read %d %q %d %v", a, at, s, n, r.bad)
		}
	}
}

func compare3(i, j int) int {
	switch {
	case i < j:
		return -1
	case i > j:
		return 1
	}
	return 0
}

// FuzzDecode: bytes of any kind are an error, or a record that is the same once written and
// read again.
func FuzzDecode(f *testing.F) {
	for _, b := range oneOfEach {
		data, err := encodeEvent(Event{Kitchen: "k", Body: b})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte(`J{"v":1,"number":1,"next":-1}`))
	f.Add([]byte(`J{"v":1,"KIND":"held","body":{"WHY":"x"}}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		e, err := decodeEvent(1, data)
		if err == nil {
			again, err := encodeEvent(e)
			if err != nil {
				t.Fatalf("%+v can't be written: %v", e, err)
			}
			e2, err := decodeEvent(1, again)
			if err != nil {
				t.Fatalf("%s can't be read: %v", again, err)
			}
			third, err := encodeEvent(e2)
			if err != nil || !bytes.Equal(again, third) {
				t.Fatalf("%s became %s (%v)", again, third, err)
			}
		}
		var b Batch
		if decode(data, &b) == nil {
			if _, err := encode(b); err != nil {
				t.Fatalf("%+v can't be written: %v", b, err)
			}
		}
	})
}
