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
	"strings"

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
	photoTooBig   photoProblem = "too big"
	photoNotHad   photoProblem = "not had"  // the platform or the disk did not give it
	photoNoFolder photoProblem = "no place" // this store keeps none
)

// photoAtMost is the most bytes that a photo may have.
const photoAtMost = 10 << 20

// takesPhoto reports whether a command keeps a picture that comes with it.
func takesPhoto(c grammar.Command) bool {
	switch c.(type) {
	case grammar.JarPhoto, grammar.JarIs:
		return true
	}
	return false
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
	case !strings.HasPrefix(http.DetectContentType(data), "image/"):
		return "", &photoError{photoNotImage}
	}
	sum := sha256.Sum256(data)
	name = hex.EncodeToString(sum[:])
	if err := os.MkdirAll(b.Photos, 0o700); err != nil {
		return "", err
	}
	if _, err := os.Stat(filepath.Join(b.Photos, name)); err == nil {
		return name, nil // the same picture again
	}
	part, err := os.CreateTemp(b.Photos, "part-*") // 0600
	if err != nil {
		return "", err
	}
	_, err = part.Write(data)
	err = errors.Join(err, part.Sync(), part.Close())
	if err == nil {
		err = os.Rename(part.Name(), filepath.Join(b.Photos, name))
	}
	if err != nil {
		return "", errors.Join(err, os.Remove(part.Name()))
	}
	return name, nil
}

// jarPhoto notes the photo of a jar's label.
func (t *turn) jarPhoto(c grammar.JarPhoto) error {
	l := t.theirs
	jar, known, err := t.tx.Jar(t.kitchen.ID, c.Jar)
	if err != nil {
		return err
	}
	if !known {
		_, _, err := t.jar(c.Jar)
		return t.jarOr(err)
	}
	kept, err := t.photographed(jar)
	if err != nil {
		return err
	}
	switch {
	case len(t.m.Files) == 0:
		return t.note(l.say("No picture came with that."), l.say("Send the photo of the label in the same message."))
	case !kept:
		return t.note(t.photoProblem(l))
	}
	return t.note(l.say("The photo of jar %s is kept. It is not read: type what stands on it.", jar.Name), fmt.Sprintf("jar %s label: KIND, PERCENT%% nitrite, lot LOT", jar.Name))
}

// photographed notes the picture that came with the message, if it was kept.
func (t *turn) photographed(jar store.Jar) (bool, error) {
	f := jar.Current()
	for _, file := range t.m.Files {
		if file.Photo == "" {
			continue
		}
		if file.Photo == f.Photo {
			return true, nil
		}
		return true, t.append(0, store.JarPhotographed{Jar: jar.Name, Filling: f.Number, Old: f.Photo, New: file.Photo})
	}
	return false, nil
}

// photoProblem says why the picture was not kept.
func (t *turn) photoProblem(l tongue) string {
	switch t.m.Files[0].Problem {
	case photoNotImage:
		return l.say("That file is no picture: it was not kept.")
	case photoTooBig:
		return l.say("That picture is larger than 10 MB: it was not kept.")
	case photoNoFolder:
		return l.say("This store keeps no pictures: it was not kept.")
	}
	return l.say("That picture could not be fetched or written: it was not kept. Send it again.")
}

// photoLine says what became of the photo of a filling; "" where there is none. That a file is
// gone is said, and never hidden.
func (t *turn) photoLine(f store.Filling) string {
	if f.Photo == "" {
		return ""
	}
	if _, err := os.Stat(filepath.Join(t.photos, f.Photo)); err != nil || t.photos == "" {
		return t.theirs.say("its photo %s is missing from the folder of photos", f.Photo[:12])
	}
	return t.theirs.say("photo of the label: %s", f.Photo)
}
