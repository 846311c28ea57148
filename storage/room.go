package storage

import (
	"fmt"
	"os"
	"path/filepath"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
)

// spare is how much must be free on the disk before anything is written: where
// a disk is full, Badger ends the program with a signal (measured, v4.9.6).
const spare = 64 << 20

// free tells what is free on a disk; tests have their own.
var free = whole.Free

// room tells whether there is enough on the disk to write: the larger of what
// Badger writes in one go and twice what it holds, since it may have to write all
// of it anew. What is kept for it counts with what is free.
func (s *Store) room() error {
	if s.dir == "" { // in memory
		return nil
	}
	need := max(spare, 2*s.size)
	n, known := free(s.dir)
	left := s.kept.left()
	if !known || n+left >= need {
		return nil
	}
	kept := ""
	if left > 0 {
		kept = fmt.Sprintf(" beside %d MiB that are kept for it", left>>20)
	}
	return fmt.Errorf("%w: %d MiB are free on its disk%s, and %d MiB should be, since a full disk could harm it; make room and try again", model.ErrNoRoom, n>>20, kept, need>>20)
}

// sizeOf is how many bytes the files right in a folder take, with a log counted
// as full at the most: it looks twice as long.
func sizeOf(dir string) (size uint64) {
	inside, _ := os.ReadDir(dir) // what cannot be read will be told by who needs it
	for _, e := range inside {
		if info, err := e.Info(); err == nil && info.Mode().IsRegular() {
			n := uint64(info.Size())
			if filepath.Ext(e.Name()) == ".mem" {
				n = min(n, logRoom)
			}
			size += n
		}
	}
	return size
}

// restrict makes Badger's files for their owner alone. Their folder is, so this
// is for who copies them out of it.
func (s *Store) restrict() error {
	if s.dir == "" {
		return nil
	}
	inside, err := os.ReadDir(s.badgerDir())
	if err != nil {
		return err
	}
	for _, e := range inside {
		info, err := e.Info()
		if err != nil || !info.Mode().IsRegular() || info.Mode().Perm()&0o077 == 0 {
			continue // Badger removes files when it likes
		}
		if err := os.Chmod(filepath.Join(s.badgerDir(), e.Name()), 0o600); err != nil && !os.IsNotExist(err) {
			return err
		}
	}
	return nil
}
