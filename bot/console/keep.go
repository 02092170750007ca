package console

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"salthand/bot"
)

// keep writes the files of a card into the folder and prints where each lies. A file of that
// name is replaced: a label that was printed anew is the one to use.
func (c *Console) keep(files []bot.File) error {
	if c.Papers == "" || len(files) == 0 {
		return nil
	}
	if err := os.MkdirAll(c.Papers, 0o700); err != nil {
		return fmt.Errorf("making the folder for papers: %w", err)
	}
	for _, f := range files {
		if !fs.ValidPath(f.Name) || filepath.Base(f.Name) != f.Name {
			return fmt.Errorf("%q is no name for a file", f.Name)
		}
		path := filepath.Join(c.Papers, f.Name)
		if err := replace(path, f.Bytes); err != nil {
			return fmt.Errorf("writing a paper: %w", err)
		}
		fmt.Fprintf(c.Out, "  file: %s\n", path)
	}
	return nil
}

// replace writes a file beside its place and moves it there, so that none is ever half written.
func replace(path string, data []byte) error {
	temp, err := os.CreateTemp(filepath.Dir(path), ".salthand-*")
	if err != nil {
		return err
	}
	_, err = temp.Write(data)
	if closeErr := temp.Close(); err == nil {
		err = closeErr
	}
	if err == nil {
		err = os.Rename(temp.Name(), path)
	}
	if err != nil {
		os.Remove(temp.Name())
	}
	return err
}
