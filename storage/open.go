package storage

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"example.org/tuckrow/storage/whole"
	"github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
)

// Options say how to open a store. The zero value is right for use.
type Options struct {
	InMemory bool             // nothing on disk, for tests
	Now      func() time.Time // time.Now when nil

	bare bool // without a journal
}

// Store is an open cupboard. Its methods may be called by several goroutines;
// changes are made one at a time.
type Store struct {
	dir   string
	reads string // the folder of which dir is a copy for reading only
	db    *badger.DB
	now   func() time.Time
	log   *os.File
	lock  *os.File // of the folder, for as long as the store is open

	mu      sync.Mutex
	c       *model.Collection
	state   state  // of its records
	begun   uint64 // the first revision that has a history; 0: all have
	journal *journal.Journal
	notes   []string
	kept    reserve
	size    uint64            // bytes that Badger's files take, or some more
	failure error             // set when what is in memory may differ from the disk
	drafts  map[string][]byte // of a store in memory
}

// Today is the day by the clock that changes are dated by.
func (s *Store) Today() model.Date { return model.Date(s.now().Format(time.DateOnly)) }

// Open opens the store in a folder, making it when it is not there. The folder
// is for its owner alone (mode 0700). Errors wrap model.ErrInUse, ErrDamaged,
// ErrNewer or ErrNoRoom where that is what is wrong.
func Open(dir string, o Options) (*Store, error) {
	s := &Store{dir: dir, now: o.Now}
	if s.now == nil {
		s.now = time.Now
	}
	if !o.InMemory {
		if err := s.prepare(); err != nil {
			s.closeLog()
			return nil, s.tell("opening", err)
		}
	}
	if err := s.open(o.InMemory); err != nil {
		s.letGo()
		s.closeLog()
		return nil, s.tell("opening", err)
	}
	largePages(8 * s.size) // more than all of it takes in memory, and only what is used is taken
	err := s.load()
	if err == nil && !o.InMemory && !o.bare {
		if err = s.reconcile(); err == nil {
			s.checkClock()
		}
	}
	if err != nil {
		return nil, s.tell("reading", errors.Join(err, s.Close()))
	}
	return s, nil
}

// prepare makes the folders and the file that Badger's own log goes to, and
// finishes a restore that was cut off.
func (s *Store) prepare() (err error) {
	if err := os.MkdirAll(s.dir, 0o700); err != nil {
		return err
	}
	if s.lock, err = whole.Lock(s.dir); err != nil {
		return err
	}
	if err := whole.Finish(s.dir); err != nil {
		return err
	}
	if err := os.MkdirAll(s.badgerDir(), 0o700); err != nil {
		return err
	}
	if err := forOwner(s.dir); err != nil {
		return err
	}
	log, err := os.OpenFile(filepath.Join(s.dir, Log), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	s.log = log
	return err
}

// forOwner takes a folder from all but its owner. One that its owner has made
// read-only stays so.
func forOwner(dir string) error {
	info, err := os.Stat(dir)
	if err == nil && info.Mode().Perm()&0o077 != 0 {
		err = os.Chmod(dir, info.Mode().Perm()&0o700)
	}
	return err
}

// Log is the name of the file in the folder of a store in which Badger says what
// it does.
const Log = "store.log"

// BadgerFolder is where Badger keeps what a store holds.
func BadgerFolder(store string) string { return filepath.Join(store, "badger") }

func (s *Store) badgerDir() string  { return BadgerFolder(s.dir) }
func (s *Store) holderFile() string { return filepath.Join(s.dir, "holder") }

// badgerOptions are for a small local store: every commit synced, no value
// ever in the value log, little memory.
func (s *Store) badgerOptions(inMemory bool) badger.Options {
	dir := s.badgerDir()
	if inMemory {
		dir = ""
	}
	return badger.DefaultOptions(dir).
		WithInMemory(inMemory).
		WithSyncWrites(!inMemory).
		WithMemTableSize(memTable).
		WithNumMemtables(2).
		WithNumCompactors(2).
		WithValueThreshold(1 << 20).
		WithValueLogFileSize(1 << 20).
		WithBaseTableSize(2 << 20).
		WithCompression(options.None).
		WithBlockCacheSize(0).
		WithCompactL0OnClose(!inMemory).
		WithChecksumVerificationMode(options.OnTableRead).
		WithNumVersionsToKeep(1).
		WithMetricsEnabled(false).
		WithLogger(badgerLog{s.log})
}

func (s *Store) open(inMemory bool) error {
	if !inMemory {
		s.size = sizeOf(s.badgerDir())
		if err := errors.Join(s.enough(), s.checkForeign()); err != nil {
			return err
		}
		if err := s.checkFiles(); err != nil {
			return err
		}
	}
	left := s.logs()
	if err := s.spend(func() error { return s.openBadger(s.badgerOptions(inMemory)) }); err != nil {
		return err
	}
	if inMemory {
		return nil
	}
	db := s.db
	if len(left) > 0 {
		s.rehold()
	} // else the first change holds it
	if err := s.restrict(); err != nil {
		return errors.Join(err, db.Close())
	}
	holder := fmt.Sprintf("process %d (%s)\n", os.Getpid(), filepath.Base(os.Args[0]))
	if err := os.WriteFile(s.holderFile(), []byte(holder), 0o600); err != nil {
		return errors.Join(err, db.Close())
	}
	return nil
}

func (s *Store) openBadger(o badger.Options) error {
	db, err := badger.Open(o)
	if err != nil && strings.Contains(err.Error(), "Create a new file") {
		// A kill while Badger opened or closed leaves a file that the next
		// opening removes; the one after that succeeds.
		db, err = badger.Open(o)
	}
	if err != nil {
		return damage(err)
	}
	s.db = db
	return nil
}

// patience is how long Badger may take to close. It can hang for ever where it
// may no longer write (measured, v4.9.6).
var patience = 20 * time.Second

// Close writes everything out and lets the store go. Where that cannot be done,
// the disk being full or read-only, say, it lets go all the same and says so:
// what was committed is on disk, and the next opening does the rest.
func (s *Store) Close() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return nil
	}
	if s.log != nil { // on disk
		_ = os.Remove(s.holderFile()) // it only names the holder; a leftover is overwritten
	}
	err := s.room()
	if err == nil {
		err = s.shutBadger()
	}
	s.letGo()
	if s.journal != nil {
		err = errors.Join(err, s.journal.Close())
	}
	s.db = nil
	s.closeLog()
	if s.reads != "" {
		return s.tell("closing", os.RemoveAll(s.dir)) // there was nothing to be kept
	}
	if err != nil {
		err = fmt.Errorf("%w (all that was entered is on disk, and the next opening writes out the rest)", err)
	}
	return s.tell("closing", err)
}

