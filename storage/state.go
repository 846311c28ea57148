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

// after is what the records come to with a change.
func (st state) after(w written) state {
	for i, x := range w.records {
		if x.Value != nil {
			st.add(x.Key, x.Value)
		}
		if w.were[i] != nil {
			st.drop(x.Key, w.were[i])
		}
	}
	return st
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
