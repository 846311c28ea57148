package storage

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"

	"example.org/tuckrow/model"
	"github.com/fxamacker/cbor/v2"
)

// The first byte of a key.
const (
	keyMeta    = 'm'
	keyRecord  = 'r'
	keyHistory = 'j'
	keyBefore  = 'u'
)

var (
	encoder = must(cbor.CoreDetEncOptions().EncMode())
	decoder = must(cbor.DecOptions{MaxArrayElements: 1 << 24, MaxMapPairs: 1 << 24}.DecMode())
	castag  = crc32.MakeTable(crc32.Castagnoli)
)

func must[T any](v T, err error) T {
	if err != nil {
		panic(err) // the options are constants
	}
	return v
}

// seal writes a value as CBOR behind its checksum.
func seal(v any) ([]byte, error) {
	body, err := encoder.Marshal(v)
	if err != nil {
		return nil, fmt.Errorf("encoding %T: %w", v, err)
	}
	return append(binary.BigEndian.AppendUint32(make([]byte, 0, len(body)+4), crc32.Checksum(body, castag)), body...), nil
}

// unseal reads what seal wrote. Its error wraps model.ErrDamaged.
func unseal(b []byte, v any) error {
	body, err := checked(b)
	if err != nil {
		return err
	}
	return decodeBody(body, v)
}

// checked gives what stands behind the checksum, if that is right.
func checked(b []byte) ([]byte, error) {
	if len(b) < 4 || binary.BigEndian.Uint32(b) != crc32.Checksum(b[4:], castag) {
		return nil, fmt.Errorf("%w: a record's checksum is wrong", model.ErrDamaged)
	}
	return b[4:], nil
}

func decodeBody(body []byte, v any) error {
	if err := decoder.Unmarshal(body, v); err != nil {
		return fmt.Errorf("%w: a record cannot be read: %v", model.ErrDamaged, err)
	}
	return nil
}

func recordKey(k model.Kind, id uint32) []byte {
	return binary.BigEndian.AppendUint32([]byte{keyRecord, byte(k)}, id)
}

// parseRecordKey is the other way round.
func parseRecordKey(key []byte) (model.Kind, uint32, bool) {
	if len(key) != 6 || key[0] != keyRecord {
		return 0, 0, false
	}
	return model.Kind(key[1]), binary.BigEndian.Uint32(key[2:]), true
}

func historyKey(rev uint64) []byte {
	return binary.BigEndian.AppendUint64([]byte{keyHistory}, rev)
}

func beforeKey(rev uint64, piece int) []byte {
	return binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint64([]byte{keyBefore}, rev), uint32(piece))
}

// Schema is the version of what is stored. A store of a higher one is refused.
const Schema = 1

// meta says what the store is at.
type meta struct {
	Schema   int            `cbor:"1,keyasint"`
	Rev      uint64         `cbor:"2,keyasint"`
	Counters model.Counters `cbor:"3,keyasint"`
	Begun    uint64         `cbor:"5,keyasint,omitempty"` // the first revision that has a history
	Writing  uint64         `cbor:"6,keyasint,omitempty"` // the revision of which records may be written already; 0: none
	Pieces   int            `cbor:"7,keyasint,omitempty"` // so many take that back
}

// entry is one line of the history.
type entry struct {
	At     int64  `cbor:"1,keyasint"` // seconds since 1970
	Title  string `cbor:"2,keyasint"`
	Undoes uint64 `cbor:"3,keyasint,omitempty"`
	Pieces int    `cbor:"4,keyasint,omitempty"`
	Begins bool   `cbor:"5,keyasint,omitempty"` // nothing up to and with it can be taken back
}

// write is one key set, or deleted when the value is nil.
type write struct {
	Key   []byte `cbor:"1,keyasint"`
	Value []byte `cbor:"2,keyasint"`
}

// before is what records were before a change: those that were there, and in
// runs the numbers of those that were not, so that undoing an import of 60,000
// costs a few bytes.
type before struct {
	Were   []write `cbor:"1,keyasint,omitempty"`
	Absent []span  `cbor:"2,keyasint,omitempty"`
}

// span is a run of record numbers, both ends included.
type span struct {
	Kind model.Kind `cbor:"1,keyasint"`
	From uint32     `cbor:"2,keyasint"`
	To   uint32     `cbor:"3,keyasint"`
}
