package bot

import (
	"encoding/json"
	"fmt"
	"time"

	"salthand/store"
)

// Terminal is the platform of the terminal chat.
const Terminal = "terminal"

// ThreadOf is the place where a batch is talked about, of the kitchen that a place is of.
func (b *Bot) ThreadOf(of Place, n uint64) (at Place, ok bool, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		k, _, err := kitchenOf(tx, Message{Place: of})
		if err != nil {
			return err
		}
		var batch store.Batch
		if batch, ok, err = tx.Batch(k.ID, n); err != nil || !ok {
			return err
		}
		at, err = placeOfBatch(batch)
		return err
	})
	return at, ok, err
}

// placeOfBatch is the place that the store keeps as bytes.
func placeOfBatch(b store.Batch) (at Place, err error) {
	if err := json.Unmarshal(b.Place, &at); err != nil {
		return at, fmt.Errorf("the place of batch %d: %w", b.Number, err)
	}
	return at, nil
}

// LastNoted is when the newest event was noted; the zero time where there is none.
func (b *Bot) LastNoted() (at time.Time, err error) {
	err = b.Store.View(func(tx *store.Tx) error {
		e, ok, err := tx.LastEvent()
		if ok {
			at = timeOf(e.Noted)
		}
		return err
	})
	return at, err
}
