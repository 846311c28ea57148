package storage

import (
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"runtime"
	"sync"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// What goes into one Badger transaction at the most; beyond it a change is
// staged. Badger's own limit is a share of the memtable, some 4,600 records of
// 250 bytes.
const (
	mostWrites = 2000
	mostBytes  = 400 << 10
)

// mostRecord is the longest record that is kept: some 180,000 copies in one
// box. Beyond it no transaction of Badger's would take it with what goes round
// it (15% of the memtable, 1.2 MB), nor would it stay out of the value log.
const mostRecord = 900 << 10

// Commit makes one change and syncs it. The error is the user's input where
// model.IsInput says so; then nothing has changed. A context that ends before
// the change counts stops it: nothing has changed then either, and the error is
// the context's.
func (s *Store) Commit(ctx context.Context, ch model.Change) (model.Commit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	next, delta, err := s.c.Apply(ch, s.Today())
	if err != nil {
		return model.Commit{}, err
	}
	// Names of files and boxes come in as they are, and a title that is not
	// UTF-8 could not be read again.
	title := words.Clean(ch.Title(s.c))
	if err := s.store(ctx, next, delta, entry{Title: title}, nil); err != nil {
		return model.Commit{}, err
	}
	return model.Commit{Collection: next, Delta: delta, Title: title}, nil
}

// Fill makes an empty store hold the records of a whole cupboard, with its
// counters. The context can stop it as it does Commit.
func (s *Store) Fill(ctx context.Context, c *model.Collection, title string) (model.Commit, error) {
	return s.fill(ctx, c, entry{Title: words.Clean(title)})
}

// Begin does what Fill does, for a store that takes the place of another one:
// it cannot be undone, which would leave an empty cupboard.
func (s *Store) Begin(ctx context.Context, c *model.Collection, title string) (model.Commit, error) {
	return s.fill(ctx, c, entry{Title: words.Clean(title), Begins: true})
}

func (s *Store) fill(ctx context.Context, c *model.Collection, e entry) (model.Commit, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.c.Counters() != (model.Counters{}) {
		return model.Commit{}, model.Inputf("the store in %q is not empty; a whole cupboard goes into an empty one: name a new folder with --store", s.Dir())
	}
	next, delta, err := s.c.Apply(&model.Fill{Whole: c}, s.Today())
	if err != nil {
		return model.Commit{}, err
	}
	if err := s.store(ctx, next, delta, e, nil); err != nil {
		return model.Commit{}, err
	}
	return model.Commit{Collection: next, Delta: delta, Title: e.Title}, nil
}

// store writes a change and only then makes it the cupboard in memory. One that
// comes from the journal is given as it stands there; any other is written to
// the journal first, and to Badger once it is on disk: so a kill in between
// leaves the journal ahead, and opening makes the change from there. When Badger
// reports an error the change may be there all the same, so the store takes
// nothing more until it is opened again, which compares the two.
func (s *Store) store(ctx context.Context, next *model.Collection, delta model.Delta, e entry, from *journal.Change) error {
	if s.db == nil {
		return s.closed("writing")
	}
	if s.reads != "" {
		return s.refused()
	}
	if s.failure != nil {
		return fmt.Errorf("writing %q: an earlier write failed; close tuckrow and open it again: %w", s.Dir(), s.failure)
	}
	at := s.now()
	if from == nil {
		e.At = at.Unix()
	}
	writes, err := s.writes(next, delta, e)
	if err != nil {
		return s.tell("writing", err)
	}
	st, err := s.stateAfter(delta, writes)
	if err != nil {
		s.failure = s.tell("writing", err)
		return s.failure
	}
	if from != nil && from.Mark != st.mark(next.Rev()) {
		return s.tell("writing", fmt.Errorf("%w: with %q of revision %d there are %d records, and they are not the %d that the journal knows", model.ErrDamaged, e.Title, from.Rev, st.n, from.Records))
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("writing %q: %w", s.Dir(), err)
	}
	m := s.meta(next)
	if e.Begins {
		m.Begun = next.Rev()
	}
	writeDown := func() error { return nil }
	if s.journal != nil && from == nil {
		writeDown = func() error { return s.journal.Append(changeOf(next, delta, e, at, st)) }
	}
	if err := s.write(ctx, writes, m, writeDown); err != nil {
		return err
	}
	s.c, s.state, s.begun = next, st, m.Begun
	return nil
}

// write writes keys, and just before they count, calls writeDown.
func (s *Store) write(ctx context.Context, writes []write, m meta, writeDown func() error) error {
	size := 0
	for _, w := range writes {
		size += len(w.Key) + len(w.Value)
	}
	down := false
	if err := errors.Join(s.room(), s.hold()); err != nil {
		return s.tell("writing", err)
	}
	s.size += uint64(size)
	counts := func() error {
		err := writeDown()
		down = err == nil && s.journal != nil
		return err
	}
	err := s.writeKept(ctx, writes, uint64(size), m, counts)
	if err != nil && err == ctx.Err() { // nothing counts, and the store is as it was
		return fmt.Errorf("writing %q: %w", s.Dir(), err)
	}
	if err != nil {
		if down {
			err = errors.Join(err, s.journal.Retract())
		}
		s.failure = s.tell("writing", err)
		return s.failure
	}
	return nil
}

// writeKept writes in one go or staged, with the reserve given back meanwhile
// where Badger may begin another log.
func (s *Store) writeKept(ctx context.Context, writes []write, size uint64, m meta, counts func() error) error {
	if len(writes) > mostWrites || size > mostBytes {
		err := s.spend(func() error { return s.writeStaged(ctx, writes, m, counts) })
		s.size = sizeOf(s.badgerDir())
		s.rehold()
		return err
	}
	once := func() error {
		if err := counts(); err != nil {
			return err
		}
		return s.writeOnce(writes, m)
	}
	if !s.another(len(writes)+1, size) {
		return once()
	}
	err := s.spend(once)
	s.rehold()
	return err
}

// sealAll encodes the records of a change, shared out among the processors
// where there are many.
func sealAll(delta model.Delta) ([]write, error) {
	const share = 1 << 10 // fewer are not worth a goroutine
	writes := make([]write, len(delta), len(delta)+4)
	each := max(share, len(delta)/runtime.GOMAXPROCS(0)+1)
	faults := make([]error, len(delta)/each+1)
	var all sync.WaitGroup
	for from := 0; from < len(delta); from += each {
		all.Go(func() {
			for i := from; i < min(len(delta), from+each); i++ {
				var err error
				if writes[i], err = sealEdit(delta[i]); err != nil {
					faults[from/each] = err
					return
				}
			}
		})
	}
	all.Wait()
	for _, err := range faults { // the first is that of the first record at fault
		if err != nil {
			return nil, err
		}
	}
	return writes, nil
}

// sealEdit encodes one record as it is after a change.
func sealEdit(x model.Edit) (write, error) {
	w := write{Key: recordKey(x.Kind, x.ID)}
	if x.After == nil {
		return w, nil
	}
	var err error
	if w.Value, err = seal(x.After); err != nil {
		return w, err
	}
	if n := len(w.Value); n > mostRecord {
		return w, model.Inputf("%s %d would take %d bytes, and %d is the most; shorten its texts, or use more boxes", x.Kind, x.ID, n, mostRecord)
	}
	return w, nil
}

// writes lists the keys that a change sets: its records, how they were before,
// and its line in the history.
func (s *Store) writes(next *model.Collection, delta model.Delta, e entry) ([]write, error) {
	writes, err := sealAll(delta)
	if err != nil {
		return nil, err
	}
	if e.Undoes == 0 {
		pieces, err := beforeOf(delta)
		if err != nil {
			return nil, err
		}
		for i, p := range pieces {
			writes = append(writes, write{beforeKey(next.Rev(), i), p})
		}
		e.Pieces = len(pieces)
	}
	line, err := seal(e)
	if err != nil {
		return nil, err
	}
	writes = append(writes, write{historyKey(next.Rev()), line})
	old, err := s.forget(next.Rev())
	return append(writes, old...), err
}

func (s *Store) writeOnce(writes []write, m meta) error {
	return s.db.Update(func(txn *badger.Txn) error {
		for _, w := range writes {
			if err := w.to(txn); err != nil {
				return err
			}
		}
		return put(txn, []byte{keyMeta}, m)
	})
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

// writeStaged writes a change that is too large for one transaction: first in
// pieces to the side, then one small transaction makes it count, then the
// pieces are written out. A kill before that transaction leaves nothing; one
// after it leaves pieces that the next opening writes out. The context is heeded
// up to there; then the error is the context's own, and no piece is left.
func (s *Store) writeStaged(ctx context.Context, writes []write, m meta, counts func() error) error {
	now := m
	pieces, err := s.stage(ctx, writes)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil && err == ctx.Err() {
		if left := s.writeOut(nil, s.meta(s.c), pieces); left != nil {
			return left
		}
	}
	if err == nil {
		err = counts()
	}
	if err != nil {
		return err
	}
	now.Staged = pieces
	if err := s.db.Update(func(txn *badger.Txn) error { return put(txn, []byte{keyMeta}, now) }); err != nil {
		return err
	}
	return s.writeOut(writes, m, pieces)
}

// stage writes pieces to the side and waits until all are synced.
func (s *Store) stage(ctx context.Context, writes []write) (pieces int, err error) {
	batch := s.db.NewWriteBatch()
	defer batch.Cancel()
	for len(writes) > 0 && ctx.Err() == nil {
		n, size := 0, 0
		for n < len(writes) {
			if size += len(writes[n].Key) + len(writes[n].Value); size > mostBytes && n > 0 {
				break
			}
			n++
		}
		piece, err := seal(writes[:n])
		if err == nil {
			err = batch.Set(stagedKey(pieces), piece)
		}
		if err != nil {
			return pieces, err
		}
		pieces, writes = pieces+1, writes[n:]
	}
	return pieces, batch.Flush()
}

// writeOut writes the keys of a staged change, then drops the pieces. Doing it
// twice does no harm.
func (s *Store) writeOut(writes []write, m meta, pieces int) error {
	batch := s.db.NewWriteBatch()
	defer batch.Cancel()
	for _, w := range writes {
		var err error
		if w.Value == nil {
			err = batch.Delete(w.Key)
		} else {
			err = batch.Set(w.Key, w.Value)
		}
		if err != nil {
			return err
		}
	}
	if err := batch.Flush(); err != nil {
		return err
	}
	err := s.db.Update(func(txn *badger.Txn) error {
		for i := range pieces {
			if err := txn.Delete(stagedKey(i)); err != nil {
				return err
			}
		}
		return put(txn, []byte{keyMeta}, m)
	})
	return errors.Join(err, s.restrict()) // so much may have begun new files
}

// settle finishes, or clears away, what a kill left of a staged change.
func (s *Store) settle(m meta) error {
	var writes []write
	pieces := 0
	err := s.db.View(func(txn *badger.Txn) error {
		for i := range m.Staged {
			var piece []write
			if err := get(txn, stagedKey(i), &piece); err != nil {
				return missing(err, "piece %d of %d of a change", i+1, m.Staged)
			}
			writes = append(writes, piece...)
		}
		it := txn.NewIterator(badger.IteratorOptions{Prefix: []byte{keyStaged}})
		defer it.Close()
		for it.Rewind(); it.Valid(); it.Next() {
			if key := it.Item().Key(); len(key) == 5 {
				pieces = int(binary.BigEndian.Uint32(key[1:])) + 1
			}
		}
		return nil
	})
	if err != nil || pieces == 0 {
		return err
	}
	m.Staged = 0
	err = s.spend(func() error { return s.writeOut(writes, m, pieces) })
	s.rehold()
	return err
}
