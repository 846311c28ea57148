package backup

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// backedUp fails the test unless the backup of a day holds what the store does.
func backedUp(t *testing.T, s *storage.Store, name string) {
	t.Helper()
	w, err := Read(ctx, filepath.Join(Folder(s.Dir()), name), NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	if exported(t, w.Collection) != exported(t, s.Collection()) || w.Revision != s.Collection().Rev() {
		t.Errorf("%s is of revision %d, the store at %d:\n%s", name, w.Revision, s.Collection().Rev(), exported(t, w.Collection))
	}
}

func TestDaily(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "store"))
	daily := func(day string, when When) {
		t.Helper()
		if err := Daily(ctx, s, noon(day), when, NoProgress); err != nil {
			t.Fatal(err)
		}
	}
	folder := Folder(s.Dir())

	daily("2026-11-23", EachChange)
	listed(t, folder) // nothing has happened yet

	do(t, s, adding(2))
	daily("2026-11-23", OnceADay)
	listed(t, folder, "2026-11-23.jsonl")
	backedUp(t, s, "2026-11-23.jsonl")

	do(t, s, adding(1))
	daily("2026-11-23", OnceADay) // there is one of today
	if w, err := Read(ctx, filepath.Join(folder, "2026-11-23.jsonl"), NoProgress); err != nil || w.Copies != 2 {
		t.Errorf("once a day was more than once: %+v, %v", w, err)
	}
	daily("2026-11-23", EachChange)
	backedUp(t, s, "2026-11-23.jsonl")

	daily("2026-11-24", EachChange) // nothing has changed since
	daily("2026-11-24", OnceADay)
	listed(t, folder, "2026-11-23.jsonl")

	do(t, s, adding(1))
	daily("2026-11-24", OnceADay)
	listed(t, folder, "2026-11-23.jsonl", "2026-11-24.jsonl")
	backedUp(t, s, "2026-11-24.jsonl")
	private(t, s.Dir())
}

func TestDailyClearsWhatIsNotKept(t *testing.T) {
	s := opened(t, t.TempDir())
	folder := Folder(s.Dir())
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	// Of another name, or damaged: not ours to remove, and not to be counted on.
	others := []string{"2026-02-27.jsonl", "2026-13-01.jsonl", "2026-03-02.jsonl.bak", "letter.txt", "old-2026-03-02.jsonl"}
	for _, name := range others {
		put(t, filepath.Join(folder, name), `{"kind":"tuckrow","format":1,"counters":{`)
	}
	put(t, filepath.Join(folder, "2026-01-05.jsonl.123.unfinished"), "what a kill has left")
	for d := noon("2026-01-01"); d.Before(noon("2026-04-01")); d = d.AddDate(0, 0, 1) {
		if d.Equal(noon("2026-02-27")) {
			continue // there is something damaged in its place
		}
		do(t, s, adding(1))
		if err := Daily(ctx, s, d, OnceADay, NoProgress); err != nil {
			t.Fatal(err)
		}
	}
	want := append(others, "2026-01-31.jsonl", "2026-02-28.jsonl", "2026-03-15.jsonl", "2026-03-22.jsonl", "2026-03-25.jsonl", "2026-03-26.jsonl",
		"2026-03-27.jsonl", "2026-03-28.jsonl", "2026-03-29.jsonl", "2026-03-30.jsonl", "2026-03-31.jsonl")
	slices.Sort(want)
	listed(t, folder, want...)
}

