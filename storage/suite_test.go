package storage

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"strings"
	"sync"
	"testing"

	"example.org/tuckrow/model"
)

func TestANewStoreIsEmpty(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		for range 2 {
			if got, want := export(t, s.Collection()), export(t, model.NewCollection()); got != want {
				t.Errorf("a new store holds\n%s\nwant\n%s", got, want)
			}
			s.verified()
			if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
				t.Errorf("undo of nothing says %v", err)
			}
			if title, at := s.Undoable(); title != "" || !at.IsZero() {
				t.Errorf("%q of %v could be undone in a new store", title, at)
			}
			s.reopen()
		}
	})
}

// The collection by itself, without a store, says what must be there.
func TestEveryChangeIsThereAfterOpeningAgain(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		want := model.NewCollection()
		for _, ch := range everyKind() {
			next, _, err := want.Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			done, err := s.Commit(context.Background(), ch)
			if err != nil {
				t.Fatal(err)
			}
			if done.Title != ch.Title(want) || done.Collection != s.Collection() || s.Collection().Rev() != next.Rev() {
				t.Errorf("the commit is titled %q at revision %d, want %q at %d", done.Title, s.Collection().Rev(), ch.Title(want), next.Rev())
			}
			want = next
			s.verified()
			s.reopen()
			if got := export(t, s.Collection()); got != export(t, want) {
				t.Fatalf("after %q the store holds\n%s\nwant\n%s", done.Title, got, export(t, want))
			}
			if s.Collection().Rev() != want.Rev() {
				t.Errorf("opened again it is at revision %d, want %d", s.Collection().Rev(), want.Rev())
			}
		}
	})
}

func TestUndoGoesBackToEmpty(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		was := []string{records(t, s.Collection())}
		var titles []string
		for _, ch := range everyKind() {
			done, err := s.Commit(context.Background(), ch)
			if err != nil {
				t.Fatal(err)
			}
			was, titles = append(was, records(t, s.Collection())), append(titles, done.Title)
		}
		counters := s.Collection().Counters()
		for i := len(titles) - 1; i >= 0; i-- {
			if i%2 == 0 {
				s.reopen()
			}
			if title, at := s.Undoable(); title != titles[i] || !at.Equal(noon()) {
				t.Errorf("undo would take back %q of %v, want %q of %v", title, at, titles[i], noon())
			}
			done, err := s.Undo(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			if done.Title != "undid: "+titles[i] {
				t.Errorf("undo says %q, want it to name %q", done.Title, titles[i])
			}
			if got := records(t, s.Collection()); got != was[i] {
				t.Fatalf("%s: there is\n%s\nwant\n%s", done.Title, got, was[i])
			}
			s.verified()
		}
		if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
			t.Errorf("with all undone, undo says %v", err)
		}
		if got := s.Collection().Counters(); got != counters {
			t.Errorf("undoing changed the highest numbers from %v to %v", counters, got)
		}
		s.reopen()
		if got := records(t, s.Collection()); got != was[0] {
			t.Errorf("opened again there is\n%s\nwant\n%s", got, was[0])
		}
	})
}

func TestUndoPassesOverWhatIsUndone(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		add := func(number string) { s.do(&model.Add{Entries: []model.Entry{entryOf("Quillon", number, "")}}) }
		undo := func(want string) {
			t.Helper()
			if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: added "+want {
				t.Errorf("undo says %q (%v), want it to take back %s", done.Title, err, want)
			}
		}
		add("1")
		add("2")
		undo("2")
		add("3")
		undo("3")
		s.reopen()
		undo("1")
	})
}

func TestAccessionNumbersAreNeverGivenAgain(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		next := func(want model.Accession) {
			t.Helper()
			s.reopen()
			done, err := s.Commit(context.Background(), &model.Add{Entries: []model.Entry{entryOf("Quillon", "9", "")}})
			if err != nil {
				t.Fatal(err)
			}
			if got := done.Added(); len(got) != 1 || got[0] != want {
				t.Errorf("the new copy got %v, want %d", got, want)
			}
		}
		next(1)
		next(2)
		s.do(&model.Remove{Copies: []model.Accession{2}})
		next(3)
		if _, err := s.Undo(context.Background()); err != nil {
			t.Fatal(err)
		}
		next(4)
		for range 5 {
			if _, err := s.Undo(context.Background()); errors.Is(err, model.ErrNothingToUndo) {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
		next(5)
	})
}

