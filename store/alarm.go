package store

import "maps"

// An alarm is an instant at which the bot looks again at a batch or a kitchen for a reason of
// its own: a waiting approval, a digest. What that means is the bot's; the store keeps the
// instant in the due list until it is cleared.
type (
	// AlarmSet sets an alarm of a batch, or moves or clears it.
	AlarmSet struct {
		What string `json:"what"`         // "approval"; never the name of another kind of due entry
		At   Milli  `json:"at,omitempty"` // 0: cleared
	}
	// KitchenAlarmSet is the same of a kitchen.
	KitchenAlarmSet struct {
		What string `json:"what"` // "digest"
		At   Milli  `json:"at,omitempty"`
	}
)

func (AlarmSet) kind() string        { return "alarm set" }
func (KitchenAlarmSet) kind() string { return "kitchen alarm set" }

// alarms are instants by what they are for.
type alarms map[string]Milli

// with is a copy in which one is set anew, or cleared.
func (a alarms) with(what string, at Milli) alarms {
	a = maps.Clone(a)
	if at == 0 {
		delete(a, what)
		return a
	}
	if a == nil {
		a = alarms{}
	}
	a[what] = at
	return a
}

// keys are the entries of alarms in the due list.
func (a alarms) keys(kitchen string, batch uint64) []derived {
	var d []derived
	for what, at := range a {
		d = append(d, dueKeys(kitchen, batch, at, key(nil).num(noStep).text(what), dueAlarm, what)...)
	}
	return d
}

func (a AlarmSet) apply(b *Batch, e Event) error {
	if err := texts(a.What); err != nil {
		return err
	}
	b.Alarms = b.Alarms.with(a.What, a.At)
	return nil
}

func (a KitchenAlarmSet) fold(_ records, k *Kitchen, _ Event) error {
	if err := texts(a.What); err != nil {
		return err
	}
	k.Alarms = k.Alarms.with(a.What, a.At)
	return nil
}
