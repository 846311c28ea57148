package storage

import (
	"errors"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// state is what all records of a store come to: how many there are, and a
// fingerprint that each adds its part to, so that it is kept up change by
// change. Two stores with the same records have the same.
type state struct {
	n   int
	sum uint64
}

func (st *state) add(key, value []byte) {
	st.n++
	st.sum += partOf(key, value)
}

func (st *state) drop(key, value []byte) {
	st.n--
	st.sum -= partOf(key, value)
}

// partOf is the FNV-1a hash of a record's checksum, which stands before it, and
// of its key. The checksum being there already, this costs next to nothing.
func partOf(key, value []byte) uint64 {
	h := uint64(14695981039346656037)
	for _, b := range [][]byte{value[:4], key} {
		for _, c := range b {
			h = (h ^ uint64(c)) * 1099511628211
		}
	}
	return h
}

func (st state) mark(rev uint64) journal.Mark {
	return journal.Mark{Rev: rev, Records: st.n, State: st.sum}
}

// stateAfter is what the records come to with a change, of which the first
// writes are the records. What a record was is taken as it lies on disk: an
// earlier tuckrow may have written it down otherwise.
func (s *Store) stateAfter(delta model.Delta, writes []write) (state, error) {
	st := s.state
	err := s.db.View(func(txn *badger.Txn) error {
		for i, x := range delta {
			w := writes[i]
			if w.Value != nil {
				st.add(w.Key, w.Value)
			}
			if x.Before == nil {
				continue
			}
			item, err := txn.Get(w.Key)
			if errors.Is(err, badger.ErrKeyNotFound) {
				continue // a shelf as it is without one
			}
			if err == nil {
				err = item.Value(func(b []byte) error { st.drop(w.Key, b); return nil })
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
	return st, err
}

// furnished writes down the shelf and the walls of a store that has none yet,
// so that what a store holds is always all there is to a cupboard.
func (s *Store) furnished() error {
	return s.db.Update(func(txn *badger.Txn) error {
		for _, k := range []model.Kind{model.KindShelf, model.KindWalls} {
			key := recordKey(k, 1)
			if _, err := txn.Get(key); !errors.Is(err, badger.ErrKeyNotFound) {
				if err != nil {
					return err
				}
				continue
			}
			value, err := seal(s.c.Record(k, 1))
			if err == nil {
				err = txn.Set(key, value)
			}
			if err != nil {
				return err
			}
			s.state.add(key, value)
		}
		return put(txn, []byte{keyMeta}, s.meta(s.c))
	})
}