func TestARefusedChangeLeavesNothing(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(everyKind()[:9]...)
		inMemory, onDisk := export(t, s.Collection()), s.keys()
		inBox := entryOf("Quillon", "1", "")
		inBox.Box = "attic"
		long := entryOf("Quillon", "2", "")
		long.Notes = strings.Repeat("x", mostRecord)
		for _, ch := range []model.Change{
			&model.Add{Entries: []model.Entry{entryOf("Quillon", "5", ""), entryOf("", "1", "")}},
			&model.Add{Boxes: []model.BoxSpec{{Name: "9", Length: 1}}, Entries: []model.Entry{inBox}},
			&model.Add{Entries: []model.Entry{long}},
			&model.Revise{Entry: model.Entry{Accession: 77, Publisher: "Quillon", Number: "1"}},
			&model.Remove{Copies: []model.Accession{1, 77}},
			&model.Tick{Copies: []model.Accession{1}, Step: model.StepBox},
			&model.Tick{Step: 99},
			&model.Stand{Rows: []model.NamedRow{{Box: "2", Copies: []model.Accession{1, 77}}}},
			&model.Hang{Copy: 1, Hook: "door 99"},
			&model.TakeOut{Copy: 4},
			&model.PutBack{Copy: 2},
			&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1"}}}},
			&model.Decide{Firsts: []model.NamedWall{{Box: "1", First: 77}}},
		} {
			if _, err := s.Commit(context.Background(), ch); !model.IsInput(err) {
				t.Errorf("%T gave %v, want an error for the user", ch, err)
			}
			if export(t, s.Collection()) != inMemory || !maps.Equal(s.keys(), onDisk) {
				t.Fatalf("%T was refused and altered something", ch)
			}
		}
		s.verified()
		s.do(&model.Add{Entries: []model.Entry{entryOf("Quillon", "6", "")}})
	})
}

// A file's name is bytes, and a title that is not text could not be read again.
func TestTitlesAreText(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(&model.Add{Entries: entries(1), From: "h\xe4nge\x1b[31m.csv"})
		s.reopen()
		s.verified()
		const want = "imported 1 copy from hnge[31m.csv"
		if title, _ := s.Undoable(); title != want {
			t.Errorf("the title is %q, want %q", title, want)
		}
		if _, err := s.Undo(context.Background()); err != nil {
			t.Error(err)
		}
	})
}

func TestFillTakesAWholeCupboard(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		whole := model.NewCollection()
		for _, ch := range everyKind()[:11] {
			next, _, err := whole.Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			whole = next
		}
		empty := records(t, s.Collection())
		if _, err := s.Fill(context.Background(), whole, "imported all"); err != nil {
			t.Fatal(err)
		}
		s.reopen()
		s.verified()
		if export(t, s.Collection()) != export(t, whole) {
			t.Error("the store does not hold what it was filled with")
		}
		if _, err := s.Fill(context.Background(), whole, "imported all"); !model.IsInput(err) {
			t.Errorf("filling a store that is not empty gave %v", err)
		}
		if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: imported all" || records(t, s.Collection()) != empty {
			t.Errorf("undo of it says %q (%v) and leaves\n%s", done.Title, err, records(t, s.Collection()))
		}
		if _, err := s.Fill(context.Background(), whole, "imported all"); !model.IsInput(err) {
			t.Errorf("filling a store whose numbers were given gave %v; they would be given again", err)
		}
	})
}

// Kept lines are kept, no more; and the last 1,000 changes can be undone.
func TestTheHistoryIsBounded(t *testing.T) {
	s := openMemory(t)
	s.do(&model.Add{Entries: entries(1)})
	for i := range Kept + 20 {
		s.do(&model.Tick{Copies: []model.Accession{1}, Step: model.StepEnvelope, Undone: i%2 == 1})
	}
	if n, m := len(s.keys(keyHistory)), len(s.keys(keyBefore)); n != Kept || m != Kept {
		t.Errorf("there are %d lines and %d pieces, want %d each", n, m, Kept)
	}
	undone := 0
	for ; ; undone++ {
		if _, err := s.Undo(context.Background()); errors.Is(err, model.ErrNothingToUndo) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	if undone != Kept/2 {
		t.Errorf("%d changes could be undone, want %d", undone, Kept/2)
	}
	s.verified()
}

func TestAClosedStoreSaysSo(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		s.do(&model.Add{Entries: entries(1)})
		s.shut()
		s.shut() // closing twice is no error
		_, commit := s.Commit(context.Background(), &model.Add{Entries: entries(1)})
		_, fill := s.Fill(context.Background(), model.NewCollection(), "nothing")
		_, undo := s.Undo(context.Background())
		_, verify := s.Verify()
		for what, err := range map[string]error{"commit": commit, "undo": undo, "verify": verify} {
			if err == nil || !strings.Contains(err.Error(), "the store is closed") {
				t.Errorf("%s on a closed store gave %v", what, err)
			}
		}
		if fill == nil {
			t.Error("a closed store was filled")
		}
		if title, _ := s.Undoable(); title != "" {
			t.Errorf("a closed store would undo %q", title)
		}
		if s.Collection().Copies().Len() != 1 {
			t.Error("what was read before closing is gone")
		}
	})
}

// Changes from several goroutines are made one at a time; readers see whole
// revisions.
func TestSeveralAtOnce(t *testing.T) {
	both(t, func(t *testing.T, s *cupboard) {
		const hands, each = 4, 25
		var wg sync.WaitGroup
		for h := range hands {
			wg.Go(func() {
				for i := range each {
					if _, err := s.Commit(context.Background(), &model.Add{Entries: []model.Entry{entryOf("Quillon", fmt.Sprint(h, i), "")}}); err != nil {
						t.Error(err)
					}
					if c := s.Collection(); c.Copies().Len() != int(c.Rev()) {
						t.Errorf("revision %d has %d copies", c.Rev(), c.Copies().Len())
					}
				}
			})
		}
		wg.Wait()
		s.reopen()
		s.verified()
		if n := s.Collection().Copies().Len(); n != hands*each {
			t.Errorf("there are %d copies, want %d", n, hands*each)
		}
	})
}
