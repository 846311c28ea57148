package backup

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/exchange"
)

// childDo names the environment variable that makes the test binary play a
// tuckrow of its own, to be killed.
const childDo = "TUCKROW_TEST_CHILD"

func TestMain(m *testing.M) {
	if do := os.Getenv(childDo); do != "" {
		if err := child(do, os.Getenv(childDo+"_STORE")); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

var ctx = context.Background()

func noon(day string) time.Time {
	t, err := time.ParseInLocation(time.DateOnly, day, time.Local)
	if err != nil {
		panic(err) // a mistake in the test
	}
	return t.Add(12 * time.Hour)
}

func opened(t testing.TB, dir string) *storage.Store {
	t.Helper()
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.Close() }) // tests close where it matters
	return s
}

func shut(t testing.TB, s *storage.Store) {
	t.Helper()
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
}

func do(t testing.TB, s *storage.Store, changes ...model.Change) {
	t.Helper()
	for _, ch := range changes {
		if _, err := s.Commit(ctx, ch); err != nil {
			t.Fatal(err)
		}
	}
}

func adding(n int) *model.Add {
	add := &model.Add{}
	for i := range n {
		add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint("K", 100+i), Name: "Cape"})
	}
	return add
}

func exported(t testing.TB, c *model.Collection) string {
	t.Helper()
	var b bytes.Buffer
	if err := exchange.WriteJSONL(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// holds opens the store in a folder, reads all of it and gives its export.
func holds(t testing.TB, dir string) string {
	t.Helper()
	s := opened(t, dir)
	if _, err := s.Verify(); err != nil {
		t.Fatal(err)
	}
	text := exported(t, s.Collection())
	shut(t, s)
	return text
}

// in lists what is in a folder.
func in(t testing.TB, dir string) []string {
	t.Helper()
	inside, err := os.ReadDir(dir)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	var names []string
	for _, e := range inside {
		names = append(names, e.Name())
	}
	return names
}

func put(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

func text(t testing.TB, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func listed(t testing.TB, dir string, want ...string) {
	t.Helper()
	if got := in(t, dir); !slices.Equal(got, want) {
		t.Errorf("in %s are %q, want %q", filepath.Base(dir), got, want)
	}
}

// private fails the test unless everything in a folder is for its owner alone.
func private(t testing.TB, dir string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := d.Info()
		if err == nil && info.Mode().Perm()&0o077 != 0 && !strings.Contains(path, "badger") {
			t.Errorf("%s has mode %v, want it for its owner alone", path, info.Mode())
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func says(t testing.TB, err error, want ...string) {
	t.Helper()
	if err == nil {
		t.Errorf("there is no error, want one that says %q", want)
		return
	}
	for _, w := range want {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("the error is %q, want it to say %q", err, w)
		}
	}
}
