package store

import (
	"encoding/binary"
	"errors"
	"hash/fnv"
	"io"
	"os"
)

// longEnough refuses a file that was cut short: its pages are mapped, and touching one that
// is not there ends the process. Of the two pages at its head that describe the file, the
// newer sound one counts.
//
// Source: go.etcd.io/bbolt v1.5.0, internal/common/page.go and meta.go: a page's head is
// 16 bytes; then magic, version, page size, flags (4 bytes each), root page and sequence,
// freelist page, number of pages, transaction, checksum (8 each; FNV-1a 64 of what is before it).
func longEnough(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errors.New("not a regular file")
	}
	const (
		magic    = 0xED0CDAED
		metaHead = 16
		metaLen  = 64
	)
	var buf [metaHead + metaLen]byte
	var newest, need uint64
	sound := false
	second := int64(os.Getpagesize())
	for i := range 2 {
		if _, err := f.ReadAt(buf[:], int64(i)*second); err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		m := buf[metaHead:]
		sum := fnv.New64a()
		_, _ = sum.Write(m[:56])
		if binary.NativeEndian.Uint32(m) != magic || binary.NativeEndian.Uint64(m[56:]) != sum.Sum64() {
			continue
		}
		page := binary.NativeEndian.Uint32(m[8:])
		pages, tx := binary.NativeEndian.Uint64(m[40:]), binary.NativeEndian.Uint64(m[48:])
		if !sound || tx > newest {
			newest, need = tx, pages*uint64(page)
		}
		sound, second = true, int64(page)
	}
	if !sound {
		return errors.New("neither of its heads is sound")
	}
	if uint64(info.Size()) < need {
		return errors.New("cut short")
	}
	return nil
}
