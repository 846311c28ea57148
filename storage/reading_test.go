package storage

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// A store on a read-only disk is read as it is, also one that was killed and
// whose log would have to be written out first; nothing can be changed in it.
func TestReadingOnly(t *testing.T) {
	for _, killed := range []bool{false, true} {
		disk := mounted(t, "tmpfs", 128)
		dir := filepath.Join(disk, "store")
		s := openAt(t, dir)
		s.do(everyKind()[:9]...)
		if err := s.SaveDraft("draft", halfTyped); err != nil {
			t.Fatal(err)
		}
		s.shut()
		if killed {
			if said, err := ran(t, "leave a log", dir, 0); err != nil {
				t.Fatal(said, err)
			}
		}
		remount(t, disk, "ro")
		_, err := Open(dir, Options{})
		if !errors.Is(err, model.ErrReadOnly) || !errors.Is(err, model.ErrNoRoom) {
			t.Fatalf("opening gave %v, want that it cannot be written to", err)
		}
		r, err := OpenReading(dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		copied, reading := r.ReadingOnly()
		if !reading || r.Dir() != dir {
			t.Errorf("it is %q, for reading only: %v", r.Dir(), reading)
		}
		if info, err := os.Stat(copied); err != nil || info.Mode().Perm() != 0o700 {
			t.Errorf("the copy is for others, too: %v, %v", info.Mode(), err)
		}
		if _, err := r.Verify(); err != nil {
			t.Error(err)
		}
		got := export(t, r.Collection())
		for what, err := range map[string]error{
			"a change": second(r.Commit(context.Background(), &model.Add{Entries: entries(1)})),
			"undo":     second(r.Undo(context.Background())),
		} {
			if !errors.Is(err, model.ErrReadOnly) || !strings.Contains(err.Error(), "opened for reading only") {
				t.Errorf("%s gave %v, want it refused", what, err)
			}
		}
		if draft, err := r.LoadDraft("draft"); string(draft) != string(halfTyped) {
			t.Errorf("of what was being typed %d bytes are there (%v)", len(draft), err)
		}
		if err := r.Unkept(); err != nil {
			t.Errorf("what its folder has is said to be lost: %v", err)
		}
		if err := r.SaveDraft("draft", []byte("other")); err != nil {
			t.Errorf("a draft for as long as it is open: %v", err)
		}
		if err := r.Unkept(); !errors.Is(err, model.ErrReadOnly) {
			t.Errorf("a draft that is lost gave %v, want that it is", err)
		}
		if err := r.Close(); err != nil {
			t.Error(err)
		}
		if _, err := os.Stat(copied); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("the copy is still there: %v", err)
		}
		remount(t, disk, "rw")
		s = openAt(t, dir)
		s.verified()
		if export(t, s.Collection()) != got {
			t.Error("what was read is not what the store holds")
		}
		s.shut()
	}
}

// Where a pattern lies is to be had on a full disk as well, though not where the
// copy that is read would take the last of its room.
func TestReadingOnAFullDisk(t *testing.T) {
	disk := mounted(t, "tmpfs", 160)
	dir := filepath.Join(disk, "store")
	s := openAt(t, dir)
	s.do(everyKind()[:9]...)
	want := export(t, s.Collection())
	s.shut()
	_ = exec.Command("sh", "-c", `cat /dev/zero >"$1"`, "sh", filepath.Join(disk, "filler")).Run() // ends when the disk is full
	if _, err := Open(dir, Options{}); !errors.Is(err, model.ErrNoRoom) {
		t.Fatalf("opening gave %v, want that there is no room", err)
	}
	t.Setenv("TMPDIR", disk)
	if _, err := OpenReading(dir, Options{}); !errors.Is(err, model.ErrNoRoom) || !strings.Contains(err.Error(), "make room") {
		t.Errorf("with the copy on the same disk it gave %v", err)
	}
	if left, _ := filepath.Glob(filepath.Join(disk, "tuckrow-reading-*")); len(left) > 0 {
		t.Errorf("%q was left on the full disk", left)
	}
	t.Setenv("TMPDIR", t.TempDir())
	r, err := OpenReading(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if export(t, r.Collection()) != want {
		t.Error("what is read is not what was stored")
	}
	if _, err := r.Commit(context.Background(), &model.Add{Entries: entries(1)}); err == nil || !strings.Contains(err.Error(), "make room on its disk") {
		t.Errorf("a change gave %v, want it refused", err)
	}
	if err := r.Close(); err != nil {
		t.Error(err)
	}
}

// Who has opened a store and only typed, when the disk becomes full, keeps what is
// typed from then on too.
func TestADraftOnADiskThatBecomesFull(t *testing.T) {
	disk := mounted(t, "tmpfs", 200)
	dir := filepath.Join(disk, "store")
	s := openAt(t, dir)
	s.do(everyKind()[:9]...)
	s.shut()
	s = openAt(t, dir)
	if err := s.SaveDraft("draft", []byte("half")); err != nil {
		t.Fatal(err)
	}
	_ = exec.Command("sh", "-c", `cat /dev/zero >"$1"`, "sh", filepath.Join(disk, "filler")).Run() // ends when the disk is full
	if err := s.SaveDraft("draft", halfTyped); err != nil {
		t.Errorf("what was typed is not kept: %v", err)
	}
	if got, err := s.LoadDraft("draft"); string(got) != string(halfTyped) {
		t.Errorf("of what was typed %d bytes are kept, want %d (%v)", len(got), len(halfTyped), err)
	}
	if err := os.Remove(filepath.Join(disk, "filler")); err != nil {
		t.Fatal(err)
	}
	s.shut()
}

func second(_ model.Commit, err error) error { return err }

func remount(t *testing.T, disk, how string) {
	t.Helper()
	if out, err := exec.Command("mount", "-o", "remount,"+how, disk).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
}

// Nothing is made of a folder that holds no store, nor of one whose restore was
// cut off.
func TestReadingOnlyWhatIsNoStore(t *testing.T) {
	dir := t.TempDir()
	if _, err := OpenReading(dir, Options{}); err == nil {
		t.Error("an empty folder was opened for reading")
	}
	if _, err := OpenReading(filepath.Join(dir, "none"), Options{}); err == nil {
		t.Error("a folder that is not there was opened for reading")
	}
	s := openAt(t, dir)
	s.shut()
	if err := os.WriteFile(filepath.Join(dir, "switch.json"), []byte("{}"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenReading(dir, Options{}); err == nil || !strings.Contains(err.Error(), "a restore of it was cut off") {
		t.Errorf("with a restore to be done it gave %v", err)
	}
}
