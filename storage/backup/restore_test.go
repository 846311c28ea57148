package backup

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
)

func restored(t testing.TB, dir, file string) Restored {
	t.Helper()
	w, err := Read(ctx, file, NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Restore(ctx, dir, w, "restored the cupboard", noon("2026-11-25"), NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func backup(t testing.TB, s *storage.Store, file string) {
	t.Helper()
	if _, err := Write(ctx, file, s, noon("2026-11-24"), NoProgress); err != nil {
		t.Fatal(err)
	}
}

// Any cupboard comes back from a backup as the same bytes: the invented ones,
// that of the demo, an empty one.
func TestBackupAndRestore(t *testing.T) {
	demo, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	for what, c := range map[string]*model.Collection{
		"empty": model.NewCollection(), "500": sample.Cupboard(500), "5000": sample.Cupboard(5000), "demo": demo,
	} {
		t.Run(what, func(t *testing.T) {
			there := filepath.Join(t.TempDir(), "cupboard.jsonl")
			s := opened(t, t.TempDir())
			if _, err := s.Fill(ctx, c, "all"); err != nil {
				t.Fatal(err)
			}
			backup(t, s, there)
			dir := filepath.Join(t.TempDir(), "new")
			if r := restored(t, dir, there); r.Aside != "" {
				t.Errorf("in a new folder %q was kept aside", r.Aside)
			}
			if got := holds(t, dir); got != exported(t, c) {
				t.Error("it came back as something else")
			}
			private(t, dir)
		})
	}
}

func TestRestoreKeepsTheStoreAside(t *testing.T) {
	dir, file := t.TempDir(), filepath.Join(t.TempDir(), "cupboard.jsonl")
	s := opened(t, dir)
	do(t, s, adding(3))
	backup(t, s, file)
	older := exported(t, s.Collection())
	do(t, s, adding(2))
	if err := s.SaveDraft("draft", []byte("half a word")); err != nil {
		t.Fatal(err)
	}
	newer := exported(t, s.Collection())
	if err := Daily(ctx, s, noon("2026-11-25"), EachChange, NoProgress); err != nil {
		t.Fatal(err)
	}
	shut(t, s)

	r := restored(t, dir, file)
	if filepath.Base(r.Aside) != "before-restore-2026-11-25-120000" {
		t.Errorf("kept aside in %q", r.Aside)
	}
	if got := holds(t, dir); got != older {
		t.Error("the store is not what the backup holds")
	}
	if got := holds(t, r.Aside); got != newer {
		t.Error("what was kept aside is not what was there")
	}
	listed(t, Folder(dir), "2026-11-25.before-restore-120000.jsonl", "2026-11-25.jsonl")
	s = opened(t, dir)
	if draft, err := s.LoadDraft("draft"); err != nil || string(draft) != "half a word" {
		t.Errorf("what was being typed is now %q (%v)", draft, err)
	}
	do(t, s, adding(1))
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Undo(ctx); !errors.Is(err, model.ErrNothingToUndo) {
		t.Errorf("undoing beyond a restore: got %v, want that there is nothing", err)
	}
	if exported(t, s.Collection()) == exported(t, model.NewCollection()) {
		t.Error("undoing has emptied the restored store")
	}
	if _, err := s.Verify(); err != nil {
		t.Error(err)
	}
	if err := Daily(ctx, s, noon("2026-11-26"), EachChange, NoProgress); err != nil {
		t.Errorf("after a restore the next backup is not made: %v", err)
	}
	latest := exported(t, s.Collection())
	shut(t, s)

	// And back again, and back.
	for _, want := range []string{newer, latest, newer} {
		r, err := Return(ctx, dir, noon("2026-11-27"), NoProgress)
		if err != nil {
			t.Fatal(err)
		}
		if got := holds(t, dir); got != want || exported(t, r.Collection) != want {
			t.Error("what was kept aside did not come back")
		}
	}
	s = opened(t, dir)
	do(t, s, adding(1))
	if _, err := s.Undo(ctx); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Undo(ctx); err != nil { // its history came back with it
		t.Fatal(err)
	}
	if n := s.Collection().Copies().Len(); n != 3 {
		t.Errorf("there are %d copies after undoing, want 3", n)
	}
	shut(t, s)
}

func TestReturnWithNothingAside(t *testing.T) {
	dir := t.TempDir()
	s := opened(t, dir)
	do(t, s, adding(1))
	want := exported(t, s.Collection())
	shut(t, s)
	if _, err := Return(ctx, dir, noon("2026-11-25"), NoProgress); !model.IsInput(err) {
		t.Errorf("got %v, want that there is nothing", err)
	}
	if got := holds(t, dir); got != want {
		t.Error("the store has changed")
	}
	if err := os.MkdirAll(filepath.Join(dir, "before-restore-2026-01-01-000000", "badger"), 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "before-restore-2026-01-01-000000", "badger", "000001.sst"), "no table")
	if _, err := Return(ctx, dir, noon("2026-11-25"), NoProgress); !errors.Is(err, model.ErrDamaged) {
		t.Errorf("got %v, want that what was kept is damaged", err)
	}
	if got := holds(t, dir); got != want {
		t.Error("the store has changed")
	}
}

// A restore comes to the help of a store that cannot be opened any more.
func TestRestoreOfADamagedStore(t *testing.T) {
	dir := t.TempDir()
	s := opened(t, dir)
	do(t, s, adding(3))
	if err := Daily(ctx, s, noon("2026-11-24"), EachChange, NoProgress); err != nil {
		t.Fatal(err)
	}
	want := exported(t, s.Collection())
	shut(t, s)
	if err := os.Remove(filepath.Join(dir, "badger", "MANIFEST")); err != nil {
		t.Fatal(err)
	}
	if _, err := storage.Open(dir, storage.Options{}); !errors.Is(err, model.ErrDamaged) {
		t.Fatalf("got %v, want damage", err)
	}
	r := restored(t, dir, filepath.Join(Folder(dir), "2026-11-24.jsonl"))
	if got := holds(t, dir); got != want {
		t.Error("the store is not what the backup holds")
	}
	if _, err := os.Stat(filepath.Join(r.Aside, "badger")); err != nil {
		t.Errorf("the damaged store was not kept: %v", err)
	}
}

func TestRestoreOfAStoreInUse(t *testing.T) {
	dir, file := t.TempDir(), filepath.Join(t.TempDir(), "cupboard.jsonl")
	s := opened(t, dir)
	do(t, s, adding(1))
	backup(t, s, file)
	do(t, s, adding(1))
	names := in(t, dir)
	w, err := Read(ctx, file, NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	_, err = Restore(ctx, dir, w, "x", noon("2026-11-25"), NoProgress)
	if !errors.Is(err, model.ErrInUse) {
		t.Errorf("got %v, want that it is in use", err)
	}
	says(t, err, "process", "close it there")
	if _, err := Return(ctx, dir, noon("2026-11-25"), NoProgress); !errors.Is(err, model.ErrInUse) {
		t.Errorf("got %v, want that it is in use", err)
	}
	listed(t, dir, names...)
	if s.Collection().Copies().Len() != 2 {
		t.Error("the store has changed")
	}
	do(t, s, adding(1))
}

// unusable are files that are no whole backup, and what is said of them.
func unusable(t *testing.T) map[string]string {
	dir := t.TempDir()
	s := opened(t, filepath.Join(dir, "store"))
	do(t, s, adding(3))
	good := filepath.Join(dir, "good.jsonl")
	backup(t, s, good)
	shut(t, s)
	b, err := os.ReadFile(good)
	if err != nil {
		t.Fatal(err)
	}
	text := string(b)
	files := map[string]string{}
	for name, x := range map[string][2]string{
		"cut":     {text[:len(text)/2], "cut short"},
		"altered": {strings.Replace(text, "Cape", "Cope", 1), "checksum"},
		"empty":   {"", "empty"},
		"foreign": {"publisher,number\n", "no export of tuckrow"},
		"newer":   {strings.Replace(text, `"format":1`, `"format":9`, 1), "newer tuckrow"},
		"more":    {text + text, "more behind"},
		"zeros":   {text[:200] + strings.Repeat("\x00", len(text)-200), "line 2"},
	} {
		path := filepath.Join(dir, name+".jsonl")
		put(t, path, x[0])
		files[path] = x[1]
	}
	files[dir] = "folder"
	files[os.DevNull] = "no plain file"
	files[filepath.Join(dir, "nowhere")] = "no such file"
	return files
}

func TestUnusableFilesChangeNothing(t *testing.T) {
	for path, want := range unusable(t) {
		w, err := Read(ctx, path, NoProgress)
		if w != nil {
			t.Errorf("%s was taken for a backup", path)
		}
		says(t, err, want)
		damaged := strings.Contains("cut altered more zeros", strings.TrimSuffix(filepath.Base(path), ".jsonl"))
		if damaged != errors.Is(err, model.ErrDamaged) {
			t.Errorf("%s: got %v; damage of a backup is told from other files", path, err)
		}
	}
}

// Who restores into a folder with other things in it finds them where they were,
// and not in a folder that may be removed.
func TestARestoreLeavesWhatIsSomebodys(t *testing.T) {
	dir, file := t.TempDir(), filepath.Join(t.TempDir(), "cupboard.jsonl")
	s := opened(t, t.TempDir())
	do(t, s, adding(3))
	backup(t, s, file)
	put(t, filepath.Join(dir, "letter.txt"), "somebody's")
	if err := os.Mkdir(filepath.Join(dir, "coat.unfinished"), 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "coat.unfinished", "piece 1"), "somebody's")
	for _, had := range []bool{false, true} {
		if r := restored(t, dir, file); (r.Aside != "") != had {
			t.Errorf("kept aside in %q, with a store there: %v", r.Aside, had)
		}
		for _, name := range []string{"letter.txt", "coat.unfinished/piece 1"} {
			if b, err := os.ReadFile(filepath.Join(dir, name)); string(b) != "somebody's" {
				t.Errorf("%s now holds %q (%v)", name, b, err)
			}
		}
	}
	if got := holds(t, dir); got != exported(t, s.Collection()) {
		t.Error("the store is not what the backup holds")
	}
}

// A restore writes only in the folder of the store, whatever lies there.
func TestARestoreStaysInItsFolder(t *testing.T) {
	dir, away := t.TempDir(), t.TempDir()
	file := filepath.Join(t.TempDir(), "cupboard.jsonl")
	s := opened(t, dir)
	do(t, s, adding(1))
	backup(t, s, file)
	shut(t, s)
	put(t, filepath.Join(away, "precious"), "somebody's")
	for _, name := range []string{"journal", "before-restore-2026-11-25-120000", "restoring.1.unfinished"} {
		if err := os.Symlink(away, filepath.Join(dir, name)); err != nil {
			t.Skip("there are no links here: ", err)
		}
	}
	want := holds(t, dir)
	r := restored(t, dir, file)
	if got := holds(t, dir); got != want {
		t.Error("the store is not what the backup holds")
	}
	if filepath.Base(r.Aside) != "before-restore-2026-11-25-120000-2" {
		t.Errorf("kept aside in %q", r.Aside)
	}
	listed(t, away, "precious")

	// A plan that was tampered with leads nowhere either.
	for _, plan := range []string{
		`{"format":1,"from":"../x","aside":"a","in":[],"out":[]}`,
		`{"format":1,"from":"f","aside":"a","in":["../../x"],"out":[]}`,
		`{"format":1,"from":"f","aside":"a","in":[],"out":["badger/MANIFEST"]}`,
		`{"format":1,"from":"f","aside":"/a","in":[],"out":["badger"]}`,
		`{"format":1,"from":"f","aside":"before-restore-2026-11-25-120000","in":[],"out":["badger"]}`,
		`{"format":2}`, `{`, ``,
	} {
		put(t, filepath.Join(dir, "switch.json"), plan)
		if s, err := storage.Open(dir, storage.Options{}); err == nil {
			t.Errorf("the plan %s was carried out", plan)
			shut(t, s)
		}
	}
	if err := os.Remove(filepath.Join(dir, "switch.json")); err != nil {
		t.Fatal(err)
	}
	listed(t, away, "precious")
	if got := holds(t, dir); got != want {
		t.Error("the store has changed")
	}
}

func TestARestoreThatIsBrokenOffChangesNothing(t *testing.T) {
	dir, file := t.TempDir(), filepath.Join(t.TempDir(), "cupboard.jsonl")
	s := opened(t, dir)
	do(t, s, adding(2))
	backup(t, s, file)
	do(t, s, adding(2))
	want := exported(t, s.Collection())
	shut(t, s)
	w, err := Read(ctx, file, NoProgress)
	if err != nil {
		t.Fatal(err)
	}
	told, end := context.WithCancel(ctx)
	_, err = Restore(told, dir, w, "x", noon("2026-11-25"), func(doing string, _, _ int64) {
		if strings.Contains(doing, "making a store") {
			end()
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, want that it was broken off", err)
	}
	if got := holds(t, dir); got != want {
		t.Error("the store has changed")
	}
	for _, name := range in(t, dir) {
		if strings.HasPrefix(name, "restoring") || strings.HasPrefix(name, aside) {
			t.Errorf("%s is left", name)
		}
	}
}
