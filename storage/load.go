package storage

import (
	"errors"
	"fmt"
	"runtime/debug"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// load reads the whole cupboard into memory, having taken back what a kill left of
// a large change.
func (s *Store) load() error {
	m, err := s.metaOnDisk()
	if err != nil {
		return err
	}
	if m.Schema > Schema {
		return fmt.Errorf("%w: it has schema %d and this tuckrow reads up to %d; use the newer tuckrow, or export there and import here", model.ErrNewer, m.Schema, Schema)
	}
	if err := s.settle(m); err != nil {
		return err
	}
	s.begun = m.Begun
	s.c, s.state, err = s.read(m)
	return err
}

// meta is what the store is at with a collection.
func (s *Store) meta(c *model.Collection) meta {
	return meta{Schema: Schema, Rev: c.Rev(), Counters: c.Counters(), Begun: s.begun}
}

// metaOnDisk reads what the store is at; a new store is at schema and nothing
// else.
func (s *Store) metaOnDisk() (meta, error) {
	m := meta{Schema: Schema}
	err := s.db.View(func(txn *badger.Txn) error { return get(txn, []byte{keyMeta}, &m) })
	if errors.Is(err, badger.ErrKeyNotFound) {
		return m, s.mustBeEmpty()
	}
	return m, err
}

// mustBeEmpty guards against a store whose meta record is lost.
func (s *Store) mustBeEmpty() error {
	return s.db.View(func(txn *badger.Txn) error {
		it := txn.NewIterator(badger.IteratorOptions{})
		defer it.Close()
		if it.Rewind(); it.Valid() {
			return fmt.Errorf("%w: there are records, but not what revision they are of", model.ErrDamaged)
		}
		return nil
	})
}

func get(txn *badger.Txn, key []byte, v any) error {
	item, err := txn.Get(key)
	if err != nil {
		return err
	}
	return item.Value(func(b []byte) error { return unseal(b, v) })
}

// read builds the collection from the records, and gives what they come to.
func (s *Store) read(m meta) (c *model.Collection, st state, err error) {
	// Next to nothing of what is read can be let go again, so looking for it would
	// be in vain: a fifth of the time at 60,000 copies.
	defer debug.SetGCPercent(debug.SetGCPercent(-1))
	var bad error
	c, err = model.Build(m.Rev, m.Counters, s.decoded(m.Counters, &st, &bad))
	if bad != nil {
		return nil, st, bad // what else is wrong may come of it
	}
	return c, st, err
}

// Verify reads everything again from disk and compares it with what is in
// memory. It gives the number of records read. Its error wraps
// model.ErrDamaged.
func (s *Store) Verify() (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == nil {
		return 0, s.closed("verifying")
	}
	m, err := s.metaOnDisk()
	if err != nil {
		return 0, s.tell("verifying", err)
	}
	c, st, err := s.read(m)
	if err == nil {
		err = s.verifyHistory()
	}
	if err == nil && s.journal != nil {
		err = s.verifyJournal(st)
	}
	if err != nil {
		return 0, s.tell("verifying", err)
	}
	n := 0
	for r := range c.Records() {
		kind, id := r.Key()
		same, err := equal(r, s.c.Record(kind, id))
		if err != nil {
			return n, err
		}
		if !same {
			return n, s.tell("verifying", fmt.Errorf("%w: %s %d on disk is not what is in memory", model.ErrDamaged, kind, id))
		}
		n++
	}
	held := 0
	for range s.c.Records() {
		held++
	}
	if n != held || c.Rev() != s.c.Rev() {
		return n, s.tell("verifying", fmt.Errorf("%w: %d records at revision %d on disk, %d at revision %d in memory", model.ErrDamaged, n, c.Rev(), held, s.c.Rev()))
	}
	if c.Counters() != s.c.Counters() {
		return n, s.tell("verifying", fmt.Errorf("%w: the highest numbers given are %v on disk and %v in memory", model.ErrDamaged, c.Counters(), s.c.Counters()))
	}
	return n, nil
}

// verifyHistory reads all that undoing would need.
func (s *Store) verifyHistory() error {
	return s.db.View(func(txn *badger.Txn) error {
		for rev := s.oldest(); rev <= s.c.Rev(); rev++ {
			var line entry
			if err := get(txn, historyKey(rev), &line); err != nil {
				return missing(err, "the history of revision %d", rev)
			}
			for i := range line.Pieces {
				var b before
				if err := get(txn, beforeKey(rev, i), &b); err != nil {
					return missing(err, "what revision %d changed, part %d", rev, i+1)
				}
			}
		}
		return nil
	})
}

// verifyJournal reads all of the journal and compares its end with the records.
func (s *Store) verifyJournal(st state) error {
	var last journal.Mark
	for c, err := range journal.Read(JournalFolder(s.dir)) {
		if err != nil {
			return fmt.Errorf("the journal of changes: %w", err)
		}
		last = c.Mark
	}
	if now := st.mark(s.c.Rev()); now != last {
		return fmt.Errorf("%w: it is at revision %d with %d records, and its journal at %d with %d, or with others", model.ErrDamaged, now.Rev, now.Records, last.Rev, last.Records)
	}
	return nil
}

// missing names what could not be read; a key that is not there is damage.
func missing(err error, format string, args ...any) error {
	what := fmt.Sprintf(format, args...)
	if errors.Is(err, badger.ErrKeyNotFound) {
		return fmt.Errorf("%w: %s is not there", model.ErrDamaged, what)
	}
	return fmt.Errorf("%s: %w", what, err)
}

func equal(a, b model.Record) (bool, error) {
	x, err := encoder.Marshal(a)
	if err != nil {
		return false, err
	}
	y, err := encoder.Marshal(b)
	return string(x) == string(y), err
}
