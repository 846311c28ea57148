package storage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
)

// guarded is what a child does with a store that the test then looks at.
var guarded = map[string]func(s *Store) error{
	"close on a full disk": func(s *Store) error {
		if _, err := s.Commit(context.Background(), &model.Add{Entries: entries(3)}); err != nil {
			return err
		}
		free = func(string) (uint64, bool) { return 1 << 20, true }
		return s.Close()
	},
	"close in a folder that is read-only": func(s *Store) error {
		patience = 2 * time.Second
		if _, err := s.Commit(context.Background(), &model.Add{Entries: entries(3)}); err != nil {
			return err
		}
		if err := os.Chmod(s.badgerDir(), 0o500); err != nil {
			return err
		}
		return s.Close()
	},
	"fill": func(s *Store) error {
		return keepCommitting(s, func() []model.Entry { return entries(1) })
	},
	"just open": func(s *Store) error { return s.Close() },
}

// left tells Free that so much is free, until the test ends.
func left(t *testing.T, bytes uint64) {
	t.Helper()
	free = func(string) (uint64, bool) { return bytes, true }
	t.Cleanup(func() { free = whole.Free })
}

func TestNoRoomOnDisk(t *testing.T) {
	s := openAt(t, t.TempDir())
	s.do(everyKind()[:9]...)
	want, last := export(t, s.Collection()), s.journal.Last()
	kept := s.kept.left()
	if kept < leastKept || kept >= spare {
		t.Fatalf("%d bytes are kept, want %d and some more", kept, leastKept)
	}
	left(t, spare-kept-1) // which with what is kept is one byte short
	short := fmt.Sprintf("%d MiB are free on its disk beside %d MiB that are kept for it, and 64 MiB should be", (spare-kept-1)>>20, kept>>20)
	for _, ch := range []model.Change{&model.Add{Entries: entries(1)}, &model.Add{Entries: entries(some)}} {
		_, err := s.Commit(context.Background(), ch)
		if !errors.Is(err, model.ErrNoRoom) || !strings.Contains(err.Error(), short) || !strings.Contains(err.Error(), "make room") {
			t.Errorf("a commit gave %v", err)
		}
	}
	if _, err := s.Undo(context.Background()); !errors.Is(err, model.ErrNoRoom) {
		t.Errorf("undo gave %v", err)
	}
	if s.journal.Last() != last || export(t, s.Collection()) != want {
		t.Error("something was written")
	}
	left(t, spare-kept)
	s.do(&model.Add{Entries: entries(1)}) // with room made, it goes on
	left(t, spare)
	s.reopen()
	s.verified()
	s.shut()
	left(t, spare-leastKept-1) // before there is a log, less is kept
	refused(t, s.dir, model.ErrNoRoom, "39 MiB are free on its disk beside 24 MiB that are kept for it, and 64 MiB should be", "make room")
	left(t, spare)
	s.size = spare // twice that should be free
	if err := s.room(); !errors.Is(err, model.ErrNoRoom) || !strings.Contains(err.Error(), "128 MiB should be") {
		t.Errorf("of a large store: %v", err)
	}
	free = func(string) (uint64, bool) { return 0, false }
	if err := s.room(); err != nil {
		t.Errorf("where it is not known: %v", err)
	}
	openAt(t, s.dir).verified()
}

// ran runs a child, as another user where one is named, and gives how it ended
// and what it said of that.
func ran(t *testing.T, do, dir string, as uint32) (said string, err error) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	if as != 0 {
		cmd.Path = runnable(t)
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: as, Gid: as}}
	}
	cmd.Dir = "/"
	cmd.Env = append(os.Environ(), childDo+"="+do, childDo+"_STORE="+dir)
	var out bytes.Buffer
	cmd.Stderr = &out
	err = cmd.Run()
	return out.String(), err
}

