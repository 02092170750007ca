package store

// pageShown is how far a list was shown in a conversation. It is not folded from events.
type pageShown struct {
	Page []byte `json:"page"`
}

// Shown gives what KeepShown kept of a conversation for one person, or for anybody where person
// is ""; false: nothing.
func (tx *Tx) Shown(conversation, person string) ([]byte, bool, error) {
	s, ok, err := load[pageShown](tx, bucketShown, pair(conversation, person))
	return s.Page, ok, err
}

// KeepShown keeps how far a list was shown in place of what was kept before; nil forgets it.
func (tx *Tx) KeepShown(conversation, person string, page []byte) error {
	if err := texts(conversation); err != nil {
		return err
	}
	k := pair(conversation, person)
	if page != nil {
		return save(tx, bucketShown, k, pageShown{page})
	}
	if tx.get(bucketShown, k) == nil {
		return nil
	}
	return tx.del(bucketShown, k)
}
