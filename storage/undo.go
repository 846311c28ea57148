package storage

import (
	"context"
	"errors"
	"fmt"
	"time"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// Kept is how many lines of the history are kept. Undoing writes a line too, so
// this many take back the last 1,000 changes one after another.
const Kept = 2000

// beforeOf packs what records were before a change, as they lie on disk, into
// pieces that each fit a transaction.
func beforeOf(delta model.Delta, were [][]byte) ([][]byte, error) {
	var pieces [][]byte
	var b before
	size := 0
	flush := func() error {
		p, err := seal(b)
		pieces, b, size = append(pieces, p), before{}, 0
		return err
	}
	for i, x := range delta {
		if x.Before == nil {
			if n := len(b.Absent); n > 0 && b.Absent[n-1].Kind == x.Kind && b.Absent[n-1].To+1 == x.ID {
				b.Absent[n-1].To = x.ID
			} else {
				b.Absent = append(b.Absent, span{x.Kind, x.ID, x.ID})
				size += 16
			}
		} else {
			v, err := were[i], error(nil)
			if v == nil { // a shelf as it is without one
				v, err = seal(x.Before)
			}
			if err != nil {
				return nil, err
			}
			if size > 0 && size+len(v) > mostBytes {
				if err := flush(); err != nil {
					return nil, err
				}
			}
			b.Were = append(b.Were, write{recordKey(x.Kind, x.ID), v})
			size += len(v) + 8
		}
		if size > mostBytes {
			if err := flush(); err != nil {
				return nil, err
			}
		}
	}
	if len(pieces) == 0 || size > 0 {
		if err := flush(); err != nil {
			return nil, err
		}
	}
	return pieces, nil
}

// Undo takes back the last change that has not been taken back, and says which
// it was. It is a change itself; calling it again goes further back. The error
// is model.ErrNothingToUndo when no change is left.
func (s *Store) Undo(context.Context) (model.Commit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return model.Commit{}, s.closed("writing")
	}
	rev, line, err := s.undoable()
	if err != nil {
		return model.Commit{}, s.tell("undoing in", err)
	}
	delta, err := s.inverse(rev, line.Pieces)
	if err != nil {
		return model.Commit{}, s.tell("undoing in", err)
	}
	next := s.c.ApplyDelta(delta)
	title := model.Undid + line.Title
	if err := s.store(context.Background(), next, delta, entry{Title: title, Undoes: rev}, nil); err != nil {
		return model.Commit{}, err
	}
	return model.Commit{Collection: next, Delta: delta, Title: title}, nil
}

// Undoable names the change that Undo would take back, and when it was made;
// empty when there is none.
func (s *Store) Undoable() (title string, at time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return "", time.Time{}
	}
	_, line, err := s.undoable()
	if err != nil {
		return "", time.Time{}
	}
	return line.Title, time.Unix(line.At, 0)
}

// undoable goes back through the history. A line that undid a change leads to
// what came before that change: all in between was undone before it.
func (s *Store) undoable() (rev uint64, line entry, err error) {
	err = s.db.View(func(txn *badger.Txn) error {
		for rev = s.c.Rev(); rev >= s.oldest(); {
			line = entry{}
			if err := get(txn, historyKey(rev), &line); err != nil {
				return missing(err, "the history of revision %d", rev)
			}
			if line.Begins {
				return model.ErrNothingToUndo
			}
			if line.Undoes == 0 {
				return nil
			}
			if line.Undoes >= rev {
				return fmt.Errorf("%w: the history says that revision %d undid %d", model.ErrDamaged, rev, line.Undoes)
			}
			rev = line.Undoes - 1
		}
		return model.ErrNothingToUndo
	})
	return rev, line, err
}

// oldest is the first revision whose line in the history is kept.
func (s *Store) oldest() uint64 {
	oldest := max(1, s.begun)
	if rev := s.c.Rev(); rev > Kept {
		oldest = max(oldest, rev-Kept+1)
	}
	return oldest
}

// inverse reads the delta that takes a change back. All changes after it have
// been taken back already, so what is there now is what it left.
func (s *Store) inverse(rev uint64, pieces int) (model.Delta, error) {
	var delta model.Delta
	err := s.db.View(func(txn *badger.Txn) error {
		for i := range pieces {
			var b before
			if err := get(txn, beforeKey(rev, i), &b); err != nil {
				return missing(err, "what revision %d changed, part %d", rev, i+1)
			}
			for _, w := range b.Were {
				kind, id, ok := parseRecordKey(w.Key)
				if !ok || kind.New() == nil {
					return fmt.Errorf("%w: the history names a record of no known kind", model.ErrDamaged)
				}
				was := kind.New()
				if err := unseal(w.Value, was); err != nil {
					return err
				}
				delta = append(delta, model.Edit{Kind: kind, ID: id, Before: s.c.Record(kind, id), After: was})
			}
			for _, sp := range b.Absent {
				for id := sp.From; id <= sp.To && id >= sp.From; id++ {
					delta = append(delta, model.Edit{Kind: sp.Kind, ID: id, Before: s.c.Record(sp.Kind, id)})
				}
			}
		}
		return nil
	})
	return delta, err
}

// forget lists the deletions that let go of the change that can no longer be
// undone.
func (s *Store) forget(rev uint64) ([]write, error) {
	if rev <= Kept {
		return nil, nil
	}
	var line entry
	err := s.db.View(func(txn *badger.Txn) error { return get(txn, historyKey(rev-Kept), &line) })
	if errors.Is(err, badger.ErrKeyNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, missing(err, "the history of revision %d", rev-Kept)
	}
	writes := []write{{Key: historyKey(rev - Kept)}}
	for i := range line.Pieces {
		writes = append(writes, write{Key: beforeKey(rev-Kept, i)})
	}
	return writes, nil
}
