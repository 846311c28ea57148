package whole

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// stopped is what a step panics with where a kill is played.
type stopped struct{}

// furnish makes a folder with an old and a new set of files in it, and one file
// that stays.
func furnish(t *testing.T) (dir, from string) {
	t.Helper()
	dir = t.TempDir()
	from, err := Unfinished(dir, "coming")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"a/x": "old", "b": "old", "stays": "here", filepath.Base(from) + "/a/x": "new", filepath.Base(from) + "/c": "new"} {
		path := filepath.Join(dir, name)
		if err := errors.Join(os.MkdirAll(filepath.Dir(path), 0o700), os.WriteFile(path, []byte(text), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	return dir, filepath.Base(from)
}

// stands tells which set of files is in place: all of the one, or of the other.
func stands(t *testing.T, dir string) string {
	t.Helper()
	names, err := namesIn(dir)
	if err != nil {
		t.Fatal(err)
	}
	switch {
	case slices.Equal(names, []string{"a", "b", "stays"}) && read(t, filepath.Join(dir, "a/x")) == "old":
		return "old"
	case slices.Equal(names, []string{"a", "aside", "c", "stays"}) && read(t, filepath.Join(dir, "a/x")) == "new":
		alone(t, filepath.Join(dir, "aside"), "a", "b")
		return "new"
	}
	t.Fatalf("in the folder are %q", names)
	return ""
}

// Stopped at any step, and in the finishing too, it comes to the one set or the
// other.
func TestSwitchStoppedAnywhere(t *testing.T) {
	stays := func(name string) bool { return name == "stays" }
	for stop, through := 0, false; !through; stop++ {
		for again := range 8 {
			dir, from := furnish(t)
			left := stop
			step := func() {
				if left--; left < 0 {
					panic(stopped{})
				}
			}
			through = play(t, func() error { return Switch(dir, from, "aside", stays, step) })
			if p, err := os.ReadFile(filepath.Join(dir, planFile)); err == nil && again > 0 {
				if !strings.Contains(string(p), from) {
					t.Fatalf("the plan is %s", p)
				}
				left = again - 1 // Finish tells of no steps, so it is played by what it does
				plan := plan{Format: planFormat, From: from, Aside: "aside", In: []string{"a", "c"}, Out: []string{"a", "b"}}
				play(t, func() error { return plan.carryOut(dir, step) })
			}
			if err := Finish(dir); err != nil {
				t.Fatal(err)
			}
			if got := stands(t, dir); through && got != "new" || stop == 0 && got != "old" {
				t.Fatalf("stopped at step %d the %s files stand", stop, got)
			}
		}
	}
}

// play runs something that may be stopped; true when it was through.
func play(t *testing.T, do func() error) (through bool) {
	t.Helper()
	defer func() {
		if r := recover(); r != nil {
			if _, ok := r.(stopped); !ok {
				panic(r)
			}
		}
	}()
	if err := do(); err != nil {
		t.Fatal(err)
	}
	return true
}

// Where nothing can be moved the plan is dropped, and all stays usable.
func TestASwitchThatCannotBegin(t *testing.T) {
	dir, from := furnish(t)
	if err := os.WriteFile(filepath.Join(dir, "aside"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	stays := func(name string) bool { return name == "stays" || name == "aside" }
	if err := Switch(dir, from, "aside", stays, func() {}); err == nil {
		t.Fatal("it went through with a file in place of the folder to move to")
	}
	if err := Finish(dir); err != nil {
		t.Error(err)
	}
	if read(t, filepath.Join(dir, "a/x")) != "old" || read(t, filepath.Join(dir, "b")) != "old" {
		t.Error("something was moved")
	}
}

func TestLock(t *testing.T) {
	dir := t.TempDir()
	f, err := Lock(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Lock(dir); !errors.Is(err, model.ErrInUse) {
		t.Errorf("got %v, want that it is in use", err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if f, err = Lock(dir); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Error(err)
	}
}

// A kill while the plan itself is being written leaves a piece of it, which is
// swept away and decides nothing.
func TestAPlanHalfWritten(t *testing.T) {
	dir := t.TempDir()
	left := filepath.Join(dir, planFile+".123"+unfinished)
	if err := os.WriteFile(left, []byte(`{"fr`), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Finish(dir); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(left); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s is left: %v", left, err)
	}
}
