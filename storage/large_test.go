package storage

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// large is an import as people make it, and some is the least that does not fit
// one transaction by far.
const large, some = 10_000, 6000

func TestALargeChangeIsOneChange(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(everyKind()[:9]...)
		before := records(t, s.Collection())
		add := &model.Add{Entries: entries(large), From: "large.csv", Boxes: []model.BoxSpec{{Name: "full", Length: model.MM(1000)}}}
		for i := range add.Entries {
			if i%3 == 0 {
				add.Entries[i].Box = "full"
			}
		}
		want, _, err := s.Collection().Apply(add, day)
		if err != nil {
			t.Fatal(err)
		}
		s.do(add)
		s.reopen()
		s.verified()
		if export(t, s.Collection()) != export(t, want) {
			t.Error("the store does not hold what the change gives")
		}
		s.tidy()
		all := make([]model.Accession, large)
		for i := range all {
			all[i] = model.Accession(5 + i)
		}
		s.do(&model.Tick{Copies: all, Step: model.StepSleeve}, &model.Remove{Copies: all})
		if got := s.Collection().Copies().Len(); got != 4 {
			t.Errorf("%d copies are left, want 4", got)
		}
		for _, title := range []string{"removed 10000 copies", "ticked sleeve for 10000 copies", "imported 10000 copies from large.csv"} {
			s.reopen()
			if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: "+title {
				t.Fatalf("undo says %q (%v), want it to take back %q", done.Title, err, title)
			}
			s.verified()
			s.tidy()
		}
		if records(t, s.Collection()) != before {
			t.Error("with all undone the store does not hold what it held before")
		}
	})
}

// The longest records there can be: texts, and one row of a whole collection.
func TestLongRecords(t *testing.T) {
	n := 90_000
	if testing.Short() {
		n = 9000
	}
	s := openAt(t, t.TempDir())
	long := entries(40)
	for i := range long {
		long[i].Notes = strings.Repeat("note ", 9000+i) + "end"
	}
	s.do(&model.Add{Entries: long}, &model.Add{Entries: entries(n), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(100)}}})
	row := make([]model.Accession, n)
	for i := range row {
		row[i] = model.Accession(41 + i)
	}
	s.do(&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: row}}})
	back := slices.Clone(row)
	slices.Reverse(back)
	s.do(&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: back}}})
	s.reopen()
	s.verified()
	for _, want := range [][]model.Accession{back, row, nil} {
		if got := s.Collection().Row(1); !slices.Equal(got, want) {
			t.Errorf("the box holds %d copies, not the %d it should", len(got), len(want))
		}
		if _, err := s.Undo(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
}

// wordyEntries are so many that a change of them is large, and so long that what
// they were takes more than one piece.
func wordyEntries() []model.Entry {
	all := entries(2500)
	for i := range all {
		all[i].Notes = strings.Repeat("to be looked at; ", 14)
	}
	return all
}

// worked is a large change worked out but not written.
type worked struct {
	written
	next *model.Collection
	line *journal.Change
}

func workedOut(t *testing.T, s *cupboard, next *model.Collection, delta model.Delta, e entry) worked {
	t.Helper()
	e.At = noon().Unix()
	w, err := s.written(next, delta, e)
	if err != nil {
		t.Fatal(err)
	}
	w.meta = s.meta(next)
	return worked{w, next, changeOf(next, delta, e, noon(), s.state.after(w))}
}

func imported(t *testing.T, s *cupboard) worked {
	t.Helper()
	next, delta, err := s.Collection().Apply(&model.Add{Entries: wordyEntries(), From: "large.csv"}, day)
	if err != nil {
		t.Fatal(err)
	}
	return workedOut(t, s, next, delta, entry{Title: "imported"})
}

// A kill may come between any two steps of writing a large change. Each subtest
// stops where one could and opens the store again.
func TestAKillAtEachStageLeavesAllOrNothing(t *testing.T) {
	many := func() model.Change { return &model.Add{Entries: wordyEntries()} }
	all := make([]model.Accession, len(wordyEntries()))
	for i := range all {
		all[i] = model.Accession(5 + i)
	}
	for name, x := range map[string]struct {
		first  func() []model.Change
		pieces int // that take it back, at the least
		work   func(t *testing.T, s *cupboard) worked
		long   bool // left to the run that is not short: it races with nothing that the others do not
	}{
		"an import into a new store":    {func() []model.Change { return nil }, 1, imported, true},
		"an import into a store in use": {func() []model.Change { return everyKind()[:9] }, 1, imported, false},
		"records altered": {func() []model.Change { return append(everyKind()[:9], many()) }, 2, func(t *testing.T, s *cupboard) worked {
			next, delta, err := s.Collection().Apply(&model.Tick{Copies: all, Step: model.StepSleeve}, day)
			if err != nil {
				t.Fatal(err)
			}
			return workedOut(t, s, next, delta, entry{Title: "ticked"})
		}, true},
		"an import taken back": {func() []model.Change { return append(everyKind()[:9], many()) }, 2, func(t *testing.T, s *cupboard) worked {
			rev, line, err := s.undoable()
			if err != nil {
				t.Fatal(err)
			}
			delta, err := s.inverse(rev, line.Pieces)
			if err != nil {
				t.Fatal(err)
			}
			return workedOut(t, s, s.Collection().ApplyDelta(delta), delta, entry{Title: "undid", Undoes: rev})
		}, false},
	} {
		t.Run(name, func(t *testing.T) {
			if x.long && testing.Short() {
				t.Skip("that large a change as well only where all is tested")
			}
			for stage, kill := range stages {
				t.Run(stage, func(t *testing.T) {
					t.Parallel() // each has a store of its own
					s := openAt(t, t.TempDir())
					s.do(x.first()...)
					old := s.Collection()
					w := x.work(t, s)
					if n := len(w.before); n < x.pieces {
						t.Fatalf("%d pieces take it back, want %d or more", n, x.pieces)
					}
					counts := kill(t, s, w)
					want := old
					if counts {
						want = w.next
					}
					s.reopen()
					s.verified()
					s.tidy()
					if got := s.Collection(); got.Rev() != want.Rev() || export(t, got) != export(t, want) {
						t.Fatalf("it is at revision %d with %d copies, want revision %d and what belongs to it", got.Rev(), got.Copies().Len(), want.Rev())
					}
					if counts && !w.undoes { // in one step
						if _, err := s.Undo(context.Background()); err != nil || records(t, s.Collection()) != records(t, old) {
							t.Errorf("it cannot be taken back (%v)", err)
						}
					}
					s.do(&model.Add{Entries: wordyEntries()}) // it can be used on
					s.reopen()
					s.verified()
				})
			}
		})
	}
}

// stages are the ways to leave a store as a kill would, by the moment it comes;
// true when the change counts by then.
var stages = map[string]func(t *testing.T, s *cupboard, w worked) bool{
	"with a piece missing": func(t *testing.T, s *cupboard, w worked) bool {
		flushed(t, s, w.before[1:])
		return false
	},
	"before it counts": func(t *testing.T, s *cupboard, w worked) bool {
		flushed(t, s, w.before)
		return false
	},
	"when it counts": func(t *testing.T, s *cupboard, w worked) bool {
		counted(t, s, w)
		return true
	},
	"when it is about to be written": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		return true
	},
	"while it is written": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		setAll(t, s, w.records[:len(w.records)/2])
		return true
	},
	"with only the last of it written": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		setAll(t, s, w.records[len(w.records)/2:])
		return true
	},
	"before it is said to be written": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		setAll(t, s, w.records)
		return true
	},
	"while it is taken back": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		setAll(t, s, w.records)
		var b before
		if err := unseal(w.before[0].Value, &b); err != nil {
			t.Fatal(err)
		}
		back := b.writes()
		setAll(t, s, back[:len(back)/2])
		return true
	},
	"after Badger reported an error": func(t *testing.T, s *cupboard, w worked) bool {
		begun(t, s, w)
		setAll(t, s, w.records[:len(w.records)/2])
		if err := s.journal.Retract(); err != nil {
			t.Fatal(err)
		}
		return false
	},
	"when all is done": func(t *testing.T, s *cupboard, w worked) bool {
		if err := s.write(context.Background(), w.written, func() error { return s.journal.Append(w.line) }); err != nil {
			t.Fatal(err)
		}
		return true
	},
}

