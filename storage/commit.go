package storage

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/journal"
)

// What goes into one Badger transaction at the most; a larger change is
// written in several (writeLarge). Badger's own limit is a share of the memtable, some 4,600 records of
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
	w, err := s.written(next, delta, e)
	if err != nil {
		if err = s.tell("writing", err); !model.IsInput(err) {
			s.failure = err
		}
		return err
	}
	st := s.state.after(w)
	if from != nil && from.Mark != st.mark(next.Rev()) {
		return s.tell("writing", fmt.Errorf("%w: with %q of revision %d there are %d records, and they are not the %d that the journal knows", model.ErrDamaged, e.Title, from.Rev, st.n, from.Records))
	}
	if err := ctx.Err(); err != nil {
		return fmt.Errorf("writing %q: %w", s.Dir(), err)
	}
	w.meta = s.meta(next)
	if e.Begins {
		w.meta.Begun = next.Rev()
	}
	writeDown := func() error { return nil }
	if s.journal != nil && from == nil {
		writeDown = func() error { return s.journal.Append(changeOf(next, delta, e, at, st)) }
	}
	if err := s.write(ctx, w, writeDown); err != nil {
		return err
	}
	s.c, s.state, s.begun = next, st, w.meta.Begun
	return nil
}

// write writes a change, and just before it counts, calls writeDown.
func (s *Store) write(ctx context.Context, w written, writeDown func() error) error {
	keys, size := w.inOne()
	down := false
	if err := errors.Join(s.room(), s.hold()); err != nil {
		return s.tell("writing", err)
	}
	s.size += size
	counts := func() error {
		err := writeDown()
		down = err == nil && s.journal != nil
		return err
	}
	err := s.writeKept(ctx, w, keys, size, counts)
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

// writeKept writes in one go or in several, with the reserve given back meanwhile
// where Badger may begin another log.
func (s *Store) writeKept(ctx context.Context, w written, keys int, size uint64, counts func() error) error {
	if keys > mostWrites || size > mostBytes {
		err := s.spend(func() error { return s.writeLarge(ctx, w, counts) })
		s.size = sizeOf(s.badgerDir())
		s.rehold()
		return err
	}
	once := func() error {
		if err := counts(); err != nil {
			return err
		}
		return s.writeOnce(w)
	}
	if !s.another(keys+1, size) {
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
