package backup

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// worked is a closed store with two daily backups and changes after each.
func worked(t *testing.T) (dir, want string) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "store")
	s := opened(t, dir)
	daily := func(day string) {
		t.Helper()
		if err := Daily(ctx, s, noon(day), EachChange, NoProgress); err != nil {
			t.Fatal(err)
		}
	}
	do(t, s, adding(40))
	daily("2026-11-24")
	do(t, s, adding(10), &model.Remove{Copies: []model.Accession{3}})
	daily("2026-11-25")
	do(t, s, adding(5))
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	do(t, s, adding(2))
	want = exported(t, s.Collection())
	shut(t, s)
	return dir, want
}

// spoilt takes Badger's list of its tables away, without which nothing of it
// can be read.
func spoilt(t *testing.T, dir string) {
	t.Helper()
	if err := os.Remove(filepath.Join(dir, "badger", "MANIFEST")); err != nil {
		t.Fatal(err)
	}
	s, err := storage.Open(dir, storage.Options{})
	if err == nil {
		_ = s.Close()
	}
	if !errors.Is(err, model.ErrDamaged) || !strings.Contains(err.Error(), "tuckrow verify --rebuild") {
		t.Fatalf("opening gave %v, want that it is damaged and what to do", err)
	}
}

func flipped(t *testing.T, path string, at int) {
	t.Helper()
	b := []byte(text(t, path))
	b[at] ^= 0x10
	put(t, path, string(b))
}

func journalOf(t *testing.T, dir string) string {
	t.Helper()
	return filepath.Join(dir, "journal", in(t, filepath.Join(dir, "journal"))[0])
}

func TestRebuild(t *testing.T) {
	newest := filepath.Join("backups", "2026-11-25.jsonl")
	for name, c := range map[string]struct {
		harm    func(t *testing.T, dir string)
		from    string
		changes int
	}{
		"of the newest backup": {func(*testing.T, string) {}, newest, 3},
		"of the one before, the newest being damaged": {func(t *testing.T, dir string) {
			flipped(t, filepath.Join(dir, newest), 900)
		}, filepath.Join("backups", "2026-11-24.jsonl"), 5},
		"of the journal alone": {func(t *testing.T, dir string) {
			if err := os.RemoveAll(Folder(dir)); err != nil {
				t.Fatal(err)
			}
		}, "", 7},
		"of a backup, the journal being damaged before it": {func(t *testing.T, dir string) {
			flipped(t, journalOf(t, dir), 1500) // in the first change
		}, newest, 3},
	} {
		t.Run(name, func(t *testing.T) {
			dir, want := worked(t)
			spoilt(t, dir)
			c.harm(t, dir)
			r, err := Rebuild(ctx, dir, noon("2026-11-26"), NoProgress)
			if err != nil {
				t.Fatal(err)
			}
			from := c.from
			if from != "" {
				from = filepath.Join(dir, from)
			}
			if r.From != from || r.Changes != c.changes {
				t.Errorf("it was made of %q and %d changes, want %q and %d", r.From, r.Changes, from, c.changes)
			}
			if exported(t, r.Collection) != want || r.Collection.Rev() != 6 || holds(t, dir) != want {
				t.Fatalf("at revision %d the store does not hold what it did", r.Collection.Rev())
			}
			if want := filepath.Join(dir, "before-rebuild-2026-11-26-120000"); r.Aside != want {
				t.Errorf("kept aside is %q, want %q", r.Aside, want)
			}
			if !exists(filepath.Join(r.Aside, "badger", "LOCK")) && len(in(t, filepath.Join(r.Aside, "badger"))) == 0 {
				t.Error("nothing of the old store is kept aside")
			}
			if damaged := strings.Contains(name, "journal being damaged"); damaged != (len(r.Lost) > 0) || damaged != exists(filepath.Join(r.Aside, "journal")) {
				t.Errorf("said to be lost: %q; kept aside: %q", r.Lost, in(t, r.Aside))
			}
			s := opened(t, dir)
			undoneAfter(t, s, c.changes)
			do(t, s, adding(1))
			shut(t, s)
			holds(t, dir)
		})
	}
}

// undoneAfter takes all back that a rebuilt store can: the changes that came
// from the journal, of which two are one and its undoing.
func undoneAfter(t *testing.T, s *storage.Store, changes int) {
	t.Helper()
	titles := []string{"added 2 copies", "removed K102 Cape", "added 10 copies", "added 40 copies"}
	for _, want := range titles[:min(changes-2, len(titles))] {
		if done, err := s.Undo(ctx); err != nil || done.Title != "undid: "+want {
			t.Errorf("undo says %q (%v), want that it took back %q", done.Title, err, want)
		}
	}
	if done, err := s.Undo(ctx); !errors.Is(err, model.ErrNothingToUndo) {
		t.Errorf("undo says %q (%v), want that it goes no further back", done.Title, err)
	}
}