// shutBadger closes Badger, with the reserve given back where there is anything to
// be written out.
func (s *Store) shutBadger() error {
	if s.kept.log == "" {
		return s.closeBadger()
	}
	return s.spend(s.closeBadger)
}

func (s *Store) closeBadger() error {
	done := make(chan error, 1)
	db := s.db
	go func() { done <- db.Close() }()
	select {
	case err := <-done:
		return errors.Join(err, s.restrict())
	case <-time.After(patience):
		return fmt.Errorf("%w: it does not come to an end; look whether its folder can still be written to", model.ErrNoRoom)
	}
}

func (s *Store) closeLog() {
	for _, f := range []**os.File{&s.log, &s.lock} {
		if *f != nil {
			_ = (*f).Close()
			*f = nil
		}
	}
}

// Dir is the store's folder.
func (s *Store) Dir() string { return cmp.Or(s.reads, s.dir) }

// Collection is the cupboard as it is now.
func (s *Store) Collection() *model.Collection {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.c
}

// tell turns errors from below into those of package model, with what to do
// next.
func (s *Store) tell(doing string, err error) error {
	if err == nil || errors.Is(err, model.ErrNewer) || errors.Is(err, model.ErrNothingToUndo) || model.IsInput(err) {
		return err
	}
	switch text := err.Error(); {
	case errors.Is(err, model.ErrInUse), strings.Contains(text, "Another process is using this Badger database"):
		who, _ := os.ReadFile(s.holderFile())
		if len(who) == 0 {
			who = []byte("another program")
		}
		return fmt.Errorf("%s %q: %w by %s; close it there and try again", doing, s.Dir(), model.ErrInUse, strings.TrimSpace(string(who)))
	case errors.Is(err, syscall.ENOTDIR):
		return model.Inputf("%s %q: that is a file, or lies in one, and a store is a folder; name a folder with --store; what a backup holds is brought back by: tuckrow restore FILE", doing, s.Dir())
	case errors.Is(err, model.ErrNoRoom), errors.As(err, new(*ForeignError)):
		return fmt.Errorf("%s %q: %w", doing, s.Dir(), err)
	case errors.Is(err, fs.ErrPermission), strings.Contains(text, "permission denied"), strings.Contains(text, "read-only file system"):
		return fmt.Errorf("%s %q: %w: %v; give yourself the right to write there, or name another folder with --store", doing, s.Dir(), model.ErrReadOnly, err)
	case strings.Contains(text, "no space left"):
		return fmt.Errorf("%s %q: %w: %v; make room, or name another folder with --store", doing, s.Dir(), model.ErrNoRoom, err)
	case errors.Is(err, model.ErrDamaged):
		return fmt.Errorf("%s %q: %w; to have it built anew from its last good backup and its journal, with the store as it is kept aside: tuckrow verify --rebuild", doing, s.Dir(), err)
	}
	return fmt.Errorf("%s %q: %v", doing, s.Dir(), err) // what is Badger's own stays in here
}

func (s *Store) closed(doing string) error {
	return fmt.Errorf("%s %q: the store is closed; open it again", doing, s.Dir())
}

// badgerLog keeps Badger's own words off the screen.
type badgerLog struct{ file *os.File }

func (l badgerLog) line(level, format string, args ...any) {
	if l.file != nil {
		fmt.Fprintf(l.file, "%s %s\n", level, strings.TrimSpace(fmt.Sprintf(format, args...)))
	}
}

func (l badgerLog) Errorf(format string, args ...any)   { l.line("error", format, args...) }
func (l badgerLog) Warningf(format string, args ...any) { l.line("warning", format, args...) }
func (l badgerLog) Infof(string, ...any)                {}
func (l badgerLog) Debugf(string, ...any)               {}
