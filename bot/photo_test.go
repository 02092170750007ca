package bot

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

// picture begins as a photo does. Source: the signature of RFC 2083, 12.12.
const picture = "\x89PNG\r\n\x1a\nrest"

func fetched(r io.Reader) func(context.Context) (io.ReadCloser, error) {
	return func(context.Context) (io.ReadCloser, error) { return io.NopCloser(r), nil }
}

// What can't be kept is told why, and leaves nothing behind.
func TestPhotoThatIsNotKept(t *testing.T) {
	for name, c := range map[string]struct {
		fetch func(context.Context) (io.ReadCloser, error)
		want  photoProblem
	}{
		"can't be had":                    {nil, photoNotHad},
		"fetching fails":                  {func(context.Context) (io.ReadCloser, error) { return nil, errors.New("gone") }, photoNotHad},
		"breaks in between":               {fetched(io.MultiReader(strings.NewReader(picture), iotest.ErrReader(errors.New("cut off")))), photoNotHad},
		"empty":                           {fetched(strings.NewReader("")), photoEmpty},
		"a page":                          {fetched(strings.NewReader("<html><img src=x>")), photoNotImage},
		"a drawing that can run a script": {fetched(strings.NewReader("<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>")), photoNotImage},
		"a film":                          {fetched(strings.NewReader("\x00\x00\x00\x18ftypmp42rest")), photoNotImage},
		"without an end":                  {fetched(io.MultiReader(strings.NewReader(picture), endless{})), photoTooBig},
	} {
		b := &Bot{Photos: filepath.Join(t.TempDir(), "photos"), Log: slog.New(slog.DiscardHandler)}
		m := Message{Files: []Attached{{Name: "../../label.png", Fetch: c.fetch}}}
		b.keepPhotos(context.Background(), &m)
		if f := m.Files[0]; f.Problem != c.want || f.Photo != "" {
			t.Errorf("%s: problem %q, photo %q, want %q", name, f.Problem, f.Photo, c.want)
		}
		if left, _ := os.ReadDir(b.Photos); len(left) > 0 {
			t.Errorf("%s: %s was left behind", name, left[0].Name())
		}
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

// A photo is a file of its owner's alone, named by what is in it. What another file or a link
// of that name holds is never taken for it, nor written through.
func TestPhotoIsKeptByItsContent(t *testing.T) {
	b := &Bot{Photos: filepath.Join(t.TempDir(), "photos"), Log: slog.New(slog.DiscardHandler)}
	keep := func() string {
		t.Helper()
		m := Message{Files: []Attached{{Name: "label.png", Fetch: fetched(strings.NewReader(picture))}}}
		b.keepPhotos(context.Background(), &m)
		if fault := photoFault(b.Photos, m.Files[0].Photo); fault != "" {
			t.Fatalf("kept as %q: %s", m.Files[0].Photo, fault)
		}
		return filepath.Join(b.Photos, m.Files[0].Photo)
	}
	path := keep()
	if at, err := os.Lstat(path); err != nil || at.Mode() != 0o600 {
		t.Errorf("mode %v, %v", at.Mode(), err)
	}
	if err := os.WriteFile(path, []byte("another"), 0o600); err != nil {
		t.Fatal(err)
	}
	keep()
	elsewhere := filepath.Join(t.TempDir(), "elsewhere")
	if err := errors.Join(os.WriteFile(elsewhere, []byte("mine"), 0o600), os.Remove(path), os.Symlink(elsewhere, path)); err != nil {
		t.Fatal(err)
	}
	keep()
	if data, err := os.ReadFile(elsewhere); string(data) != "mine" {
		t.Errorf("the link was written through: %q, %v", data, err)
	}
}

// What phones send is a picture too.
func TestPicturesOfPhones(t *testing.T) {
	for _, begin := range []string{"\xff\xd8\xff\xe0rest of it", "\x00\x00\x00\x18ftypheicrest", "RIFF\x00\x00\x00\x00WEBPVP8 rest"} {
		if !isPicture([]byte(begin)) {
			t.Errorf("%q is no picture", begin)
		}
	}
}
