package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
)

// ahead is for how many bytes the file that is written to has its room on the
// disk beforehand: for many changes, of which the largest that storage makes in
// one go takes some 1 MiB here.
const ahead = 2 << 20

// mostFile is how large a file grows before the next one is begun, in bytes.
const mostFile = 1 << 20

// aside is how the name of a file ends that keeps what was cut off another.
const aside = ".cut"

// Journal is a journal open for appending. It is for one goroutine at a time.
type Journal struct {
	dir  string
	f    *os.File
	size int64
	sum  string // of the last line
	last Mark
	cut  int64
	kept int64 // for so many bytes from its beginning the file has room

	was *Journal // as it was before the last change, for Retract
}

// Open opens the journal in a folder. What a kill or a power cut has left of a
// last change is cut off, and kept in a file beside it until the next time. The error is fs.ErrNotExist where there is none, and
// a *DamageError where it cannot be gone on with.
func Open(dir string) (*Journal, error) {
	names, err := files(dir)
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("there is no journal in %q: %w", dir, fs.ErrNotExist)
	}
	path := filepath.Join(dir, names[len(names)-1])
	j := &Journal{dir: dir}
	if j.f, err = os.OpenFile(path, os.O_RDWR, 0); err != nil {
		return nil, err
	}
	if err := j.atEnd(); err != nil {
		return nil, errors.Join(err, j.Close())
	}
	if j.sum == "" {
		err = j.mend()
	}
	if bad := (*DamageError)(nil); errors.As(err, &bad) && bad.Line == 1 && bad.Tail && len(names) > 1 {
		// It was being begun.
		if err := errors.Join(j.Close(), os.Remove(path)); err != nil {
			return nil, err
		}
		return Open(dir)
	}
	if err != nil {
		return nil, errors.Join(err, j.Close())
	}
	return j, nil
}

// keep has room kept for what will be written: should the disk become full, the
// next change is written down all the same. Where none can be kept, Append tells
// when it comes to that.
func (j *Journal) keep() {
	if j.size+ahead/2 > j.kept && whole.Keep(j.f, j.size+ahead) == nil {
		j.kept = j.size + ahead
	}
}

// atEnd reads the last line of the file, and the sum of the one before it. It
// finds none where there is anything to be said against it.
func (j *Journal) atEnd() error {
	info, err := j.f.Stat()
	if err != nil {
		return err
	}
	j.size = info.Size()
	if newer := j.newer(); newer != nil {
		return newer
	}
	for n := int64(mostLine) + 64<<10; ; n *= 2 {
		end := make([]byte, min(n, j.size))
		if _, err := j.f.ReadAt(end, j.size-int64(len(end))); err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		if !bytes.HasSuffix(end, []byte("\n")) {
			return nil
		}
		end = end[:len(end)-1]
		i := bytes.LastIndexByte(end, '\n')
		if i < 0 {
			if int64(len(end))+1 < j.size {
				continue
			}
			if f, err := parse(j.f.Name(), append(end, '\n')); err == nil {
				j.sum, j.last = f.sum, f.last
			}
			return nil
		}
		start := bytes.LastIndexByte(end[:i], '\n')
		if start < 0 && int64(len(end))+1 < j.size {
			continue
		}
		_, after, ok := unseal(end[start+1 : i])
		body, sum, ok2 := unseal(end[i+1:])
		var e entry
		if ok && ok2 && sumOf(after, body) == sum && json.Unmarshal(end[i+1:], &e) == nil && !e.Part {
			j.sum, j.last = sum, Mark{e.Rev, e.Records, uint64(e.State)}
		}
		return nil
	}
}

// newer tells a file of a higher format by its first line.
func (j *Journal) newer() error {
	first := make([]byte, min(j.size, mostHead))
	if _, err := j.f.ReadAt(first, 0); err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	if i := bytes.IndexByte(first, '\n'); i >= 0 {
		if _, err := parse(j.f.Name(), first[:i+1]); errors.Is(err, model.ErrNewer) {
			return err
		}
	}
	return nil
}

