package storage

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"example.org/tuckrow/storage/whole"
)

// room looks at what is free, but another program can take it before Badger
// writes, and Badger, which writes into files that are mapped into memory, is
// then ended with a signal. So room is kept on the disk. What every change is
// written to, Badger's log and the journal, has its room beforehand. For what
// else Badger writes, when it opens, closes or begins another log, there is a
// reserve: a file that is given back just before and made again afterwards.

// Reserve is the name of the file that keeps room in the folder of a store while
// it is open. One that a kill has left is in the way of nothing.
const Reserve = "reserve"

// Sizes in bytes.
const (
	memTable    = 8 << 20          // Badger begins another log at this size
	logRoom     = memTable + 2<<20 // the longest that one gets: a transaction goes over it
	listRoom    = 1 << 20          // of Badger's other two files mapped into memory
	leastKept   = 3 * memTable     // tables of a log, another log, and what is compacted with it
	keyOverhead = 256              // more than Badger adds to a key in its log or in memory
	nearlyFull  = memTable - 1<<20 // of a log that the next write may go beyond
)

// reserve is what is kept on the disk of a store.
type reserve struct {
	held   bool   // all of it is
	bytes  uint64 // that it takes
	log    string // Badger's newest, once something was to be written to it
	logged uint64 // bytes written to that, or more
}

// left is how much of what is kept was not used yet, or less.
func (r *reserve) left() uint64 { return r.bytes - min(r.bytes, r.logged) }

func (s *Store) reserveFile() string { return filepath.Join(s.dir, Reserve) }

// logs are those of Badger, the newest last.
func (s *Store) logs() []string {
	all, _ := filepath.Glob(filepath.Join(s.badgerDir(), "*.mem")) // the pattern is a good one
	return all
}

// hold keeps the room that is to be kept. Where that is there already, it does
// next to nothing.
func (s *Store) hold() error {
	if s.dir == "" || s.kept.held {
		return nil
	}
	var kept uint64
	if logs := s.logs(); s.db != nil && len(logs) > 0 {
		if newest := logs[len(logs)-1]; newest != s.kept.log {
			s.kept.log, s.kept.logged = newest, 0
		}
		var err error
		if kept, err = keepAll(s.badgerDir(), s.kept.log); err != nil {
			return err
		}
	}
	n := max(leastKept, 2*s.size)
	if err := whole.Ballast(s.reserveFile(), int64(n)); err != nil {
		return err
	}
	s.kept.held, s.kept.bytes = true, kept+n
	return nil
}

// keepAll keeps the room of the files that Badger has mapped into memory to be
// written to.
func keepAll(dir, log string) (kept uint64, err error) {
	lists, err := filepath.Glob(filepath.Join(dir, "*.vlog"))
	if err != nil {
		return 0, err
	}
	for _, path := range append(lists, filepath.Join(dir, "DISCARD"), log) {
		n := int64(listRoom)
		if path == log {
			n = logRoom
		}
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			return 0, err
		}
		err = errors.Join(whole.Keep(f, n), f.Close())
		if errors.Is(err, errors.ErrUnsupported) {
			return 0, nil
		}
		if err != nil {
			return 0, err
		}
		kept += uint64(n)
	}
	return kept, nil
}

// enough holds the reserve and then looks whether there is room, for a store that
// is not open yet. Where there is not, nothing is left of it.
func (s *Store) enough() error {
	_ = os.Remove(s.reserveFile()) // what a kill left is room for this
	held := s.hold()
	err := s.room()
	if err == nil {
		err = held
	}
	return err
}

// letGo gives the reserve back for good.
func (s *Store) letGo() {
	if s.dir != "" {
		_ = os.Remove(s.reserveFile()) // mostly it is gone; one that is left goes with the next opening
		s.kept = reserve{}
	}
}

// spend gives the reserve back for as long as Badger does what may need it.
func (s *Store) spend(do func() error) error {
	if s.dir == "" {
		return do()
	}
	if err := s.hold(); err != nil {
		return err
	}
	if err := s.giveBack(); err != nil {
		return err
	}
	return do()
}

// giveBack gives the reserve back, until it is held again.
func (s *Store) giveBack() error {
	s.kept.held, s.kept.bytes = false, 0
	if err := os.Remove(s.reserveFile()); err != nil {
		return fmt.Errorf("giving back the room that is kept: %w", err)
	}
	return nil
}

// another tells whether so many bytes under so many keys may have Badger begin
// another log, and remembers that they are written.
func (s *Store) another(keys int, bytes uint64) bool {
	s.kept.logged += bytes + uint64(keys)*keyOverhead
	return s.kept.logged > nearlyFull
}

// flushed waits until Badger has written out its logs but the one that it goes
// on with. What it does not come to meanwhile it does later, with less room kept.
func (s *Store) flushed() {
	for range 100 {
		if len(s.logs()) <= 1 {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
}

// rehold keeps the room again after spend. Where there is none left, that is told
// with the next write.
func (s *Store) rehold() {
	if s.dir != "" {
		s.flushed()
		_ = s.hold()
	}
}
