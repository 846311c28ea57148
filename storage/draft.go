package storage

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"
)

// SaveDraft keeps what is in the making under a name, for its owner alone,
// until the next call; with nothing it is forgotten. When it returns, either
// this or the one before is on disk, whole. Each name is a file beside Badger's
// folder, not in it: a draft is no change to the cupboard yet and must not make
// one.
func (s *Store) SaveDraft(name string, draft []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dir == "" { // in memory
		if s.drafts == nil {
			s.drafts = map[string][]byte{}
		}
		s.drafts[name] = slices.Clone(draft)
		return nil
	}
	err := s.saveDraft(s.draftFile(name), draft)
	if err == nil && len(draft) > 0 && s.db != nil && s.room() == nil {
		_ = s.hold() // who only types has made no change yet, which would have held it
	}
	if errors.Is(err, syscall.ENOSPC) && s.kept.held {
		// What is typed matters more than what is kept for Badger, which
		// takes nothing more now until there is room again.
		_ = s.giveBack()
		err = s.saveDraft(s.draftFile(name), draft)
	}
	return s.tell("keeping what was being typed in", err)
}

func (s *Store) draftFile(name string) string { return filepath.Join(s.dir, name+".json") }

func (s *Store) saveDraft(path string, draft []byte) error {
	if len(draft) == 0 {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		return nil
	}
	half := path + ".new" // what a kill leaves of it, the next one writes over
	f, err := os.OpenFile(half, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(draft)
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(half, path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(half))
	}
	// The name is safe only when the folder is; where folders cannot be synced,
	// the rename has happened all the same.
	if dir, err := os.Open(s.dir); err == nil {
		_ = dir.Sync()
		_ = dir.Close()
	}
	return nil
}

// LoadDraft gives what SaveDraft kept last under a name, nothing when there is
// none.
func (s *Store) LoadDraft(name string) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.dir == "" {
		return slices.Clone(s.drafts[name]), nil
	}
	b, err := os.ReadFile(s.draftFile(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return b, s.tell("reading what was being typed in", err)
}
