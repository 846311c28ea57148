package storage

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// draftFile lies beside Badger's folder, not in it: what is being typed is no
// change to the cupboard yet and must not make one.
const draftFile = "draft.json"

// SaveDraft keeps what is being typed, for its owner alone, until the next
// call; with nothing it is forgotten. When it returns, either this or the one
// before is on disk, whole.
func (s *Store) SaveDraft(draft []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dir == "" { // in memory
		s.draft = slices.Clone(draft)
		return nil
	}
	return s.tell("keeping what was being typed in", s.saveDraft(draft))
}

func (s *Store) saveDraft(draft []byte) error {
	path := filepath.Join(s.dir, draftFile)
	if len(draft) == 0 {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	f, err := os.CreateTemp(s.dir, draftFile+".*") // for its owner alone by itself
	if err != nil {
		return err
	}
	_, err = f.Write(draft)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	// The name is safe only when the folder is; where folders cannot be synced,
	// the rename has happened all the same.
	if dir, err := os.Open(s.dir); err == nil {
		_ = dir.Sync()
		_ = dir.Close()
	}
	return nil
}

// LoadDraft gives what SaveDraft kept last, nothing when there is none.
func (s *Store) LoadDraft() ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dir == "" {
		return slices.Clone(s.draft), nil
	}
	b, err := os.ReadFile(filepath.Join(s.dir, draftFile))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return b, s.tell("reading what was being typed in", err)
}
