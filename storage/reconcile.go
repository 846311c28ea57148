package storage

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// JournalFolder is where the journal of a store lies: beside Badger's folder,
// so that what befalls the one leaves the other.
func JournalFolder(store string) string { return filepath.Join(store, "journal") }

// DamagedJournal is how the name of a folder begins in which a journal is kept
// that was damaged; behind it stands when that was found.
const DamagedJournal = "damaged-journal-"

// Notes says what opening the store has found and put right, for its user.
func (s *Store) Notes() []string { return s.notes }

func (s *Store) note(format string, args ...any) {
	s.notes = append(s.notes, fmt.Sprintf(format, args...))
}

// checkClock compares the day with that of the last change. Days are only told:
// nothing goes by them, and the order of changes is that of their revisions.
func (s *Store) checkClock() {
	if s.c.Rev() == 0 {
		return
	}
	var line entry
	if s.db.View(func(txn *badger.Txn) error { return get(txn, historyKey(s.c.Rev()), &line) }) != nil {
		return // verify tells
	}
	const day = "2006-01-02"
	if last, now := time.Unix(line.At, 0), s.now(); now.Format(day) < last.Format(day) {
		s.note("by this machine's clock today is %s, and the last change was made on %s; set the clock right before you go on, or the days of what you enter will be wrong (their order will not)", now.Format(day), last.Format(day))
	}
}

// reconcile opens the journal and compares it with the store. Whichever is
// behind is brought up from the other. The journal is always written first, so
// after a kill it is at most one change ahead; all else is damage to the one or
// the other.
func (s *Store) reconcile() error {
	dir := JournalFolder(s.dir)
	j, err := journal.Open(dir)
	bad := (*journal.DamageError)(nil)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if s.c.Rev() > 0 {
			s.note("there was no journal of the changes beside the store; one was begun")
		}
		return s.beginJournal()
	case errors.As(err, &bad):
		return s.renewJournal(bad)
	case err != nil:
		return err
	}
	s.journal = j
	if n := j.Cut(); n > 0 {
		s.note("the end of the journal, %d bytes, was not written to its end and was cut off", n)
	}
	switch now, last := s.state.mark(s.c.Rev()), j.Last(); {
	case now == last:
		return nil
	case last.Rev > now.Rev, now.Records == 0: // of which the shelf is one, so nothing is there
		return s.catchUp(now)
	case last.Rev < now.Rev:
		s.note("the journal ended at revision %d and the store is at %d; the journal was brought up", last.Rev, now.Rev)
		return s.journal.Append(s.whole("brought up from the store"))
	default:
		return fmt.Errorf("%w: at revision %d it holds %d records, and they are not the %d that the journal knows", model.ErrDamaged, now.Rev, now.Records, last.Records)
	}
}

// beginJournal begins the journal with all that the store holds.
func (s *Store) beginJournal() (err error) {
	if err := s.furnished(); err != nil {
		return err
	}
	s.journal, err = journal.Begin(JournalFolder(s.dir), s.whole("begun"))
	return err
}

// whole is the change that makes an empty cupboard what the store holds now.
func (s *Store) whole(title string) *journal.Change {
	c := &journal.Change{Mark: s.state.mark(s.c.Rev()), Whole: true, At: s.now(), Title: title, Counters: s.c.Counters()}
	for r := range s.c.Records() {
		c.Put = append(c.Put, r)
	}
	return c
}

// renewJournal puts a damaged journal aside and begins another, once the store
// has all that can be read in it.
func (s *Store) renewJournal(bad *journal.DamageError) error {
	if err := s.catchUp(s.state.mark(s.c.Rev())); err != nil {
		return err
	}
	dir := JournalFolder(s.dir)
	aside := filepath.Join(s.dir, DamagedJournal+s.now().Format("2006-01-02-150405"))
	if err := os.Rename(dir, aside); err != nil {
		return err
	}
	s.note("the journal was damaged (%v) and is kept aside in %q; the store has all that it says, and another was begun", bad, aside)
	return s.beginJournal()
}

// catchUp makes the changes that the journal has and the store does not. It
// must know the store as it is now: else it is of another, or what befell the
// store has left it neither as it was nor as it is.
func (s *Store) catchUp(now journal.Mark) error {
	pending, fault, err := pendingAfter(JournalFolder(s.dir), now)
	switch {
	case err != nil:
		return err
	case fault != nil:
		return fmt.Errorf("%w: it is at revision %d, and cannot be brought up from its journal: %v", model.ErrDamaged, now.Rev, fault)
	}
	for _, c := range pending {
		if err := s.replay(c); err != nil {
			return err
		}
	}
	if n := len(pending); n > 0 && s.c.Rev() > now.Rev {
		s.note("the store was behind its journal; %s brought up: the last is %q of %s", wasOrWere(n), pending[n-1].Title, pending[n-1].At.Format("2 January 2006, 15:04"))
	}
	return nil
}

