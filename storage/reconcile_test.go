package storage

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/journal"
	"github.com/dgraph-io/badger/v4"
)

// A kill between the journal and Badger leaves the journal ahead.
func TestKilledBetweenJournalAndStore(t *testing.T) {
	for name, ch := range map[string]model.Change{"small": &model.Add{Entries: entries(2)}, "large": &model.Add{Entries: entries(some), From: "large.csv"}} {
		t.Run(name, func(t *testing.T) {
			s := openAt(t, t.TempDir())
			s.do(everyKind()[:9]...)
			next, delta, err := s.Collection().Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			counted(t, s, workedOut(t, s, next, delta, entry{Title: "added"}))
			s.shut()
			s = holds(t, s.dir, export(t, next), "1 change was brought up", `"added" of 1 March 2026`)
			if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: added" {
				t.Errorf("undo says %q (%v)", done.Title, err)
			}
		})
	}
}

// The store is whole without its journal: a harmed one is put right, or aside.
func TestTheJournalHarmed(t *testing.T) {
	for name, harm := range map[string]struct {
		do   func(t *testing.T, file string)
		says string
	}{
		"deleted": {func(t *testing.T, file string) {
			if err := os.RemoveAll(filepath.Dir(file)); err != nil {
				t.Fatal(err)
			}
		}, "one was begun"},
		"its end cut": {func(t *testing.T, file string) { cutIn(t, file, 0.99) }, "was cut off"},
		"half of it":  {func(t *testing.T, file string) { cutIn(t, file, 0.5) }, "the journal was brought up"},
		"a bit flipped": {func(t *testing.T, file string) {
			flipIn(t, file, 0.5)
		}, ""}, // which only verify reads
		"a bit flipped and its end cut": {func(t *testing.T, file string) {
			flipIn(t, file, 0.5)
			cutIn(t, file, 0.99)
		}, "kept aside"},
		"its first line": {func(t *testing.T, file string) { flipIn(t, file, 0.001) }, ""},
		"emptied":        {func(t *testing.T, file string) { cutIn(t, file, 0) }, "kept aside"},
	} {
		t.Run(name, func(t *testing.T) {
			dir, want, _ := pulled(t)
			harm.do(t, only(t, dir, "journal/*.jsonl"))
			if harm.says == "" {
				s := openAt(t, dir)
				if _, err := s.Verify(); !errors.Is(err, model.ErrDamaged) || !strings.Contains(err.Error(), "journal") {
					t.Fatalf("verify says %v, want that the journal is damaged", err)
				}
				return
			}
			s := holds(t, dir, want, harm.says)
			s.do(&model.Add{Entries: entries(2)})
			s.reopen()
			s.verified()
			if len(s.Notes()) > 0 {
				t.Errorf("opened once more it says %q", s.Notes())
			}
		})
	}
}

func TestAllOfBadgersFilesLost(t *testing.T) {
	dir, want, _ := pulled(t)
	if err := os.RemoveAll(filepath.Join(dir, "badger")); err != nil {
		t.Fatal(err)
	}
	holds(t, dir, want, "20 changes were brought up")
}

// Where store and journal cannot both be right, nothing is done.
func TestStoreAndJournalThatDoNotFit(t *testing.T) {
	t.Run("both are harmed", func(t *testing.T) {
		dir, _, _ := pulled(t)
		if err := os.Remove(only(t, dir, "badger/*.mem")); err != nil {
			t.Fatal(err)
		}
		flipIn(t, only(t, dir, "journal/*.jsonl"), 0.8)
		refused(t, dir, model.ErrDamaged, "cannot be brought up", "tuckrow verify --rebuild")
	})
	t.Run("the journal is of another store", func(t *testing.T) {
		dir, _, _ := pulled(t)
		other := openAt(t, t.TempDir())
		for range 30 {
			other.do(&model.Add{Entries: entries(1)})
		}
		if err := errors.Join(os.RemoveAll(JournalFolder(dir)), os.CopyFS(JournalFolder(dir), os.DirFS(JournalFolder(other.dir)))); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrDamaged, "other", "tuckrow verify --rebuild")
	})
	t.Run("a record is an older one", func(t *testing.T) {
		dir, alter := inUse(t)
		alter(func(txn *badger.Txn) error {
			return put(txn, recordKey(model.KindCopy, 1), &model.Copy{Accession: 1, Pattern: 1})
		})
		refused(t, dir, model.ErrDamaged, "not the", "that the journal knows", "tuckrow verify --rebuild")
	})
	t.Run("the journal is of a newer tuckrow", func(t *testing.T) {
		dir, _, _ := pulled(t)
		file := only(t, dir, "journal/*.jsonl")
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		text = []byte(strings.Replace(string(text), `"format":1`, `"format":2`, 1))
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrNewer, "format 2")
	})
}

// A store from before there was a journal gets one.
func TestAStoreWithoutAJournal(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()...)
	s.do(&model.Add{Entries: entries(some)})
	want := export(t, s.Collection())
	s.shut()
	if err := os.RemoveAll(JournalFolder(s.dir)); err != nil {
		t.Fatal(err)
	}
	s = holds(t, s.dir, want, "one was begun")
	s.shut()
	if err := os.RemoveAll(filepath.Join(s.dir, "badger")); err != nil {
		t.Fatal(err)
	}
	s = holds(t, s.dir, want, "1 change was brought up") // the journal alone has it all
	if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
		t.Errorf("undo says %v, want that nothing is left", err)
	}
	s.do(&model.Add{Entries: entries(1)})
	if _, err := s.Undo(context.Background()); err != nil {
		t.Error(err)
	}
}

// A commit that Badger refuses leaves no line in the journal.
func TestARefusedCommitIsNotInTheJournal(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()[:9]...)
	want, last := export(t, s.Collection()), s.journal.Last()
	next, delta, err := s.Collection().Apply(&model.Add{Entries: entries(1)}, day)
	if err != nil {
		t.Fatal(err)
	}
	w := workedOut(t, s, next, delta, entry{Title: "added"})
	w.records[0].Key = nil // which Badger refuses
	err = s.write(context.Background(), w.written, func() error { return s.journal.Append(w.line) })
	if err == nil || s.failure == nil {
		t.Fatalf("writing gave %v, want an error that stops the store", err)
	}
	if s.journal.Last() != last {
		t.Errorf("the journal is at %+v, want %+v", s.journal.Last(), last)
	}
	s.shut()
	holds(t, s.dir, want)
}

func TestTheJournalHasALineForEachChange(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()...)
	s.do(&model.Add{Entries: entries(some), From: "large.csv"})
	if _, err := s.Undo(context.Background()); err != nil {
		t.Fatal(err)
	}
	var titles []string
	for c, err := range journal.Read(JournalFolder(s.dir)) {
		if err != nil {
			t.Fatal(err)
		}
		if c.Title != "" {
			titles = append(titles, c.Title)
		}
	}
	if n := len(everyKind()); len(titles) != n+3 || titles[0] != "begun" || titles[n+1] != "imported 6000 copies from large.csv" || titles[n+2] != "undid: "+titles[n+1] {
		t.Errorf("the journal says %q", titles)
	}
}
