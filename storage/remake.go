package storage

import (
	"context"
	"errors"
	"fmt"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
)

// MarkOf is what a store is at that holds a collection.
func MarkOf(c *model.Collection) (journal.Mark, error) {
	var st state
	for r := range c.Records() {
		value, err := seal(r)
		if err != nil {
			return journal.Mark{}, err
		}
		st.add(recordKey(r.Key()), value)
	}
	return st.mark(c.Rev()), nil
}

// Remake makes a store in a new folder of a collection, at its revision, and of
// the changes that came after it, and reads it back. With nil it begins at the
// first change, which must be whole. The store has no journal of its own: it is
// to go on with that which the changes are from. What can be undone in it is
// those changes. Its errors wrap model.ErrDamaged where base and changes do not
// fit together.
func Remake(dir string, base *model.Collection, changes []*journal.Change) (c *model.Collection, err error) {
	bare := Options{bare: true}
	s, err := Open(dir, bare)
	if err != nil {
		return nil, err
	}
	if base != nil {
		var delta model.Delta
		for r := range base.Records() {
			kind, id := r.Key()
			delta = append(delta, model.Edit{Kind: kind, ID: id, After: r})
		}
		err = s.store(context.Background(), base, delta, entry{Title: "built anew", Begins: true, At: s.now().Unix()}, nil)
	}
	for _, change := range changes {
		if err == nil {
			err = s.replay(change)
		}
	}
	want := s.state.mark(s.c.Rev())
	if err = errors.Join(err, s.Close()); err != nil {
		return nil, err
	}
	if s, err = Open(dir, bare); err != nil {
		return nil, err
	}
	_, err = s.Verify()
	if got := s.state.mark(s.c.Rev()); err == nil && got != want {
		err = fmt.Errorf("%w: what came to disk is not what was written; do not trust this disk", model.ErrDamaged)
	}
	return s.c, errors.Join(err, s.Close())
}

// ForgetJournal lets go of what the journal says of changes up to a revision,
// of which there are backups enough. It goes by whole files, so more may stay.
func (s *Store) ForgetJournal(rev uint64) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.journal == nil {
		return nil
	}
	return s.tell("clearing the journal of", s.journal.Forget(rev))
}
