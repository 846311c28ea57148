package exchange

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"io"
	"time"

	"example.org/tuckrow/model"
)

// Format is the version of the JSON Lines export. A file of a higher one is
// refused.
const Format = 1

// head is the first line of an export.
type head struct {
	Kind   string `json:"kind"` // "tuckrow"
	Format int    `json:"format"`
	Stamp
	Counters model.Counters `json:"counters"` // the highest numbers ever given, so that none is given again
}

// Stamp says of what moment an export is; a backup has one. The zero Stamp
// says nothing: then the same cupboard gives the same bytes.
type Stamp struct {
	Made     time.Time `json:"made,omitzero"`      // RFC 3339
	Revision uint64    `json:"revision,omitempty"` // of the store it was made from
	Copies   int       `json:"copies,omitempty"`
}

// StampOf is the stamp of a cupboard at a moment, which counts to the second.
func StampOf(c *model.Collection, made time.Time) Stamp {
	return Stamp{Made: made.Truncate(time.Second), Revision: c.Rev(), Copies: c.Copies().Len()}
}

// tail is the last line: how many lines come before it, and their SHA-256.
type tail struct {
	Kind   string `json:"kind"` // "end"
	Count  int    `json:"count"`
	SHA256 string `json:"sha256"`
}

// WriteJSONL writes everything, a record a line.
func WriteJSONL(w io.Writer, c *model.Collection) error { return WriteStamped(w, c, Stamp{}) }

// WriteStamped writes everything, saying in the first line of what moment it
// is.
func WriteStamped(w io.Writer, c *model.Collection, s Stamp) error {
	sum := sha256.New()
	out := bufio.NewWriterSize(io.MultiWriter(w, sum), 1<<16)
	if err := writeLine(out, head{"tuckrow", Format, s, c.Counters()}); err != nil {
		return err
	}
	n := 1
	var line []byte
	for r := range c.Records() {
		var err error
		if line, err = AppendRecord(line[:0], r); err != nil {
			return err
		}
		if _, err := out.Write(line); err != nil {
			return err
		}
		n++
	}
	if err := out.Flush(); err != nil {
		return err
	}
	return writeLine(w, tail{"end", n, hex.EncodeToString(sum.Sum(nil))})
}

// writeLine writes a value as one line of JSON.
func writeLine(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
