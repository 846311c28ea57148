package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/exchange"
)

// Format is the version of the files. A file of a higher one is refused.
const Format = 1

const kind = "tuckrow-journal"

// Mark is what a cupboard is at.
type Mark struct {
	Rev     uint64 // its revision
	Records int    // how many there are
	State   uint64 // a fingerprint of them all
}

// Change is one change as it is written down.
type Change struct {
	Mark          // after it
	Whole    bool // Put is all there is, whatever was before
	At       time.Time
	Title    string
	Undoes   uint64 // the revision that it takes back; 0: none
	Counters model.Counters
	Put      []model.Record // as they are after it
	Gone     []Key          // those that are no longer there
}

// Key names a record.
type Key struct {
	Kind model.Kind
	ID   uint32
}

func (k Key) String() string { return fmt.Sprintf("%s %d", k.Kind, k.ID) }

// state is a fingerprint in hexadecimal.
type state uint64

func (s state) MarshalText() ([]byte, error) { return fmt.Appendf(nil, "%016x", uint64(s)), nil }

func (s *state) UnmarshalText(b []byte) error {
	n, err := strconv.ParseUint(string(b), 16, 64)
	*s = state(n)
	return err
}

// head is the first line of a file.
type head struct {
	Kind    string `json:"kind"`
	Format  int    `json:"format"`
	Rev     uint64 `json:"rev"`
	Records int    `json:"records"`
	State   state  `json:"state"`
	After   string `json:"after"` // the sum of the last line of the file before; empty: there was none
}

// entry is what a line says of a change, beside the records.
type entry struct {
	Rev      uint64          `json:"rev"`
	Part     bool            `json:"part,omitempty"`
	Whole    bool            `json:"whole,omitempty"`
	At       time.Time       `json:"at,omitzero"`
	Title    string          `json:"title,omitempty"`
	Undoes   uint64          `json:"undoes,omitempty"`
	Records  int             `json:"records,omitempty"`
	State    state           `json:"state,omitzero"`
	Counters *model.Counters `json:"counters,omitempty"`
}

// line is an entry with its records, as it is read.
type line struct {
	entry
	Put  []json.RawMessage `json:"put"`
	Gone []string          `json:"gone"`
}

const sumOpens = `,"sum":"`

// seal closes a line that ends in a brace with its sum, and gives that.
func seal(body []byte, after string) (sealed []byte, sum string) {
	body = bytes.TrimSuffix(body, []byte("}"))
	sum = sumOf(after, body)
	return append(append(append(body, sumOpens...), sum...), "\"}\n"...), sum
}

func sumOf(after string, body []byte) string {
	h := sha256.New()
	h.Write([]byte(after))
	h.Write(body)
	return hex.EncodeToString(h.Sum(nil))
}

// unseal takes a line, without its end, apart into what is summed up and the
// sum that it says it has; false when it has none.
func unseal(text []byte) (body []byte, sum string, ok bool) {
	const n = 2 * sha256.Size
	at := len(text) - len(sumOpens) - n - len(`"}`)
	if at < 1 || !bytes.HasSuffix(text, []byte(`"}`)) || string(text[at:at+len(sumOpens)]) != sumOpens {
		return nil, "", false
	}
	sum = string(text[at+len(sumOpens) : at+len(sumOpens)+n])
	if strings.Trim(sum, "0123456789abcdef") != "" {
		return nil, "", false
	}
	return text[:at], sum, true
}

// encode writes a value as JSON without an end of line.
func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// mostLine is how long a line grows before its change goes on in another, in
// bytes: one that an editor still shows.
const mostLine = 256 << 10

// writeTo writes a change line by line, and gives how many bytes it took and the
// sum of its last line. No more than a line of it is held in memory.
func (c *Change) writeTo(w io.Writer, after string) (n int64, sum string, err error) {
	last := entry{Rev: c.Rev, Whole: c.Whole, At: c.At.Truncate(time.Second), Title: c.Title, Undoes: c.Undoes,
		Records: c.Records, State: state(c.State), Counters: &c.Counters}
	var text, put, gone []byte
	sum = after
	flush := func(e entry) error {
		head, err := encode(e)
		if err != nil {
			return err
		}
		text = append(text[:0], head[:len(head)-1]...)
		if len(put) > 0 {
			text = append(append(append(text, `,"put":[`...), put...), ']')
		}
		if len(gone) > 0 {
			text = append(append(append(text, `,"gone":[`...), gone...), ']')
		}
		text, sum = seal(append(text, '}'), sum)
		put, gone, n = put[:0], gone[:0], n+int64(len(text))
		_, err = w.Write(text)
		return err
	}
	part := func() error {
		if len(put)+len(gone) < mostLine {
			return nil
		}
		return flush(entry{Rev: c.Rev, Part: true})
	}
	for _, r := range c.Put {
		put = separated(put)
		if put, err = exchange.AppendRecord(put, r); err != nil {
			return n, "", err
		}
		put = bytes.TrimSuffix(put, []byte("\n"))
		if err := part(); err != nil {
			return n, "", err
		}
	}
	for _, k := range c.Gone {
		gone = fmt.Appendf(separated(gone), "%q", k.String())
		if err := part(); err != nil {
			return n, "", err
		}
	}
	err = flush(last)
	return n, sum, err
}

func separated(list []byte) []byte {
	if len(list) > 0 {
		list = append(list, ',')
	}
	return list
}

// take adds what a line says to a change that may have come in parts; true
// when it is whole with it.
func (c *Change) take(text []byte) (done bool, err error) {
	var l line
	if err := json.Unmarshal(text, &l); err != nil {
		return false, err
	}
	if c.Rev != 0 && c.Rev != l.Rev {
		return false, fmt.Errorf("it is of revision %d, and a part of revision %d stands before it", l.Rev, c.Rev)
	}
	c.Rev = l.Rev
	for _, raw := range l.Put {
		r, err := exchange.ParseRecord(raw)
		if err != nil {
			return false, err
		}
		c.Put = append(c.Put, r)
	}
	for _, text := range l.Gone {
		k, err := parseKey(text)
		if err != nil {
			return false, err
		}
		c.Gone = append(c.Gone, k)
	}
	if l.Part {
		return false, nil
	}
	if l.Counters == nil {
		return false, errors.New("it does not say which numbers were given")
	}
	c.Mark = Mark{l.Rev, l.Records, uint64(l.State)}
	c.Whole, c.At, c.Title, c.Undoes, c.Counters = l.Whole, l.At, l.Title, l.Undoes, *l.Counters
	return true, nil
}

func parseKey(text string) (Key, error) {
	name, number, _ := strings.Cut(text, " ")
	k, ok := model.KindNamed(name)
	id, err := strconv.ParseUint(number, 10, 32)
	if !ok || err != nil {
		return Key{}, fmt.Errorf("%q names no record", text)
	}
	return Key{k, uint32(id)}, nil
}
