package store

import (
	"slices"
	"testing"
)

// Posts of one channel wait in their own order; a card that moves to another channel leaves
// the first.
func TestChannelsWaitApart(t *testing.T) {
	s := opened(t)
	for _, p := range []Post{
		{Key: "a1", Revision: 1, Channel: "a"}, {Key: "b1", Revision: 1, Channel: "b"},
		{Key: "a2", Revision: 1, Channel: "a"}, {Key: "ab", Revision: 1, Channel: "ab"},
		{Key: "a1", Revision: 2, Channel: "b"}, // moves
	} {
		do(t, s, func(tx *Tx) error { return tx.Queue(p) })
	}
	want := map[string][]string{"a": {"a2"}, "b": {"b1", "a1"}, "ab": {"ab"}}
	see(t, s, func(tx *Tx) error {
		channels, err := tx.UnsentChannels()
		if err != nil {
			return err
		}
		slices.Sort(channels)
		if !slices.Equal(channels, []string{"a", "ab", "b"}) {
			t.Errorf("channels %q", channels)
		}
		for channel, keys := range want {
			posts, err := tx.UnsentIn(channel, 0)
			if err != nil {
				return err
			}
			var got []string
			for _, p := range posts {
				got = append(got, p.Key)
			}
			if !slices.Equal(got, keys) {
				t.Errorf("in %s wait %q, want %q", channel, got, keys)
			}
		}
		first, err := tx.UnsentIn("b", 1)
		if err == nil && (len(first) != 1 || first[0].Key != "b1") {
			t.Errorf("first in b: %v", first)
		}
		return err
	})
}
