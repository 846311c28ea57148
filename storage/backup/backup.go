package backup

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/whole"
)

// Store is what is backed up.
type Store interface {
	Dir() string
	Collection() *model.Collection
	// Dropped counts the copies that changes after a revision took out, and
	// that are not there.
	Dropped(since uint64) (int, error)
}

// Journaled is a store whose changes are written to a journal as well, until
// there are backups enough.
type Journaled interface {
	Store
	// ForgetJournal lets go of what the journal says of changes up to a revision.
	ForgetJournal(rev uint64) error
}

// Progress is told how far the work has come: bytes done, and of how many, 0
// where that is not known.
type Progress func(doing string, done, of int64)

// NoProgress is for work that nobody watches.
func NoProgress(string, int64, int64) {}

// Write backs a store up into a file of the user's choice. A file that is
// there already is replaced only if it is a backup of this cupboard, and one
// that the store has not fallen behind: the error is the user's input otherwise.
func Write(ctx context.Context, path string, s Store, now time.Time, p Progress) (exchange.Stamp, error) {
	c := s.Collection()
	old, err := glance(path)
	switch {
	case err == nil:
		if why := doubt(old, s, c); why != "" {
			return exchange.Stamp{}, model.Inputf("%q stays as it is: %s; name another file, or move that one away", path, why)
		}
		had, err := Read(ctx, path, p)
		switch {
		case ctx.Err() != nil:
			return exchange.Stamp{}, ctx.Err()
		case err == nil && another(had.Collection, c): // one that is damaged holds nothing to be kept
			return exchange.Stamp{}, model.Inputf("%q stays as it is: it is of another cupboard, with %s of which most are not what is listed here; name another file, or move that one away", path, copies(old.Copies))
		}
	case !errors.Is(err, fs.ErrNotExist) && !errors.Is(err, model.ErrDamaged):
		return exchange.Stamp{}, fmt.Errorf("%q stays as it is: %w; name another file", path, err)
	}
	if err := whole.Clear(filepath.Split(path)); err != nil {
		return exchange.Stamp{}, err
	}
	return write(ctx, path, c, now, p)
}

// write writes a backup and reads it back before it takes its place.
func write(ctx context.Context, path string, c *model.Collection, now time.Time, p Progress) (exchange.Stamp, error) {
	stamp := exchange.StampOf(c, now)
	var size int64
	put := func(w io.Writer) error {
		out := &meter{ctx: ctx, doing: "writing the backup", tell: p}
		err := exchange.WriteStamped(io.MultiWriter(w, out), c, stamp)
		size = out.done
		return err
	}
	check := func(r io.Reader) error {
		_, err := read(ctx, r, size, "reading it back", p)
		return err
	}
	return stamp, whole.Replace(path, put, check)
}

// Read reads a backup, or any whole export, and checks all of it. Its errors
// are told apart as those of exchange.ReadJSONL.
func Read(ctx context.Context, path string, p Progress) (*Whole, error) {
	f, info, err := open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close() // only read
	return read(ctx, f, info.Size(), "reading the backup", p)
}

// Whole is a backup that was read.
type Whole struct {
	exchange.Stamp
	Collection *model.Collection
}

func read(ctx context.Context, r io.Reader, size int64, doing string, p Progress) (*Whole, error) {
	c, stamp, err := exchange.ReadStamped(io.TeeReader(r, &meter{ctx: ctx, doing: doing, of: size, tell: p}))
	if ctx.Err() != nil { // which is not the fault of the file
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	return &Whole{stamp, c}, nil
}

// open opens a file for reading; a folder or a device is no backup.
func open(path string) (*os.File, fs.FileInfo, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, nil, err
	case info.IsDir():
		return nil, nil, model.Inputf("it is a folder, and a backup is a file")
	case !info.Mode().IsRegular():
		return nil, nil, model.Inputf("it is no plain file")
	case info.Size() == 0:
		return nil, nil, model.Inputf("it is empty, so it is no backup")
	}
	f, err := os.Open(path)
	return f, info, err
}

// glance reads of a backup only its stamp.
func glance(path string) (exchange.Stamp, error) {
	f, _, err := open(path)
	if err != nil {
		return exchange.Stamp{}, err
	}
	defer f.Close() // only read
	return exchange.Glance(f)
}

// doubt says why a store should not take the place of what an earlier backup
// holds; empty when it may. A store only ever goes on from revision to
// revision, and copies go only by a change that is in its history: where it
// does not stand so to its backup, something else has happened to it.
func doubt(old exchange.Stamp, s Store, c *model.Collection) string {
	now := c.Copies().Len()
	lost := old.Copies - now
	switch {
	case c.Rev() < old.Revision:
		return fmt.Sprintf("it holds %s as of revision %d, and the store has gone back to revision %d with %s, as after a restore", copies(old.Copies), old.Revision, c.Rev(), copies(now))
	case lost <= 0:
		return ""
	}
	if dropped, err := s.Dropped(old.Revision); err == nil && dropped >= lost {
		return ""
	}
	return fmt.Sprintf("it holds %s and the store %s, and nothing in the history of the store says where the others went", copies(old.Copies), copies(now))
}

// another tells whether a backup is of another cupboard: of the accession
// numbers that both have given, most are not of the same copy. A number is never
// given twice, and what it was given to seldom has its number and its name
// corrected both; the day on which it was entered stays.
func another(old, now *model.Collection) bool {
	both, same := 0, 0
	for _, was := range old.Copies().All() {
		is := now.Copy(was.Accession)
		if is == nil {
			continue
		}
		both++
		p, q := old.Pattern(was.Pattern), now.Pattern(is.Pattern)
		if was.Added == is.Added && (p.Number != "" && p.Number == q.Number || p.Name != "" && p.Name == q.Name) {
			same++
		}
	}
	return 2*same < both
}

func copies(n int) string {
	if n == 1 {
		return "1 copy"
	}
	return fmt.Sprintf("%d copies", n)
}

// meter counts what passes, tells of it, and stops it when asked to.
type meter struct {
	ctx      context.Context
	doing    string
	done, of int64
	tell     Progress
}

func (m *meter) Write(b []byte) (int, error) {
	m.done += int64(len(b))
	m.tell(m.doing, m.done, m.of)
	return len(b), m.ctx.Err()
}
