package store

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"os"
)

// What is read here of bbolt's file, all in the machine's byte order.
//
// Source: go.etcd.io/bbolt v1.5.0, internal/common/page.go, meta.go and internal/freelist/shared.go:
// a page's head is its number (8 bytes), flags, count (2 each) and overflow (4). On the first
// two pages follow magic, version, page size, flags (4 each), root page and sequence, freelist
// page, number of pages, transaction, checksum (8 each; FNV-1a 64 of what is before it); on a
// freelist page the numbers of the free pages, ascending, and before them how many they are
// where the count is 0xFFFF.
const (
	pageHead     = 16
	metaLen      = 64
	magic        = 0xED0CDAED
	freelistFlag = 0x10
	manyFree     = 0xFFFF
	noFreelist   = ^uint64(0)
)

// head is what a file says of itself.
type head struct{ pageSize, freelist, pages, tx uint64 }

// readHead refuses a file that was cut short: its pages are mapped, and touching one that is
// not there ends the process. It refuses a list of free pages that can't be one, too: what is
// written would land anywhere. listed is false where the file has no such list.
func readHead(path string) (listed bool, err error) {
	f, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return false, err
	}
	if !info.Mode().IsRegular() {
		return false, errors.New("not a regular file")
	}
	h, err := newestHead(f)
	if err != nil {
		return false, err
	}
	if uint64(info.Size()) < h.pages*h.pageSize {
		return false, errors.New("cut short")
	}
	if h.freelist == noFreelist {
		return false, nil
	}
	return true, h.checkFreelist(f)
}

// newestHead reads the two pages that describe the file; the newer sound one counts.
func newestHead(f *os.File) (newest head, err error) {
	var buf [pageHead + metaLen]byte
	sound := false
	second := int64(os.Getpagesize())
	for i := range 2 {
		if _, err := f.ReadAt(buf[:], int64(i)*second); err != nil && !errors.Is(err, io.EOF) {
			return head{}, err
		}
		m := buf[pageHead:]
		sum := fnv.New64a()
		_, _ = sum.Write(m[:56])
		if binary.NativeEndian.Uint32(m) != magic || binary.NativeEndian.Uint64(m[56:]) != sum.Sum64() {
			continue
		}
		h := head{
			pageSize: uint64(binary.NativeEndian.Uint32(m[8:])), freelist: binary.NativeEndian.Uint64(m[32:]),
			pages: binary.NativeEndian.Uint64(m[40:]), tx: binary.NativeEndian.Uint64(m[48:]),
		}
		if !sound || h.tx > newest.tx {
			newest = h
		}
		sound, second = true, int64(h.pageSize)
	}
	if !sound {
		return head{}, errors.New("neither of its heads is sound")
	}
	return newest, nil
}

// checkFreelist reads the list of free pages.
func (h head) checkFreelist(f *os.File) error {
	bad := func(what string) error { return fmt.Errorf("list of free pages: %s", what) }
	if h.freelist < 2 || h.freelist >= h.pages {
		return bad("not in the file")
	}
	r := io.NewSectionReader(f, int64(h.freelist*h.pageSize), int64((h.pages-h.freelist)*h.pageSize))
	var first [pageHead + 8]byte
	if _, err := io.ReadFull(r, first[:]); err != nil {
		return err
	}
	if binary.NativeEndian.Uint64(first[:]) != h.freelist || binary.NativeEndian.Uint16(first[8:]) != freelistFlag {
		return bad("another page")
	}
	n, begin := uint64(binary.NativeEndian.Uint16(first[10:])), uint64(pageHead)
	if n == manyFree {
		n, begin = binary.NativeEndian.Uint64(first[pageHead:]), begin+8
	}
	room := (1 + uint64(binary.NativeEndian.Uint32(first[12:]))) * h.pageSize
	if room > uint64(r.Size()) || n > (room-begin)/8 {
		return bad("longer than its pages")
	}
	ids := make([]byte, n*8)
	if _, err := r.ReadAt(ids, int64(begin)); err != nil && len(ids) > 0 {
		return err
	}
	last := uint64(1)
	for ; len(ids) > 0; ids = ids[8:] {
		id := binary.NativeEndian.Uint64(ids)
		if id <= last || id >= h.pages {
			return bad("out of order")
		}
		last = id
	}
	return nil
}