// What cannot be brought back is told.
func TestRebuildWithLoss(t *testing.T) {
	for name, c := range map[string]struct {
		harm func(t *testing.T, dir string)
		rev  uint64
		lost []string
	}{
		"the journal is gone": {func(t *testing.T, dir string) {
			if err := os.RemoveAll(filepath.Join(dir, "journal")); err != nil {
				t.Fatal(err)
			}
		}, 3, []string{"there is no journal"}},
		"the journal is damaged behind the backup": {func(t *testing.T, dir string) {
			path := journalOf(t, dir)
			flipped(t, path, strings.Index(text(t, path), `{"rev":5,`)+20)
		}, 4, []string{"line 7 of", "revision 6, "}},
	} {
		t.Run(name, func(t *testing.T) {
			dir, _ := worked(t)
			spoilt(t, dir)
			c.harm(t, dir)
			r, err := Rebuild(ctx, dir, noon("2026-11-26"), NoProgress)
			if err != nil {
				t.Fatal(err)
			}
			if r.Collection.Rev() != c.rev {
				t.Errorf("it is at revision %d, want %d", r.Collection.Rev(), c.rev)
			}
			all := strings.Join(r.Lost, "\n")
			for _, want := range c.lost {
				if !strings.Contains(all, want) {
					t.Errorf("said to be lost is %q, want %q in it", all, want)
				}
			}
			if holds(t, dir) != exported(t, r.Collection) {
				t.Error("opened, it holds something else")
			}
			s := opened(t, dir)
			do(t, s, adding(1))
			shut(t, s)
			holds(t, dir)
		})
	}
}

// A store that can be read is never made less than it is: of one that is whole
// but for its journal, only that is begun anew.
func TestRebuildOfAStoreThatIsWhole(t *testing.T) {
	dir, want := worked(t)
	path := journalOf(t, dir)
	flipped(t, path, strings.Index(text(t, path), `{"rev":5,`)+20)
	damaged := text(t, path)
	r, err := Rebuild(ctx, dir, noon("2026-11-26"), NoProgress)
	if err != nil || !r.Journal || r.From != "" || r.Changes != 0 || len(r.Lost) > 0 {
		t.Errorf("it was made of %+v (%v), want only the journal begun anew", r, err)
	}
	if holds(t, dir) != want {
		t.Error("it does not hold what it did")
	}
	if text(t, filepath.Join(r.Aside, "journal", filepath.Base(path))) != damaged {
		t.Error("the damaged journal is not kept aside")
	}
	s := opened(t, dir)
	undoneAfter(t, s, 7) // all that it ever could
	shut(t, s)
}

func TestRebuildThatCannotBe(t *testing.T) {
	dir, _ := worked(t)
	spoilt(t, dir)
	for _, name := range []string{"backups", "journal"} {
		if err := os.RemoveAll(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	before := in(t, filepath.Join(dir, "badger"))
	_, err := Rebuild(ctx, dir, noon("2026-11-26"), NoProgress)
	says(t, err, "the store is damaged", "no good backup", "tuckrow restore FILE")
	listed(t, filepath.Join(dir, "badger"), before...)
	held := opened(t, filepath.Join(t.TempDir(), "other"))
	if _, err := Rebuild(ctx, held.Dir(), noon("2026-11-26"), NoProgress); !errors.Is(err, model.ErrInUse) {
		t.Errorf("of a store that is open: %v", err)
	}
}

// Killed at any step, the store is as it was, and can be rebuilt again, or is
// the new one.
func TestKilledWhileRebuilding(t *testing.T) {
	dir, want := worked(t)
	spoilt(t, dir)
	rounds := 0
	for step := 1; ; step++ {
		again := filepath.Join(t.TempDir(), "store")
		if err := os.CopyFS(again, os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
		through := !killed(t, "rebuild", step, again)
		s, err := storage.Open(again, storage.Options{})
		if err != nil {
			if !errors.Is(err, model.ErrDamaged) || through {
				t.Fatalf("killed at step %d: %v", step, err)
			}
			if _, err := Rebuild(ctx, again, noon("2026-11-28"), NoProgress); err != nil {
				t.Fatalf("killed at step %d, and again: %v", step, err)
			}
			s = opened(t, again)
		}
		if _, err := s.Verify(); err != nil || exported(t, s.Collection()) != want {
			t.Fatalf("killed at step %d the store does not hold what it did (%v)", step, err)
		}
		shut(t, s)
		tidy(t, again, step)
		if through {
			break
		}
		rounds++
	}
	if rounds < 5 {
		t.Errorf("there were only %d steps to be killed at", rounds)
	}
}

// The journal reaches back to the earliest backup of the last days, and no
// further.
func TestTheJournalIsCleared(t *testing.T) {
	s := opened(t, filepath.Join(t.TempDir(), "store"))
	for day := range 12 {
		long := adding(30)
		for i := range long.Entries {
			long.Entries[i].Notes = strings.Repeat("note ", 9000) + "end"
		}
		do(t, s, long) // more than one file takes
		if err := Daily(ctx, s, noon("2026-11-01").AddDate(0, 0, day), EachChange, NoProgress); err != nil {
			t.Fatal(err)
		}
	}
	all, err := List(Folder(s.Dir()))
	if err != nil {
		t.Fatal(err)
	}
	files := in(t, filepath.Join(s.Dir(), "journal"))
	if len(files) < keptDays-1 || strings.HasPrefix(files[0], "000000000000") {
		t.Errorf("the journal has the files %q, want those of the last days", files)
	}
	shut(t, s)
	want := holds(t, s.Dir())
	spoilt(t, s.Dir())
	for _, b := range all[len(all)-keptDays+1:] { // all but the earliest that it must reach to
		flipped(t, b.Path, 900)
	}
	r, err := Rebuild(ctx, s.Dir(), noon("2026-11-26"), NoProgress)
	if err != nil || len(r.Lost) > 0 || holds(t, s.Dir()) != want {
		t.Errorf("of %q and %d changes comes something else (%v, %q)", r.From, r.Changes, err, r.Lost)
	}
}