// mostHead is more than any first line takes, in bytes.
const mostHead = 4 << 10

// mend reads all of the last file and cuts off what was being written.
func (j *Journal) mend() error {
	f, err := load(j.f.Name())
	if err != nil {
		return err
	}
	var damage error
	f.changes(func(_ *Change, bad *DamageError) bool {
		if bad != nil && !bad.Tail {
			damage = bad
		}
		return damage == nil
	})
	if damage != nil {
		return damage
	}
	j.cut = j.size - f.good
	off := make([]byte, j.cut)
	if _, err := j.f.ReadAt(off, f.good); err != nil {
		return err
	}
	if err := os.WriteFile(j.f.Name()+aside, off, 0o600); err != nil {
		return err
	}
	j.size, j.sum, j.last = f.good, f.sum, f.last
	return errors.Join(j.f.Truncate(j.size), j.f.Sync())
}

// Begin makes a journal in a new folder, with a first change that is whole.
func Begin(dir string, first *Change) (*Journal, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	if err := create(dir, first.Mark, "", first); err != nil {
		return nil, err
	}
	whole.SyncDir(filepath.Dir(dir))
	return Open(dir)
}

// create makes a file that is there in full or not at all.
func create(dir string, from Mark, after string, first *Change) error {
	text, err := encode(head{kind, Format, from.Rev, from.Records, state(from.State), after})
	if err != nil {
		return err
	}
	text, sum := seal(text, after)
	return whole.Replace(filepath.Join(dir, nameOf(from.Rev)), func(w io.Writer) error {
		_, err := w.Write(text)
		if err == nil && first != nil {
			_, _, err = first.writeTo(w, sum)
		}
		return err
	}, nil)
}

// Last is what the cupboard is at after the last change.
func (j *Journal) Last() Mark { return j.last }

// Cut is how many bytes of an unfinished change Open has cut off.
func (j *Journal) Cut() int64 { return j.cut }

// Append writes a change down and waits until it is on disk. On an error
// nothing of it is left, or the journal can only be closed.
func (j *Journal) Append(c *Change) error {
	if begun, _ := begins(filepath.Base(j.f.Name())); j.size >= mostFile && begun < j.last.Rev {
		if err := j.rotate(); err != nil {
			return err
		}
	}
	j.keep()
	was := *j
	was.was = nil
	n, sum, err := c.writeTo(io.NewOffsetWriter(j.f, j.size), j.sum)
	if err == nil {
		err = j.f.Sync()
	}
	j.was, j.size, j.sum, j.last = &was, j.size+n, sum, c.Mark
	if err != nil {
		return errors.Join(err, j.Retract())
	}
	return nil
}

// Retract takes back the change that was appended last, which must not count.
func (j *Journal) Retract() error {
	*j = *j.was
	j.was, j.kept = nil, 0 // cutting off lets go of what is kept
	return errors.Join(j.f.Truncate(j.size), j.f.Sync())
}

// rotate begins the next file.
func (j *Journal) rotate() error {
	if err := create(j.dir, j.last, j.sum, nil); err != nil {
		return err
	}
	next, err := Open(j.dir)
	if err != nil {
		return err
	}
	next.cut = j.cut
	err = j.Close()
	*j = *next
	return err
}

// Forget removes the files that hold only changes up to a revision.
func (j *Journal) Forget(rev uint64) error {
	names, err := files(j.dir)
	for i := 0; err == nil && i+1 < len(names); i++ {
		if next, _ := begins(names[i+1]); next > rev {
			break
		}
		err = os.Remove(filepath.Join(j.dir, names[i]))
		_ = os.Remove(filepath.Join(j.dir, names[i]+aside)) // there seldom is one
	}
	return err
}

// Close lets the journal go.
func (j *Journal) Close() error {
	if j.f == nil {
		return nil
	}
	var err error
	if j.kept > 0 {
		err = j.f.Truncate(j.size) // which lets go of the room that is kept behind it
	}
	err = errors.Join(err, j.f.Close())
	j.f = nil
	return err
}
