package storage

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

func TestASecondOpeningIsRefused(t *testing.T) {
	t.Run("of another process", func(t *testing.T) {
		dir := t.TempDir()
		cmd, _, in := startChild(t, "hold", dir)
		who := fmt.Sprintf("process %d (%s)", cmd.Process.Pid, filepath.Base(os.Args[0]))
		refused(t, dir, model.ErrInUse, who, dir, "close it there")
		refused(t, dir, model.ErrInUse, who) // being refused did not disturb it
		if err := errors.Join(in.Close(), cmd.Wait()); err != nil {
			t.Fatal(err)
		}
		openAt(t, dir).verified()
	})
	t.Run("of this process", func(t *testing.T) {
		s := openAt(t, t.TempDir())
		refused(t, s.dir, model.ErrInUse, fmt.Sprintf("process %d", os.Getpid()))
		s.do(&model.Add{Entries: entries(1)})
		s.verified()
	})
	t.Run("with nobody said to hold it", func(t *testing.T) {
		s := openAt(t, t.TempDir())
		if err := os.Remove(s.holderFile()); err != nil {
			t.Fatal(err)
		}
		refused(t, s.dir, model.ErrInUse, "another program")
	})
}

func TestTheFolderIsForItsOwnerAlone(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "some", "store")
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	s := openAt(t, dir)
	s.do(everyKind()...)
	s.do(&model.Add{Entries: entries(3000)})
	private := func() {
		t.Helper()
		n := 0
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			info, err := d.Info()
			if err != nil {
				return err
			}
			n++
			want := fs.FileMode(0o600)
			switch {
			case d.IsDir():
				want = fs.ModeDir | 0o700
			case filepath.Base(filepath.Dir(path)) == "badger":
				return nil // Badger's own files, which the folder keeps from others
			}
			if info.Mode() != want {
				t.Errorf("%s has mode %v, want %v", path, info.Mode(), want)
			}
			return nil
		})
		if err != nil || n < 8 {
			t.Errorf("%d files were looked at (%v)", n, err)
		}
	}
	private()
	s.shut()
	private()
	if _, err := os.Stat(s.holderFile()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a closed store is still said to be held: %v", err)
	}
}

func TestNoPermission(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write everywhere: run this test as another user")
	}
	closed := t.TempDir()
	if err := os.Chmod(closed, 0o500); err != nil {
		t.Fatal(err)
	}
	refused(t, filepath.Join(closed, "store"), model.ErrNoRoom, "--store")

	s := openAt(t, t.TempDir())
	s.do(&model.Add{Entries: entries(1)})
	s.shut()
	inside := filepath.Join(s.dir, "badger")
	if err := os.Chmod(inside, 0o500); err != nil {
		t.Fatal(err)
	}
	refused(t, s.dir, model.ErrNoRoom, "--store")
	if err := os.Chmod(inside, 0o700); err != nil {
		t.Fatal(err)
	}
	openAt(t, s.dir).verified()
}

func TestAFileWhereTheFolderShouldBe(t *testing.T) {
	name := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(name, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(name, Options{}); err == nil || !strings.Contains(err.Error(), name) {
		t.Errorf("opening a file gave %v, want an error that names it", err)
	}
}

// A leftover of a kill must not keep the store from opening.
func TestALeftoverHolderDoesNotMatter(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "holder"), []byte("process 1 (gone)\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s := openAt(t, dir)
	refused(t, dir, model.ErrInUse, fmt.Sprintf("process %d", os.Getpid()))
	s.verified()
}
