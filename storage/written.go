package storage

import (
	"context"
	"errors"

	"example.org/tuckrow/model"
	"github.com/dgraph-io/badger/v4"
)

// written is what a change writes to Badger.
type written struct {
	records []write  // as they are after it
	were    [][]byte // the same before it, as they lie on disk; nil for what was not there
	before  []write  // what takes it back, in pieces
	undoes  bool     // it takes another back, and nothing takes it back once it is done
	line    []write  // its line in the history, and what is forgotten with that
	meta    meta
}

// written works out what a change writes: its records, how they were before, and
// its line in the history.
func (s *Store) written(next *model.Collection, delta model.Delta, e entry) (w written, err error) {
	w.undoes = e.Undoes != 0
	if w.records, err = sealAll(delta); err != nil {
		return w, err
	}
	if w.were, err = s.were(delta, w.records); err != nil {
		return w, err
	}
	pieces, err := beforeOf(delta, w.were)
	if err != nil {
		return w, err
	}
	for i, p := range pieces {
		w.before = append(w.before, write{beforeKey(next.Rev(), i), p})
	}
	if !w.undoes {
		e.Pieces = len(pieces)
	}
	line, err := seal(e)
	if err != nil {
		return w, err
	}
	old, err := s.forget(next.Rev())
	w.line = append(old, write{historyKey(next.Rev()), line})
	return w, err
}

// were gives the records that are to be written as they lie on disk: an earlier
// tuckrow may have written them down otherwise than this one does.
func (s *Store) were(delta model.Delta, records []write) ([][]byte, error) {
	were := make([][]byte, len(records))
	err := s.db.View(func(txn *badger.Txn) error {
		for i, w := range records {
			if delta[i].Before == nil {
				continue
			}
			item, err := txn.Get(w.Key)
			if errors.Is(err, badger.ErrKeyNotFound) {
				continue // a shelf as it is without one
			}
			if err == nil {
				were[i], err = item.ValueCopy(nil)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
	return were, err
}

// once lists all that one transaction writes.
func (w written) once() []write {
	all := append(w.records[:len(w.records):len(w.records)], w.line...)
	if !w.undoes {
		all = append(all, w.before...)
	}
	return all
}

// inOne is how many keys and bytes they are.
func (w written) inOne() (keys int, size uint64) {
	for _, x := range w.once() {
		keys, size = keys+1, size+uint64(len(x.Key)+len(x.Value))
	}
	return keys, size
}

func (s *Store) writeOnce(w written) error {
	return s.db.Update(func(txn *badger.Txn) error { return inTxn(txn, w.once(), w.meta) })
}

// inTxn writes keys, and what the store is at with them.
func inTxn(txn *badger.Txn, writes []write, m meta) error {
	for _, w := range writes {
		if err := w.to(txn); err != nil {
			return err
		}
	}
	return put(txn, []byte{keyMeta}, m)
}

func (w write) to(txn *badger.Txn) error {
	if w.Value == nil {
		return txn.Delete(w.Key)
	}
	return txn.Set(w.Key, w.Value)
}

func put(txn *badger.Txn, key []byte, v any) error {
	b, err := seal(v)
	if err != nil {
		return err
	}
	return txn.Set(key, b)
}

// writeLarge writes a change that is too large for one transaction: first what
// takes it back, which is little where records are new; then, once it counts, a
// small transaction says that it is being written; then the records; and another
// small one says that all are there. A kill in between leaves records of which
// the next opening takes back what came to be written, and makes the change anew
// from the journal. The context is heeded until it counts; then the error is the
// context's own, and nothing of it is left.
func (s *Store) writeLarge(ctx context.Context, w written, counts func() error) error {
	err := s.flush(ctx, w.before)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil && err == ctx.Err() {
		if left := s.finish(dropped(w.before), s.meta(s.c)); left != nil {
			return left
		}
	}
	if err == nil {
		err = counts()
	}
	if err == nil {
		err = s.begin(w)
	}
	if err == nil {
		err = s.flush(context.Background(), w.records)
	}
	if err != nil {
		return err
	}
	line := w.line
	if w.undoes {
		line = append(line, dropped(w.before)...)
	}
	return s.finish(line, w.meta)
}

// begin says that the records of a change are being written.
func (s *Store) begin(w written) error {
	m := s.meta(s.c)
	m.Writing, m.Pieces = w.meta.Rev, len(w.before)
	return s.db.Update(func(txn *badger.Txn) error { return put(txn, []byte{keyMeta}, m) })
}

// flush writes keys, in as many transactions as it takes, and waits until all are
// synced.
func (s *Store) flush(ctx context.Context, writes []write) error {
	batch := s.db.NewWriteBatch()
	defer batch.Cancel()
	for _, w := range writes {
		err := ctx.Err()
		switch {
		case err != nil:
		case w.Value == nil:
			err = batch.Delete(w.Key)
		default:
			err = batch.Set(w.Key, w.Value)
		}
		if err != nil {
			return err
		}
	}
	return batch.Flush()
}

// finish writes the last keys of a change, and what the store is at with it.
func (s *Store) finish(writes []write, m meta) error {
	err := s.db.Update(func(txn *badger.Txn) error { return inTxn(txn, writes, m) })
	return errors.Join(err, s.restrict()) // so much may have begun new files
}

func dropped(writes []write) []write {
	gone := make([]write, len(writes))
	for i, w := range writes {
		gone[i].Key = w.Key
	}
	return gone
}

// settle takes back what a kill left of a large change that was being written.
// Doing it twice does no harm.
func (s *Store) settle(m meta) error {
	var were, left []write
	err := s.db.View(func(txn *badger.Txn) error {
		for i := range m.Pieces {
			var b before
			if err := get(txn, beforeKey(m.Writing, i), &b); err != nil {
				return missing(err, "part %d of %d of what takes a change back", i+1, m.Pieces)
			}
			were = append(were, b.writes()...)
		}
		it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{keyBefore}})
		defer it.Close()
		for it.Seek(beforeKey(m.Rev+1, 0)); it.Valid(); it.Next() {
			left = append(left, write{Key: it.Item().KeyCopy(nil)})
		}
		return nil
	})
	if err != nil || len(left) == 0 {
		return err
	}
	m.Writing, m.Pieces = 0, 0
	err = s.spend(func() error {
		if err := s.flush(context.Background(), were); err != nil {
			return err
		}
		return s.finish(left, m)
	})
	s.rehold()
	return err
}

// writes are the records as they were.
func (b before) writes() []write {
	all := b.Were
	for _, sp := range b.Absent {
		for id := sp.From; id <= sp.To && id >= sp.From; id++ {
			all = append(all, write{Key: recordKey(sp.Kind, id)})
		}
	}
	return all
}