// A store that was emptied, or taken back to an older copy, does not take the
// place of its backups.
func TestAStoreThatHasFallenBehind(t *testing.T) {
	dir := t.TempDir()
	s := opened(t, dir)
	do(t, s, adding(30), adding(1))
	if err := Daily(ctx, s, noon("2026-11-23"), EachChange, NoProgress); err != nil {
		t.Fatal(err)
	}
	shut(t, s)
	for _, name := range in(t, dir) {
		if name != "backups" {
			if err := os.RemoveAll(filepath.Join(dir, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	s = opened(t, dir)
	var doubt *DoubtError
	for range 2 {
		if err := Daily(ctx, s, noon("2026-11-24"), OnceADay, NoProgress); !errors.As(err, &doubt) {
			t.Fatalf("an empty store: got %v, want doubt", err)
		}
		says(t, doubt, "31 copies as of revision 2", "gone back to revision", "tuckrow restore", "2026-11-23.jsonl", "mv ")
		listed(t, Folder(dir), "2026-11-23.jsonl", "2026-11-24.doubtful.jsonl")
		do(t, s, adding(1))
	}
	if w, err := Read(ctx, doubt.Beside, NoProgress); err != nil || w.Copies != 0 {
		t.Errorf("once a day was more than once: %+v, %v", w, err)
	}
	if err := Daily(ctx, s, noon("2026-11-24"), EachChange, NoProgress); !errors.As(err, &doubt) {
		t.Fatalf("got %v, want doubt", err)
	}
	backedUp(t, s, "2026-11-24.doubtful.jsonl")

	// What it says to do where the store is right makes it right.
	if err := os.Rename(doubt.Beside, filepath.Join(Folder(dir), "2026-11-24.jsonl")); err != nil {
		t.Fatal(err)
	}
	do(t, s, adding(1))
	if err := Daily(ctx, s, noon("2026-11-24"), EachChange, NoProgress); err != nil {
		t.Fatal(err)
	}
	backedUp(t, s, "2026-11-24.jsonl")
	listed(t, Folder(dir), "2026-11-23.jsonl", "2026-11-24.jsonl")
}

// Copies that were taken out by a change, or by an undo, are no cause for
// doubt, however many.
func TestADropWithACause(t *testing.T) {
	s := opened(t, t.TempDir())
	daily := func(day string) {
		t.Helper()
		if err := Daily(ctx, s, noon(day), OnceADay, NoProgress); err != nil {
			t.Fatal(err)
		}
		backedUp(t, s, day+".jsonl")
	}
	do(t, s, adding(1), adding(40))
	daily("2026-11-20")
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	daily("2026-11-21")
	do(t, s, adding(40))
	daily("2026-11-22")
	remove := &model.Remove{}
	for a := range s.Collection().Copies().All() {
		remove.Copies = append(remove.Copies, model.Accession(a))
	}
	do(t, s, remove)
	daily("2026-11-23")
}

// lossy is a store that has lost copies with nothing in its history.
type lossy struct {
	*storage.Store
	c *model.Collection
}

func (l lossy) Collection() *model.Collection { return l.c }

func TestADropWithoutACause(t *testing.T) {
	s := opened(t, t.TempDir())
	do(t, s, adding(10))
	had := s.Collection()
	if err := Daily(ctx, s, noon("2026-11-20"), OnceADay, NoProgress); err != nil {
		t.Fatal(err)
	}
	do(t, s, &model.Tick{Copies: []model.Accession{1}, Step: model.StepSleeve})
	lost, _, err := had.Apply(&model.Remove{Copies: []model.Accession{3, 4}}, "")
	if err != nil {
		t.Fatal(err)
	}
	var doubt *DoubtError
	if err := Daily(ctx, lossy{s, lost}, noon("2026-11-21"), OnceADay, NoProgress); !errors.As(err, &doubt) {
		t.Fatalf("got %v, want doubt", err)
	}
	says(t, doubt, "10 copies and the store 8", "nothing in the history")
	listed(t, Folder(s.Dir()), "2026-11-20.jsonl", "2026-11-21.doubtful.jsonl")
}

// With a clock that went back nothing is removed, and what is made is of the
// day that the clock shows.
func TestAClockThatWentBack(t *testing.T) {
	s := opened(t, t.TempDir())
	var want []string
	for d := noon("2026-10-01"); d.Before(noon("2026-10-20")); d = d.AddDate(0, 0, 1) {
		do(t, s, adding(1))
		if _, err := write(ctx, filepath.Join(s.Dir(), "one"), s.Collection(), d, NoProgress); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(Folder(s.Dir()), 0o700); err != nil {
			t.Fatal(err)
		}
		want = append(want, d.Format(time.DateOnly)+".jsonl")
		if err := os.Rename(filepath.Join(s.Dir(), "one"), filepath.Join(Folder(s.Dir()), want[len(want)-1])); err != nil {
			t.Fatal(err)
		}
	}
	do(t, s, adding(1))
	for _, day := range []string{"1970-01-01", "2026-10-03"} {
		if err := Daily(ctx, s, noon(day), EachChange, NoProgress); err != nil {
			t.Fatal(err)
		}
		backedUp(t, s, day+".jsonl")
	}
	listed(t, Folder(s.Dir()), append([]string{"1970-01-01.jsonl"}, want...)...)
}

func TestWhatIsNotOursStays(t *testing.T) {
	s := opened(t, t.TempDir())
	do(t, s, adding(1))
	folder := Folder(s.Dir())
	if err := os.Mkdir(folder, 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(folder, "2026-11-20.jsonl"), "a letter")
	says(t, Daily(ctx, s, noon("2026-11-20"), OnceADay, NoProgress), "2026-11-20.jsonl", "no export of tuckrow", "move it away", "safe in the store")
	if got, err := os.ReadFile(filepath.Join(folder, "2026-11-20.jsonl")); err != nil || string(got) != "a letter" {
		t.Errorf("the letter is now %q (%v)", got, err)
	}
}

// That there can be no backup is told, and the store works on.
func TestDailyThatCannotBe(t *testing.T) {
	s := opened(t, t.TempDir())
	do(t, s, adding(1))
	put(t, Folder(s.Dir()), "a file in place of the folder")
	says(t, Daily(ctx, s, noon("2026-11-20"), OnceADay, NoProgress), "daily backup", "safe in the store")
	do(t, s, adding(1))
	if _, err := s.Verify(); err != nil {
		t.Error(err)
	}
}

func TestAStoreInMemoryHasNone(t *testing.T) {
	s, err := storage.Open("", storage.Options{InMemory: true})
	if err != nil {
		t.Fatal(err)
	}
	defer shut(t, s)
	do(t, s, adding(1))
	if err := Daily(ctx, s, noon("2026-11-20"), EachChange, NoProgress); err != nil {
		t.Error(err)
	}
}

func TestWatch(t *testing.T) {
	s := opened(t, t.TempDir())
	do(t, s, adding(1))
	today := func() string { return time.Now().Format(time.DateOnly) + ".jsonl" }
	before := today()
	w := Watch(ctx, s)
	do(t, s, adding(2))
	if err := w.Stop(ctx); err != nil {
		t.Fatal(err)
	}
	if before != today() {
		t.Skip("it has just become another day")
	}
	listed(t, Folder(s.Dir()), before)
	backedUp(t, s, before)

	// Told to end, it ends at once.
	told, end := context.WithCancel(ctx)
	w = Watch(told, s)
	end()
	do(t, s, adding(1))
	if err := w.Stop(told); err != nil && !errors.Is(err, context.Canceled) {
		t.Fatal(err)
	}
	if got, err := Read(ctx, filepath.Join(Folder(s.Dir()), before), NoProgress); err != nil || got.Copies != 3 {
		t.Errorf("the backup is %+v (%v), want that of before", got, err)
	}
}