func wasOrWere(n int) string {
	if n == 1 {
		return "1 change was"
	}
	return fmt.Sprintf("%d changes were", n)
}

// pendingAfter lists the changes that a journal has after a mark, or says what
// keeps them from being made there.
func pendingAfter(dir string, now journal.Mark) (pending []*journal.Change, fault, err error) {
	fault = errors.New("it begins later")
	var at, highest uint64
	for c, bad := range journal.Read(dir) {
		damage := (*journal.DamageError)(nil)
		switch {
		case errors.As(bad, &damage):
			if !damage.Tail { // which is a change that was never finished
				fault = bad
			}
			continue
		case bad != nil:
			return nil, nil, bad
		case c.Whole && (c.Rev > now.Rev || now.Records == 0):
			pending, fault = []*journal.Change{c}, nil
		case c.Mark == now:
			pending, fault = nil, nil
		case now.Records == 0 && fault != nil:
			// Of a store of which nothing is there, all is behind.
		case c.Rev == now.Rev:
			return nil, fmt.Errorf("at revision %d it knows %d records, and not these %d", c.Rev, c.Records, now.Records), nil
		case c.Rev > now.Rev && fault == nil && c.Rev == at+1:
			pending = append(pending, c)
		case c.Rev > now.Rev && fault == nil:
			fault = fmt.Errorf("after revision %d comes %d", at, c.Rev)
		}
		at, highest = c.Rev, max(highest, c.Rev)
	}
	if highest <= now.Rev { // the store has all that can be read
		fault = nil
	}
	return pending, fault, nil
}

// replay makes a change as the journal has it.
func (s *Store) replay(c *journal.Change) error {
	touched := map[journal.Key]bool{}
	var delta model.Delta
	edit := func(k journal.Key, after model.Record) {
		touched[k] = true
		delta = append(delta, model.Edit{Kind: k.Kind, ID: k.ID, Before: s.c.Record(k.Kind, k.ID), After: after})
	}
	for _, r := range c.Put {
		kind, id := r.Key()
		edit(journal.Key{Kind: kind, ID: id}, r)
	}
	for _, k := range c.Gone {
		edit(k, nil)
	}
	if c.Whole {
		for r := range s.c.Records() {
			if kind, id := r.Key(); !touched[journal.Key{Kind: kind, ID: id}] {
				edit(journal.Key{Kind: kind, ID: id}, nil)
			}
		}
	}
	next := s.c
	if !c.Whole {
		next = s.c.ApplyDelta(delta)
	}
	if next.Rev() != c.Rev || next.Counters() != c.Counters {
		var err error
		if next, err = model.Build(c.Rev, c.Counters, recordsAfter(s.c, delta)); err != nil {
			return err
		}
	}
	return s.store(context.Background(), next, delta, entry{Title: c.Title, Undoes: c.Undoes, Begins: c.Whole, At: c.At.Unix()}, c)
}

// recordsAfter gives all records of a collection as they are after a delta.
func recordsAfter(c *model.Collection, delta model.Delta) func(yield func(model.Record) bool) {
	return func(yield func(model.Record) bool) {
		after := map[journal.Key]bool{}
		for _, x := range delta {
			after[journal.Key{Kind: x.Kind, ID: x.ID}] = true
			if x.After != nil && !yield(x.After) {
				return
			}
		}
		for r := range c.Records() {
			if kind, id := r.Key(); !after[journal.Key{Kind: kind, ID: id}] && !yield(r) {
				return
			}
		}
	}
}

// changeOf is a change as the journal is to have it.
func changeOf(next *model.Collection, delta model.Delta, e entry, at time.Time, st state) *journal.Change {
	c := &journal.Change{Mark: st.mark(next.Rev()), Whole: e.Begins, At: at, Title: e.Title, Undoes: e.Undoes, Counters: next.Counters()}
	for _, x := range delta {
		if x.After != nil {
			c.Put = append(c.Put, x.After)
		} else {
			c.Gone = append(c.Gone, journal.Key{Kind: x.Kind, ID: x.ID})
		}
	}
	return c
}
