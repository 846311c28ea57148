package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// DamageError is a line of a journal, or a whole file, that cannot be read. It
// counts as model.ErrDamaged.
type DamageError struct {
	Path string
	Line int // the first that is damaged, from 1
	Why  string
	// Tail is whether nothing that can be read comes after it: so looks what a
	// power cut leaves of a change that was being written.
	Tail bool
}

func (e *DamageError) Error() string {
	return fmt.Sprintf("line %d of %q: %s", e.Line, e.Path, e.Why)
}

// Is makes errors.Is tell damage.
func (e *DamageError) Is(target error) bool { return target == model.ErrDamaged }

// file is one file of a journal as it was read.
type file struct {
	path  string
	head  head
	lines []byte // behind the first
	good  int64  // bytes up to the end of the last change before any damage
	sum   string // of the last line there
	last  Mark   // after that change
	ends  string // the sum that the last line of all says it has
}

// load reads a file and its first line.
func load(path string) (*file, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return parse(path, text)
}

func parse(path string, text []byte) (*file, error) {
	first, rest, whole := bytes.Cut(text, []byte("\n"))
	f := &file{path: path, lines: rest}
	cut := &DamageError{f.path, 1, "it does not say what the file is", !whole}
	body, sum, ok := unseal(first)
	if err := json.Unmarshal(first, &f.head); err != nil || !whole || !ok || f.head.Kind != kind || f.head.Format < 1 {
		return nil, cut
	}
	if f.head.Format > Format {
		return nil, fmt.Errorf("%w: the journal %q has format %d and this tuckrow reads up to %d; use the newer tuckrow", model.ErrNewer, f.path, f.head.Format, Format)
	}
	if sumOf(f.head.After, body) != sum {
		cut.Why = wrongSum
		return nil, cut
	}
	f.good, f.sum, f.ends = int64(len(first)+1), sum, sum
	f.last = Mark{f.head.Rev, f.head.Records, uint64(f.head.State)}
	return f, nil
}

const wrongSum = "its checksum is wrong"

// changes goes through the lines behind the first. Give is told of each change,
// and of damage, in the order of the file; when it returns false that is the end
// of it. After damage it goes on with the next line that follows a line as it
// should.
func (f *file) changes(give func(*Change, *DamageError) bool) bool {
	at, broken := f.good, false
	c := new(Change)
	var bad *DamageError // the first since the last line that can be read
	rest, n := f.lines, 1
	for len(rest) > 0 {
		text, more, ended := bytes.Cut(rest, []byte("\n"))
		rest, n, at = more, n+1, at+int64(len(text))+1
		done, why := f.line(c, text, ended)
		if why != "" {
			if broken, c = true, new(Change); bad == nil {
				bad = &DamageError{f.path, n, why, true}
			}
			continue
		}
		if bad != nil {
			if bad.Tail = false; !give(nil, bad) {
				return false
			}
			bad = nil
		}
		if !done {
			continue
		}
		if !broken { // nothing behind damage can be gone on from
			f.good, f.sum, f.last = at, f.ends, c.Mark
		}
		if !give(c, nil) {
			return false
		}
		c = new(Change)
	}
	if bad == nil && c.Rev != 0 {
		bad = &DamageError{f.path, n, "the change that it is a part of is cut short", true}
	}
	return bad == nil || give(nil, bad)
}

// line reads one line into the change that it is of, and says what is wrong
// with it.
func (f *file) line(c *Change, text []byte, ended bool) (done bool, why string) {
	body, sum, ok := unseal(text)
	after := f.ends
	if ok {
		f.ends = sum // what comes next is measured by what this one says it is
	}
	switch {
	case !ended:
		return false, "it is cut short"
	case !ok || sumOf(after, body) != sum:
		return false, wrongSum
	}
	done, err := c.take(text)
	if err != nil {
		return false, err.Error()
	}
	return done, ""
}

// Read gives all changes of a journal, the earliest first, and before them where
// it begins: a change that has a Mark and nothing else. An error takes the place
// of what cannot be read, be it a line or a file that is not there; what comes
// after it is given all the same. Where there is no journal, nothing is given.
func Read(dir string) iter.Seq2[*Change, error] {
	return func(yield func(*Change, error) bool) {
		names, err := files(dir)
		if err != nil {
			yield(nil, err)
			return
		}
		ends := ""
		for i, name := range names {
			f, err := load(filepath.Join(dir, name))
			if err == nil && i > 0 && f.head.After != ends && !yield(nil, &DamageError{f.path, 1, "it does not go on from the file before it", false}) {
				return
			}
			if err != nil {
				if !yield(nil, err) {
					return
				}
				ends = ""
				continue
			}
			if i == 0 && !yield(&Change{Mark: f.last}, nil) {
				return
			}
			goOn := f.changes(func(c *Change, bad *DamageError) bool {
				if bad != nil {
					bad.Tail = bad.Tail && i == len(names)-1
					return yield(nil, bad)
				}
				return yield(c, nil)
			})
			if !goOn {
				return
			}
			ends = f.ends
		}
	}
}

// files lists the files of a journal by what they go on from.
func files(dir string) ([]string, error) {
	inside, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var names []string
	for _, e := range inside {
		if _, ok := begins(e.Name()); ok && e.Type().IsRegular() {
			names = append(names, e.Name())
		}
	}
	slices.Sort(names)
	return names, err
}

const ext = ".jsonl"

func nameOf(rev uint64) string { return fmt.Sprintf("%012d%s", rev, ext) }

// begins tells by the name of a file the revision that it goes on from.
func begins(name string) (uint64, bool) {
	number, ok := strings.CutSuffix(name, ext)
	rev, err := strconv.ParseUint(number, 10, 64)
	return rev, ok && err == nil && name == nameOf(rev)
}
