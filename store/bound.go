package store

import "slices"

// Of where a kitchen is.
type (
	// TeamJoined makes a team of a platform one of the kitchen's. A team has one kitchen, beside
	// those that channels of it are bound to.
	TeamJoined struct {
		Team string `json:"team"` // "slack/T1": the caller's
	}
	// ChannelBound gives one channel to a kitchen, whosever it was.
	ChannelBound struct {
		Channel string `json:"channel"` // the caller's
	}
)

func (TeamJoined) kind() string   { return "team joined" }
func (ChannelBound) kind() string { return "channel bound" }

func (body TeamJoined) fold(b records, _ *Kitchen, e Event) error {
	k := key(nil).text("team").text(body.Team)
	if texts(body.Team) != nil || b.get(bucketBound, k) != nil {
		return misfit(e, "", MisfitKitchen)
	}
	return b.put(bucketBound, k, []byte(e.Kitchen))
}

func (body ChannelBound) fold(b records, _ *Kitchen, e Event) error {
	if texts(body.Channel) != nil {
		return misfit(e, "", MisfitKitchen)
	}
	return b.put(bucketBound, key(nil).text("channel").text(body.Channel), []byte(e.Kitchen))
}

// KitchenAt is the kitchen that a channel is bound to, else the one of its team; "": neither.
func (tx *Tx) KitchenAt(team, channel string) string {
	if id := tx.get(bucketBound, key(nil).text("channel").text(channel)); id != nil {
		return string(id)
	}
	return string(tx.get(bucketBound, key(nil).text("team").text(team)))
}

// KitchenOf is the kitchen of the batches whose conversation this is; "": there are none.
func (tx *Tx) KitchenOf(conversation string) string {
	prefix := key(nil).text(conversation)
	k, _ := tx.seek(bucketThreads, prefix)
	if len(k) < len(prefix) || string(k[:len(prefix)]) != string(prefix) {
		return ""
	}
	r := keyReader{rest: k[len(prefix):]}
	return r.text()
}

// Kitchens gives all kitchens, by when they were opened.
func (tx *Tx) Kitchens() ([]Kitchen, error) {
	var all []Kitchen
	err := tx.scan(bucketKitchens, nil, nil, func(_ key, v []byte) (bool, error) {
		var k Kitchen
		if err := decode(v, &k); err != nil {
			return false, err
		}
		all = append(all, k)
		return true, nil
	})
	slices.SortStableFunc(all, func(a, b Kitchen) int { return int(a.Opened - b.Opened) })
	return all, err
}
