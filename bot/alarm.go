package bot

import "salthand/store"

// alarmsOf are what the bot does when an alarm of a batch falls due, by what it is for. It was
// cleared just before: one that is to come again is set again.
var alarmsOf = map[string]func(t *turn, b store.Batch) error{
	alarmApproval: (*turn).approvalDue,
	alarmPassedOn: (*turn).approvalPassedOn,
	degreeHours:   (*turn).watchFermentation,
}

// kitchenAlarms are the same of a kitchen.
var kitchenAlarms = map[string]func(t *turn) error{alarmDigest: (*turn).morning}

// alarm clears an alarm that has fallen due and does what it is for. One that was moved
// since, or whose batch has ended, is none any more.
func (t *turn) alarm(b store.Batch, d store.DueEntry) error {
	if !b.Open() || b.Alarms[d.What] != d.At {
		return nil
	}
	if err := t.appendOwn(b.Number, store.AlarmSet{What: d.What}); err != nil {
		return err
	}
	if do := alarmsOf[d.What]; do != nil {
		return do(t, b)
	}
	return nil
}

// kitchenAlarm does the same for an alarm of the kitchen.
func (t *turn) kitchenAlarm(d store.DueEntry) error {
	if t.kitchen.Alarms[d.What] != d.At {
		return nil
	}
	if err := t.appendOwn(0, store.KitchenAlarmSet{What: d.What}); err != nil {
		return err
	}
	if do := kitchenAlarms[d.What]; do != nil {
		return do(t)
	}
	return nil
}
