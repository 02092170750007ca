package console

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"salthand/bot"
)

// errNoPlainFile is a file that is none: a folder, a pipe, a device, a link.
var errNoPlainFile = errors.New("no plain file")

// sent is a file that a script sends. It is opened below the folder that the script is played
// in and nowhere else, and no link is followed: a script may come from a stranger.
func sent(name string) bot.Attached {
	return bot.Attached{Name: filepath.Base(name), Fetch: func(context.Context) (io.ReadCloser, error) {
		folder, err := os.OpenRoot(".")
		if err != nil {
			return nil, err
		}
		defer folder.Close()
		return plain(name, folder.Lstat, folder.Open)
	}}
}

// dropped is a file that the person at the terminal sends: any that is theirs to read, but
// no link.
func dropped(name string) bot.Attached {
	path := strings.Trim(name, `'"`) // as a file manager drops it on the terminal
	if rest, ok := strings.CutPrefix(path, "~/"); ok {
		if home, err := os.UserHomeDir(); err == nil {
			path = filepath.Join(home, rest)
		}
	}
	return bot.Attached{Name: filepath.Base(path), Fetch: func(context.Context) (io.ReadCloser, error) {
		return plain(path, os.Lstat, os.Open)
	}}
}

// plain opens a file that is nothing else: a pipe would be waited on, a device read for ever.
func plain(name string, look func(string) (os.FileInfo, error), open func(string) (*os.File, error)) (io.ReadCloser, error) {
	at, err := look(name)
	if err != nil {
		return nil, err
	}
	if !at.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: %w", name, errNoPlainFile)
	}
	return open(name)
}
