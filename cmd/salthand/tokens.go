package main

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// tokensFile is the file that tokens are read from where the environment has none: lines
// NAME=VALUE, readable by nobody else. SALTHAND_TOKENS names another.
func (w world) tokensFile() string {
	if path := w.env("SALTHAND_TOKENS"); path != "" {
		return path
	}
	if w.config == "" {
		return ""
	}
	return filepath.Join(w.config, "salthand", "tokens")
}

// tokens gives the values of names, from the environment or else from the file of tokens;
// "" where neither has one. A token is never a flag: the list of processes shows flags to everybody.
func (w world) tokens(names ...string) (map[string]string, error) {
	kept, err := readTokens(w.tokensFile())
	if err != nil {
		return nil, err
	}
	values := map[string]string{}
	for _, name := range names {
		if values[name] = strings.TrimSpace(w.env(name)); values[name] == "" {
			values[name] = kept[name]
		}
	}
	return values, nil
}

// readTokens reads a file of tokens; there may be none.
func readTokens(path string) (map[string]string, error) {
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) || path == "" {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("reading the tokens: %w", err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("reading the tokens: %w", err)
	}
	if info.Mode().Perm()&0o077 != 0 {
		return nil, fmt.Errorf("%s can be read by others (%04o): make it yours alone with  chmod 600 %s", path, info.Mode().Perm(), path)
	}
	values := map[string]string{}
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		line := strings.TrimSpace(lines.Text())
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		if !ok { // what stands there may be a token: it is not shown
			return nil, fmt.Errorf("%s: line %d is not NAME=VALUE", path, n)
		}
		values[strings.TrimSpace(name)] = strings.Trim(strings.TrimSpace(value), `"'`)
	}
	if err := lines.Err(); err != nil {
		return nil, fmt.Errorf("reading the tokens: %w", err)
	}
	return values, nil
}
