package whole

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// saying writes a text.
func saying(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

func read(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// alone fails the test unless nothing but the named files is in the folder.
func alone(t *testing.T, dir string, names ...string) {
	t.Helper()
	inside, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range inside {
		got = append(got, e.Name())
	}
	if strings.Join(got, " ") != strings.Join(names, " ") {
		t.Errorf("in the folder are %q, want %q", got, names)
	}
}

func TestReplace(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	before := ""
	for _, text := range []string{"one", "two", ""} {
		seen := "nothing"
		check := func(r io.Reader) error {
			if old, _ := os.ReadFile(path); string(old) != before {
				t.Errorf("before the new file was read back, the old one is %q, want %q", old, before)
			}
			b, err := io.ReadAll(r)
			seen = string(b)
			return err
		}
		if err := Replace(path, saying(text), check); err != nil {
			t.Fatal(err)
		}
		before = text
		if seen != text || read(t, path) != text {
			t.Errorf("the file holds %q and %q was checked, want %q", read(t, path), seen, text)
		}
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the file has mode %v (%v), want 0600", info.Mode(), err)
	}
	alone(t, dir, "a")
}

func TestAFailedReplaceLeavesWhatWasThere(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	if err := Replace(path, saying("old"), nil); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("broken")
	for what, do := range map[string]func() error{
		"writing": func() error {
			return Replace(path, func(w io.Writer) error { return errors.Join(saying("ne")(w), broken) }, nil)
		},
		"reading back": func() error {
			return Replace(path, saying("new"), func(r io.Reader) error { return broken })
		},
	} {
		if err := do(); !errors.Is(err, broken) {
			t.Errorf("%s: got %v, want what broke", what, err)
		}
		if read(t, path) != "old" {
			t.Errorf("%s: the file holds %q", what, read(t, path))
		}
		alone(t, dir, "a")
	}
}

// A disk that gives back something else is found, also where nobody looks at
// what it means.
func TestWhatIsReadBackIsCompared(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	spoil := func(w io.Writer) error {
		names, err := filepath.Glob(path + ".*" + unfinished)
		if err != nil || len(names) != 1 {
			t.Fatalf("being written are %v, %v", names, err)
		}
		if err := saying("true")(w); err != nil {
			return err
		}
		return os.WriteFile(names[0], []byte("fals"), 0o600)
	}
	if err := Replace(path, spoil, nil); err == nil || !strings.Contains(err.Error(), "not what was written") {
		t.Errorf("got %v, want that it differs", err)
	}
	alone(t, dir)
}

func TestOnlyFilesAreReplaced(t *testing.T) {
	dir := t.TempDir()
	for what, path := range map[string]string{"folder": dir, "plain file": os.DevNull} {
		if err := Replace(path, saying("x"), nil); !model.IsInput(err) || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: got %v", path, err)
		}
	}
	if err := os.Symlink("nowhere", filepath.Join(dir, "loose")); err != nil {
		t.Skip("there are no links here: ", err)
	}
	if err := Replace(filepath.Join(dir, "loose"), saying("x"), nil); !model.IsInput(err) {
		t.Errorf("a link that leads nowhere: got %v", err)
	}
	if err := Replace(filepath.Join(dir, "target"), saying("old"), nil); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("target", filepath.Join(dir, "link")); err != nil {
		t.Fatal(err)
	}
	if err := Replace(filepath.Join(dir, "link"), saying("new"), nil); err != nil || read(t, filepath.Join(dir, "target")) != "new" {
		t.Errorf("through a link: %v, and the file holds %q", err, read(t, filepath.Join(dir, "target")))
	}
	alone(t, dir, "link", "loose", "target")
}

func TestNoPermission(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("root may write anywhere")
	}
	dir := t.TempDir()
	if err := os.Chmod(dir, 0o500); err != nil {
		t.Fatal(err)
	}
	if err := Replace(filepath.Join(dir, "a"), saying("x"), nil); !errors.Is(err, model.ErrNoRoom) {
		t.Errorf("got %v, want that there is no permission", err)
	}
}

// It is said which folder is wanting, and nothing of names that nobody gave.
func TestNoFolder(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "stick")
	err := Replace(filepath.Join(folder, "a"), saying("x"), nil)
	if !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "there is no folder") || !strings.Contains(err.Error(), "make it, or name another") || strings.Contains(err.Error(), unfinished) {
		t.Errorf("got %v, want that there is no such folder", err)
	}
}

// /dev/full says "no space left" at each write, as a full disk does.
func TestNoRoom(t *testing.T) {
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("there is no /dev/full here: ", err)
	}
	defer full.Close()
	dir := t.TempDir()
	err = Replace(filepath.Join(dir, "a"), func(io.Writer) error { return saying("x")(full) }, nil)
	if !errors.Is(err, model.ErrNoRoom) || !strings.Contains(err.Error(), "make room") {
		t.Errorf("got %v, want that there is no room", err)
	}
	alone(t, dir)
}

func TestClear(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a")
	for _, name := range []string{"a", "a.1.unfinished", "a.unfinished.txt", "b.1.unfinished"} {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	// One that is being written stays.
	during := func(w io.Writer) error {
		if err := Clear(dir, "a"); err != nil {
			return err
		}
		return saying("new")(w)
	}
	if err := Replace(path, during, nil); err != nil {
		t.Fatal(err)
	}
	alone(t, dir, "a", "a.unfinished.txt", "b.1.unfinished")
	if err := Clear(dir, ""); err != nil {
		t.Error(err)
	}
	alone(t, dir, "a", "a.unfinished.txt")
	if err := Clear(filepath.Join(dir, "no", "folder"), ""); err != nil {
		t.Error(err)
	}
}