// runnable is a copy of the test binary that other users may run.
func runnable(t *testing.T) string {
	t.Helper()
	from, err := os.Open(os.Args[0])
	if err != nil {
		t.Fatal(err)
	}
	defer from.Close()
	path := filepath.Join(open(t), "test")
	to, err := os.OpenFile(path, os.O_CREATE|os.O_WRONLY, 0o755)
	if err != nil {
		t.Fatal(err)
	}
	_, err = io.Copy(to, from)
	if err := errors.Join(err, to.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

// open is a folder that all may look into.
func open(t *testing.T) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "tuckrow")
	if err == nil {
		err = os.Chmod(dir, 0o755)
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// A disk that has become full does not keep the program from ending, nor is
// anything lost.
func TestClosingOnAFullDisk(t *testing.T) {
	dir := t.TempDir()
	said, err := ran(t, "close on a full disk", dir, 0)
	if err == nil || !strings.Contains(said, "closing") || !strings.Contains(said, "1 MiB are free") || !strings.Contains(said, "all that was entered is on disk") {
		t.Errorf("the child says %q (%v)", said, err)
	}
	s := openAt(t, dir)
	s.verified()
	if n := s.Collection().Copies().Len(); n != 3 {
		t.Errorf("there are %d copies, want 3", n)
	}
}

const nobody = 65534

func TestAsAnotherUser(t *testing.T) {
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("only root on Linux can become another user: run this test so")
	}
	owned := func(t *testing.T) string {
		dir := filepath.Join(open(t), "store")
		s := openAt(t, dir)
		s.do(&model.Add{Entries: entries(4)})
		s.shut()
		err := filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
			return errors.Join(err, os.Chown(path, nobody, nobody))
		})
		if err != nil {
			t.Fatal(err)
		}
		return dir
	}
	for name, c := range map[string]struct {
		harm func(dir string) error
		do   string
		says []string
	}{
		"the folder is somebody else's": {func(dir string) error { return os.Chown(dir, 0, 0) }, "just open",
			[]string{"no room or no permission", "give yourself the right to write there"}},
		"the folder is read-only": {func(dir string) error { return os.Chmod(filepath.Join(dir, "badger"), 0o500) }, "just open",
			[]string{"no room or no permission", "give yourself the right to write there"}},
		"the journal is read-only": {func(dir string) error { return os.Chmod(only(t, dir, "journal/*.jsonl"), 0o400) }, "just open",
			[]string{"no room or no permission"}},
		"it becomes read-only while open": {func(string) error { return nil }, "close in a folder that is read-only",
			[]string{"closing", "all that was entered is on disk"}},
	} {
		t.Run(name, func(t *testing.T) {
			dir := owned(t)
			if err := c.harm(dir); err != nil {
				t.Fatal(err)
			}
			begun := time.Now()
			said, err := ran(t, c.do, dir, nobody)
			if err == nil {
				t.Error("the child ended well")
			}
			t.Logf("it took %v", time.Since(begun).Round(100*time.Millisecond))
			for _, want := range c.says {
				if !strings.Contains(said, want) {
					t.Errorf("the child says %q, want %q in it", said, want)
				}
			}
			s := openAt(t, dir) // as root, who may
			s.verified()
			if n := s.Collection().Copies().Len(); n != 4 && (n != 7 || c.do == "just open") {
				t.Errorf("there are %d copies", n)
			}
		})
	}
}

func TestForeignFiles(t *testing.T) {
	dir, _ := inUse(t)
	s := openAt(t, dir)
	want := export(t, s.Collection())
	s.shut()
	for _, name := range []string{"000001 (2026-03-01 copy of another machine).sst", "00001.conflict.mem", "x.vlog"} {
		path := filepath.Join(dir, "badger", name)
		if err := os.WriteFile(path, []byte("what another machine had"), 0o600); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrDamaged, name, "Move it out of there", "synchronised")
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{".sync", "desktop.ini", "MANIFEST (copy)"} {
		if err := os.WriteFile(filepath.Join(dir, "badger", name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	holds(t, dir, want, ".sync", "desktop.ini", "MANIFEST (copy)", "keep the store out of such folders")
}

// Cut short anywhere, a table is found before Badger opens it, which would end
// the program.
func TestATableCutShort(t *testing.T) {
	dir, _ := inUse(t)
	name := only(t, dir, "badger/*.sst")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	rounds := 0
	for n := range len(text) {
		if n%7 != 0 && n < len(text)-64 {
			continue
		}
		rounds++
		if err := os.WriteFile(name, text[:n], 0o600); err != nil {
			t.Fatal(err)
		}
		refused(t, dir, model.ErrDamaged, "the table 00000", "tuckrow verify --rebuild")
	}
	if err := os.WriteFile(name, text, 0o600); err != nil {
		t.Fatal(err)
	}
	openAt(t, dir).verified()
	t.Logf("%d cuts, all refused", rounds)
}

// A clock that has gone back is spoken of; order and undo do not go by it.
func TestAClockThatWentBack(t *testing.T) {
	dir := t.TempDir()
	at := func(day string) *Store {
		t.Helper()
		now, err := time.ParseInLocation(time.DateOnly, day, time.Local)
		if err != nil {
			t.Fatal(err)
		}
		s, err := Open(dir, Options{Now: func() time.Time { return now }})
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	for _, x := range []struct{ day, says string }{{"2026-03-01", ""}, {"2026-03-01", ""}, {"2025-12-31", "set the clock right"}, {"2026-03-02", ""}} {
		s := at(x.day)
		if notes := strings.Join(s.Notes(), "\n"); !strings.Contains(notes, x.says) || x.says == "" && notes != "" {
			t.Errorf("on %s it says %q, want %q", x.day, notes, x.says)
		}
		added, err := s.Commit(context.Background(), &model.Add{Entries: entries(1)})
		if err != nil {
			t.Fatal(err)
		}
		if cp := added.Collection.Copy(added.Added()[0]); string(cp.Added) != x.day {
			t.Errorf("a copy entered on %s has the day %s", x.day, cp.Added)
		}
		if err := s.Close(); err != nil {
			t.Fatal(err)
		}
	}
	s := at("2026-03-02")
	for _, day := range []string{"2026-03-02", "2025-12-31", "2026-03-01"} {
		if _, at := s.Undoable(); at.Format(time.DateOnly) != day {
			t.Errorf("undo would take back what was entered on %v, want %s", at, day)
		}
		if _, err := s.Undo(context.Background()); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.Verify(); err != nil {
		t.Error(err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
}

// A backup that is named where the folder of a store should be is no store.
func TestAFileIsNoStore(t *testing.T) {
	file := filepath.Join(t.TempDir(), "cupboard.jsonl")
	if err := os.WriteFile(file, []byte("{}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Open(file, Options{})
	if !model.IsInput(err) || !strings.Contains(err.Error(), "a store is a folder") || !strings.Contains(err.Error(), "tuckrow restore FILE") {
		t.Errorf("got %v, want it said what to name", err)
	}
}
