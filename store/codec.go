package store

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	jsonv2 "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// A record is a format byte, then a JSON object whose first member is its version:
//
//	J{"v":1,"kitchen":"k1",…}
//
// One that is deflated (deflate.go) lives beside it behind another byte. A record's version rises when old
// bytes would be read wrongly, not when a field is added.
const formatJSON = 'J'

// recordVersion is the version written, and the newest that can be read.
const recordVersion = 1

const versionPrefix = `{"v":`

var errRecord = errors.New("not a record")

// encode makes the bytes of a record from a struct.
func encode(v any) ([]byte, error) {
	object, err := encodePlain(v)
	if err != nil {
		return nil, err
	}
	if len(object) < 2 || object[0] != '{' {
		return nil, fmt.Errorf("%w: %T is not an object", errRecord, v)
	}
	out := make([]byte, 0, len(object)+16)
	out = append(out, formatJSON)
	out = append(out, versionPrefix...)
	out = strconv.AppendInt(out, recordVersion, 10)
	if object[1] != '}' {
		out = append(out, ',')
	}
	return append(out, object[1:]...), nil
}

// decode reads a record into v. Nothing in v points into data afterwards.
func decode(data []byte, v any) error {
	if len(data) == 0 {
		return fmt.Errorf("%w: empty", errRecord)
	}
	object := data[1:]
	switch data[0] {
	case formatJSON:
	case formatDeflated:
		var err error
		if object, err = inflated(object); err != nil {
			return err
		}
	default:
		return fmt.Errorf("%w: no known format", errRecord)
	}
	rest, ok := bytes.CutPrefix(object, []byte(versionPrefix))
	if !ok {
		return fmt.Errorf("%w: no version", errRecord)
	}
	version, digits := 0, 0
	for digits < len(rest) && digits < 9 && rest[digits] >= '0' && rest[digits] <= '9' {
		version = version*10 + int(rest[digits]-'0')
		digits++
	}
	if digits == 0 || version < 1 || version > recordVersion {
		return fmt.Errorf("%w: version %q", errRecord, rest[:digits])
	}
	return decodePlain(object, v)
}

// decodePlain reads JSON a few times faster than encoding/json does, and forgives what that
// forgives in a file that it wrote.
func decodePlain(object []byte, v any) error {
	if err := jsonv2.Unmarshal(object, v, jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true)); err != nil {
		return fmt.Errorf("%w: %w", errRecord, err)
	}
	return nil
}

// encodePlain is JSON without HTML's escapes.
func encodePlain(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