func flushed(t *testing.T, s *cupboard, writes []write) {
	t.Helper()
	if err := s.flush(context.Background(), writes); err != nil {
		t.Fatal(err)
	}
}

// counted has a change count, without writing it.
func counted(t *testing.T, s *cupboard, w worked) {
	t.Helper()
	flushed(t, s, w.before)
	if err := s.journal.Append(w.line); err != nil {
		t.Fatal(err)
	}
}

func begun(t *testing.T, s *cupboard, w worked) {
	t.Helper()
	counted(t, s, w)
	if err := s.begin(w.written); err != nil {
		t.Fatal(err)
	}
}

func setAll(t *testing.T, s *cupboard, writes []write) {
	t.Helper()
	for group := range slices.Chunk(writes, 1000) {
		err := s.db.Update(func(txn *badger.Txn) error {
			for _, w := range group {
				if err := w.to(txn); err != nil {
					return err
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

func remove(t *testing.T, s *cupboard, key []byte) {
	t.Helper()
	if err := s.db.Update(func(txn *badger.Txn) error { return txn.Delete(key) }); err != nil {
		t.Fatal(err)
	}
}

// Records that were written down otherwise than this tuckrow does it are taken back
// as they were, byte by byte: else they would not be those that the journal knows.
func TestRecordsWrittenOtherwiseAreTakenBack(t *testing.T) {
	dir, alter := inUse(t)
	alter(func(txn *badger.Txn) error {
		var fields map[int]any
		if err := get(txn, recordKey(model.KindCopy, 1), &fields); err != nil {
			return err
		}
		fields[999] = "of no meaning any more"
		return put(txn, recordKey(model.KindCopy, 1), fields)
	})
	if err := os.RemoveAll(JournalFolder(dir)); err != nil { // it is begun anew, of what is there
		t.Fatal(err)
	}
	s := openAt(t, dir)
	s.do(&model.Add{Entries: wordyEntries()})
	old := export(t, s.Collection())
	all := []model.Accession{1}
	for a := range model.Accession(2500) {
		all = append(all, 5+a)
	}
	next, delta, err := s.Collection().Apply(&model.Tick{Copies: all, Step: model.StepEnvelope}, day)
	if err != nil {
		t.Fatal(err)
	}
	w := workedOut(t, s, next, delta, entry{Title: "ticked"})
	begun(t, s, w)
	setAll(t, s, w.records)
	if err := s.journal.Retract(); err != nil {
		t.Fatal(err)
	}
	s.reopen()
	s.verified()
	if export(t, s.Collection()) != old {
		t.Error("the store does not hold what it held before")
	}
}

func TestAPieceThatIsGoneIsFound(t *testing.T) {
	s := openAt(t, t.TempDir())
	w := imported(t, s)
	begun(t, s, w)
	setAll(t, s, w.records[:len(w.records)/2])
	remove(t, s, w.before[0].Key)
	s.shut()
	refused(t, s.dir, model.ErrDamaged, "part 1 of 1")
}
