package main

import (
	"fmt"
	"os"

	"salthand/bot"
	"salthand/store"
)

type verifyCommand struct {
	Store string `type:"path" placeholder:"PATH" help:"The store's file. Default: in the user's data folder."`
}

// Run compares every record with the events that it was folded from.
func (v *verifyCommand) Run(w world) error {
	path, err := w.store(v.Store)
	if err != nil {
		return err
	}
	if _, err := os.Stat(path); err != nil {
		return fmt.Errorf("there is no store to verify: %w", err)
	}
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		return storeError(path, err)
	}
	defer s.Close()
	differences, err := s.Verify()
	if err != nil {
		return fmt.Errorf("verifying %s: %w", path, err)
	}
	for _, d := range differences {
		fmt.Fprintln(w.out, d)
	}
	if len(differences) > 0 {
		return fmt.Errorf("%d records differ from their events: keep the file, and go back to the last good copy", len(differences))
	}
	fmt.Fprintln(w.out, "every record agrees with its events")
	faults, err := bot.CheckPhotos(s, photosOf(path))
	if err != nil {
		return fmt.Errorf("checking the photos of %s: %w", path, err)
	}
	for _, f := range faults {
		fmt.Fprintln(w.out, f)
	}
	if len(faults) > 0 {
		return fmt.Errorf("%d photos are missing or altered: put them back from a copy", len(faults))
	}
	return nil
}
