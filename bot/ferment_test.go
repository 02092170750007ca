package bot

import (
	"context"
	"testing"
	"time"

	"salthand/store"
)

// fermenting is a batch in a chamber at 24 °C (75.2 °F), where a US sausage may stay
// (1200 °F·h) / (75.2 − 60 °F) = 78.9 h without pH 5.3: AMI good manufacturing practices 1997.
func fermenting(t *testing.T) (k *kitchen, thread string) {
	t.Helper()
	k = openKitchen(t)
	thread = k.started()
	b := k.batch(1)
	err := k.Store.Update(context.Background(), func(tx *store.Tx) error {
		_, err := tx.Append(store.Event{Kitchen: homeKitchen, Batch: 1, Person: b.AskedBy, Happened: b.StartedAt, Noted: b.StartedAt,
			Body: store.StepDone{Step: -1, Kind: "ferment", State: store.StateFermenting}})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	k.say("ana", "place chamber 1", "")
	k.say("ana", "in chamber 1", thread)
	k.say("ana", "chamber 1 24 c", "")
	return k, thread
}

// A batch without a pH in time is held by the bot itself, once.
func TestNoPHInTime(t *testing.T) {
	k, _ := fermenting(t)
	k.wait(78 * time.Hour)
	if b := k.batch(1); b.Held() {
		t.Fatalf("held before its time: %v", b.Holds)
	}
	k.wait(2 * time.Hour)
	b := k.batch(1)
	if len(b.Holds) != 1 || b.Holds[0].By != "" || b.Alarms[degreeHours] != 0 {
		t.Fatalf("holds %v, alarms %v", b.Holds, b.Alarms)
	}
	k.wantTitle("HOLD on batch 1: degree-hours over before pH 5.3")
	k.say("ana", "chamber 1 24 c", "")
	if b := k.batch(1); len(b.Holds) != 1 {
		t.Errorf("held twice: %v", b.Holds)
	}
}

// A pH of 5.3 in time ends the count.
func TestPHInTime(t *testing.T) {
	k, thread := fermenting(t)
	k.wait(40 * time.Hour)
	k.say("mira", "ph 5.6 at 24 c", thread)
	k.wantTitle("Batch 1: pH 5.6")
	k.wait(20 * time.Hour)
	k.say("mira", "ph 5.2 at 24 c", thread)
	k.wait(100 * time.Hour)
	if b := k.batch(1); b.Held() || b.Alarms[degreeHours] != 0 {
		t.Errorf("holds %v, alarms %v", b.Holds, b.Alarms)
	}
}
