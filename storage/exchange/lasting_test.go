package exchange_test

import (
	"os"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/alike"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/backup"
	"example.org/tuckrow/storage/exchange"
	"pgregory.net/rapid"
)

// lived is a store in which anything has happened, some of it undone.
func lived(t *rapid.T, s *storage.Store, most int) {
	made(t, s, alike.Furniture())
	for range rapid.IntRange(3, most).Draw(t, "changes") {
		was := records(t, s)
		ch := alike.Change(t, s.Collection())
		if _, err := s.Commit(t.Context(), ch); err != nil {
			if !model.IsInput(err) {
				t.Fatalf("%+v: %v", ch, err)
			}
			continue
		}
		if _, err := s.Verify(); err != nil {
			t.Fatalf("%+v: %v", ch, err)
		}
		if rapid.IntRange(0, 3).Draw(t, "undo") == 3 {
			undone(t, s)
			if got := records(t, s); got != was {
				t.Fatalf("%+v undone leaves\n%s\nthere was\n%s", ch, got, was)
			}
		}
	}
}

func export(t *rapid.T, c *model.Collection) string {
	var b strings.Builder
	if err := exchange.WriteJSONL(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// records are all lines of an export but the first and the last two, which count.
func records(t *rapid.T, s *storage.Store) string {
	lines := strings.Split(export(t, s.Collection()), "\n")
	return strings.Join(lines[1:len(lines)-2], "\n")
}

// What a store holds is what comes of its export in another; and of one on disk,
// which every fourth is, what is read again, and what the journal alone makes when
// Badger's files are lost.
func TestWhateverHappensIsStored(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		if rapid.IntRange(0, 3).Draw(rt, "on disk") == 3 {
			dir, err := os.MkdirTemp(t.TempDir(), "store")
			if err != nil {
				rt.Fatal(err)
			}
			comesBackFromDisk(rt, dir)
			if err := os.RemoveAll(dir); err != nil {
				rt.Fatal(err)
			}
			return
		}
		s := store(t)
		lived(rt, s, 20)
		if err := s.Close(); err != nil {
			rt.Fatal(err)
		}
		lines := jsonl(t, s.Collection())
		if got := jsonl(t, stored(t, rt, lines)); got != lines {
			rt.Fatalf("it came back as\n%s\nit was\n%s", got, lines)
		}
	})
}

func comesBackFromDisk(t *rapid.T, dir string) {
	noon := time.Date(2026, 3, 1, 12, 0, 0, 0, time.Local)
	var c *model.Collection
	for _, most := range []int{8, 0} { // used, and read again
		s, err := storage.Open(dir, storage.Options{Now: func() time.Time { return noon }})
		if err != nil {
			t.Fatal(err)
		}
		if most > 0 {
			lived(t, s, most)
		} else if got, was := export(t, s.Collection()), export(t, c); got != was {
			t.Fatalf("opened again it is\n%s\nit was\n%s", got, was)
		}
		c = s.Collection()
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.RemoveAll(storage.BadgerFolder(dir)); err != nil {
		t.Fatal(err)
	}
	r, err := backup.Rebuild(t.Context(), dir, noon, backup.NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	if got, was := export(t, r.Collection), export(t, c); got != was || len(r.Lost) > 0 {
		t.Fatalf("made of the journal it is\n%s\nit was\n%s\nlost: %q", got, was, r.Lost)
	}
}
