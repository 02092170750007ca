package store

import "encoding/binary"

// A store remembers up to when each platform was heard: what was said later is read again after a gap. It
// is no record, and nothing is folded from it.

func heardKey(platform string) key { return key("heard").text(platform) }

// Heard is the time of the newest message of a platform that KeepHeard was told of; 0: none.
func (tx *Tx) Heard(platform string) Milli {
	at := tx.get(bucketMeta, heardKey(platform))
	if len(at) != 8 {
		return 0
	}
	return Milli(binary.BigEndian.Uint64(at))
}

// KeepHeard moves that time forward. ErrLong: no platform has such a name.
func (tx *Tx) KeepHeard(platform string, at Milli) error {
	if err := texts(platform); err != nil || at <= tx.Heard(platform) {
		return err
	}
	return tx.put(bucketMeta, heardKey(platform), binary.BigEndian.AppendUint64(nil, uint64(at)))
}
