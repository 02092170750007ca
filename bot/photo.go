package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"time"

	"salthand/grammar"
	"salthand/store"
)

// Attached is a file that came with a message. Its bytes never go into the store.
type Attached struct {
	Name string `json:"name"`
	// Fetch opens it. It is called once, before the message is acknowledged; nil: it can't be had.
	Fetch func(context.Context) (io.ReadCloser, error) `json:"-"`
	// Photo is the name that its bytes are kept under, and Problem why they are not: both are
	// filled in by Receive.
	Photo   string       `json:"photo,omitempty"`
	Problem photoProblem `json:"problem,omitempty"`
}

// photoProblem is why a photo was not kept.
type photoProblem string

const (
	photoNotImage photoProblem = "not an image"
	photoEmpty    photoProblem = "empty"
	photoTooBig   photoProblem = "too big"
	photoNotHad   photoProblem = "not had"  // the platform or the disk did not give it
	photoNoFolder photoProblem = "no place" // this store keeps none
)

// photoAtMost is the most bytes that a photo may have.
const photoAtMost = 10 << 20

// photoWithin is how long fetching one may take: whoever typed waits for it.
const photoWithin = 20 * time.Second

// takesPhoto reports whether a command keeps a picture that comes with it: one that names a
// jar, and is not about its weight.
func takesPhoto(c grammar.Command) bool {
	switch c.(type) {
	case grammar.JarPhoto, grammar.JarIs, grammar.ShowJar:
		return true
	}
	return false
}

// isPicture reports whether bytes begin as those of a photo do, whatever the file is called.
func isPicture(data []byte) bool {
	switch http.DetectContentType(data) {
	case "image/jpeg", "image/png", "image/webp", "image/gif":
		return true
	}
	// What phones keep photos in. Source: ISO/IEC 23008-12, 10.2, brands of the file type box (from memory).
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	return slices.Contains([]string{"heic", "heix", "heim", "heis", "mif1", "avif"}, string(data[8:12]))
}

// keepPhotos keeps the picture that came with a message, before the message is acknowledged.
// One that can't be kept is no reason to lose what was typed: the answer says so.
func (b *Bot) keepPhotos(ctx context.Context, m *Message) {
	m.Files = append([]Attached(nil), m.Files...)
	for i := range m.Files {
		f := &m.Files[i]
		f.Photo, f.Problem = "", ""
		name, err := b.keepPhoto(ctx, *f)
		var problem *photoError
		switch {
		case errors.As(err, &problem):
			f.Problem = problem.why
		case err != nil:
			f.Problem = photoNotHad
			b.Log.Warn("a photo could not be kept", "file", f.Name, "err", err)
		default:
			f.Photo = name
		}
	}
}

type photoError struct{ why photoProblem }

func (p *photoError) Error() string { return "bot: photo: " + string(p.why) }

// keepPhoto writes a picture under the sha256 of its bytes: whole, or not at all.
func (b *Bot) keepPhoto(ctx context.Context, f Attached) (name string, err error) {
	switch {
	case b.Photos == "":
		return "", &photoError{photoNoFolder}
	case f.Fetch == nil:
		return "", &photoError{photoNotHad}
	}
	ctx, cancel := context.WithTimeout(ctx, photoWithin)
	defer cancel()
	in, err := f.Fetch(ctx)
	if err != nil {
		return "", fmt.Errorf("fetching: %w", err)
	}
	defer in.Close()
	data, err := io.ReadAll(io.LimitReader(in, photoAtMost+1))
	switch {
	case err != nil:
		return "", fmt.Errorf("fetching: %w", err)
	case len(data) > photoAtMost:
		return "", &photoError{photoTooBig}
	case len(data) == 0:
		return "", &photoError{photoEmpty}
	case !isPicture(data):
		return "", &photoError{photoNotImage}
	}
	name = photoName(data)
	if photoFault(b.Photos, name) == "" {
		return name, nil // the same picture again
	}
	return name, writePhoto(b.Photos, name, data)
}

// photoName is what a picture is kept under.
func photoName(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// writePhoto writes a file that its owner alone can read: whole, or not at all. A file or link
// of that name, which holds something else, is replaced.
func writePhoto(folder, name string, data []byte) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	part, err := os.CreateTemp(folder, "part-*") // 0600
	if err != nil {
		return err
	}
	_, err = part.Write(data)
	err = errors.Join(err, part.Sync(), part.Close())
	if err == nil {
		err = os.Rename(part.Name(), filepath.Join(folder, name))
	}
	if err != nil {
		return errors.Join(err, os.Remove(part.Name()))
	}
	dir, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(dir.Sync(), dir.Close()) // the name is on the disk too
}

// What is wrong with a kept photo.
const (
	photoMissing = "missing"
	photoAltered = "altered"
)

// photoFault is what is wrong with a photo that the records name; "": nothing.
func photoFault(folder, name string) string {
	path := filepath.Join(folder, name)
	at, err := os.Lstat(path)
	switch {
	case err != nil || folder == "" || filepath.Base(name) != name:
		return photoMissing
	case !at.Mode().IsRegular() || at.Size() > photoAtMost:
		return photoAltered
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return photoMissing
	}
	if photoName(data) != name {
		return photoAltered
	}
	return ""
}

// PhotoFault is a photo that the records name and the folder doesn't hold as it was.
type PhotoFault struct {
	store.Photo
	Fault string // "missing", "altered"
}

func (f PhotoFault) String() string {
	return fmt.Sprintf("photo %s of jar %s, filling %d: %s", f.Name, f.Jar, f.Filling, f.Fault)
}

// CheckPhotos compares every photo that the records name with its file in the folder.
func CheckPhotos(s *store.Store, folder string) (faults []PhotoFault, err error) {
	err = s.View(func(tx *store.Tx) error {
		photos, err := tx.Photos()
		for _, p := range photos {
			if fault := photoFault(folder, p.Name); fault != "" {
				faults = append(faults, PhotoFault{p, fault})
			}
		}
		return err
	})
	return faults, err
}
