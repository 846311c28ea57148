package exchange

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/tuckrow/model"
)

// Format is the version of the JSON Lines export. A file of a higher one is
// refused.
const Format = 1

// head is the first line of an export.
type head struct {
	Kind     string         `json:"kind"` // "tuckrow"
	Format   int            `json:"format"`
	Counters model.Counters `json:"counters"` // the highest numbers ever given, so that none is given again
}

// tail is the last line: how many lines come before it, and their SHA-256.
type tail struct {
	Kind   string `json:"kind"` // "end"
	Count  int    `json:"count"`
	SHA256 string `json:"sha256"`
}

// WriteJSONL writes everything, a record a line.
func WriteJSONL(w io.Writer, c *model.Collection) error {
	sum, buf := sha256.New(), bufio.NewWriterSize(w, 1<<16)
	both, n := io.MultiWriter(buf, sum), 1
	if err := writeLine(both, head{"tuckrow", Format, c.Counters()}); err != nil {
		return err
	}
	var record []byte
	for r := range c.Records() {
		var err error
		if record, err = AppendRecord(record[:0], r); err != nil {
			return err
		}
		n++
		if _, err := both.Write(record); err != nil {
			return err
		}
	}
	if err := writeLine(buf, tail{"end", n, hex.EncodeToString(sum.Sum(nil))}); err != nil {
		return err
	}
	return buf.Flush()
}

// writeLine writes a value as one line of JSON.
func writeLine(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// ReadJSONL reads what WriteJSONL wrote, whole or not at all.
func ReadJSONL(r io.Reader) (*model.Collection, error) {
	in := &lines{r: bufio.NewReaderSize(r, 1<<16), sum: sha256.New()}
	h, err := in.head()
	if err != nil {
		return nil, err
	}
	var bad error
	c, err := model.Build(0, h.Counters, func(yield func(model.Record) bool) {
		for {
			r, done, err := in.record()
			if bad = err; err != nil || done || !yield(r) {
				return
			}
		}
	})
	if bad != nil {
		return nil, model.Inputf("line %d of the export: %v; nothing was stored", in.n, bad)
	}
	if err != nil {
		return nil, model.Inputf("the export does not hold together: %s; nothing was stored", strings.TrimPrefix(err.Error(), model.ErrDamaged.Error()+": "))
	}
	// What could not be written down as a shelf file again is no shelf.
	if _, _, err := c.Apply(&model.SetShelf{Spec: c.ShelfSpec()}, ""); err != nil {
		return nil, model.Inputf("the shelf in the export cannot be used: %v; nothing was stored", err)
	}
	return c, nil
}

// begins is how every export begins; a file that does not is not read on.
const begins = `{"kind":"tuckrow",`

// head reads the first line.
func (l *lines) head() (h head, err error) {
	if b, _ := l.r.Peek(len(begins)); string(b) != begins {
		return h, model.Inputf("this is no export of tuckrow: its first line should begin with %s", begins)
	}
	first, err := l.next()
	if err != nil {
		return h, model.Inputf("line 1 of the export: %v", err)
	}
	var f struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(first, &f); err == nil && f.Format > Format {
		return h, fmt.Errorf("%w: the export has format %d and this tuckrow reads up to %d; use the newer tuckrow", model.ErrNewer, f.Format, Format)
	}
	if err := strict(first, &h); err != nil || h.Format < 1 {
		return h, model.Inputf("line 1 of the export: format and counters cannot be read; the file was altered or damaged")
	}
	return h, nil
}

// lines reads an export line by line and sums it up.
type lines struct {
	r   *bufio.Reader
	sum interface {
		io.Writer
		Sum([]byte) []byte
	}
	n    int
	last []byte
}

func (l *lines) next() ([]byte, error) {
	if l.last != nil {
		l.sum.Write(l.last)
	}
	b, err := l.r.ReadBytes('\n')
	l.n++
	l.last = b
	if errors.Is(err, io.EOF) {
		return nil, errors.New("the file ends before its last line, {\"kind\":\"end\"...}: it is cut short")
	}
	return b, err
}

// record reads the next record; done at a good last line.
func (l *lines) record() (r model.Record, done bool, err error) {
	b, err := l.next()
	if err != nil {
		return nil, false, err
	}
	var k struct {
		Kind string `json:"kind"`
	}
	if err := json.Unmarshal(b, &k); err != nil {
		return nil, false, err
	}
	if k.Kind == "end" {
		return nil, true, l.check(b)
	}
	r, err = ParseRecord(b)
	return r, false, err
}

func (l *lines) check(last []byte) error {
	var want bytes.Buffer
	if err := writeLine(&want, tail{"end", l.n - 1, hex.EncodeToString(l.sum.Sum(nil))}); err != nil {
		return err
	}
	if !bytes.Equal(last, want.Bytes()) {
		return errors.New("the count or the checksum is wrong: the file was altered or damaged")
	}
	if _, err := l.r.ReadByte(); !errors.Is(err, io.EOF) {
		return errors.New("there is more behind the last line")
	}
	return nil
}
