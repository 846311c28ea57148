package exchange

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"

	"example.org/tuckrow/model"
)

// DamagedError is an export that was cut short or altered. It counts as
// model.ErrDamaged.
type DamagedError struct{ Text string }

func (e *DamagedError) Error() string { return e.Text }

// Is makes errors.Is tell damage.
func (e *DamagedError) Is(target error) bool { return target == model.ErrDamaged }

func damagedf(format string, args ...any) error {
	return &DamagedError{fmt.Sprintf(format, args...)}
}

// ReadJSONL reads what WriteJSONL wrote, whole or not at all. The error is a
// *DamagedError where an export was cut short or altered, wraps model.ErrNewer
// where it is of a higher format, and is the user's input where the file is no
// export.
func ReadJSONL(r io.Reader) (*model.Collection, error) {
	c, _, err := ReadStamped(r)
	return c, err
}

// ReadStamped reads an export and says of what moment it is.
func ReadStamped(r io.Reader) (*model.Collection, Stamp, error) {
	in := &lines{r: bufio.NewReaderSize(r, 1<<16), sum: sha256.New()}
	h, err := in.head()
	if err != nil {
		return nil, Stamp{}, err
	}
	var bad error
	single := map[model.Kind]bool{} // of the kinds of which there is one, those read
	c, err := model.Build(0, h.Counters, func(yield func(model.Record) bool) {
		for r, err := range in.records() {
			if bad = err; err == nil {
				bad = once(single, r)
			}
			if bad != nil || !yield(r) {
				return
			}
		}
	})
	if bad != nil {
		return nil, Stamp{}, damagedf("line %d of the export: %v", in.at, bad)
	}
	if err != nil {
		return nil, Stamp{}, damagedf("the export does not hold together: %s", strings.TrimPrefix(err.Error(), model.ErrDamaged.Error()+": "))
	}
	if h.Made.IsZero() != (h.Stamp == Stamp{}) || !h.Made.IsZero() && h.Copies != c.Copies().Len() {
		return nil, Stamp{}, damagedf("line 1 of the export speaks of %d copies, and there are %d; the file was altered or damaged", h.Copies, c.Copies().Len())
	}
	// What could not be written down as a shelf file again is no shelf.
	if _, _, err := c.Apply(&model.SetShelf{Spec: c.ShelfSpec()}, ""); err != nil {
		return nil, Stamp{}, damagedf("the shelf in the export cannot be used: %v", err)
	}
	return c, h.Stamp, nil
}

// once tells a shelf or walls that are there twice. The second would count, and
// nothing would say so; of the other kinds, model.Build tells.
func once(read map[model.Kind]bool, r model.Record) error {
	kind, _ := r.Key()
	if kind != model.KindShelf && kind != model.KindWalls {
		return nil
	}
	if read[kind] {
		return fmt.Errorf("the %s is there twice", kind)
	}
	read[kind] = true
	return nil
}

// begins is how every export begins; a file that does not is not read on.
const begins = `{"kind":"tuckrow",`

// mostLine is how long a line may be: a box of a million copies is shorter.
const mostLine = 16 << 20

// lines reads an export line by line and sums it up.
type lines struct {
	r   *bufio.Reader
	sum hash.Hash
	n   int // lines read
	at  int // line of the record that records gave last
}

var errCut = errors.New("the file ends before its last line, {\"kind\":\"end\"...}: it is cut short")

// next reads a line, its end included. It is summed up by whoever finds that
// it is not the last.
func (l *lines) next() ([]byte, error) {
	l.n++
	var line []byte
	for {
		part, err := l.r.ReadSlice('\n')
		line = append(line, part...)
		switch {
		case err == nil:
			return line, nil
		case errors.Is(err, io.EOF):
			return nil, errCut
		case !errors.Is(err, bufio.ErrBufferFull):
			return nil, err
		case len(line) > mostLine:
			return nil, fmt.Errorf("it is longer than %d bytes", mostLine)
		}
	}
}

// head reads the first line.
func (l *lines) head() (h head, err error) {
	if b, _ := l.r.Peek(len(begins)); string(b) != begins {
		return h, model.Inputf("this is no export of tuckrow: its first line should begin with %s", begins)
	}
	first, err := l.next()
	if err != nil {
		return h, damagedf("line 1 of the export: %v", err)
	}
	l.sum.Write(first)
	return parseHead(first)
}

func parseHead(first []byte) (h head, err error) {
	var f struct {
		Format int `json:"format"`
	}
	if err := json.Unmarshal(first, &f); err == nil && f.Format > Format {
		return h, fmt.Errorf("%w: the export has format %d and this tuckrow reads up to %d; use the newer tuckrow", model.ErrNewer, f.Format, Format)
	}
	if err := strict(first, &h); err != nil || h.Format < 1 {
		return h, damagedf("line 1 of the export: format and counters cannot be read; the file was altered or damaged")
	}
	return h, nil
}

// isTail tells the last line.
func isTail(line []byte) bool { return bytes.HasPrefix(line, []byte(kindOpens+`end"`)) }

// check compares the last line with what came before it.
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

// Glance reads of an export only its first line, and whether it has a last
// one. It is quick however long the file is, and no proof that the file is
// whole: ReadStamped is.
func Glance(f io.ReadSeeker) (Stamp, error) {
	in := &lines{r: bufio.NewReaderSize(f, 4<<10), sum: sha256.New()}
	h, err := in.head()
	if err != nil {
		return Stamp{}, err
	}
	const most = 256 // a last line is shorter
	if size, err := f.Seek(0, io.SeekEnd); err != nil {
		return Stamp{}, err
	} else if _, err := f.Seek(max(0, size-most), io.SeekStart); err != nil {
		return Stamp{}, err
	}
	end, err := io.ReadAll(io.LimitReader(f, most))
	if err != nil {
		return Stamp{}, err
	}
	last := bytes.TrimSuffix(end, []byte("\n"))
	if last = last[bytes.LastIndexByte(last, '\n')+1:]; len(last) == len(end) || !isTail(last) {
		return Stamp{}, damagedf("the export: %v", errCut)
	}
	return h.Stamp, nil
}
