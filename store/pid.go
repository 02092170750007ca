package store

import (
	"errors"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"syscall"
)

// pidFile names the process that holds a store, beside it: PATH.pid. It is a hint for people;
// the lock is the file's own.
type pidFile struct{ path string }

func writePID(store string) (*pidFile, error) {
	p := &pidFile{path: store + ".pid"}
	// What a process that was killed left there is replaced: whoever holds the lock writes.
	return p, os.WriteFile(p.path, []byte(strconv.Itoa(os.Getpid())+"\n"), 0o600)
}

func (p *pidFile) remove() error {
	if p == nil {
		return nil
	}
	if err := os.Remove(p.path); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// readPID gives the holder of a store, 0 where it is not known or no such process lives.
func readPID(store string) int {
	data, err := os.ReadFile(store + ".pid")
	if err != nil {
		return 0
	}
	pid, err := strconv.Atoi(strings.TrimSpace(string(data)))
	if err != nil || pid <= 0 || errors.Is(syscall.Kill(pid, 0), syscall.ESRCH) {
		return 0
	}
	return pid
}
