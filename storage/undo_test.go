package storage

import (
	"context"
	"errors"
	"fmt"
	"os"
	"testing"

	"example.org/tuckrow/model"
)

// The last 1,000 changes can be taken back one after another, each naming what
// it takes back, over restarts, and also when all of Badger's files were lost
// in between and came back from the journal.
func TestAThousandUndoneOverRestarts(t *testing.T) {
	n := Kept / 2
	if testing.Short() {
		n = 60
	}
	s := openAt(t, t.TempDir())
	for i := range n {
		s.do(&model.Add{Entries: []model.Entry{entryOf("Quillon", fmt.Sprint("K", i), "")}})
		if i%(n/4) == n/8 {
			s.reopen()
		}
	}
	for i := n - 1; i >= 0; i-- {
		if i == n/2 {
			s.shut()
			if err := os.RemoveAll(s.badgerDir()); err != nil {
				t.Fatal(err)
			}
			s.open()
		}
		if i%(n/4) == n/8 {
			s.reopen()
		}
		want := fmt.Sprint("added K", i)
		if title, _ := s.Undoable(); title != want {
			t.Fatalf("undo would take back %q, want %q", title, want)
		}
		if done, err := s.Undo(context.Background()); err != nil || done.Title != "undid: "+want {
			t.Fatalf("undo says %q (%v), want that it took back %q", done.Title, err, want)
		}
		if got := s.Collection().Copies().Len(); got != i {
			t.Fatalf("with %q taken back there are %d copies, want %d", want, got, i)
		}
	}
	if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNothingToUndo) {
		t.Errorf("with all undone, undo says %v", err)
	}
	s.reopen()
	s.verified()
}
