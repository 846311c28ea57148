package storage

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
)

// OpenReading opens a store for reading only, whose folder cannot be written to,
// or whose disk is full: Open has said so with an error that wraps model.ErrNoRoom.
// What it holds is copied into a folder for this once, which Close removes, since
// Badger reads no store whose log has to be written out first; the disk of that
// folder must have as much room as that of a store. A change is refused with an error
// that wraps model.ErrReadOnly as well, and drafts last as long as the store is
// open.
func OpenReading(dir string, o Options) (_ *Store, err error) {
	tell := func(err error) error { return fmt.Errorf("opening %q for reading only: %w", dir, err) }
	lock, err := whole.Lock(dir)
	if err != nil {
		return nil, (&Store{dir: dir}).tell("opening", err)
	}
	defer lock.Close() // a copy does not need it
	if err := (&Store{dir: os.TempDir(), size: sizeOf(BadgerFolder(dir))}).room(); err != nil {
		return nil, tell(err) // before the last of it is taken by the copy
	}
	copied, err := os.MkdirTemp("", "tuckrow-reading-")
	if err != nil {
		return nil, tell(err)
	}
	if err := copyTo(copied, dir); err != nil {
		return nil, tell(errors.Join(err, os.RemoveAll(copied)))
	}
	s, err := Open(copied, o)
	if err != nil {
		return nil, tell(errors.Join(err, os.RemoveAll(copied)))
	}
	s.reads = dir
	return s, nil
}

// copyTo copies all that Open looks at.
func copyTo(to, dir string) error {
	if whole.Planned(dir) {
		return errors.New("a restore of it was cut off, and the rest of that has to be done first")
	}
	for _, folder := range []string{BadgerFolder(""), JournalFolder("")} {
		err := os.CopyFS(filepath.Join(to, folder), os.DirFS(filepath.Join(dir, folder)))
		if err != nil && (folder == BadgerFolder("") || !errors.Is(err, fs.ErrNotExist)) {
			return err
		}
	}
	drafts, err := filepath.Glob(filepath.Join(dir, "draft*.json"))
	for _, path := range drafts {
		b, bad := os.ReadFile(path)
		if bad == nil {
			bad = os.WriteFile(filepath.Join(to, filepath.Base(path)), b, 0o600)
		}
		err = errors.Join(err, bad)
	}
	return err
}

// ReadingOnly tells whether the store takes no changes, and the folder that a
// killed program would leave behind then.
func (s *Store) ReadingOnly() (copied string, reading bool) {
	if s.reads == "" {
		return "", false
	}
	return s.dir, true
}

// Unkept tells whether closing loses what is in the making: the store is opened for
// reading only, and holds a draft that its folder does not. Its error says that.
func (s *Store) Unkept() error {
	if s.reads == "" {
		return nil
	}
	drafts, err := filepath.Glob(filepath.Join(s.dir, "draft*.json"))
	for _, path := range drafts {
		is, bad := os.ReadFile(path)
		was, _ := os.ReadFile(filepath.Join(s.reads, filepath.Base(path))) // one that cannot be read has not this in it
		if bad == nil && !bytes.Equal(is, was) {
			return fmt.Errorf("keeping what was being typed in %q: %w: it was opened for reading only, so what was half typed or half done is lost; give yourself the right to write there, or make room on its disk, and enter it again", s.reads, model.ErrReadOnly)
		}
		err = errors.Join(err, bad)
	}
	return err
}

func (s *Store) refused() error {
	return fmt.Errorf("writing %q: %w: it is opened for reading only; give yourself the right to write there, or make room on its disk, and open it again, or name another folder with --store", s.reads, model.ErrReadOnly)
}
