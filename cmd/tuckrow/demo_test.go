package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	"unicode"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// demoIn runs demo with a folder of its own for what is temporary, and gives
// what it printed and what it left in that folder.
func demoIn(t *testing.T, ctx context.Context, out *bytes.Buffer, args ...string) (left []string, err error) {
	t.Helper()
	tmp := t.TempDir()
	t.Setenv("TMPDIR", tmp) // Unix
	t.Setenv("TMP", tmp)    // Windows
	t.Setenv("TUCKROW_STORE", filepath.Join(t.TempDir(), "own"))
	err = run(ctx, append([]string{"demo"}, args...), streams{strings.NewReader(""), out, &bytes.Buffer{}})
	if _, own := os.Stat(os.Getenv("TUCKROW_STORE")); !errors.Is(own, os.ErrNotExist) {
		t.Error("demo touched the user's own store")
	}
	return inFolder(t, tmp), err
}

func inFolder(t *testing.T, dir string) []string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	return names
}

func TestDemoReport(t *testing.T) {
	var out bytes.Buffer
	left, err := demoIn(t, context.Background(), &out)
	if err != nil {
		t.Fatal(err)
	}
	if len(left) > 0 {
		t.Errorf("demo left %q in the temporary folder", left)
	}
	text := out.String()
	golden(t, filepath.Join("testdata", "demo.golden"), text)
	if n := strings.Count(text, "\n"); n < 30 || n > 60 {
		t.Errorf("the report has %d lines, wanted are 30 to 60", n)
	}
	for i, r := range text {
		if r != '\n' && unicode.IsControl(r) {
			t.Errorf("control character %U at byte %d of a plain report", r, i)
		}
	}
}

// TestDemoKeep: what is kept opens and verifies, and can be gone on with.
func TestDemoKeep(t *testing.T) {
	for name, prepare := range map[string]func(string) error{
		"a folder not there yet": func(string) error { return nil },
		"an empty folder":        func(dir string) error { return os.Mkdir(dir, 0o700) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "kept")
			if err := prepare(dir); err != nil {
				t.Fatal(err)
			}
			var out bytes.Buffer
			if left, err := demoIn(t, context.Background(), &out, "--keep", dir); err != nil || len(left) > 0 {
				t.Fatalf("left %q: %v", left, err)
			}
			if !strings.Contains(out.String(), dir) {
				t.Error("the report does not say where the store was kept")
			}
			s, err := storage.Open(dir, storage.Options{})
			if err != nil {
				t.Fatal(err)
			}
			defer func() {
				if err := s.Close(); err != nil {
					t.Error(err)
				}
			}()
			if n, err := s.Verify(); err != nil || n < 800 {
				t.Errorf("%d records verified: %v", n, err)
			}
			if _, err := s.Undo(context.Background()); err != nil {
				t.Errorf("the last event cannot be undone: %v", err)
			}
		})
	}
}

func TestDemoRefusesFolders(t *testing.T) {
	dir := t.TempDir()
	full, file := filepath.Join(dir, "full"), filepath.Join(dir, "file")
	if err := os.Mkdir(full, 0o700); err != nil {
		t.Fatal(err)
	}
	for _, f := range []string{filepath.Join(full, "letter.txt"), file} {
		if err := os.WriteFile(f, []byte("mine"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		args   []string
		says   string
		reason string
	}{
		{[]string{"--keep", full}, "letter.txt", "a folder that holds something"},
		{[]string{"--keep", file}, "cannot be used", "a file"},
		{[]string{"--store", full}, "--keep", "a store that demo would not use"},
	} {
		var out bytes.Buffer
		_, err := demoIn(t, context.Background(), &out, c.args...)
		if err == nil || !strings.Contains(err.Error(), c.says) || report(&bytes.Buffer{}, err) != exitInput {
			t.Errorf("%s: %v", c.reason, err)
		}
		if out.Len() > 0 {
			t.Errorf("%s: printed all the same: %q", c.reason, out.String())
		}
	}
	if got := inFolder(t, full); len(got) != 1 || got[0] != "letter.txt" {
		t.Errorf("the folder that was refused now holds %q", got)
	}
}

// TestDemoInterrupted: nothing is left behind, not even in a folder that was to
// be kept, since half a story is no use.
func TestDemoInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	empty := t.TempDir()
	fresh := filepath.Join(t.TempDir(), "fresh")
	for _, args := range [][]string{nil, {"--keep", empty}, {"--keep", fresh}} {
		var out bytes.Buffer
		left, err := demoIn(t, ctx, &out, args...)
		if !errors.Is(err, context.Canceled) {
			t.Errorf("demo %q: %v, wanted is that it was interrupted", args, err)
		}
		if len(left) > 0 {
			t.Errorf("demo %q left %q", args, left)
		}
	}
	if left := inFolder(t, empty); len(left) > 0 {
		t.Errorf("the empty folder now holds %q", left)
	}
	if _, err := os.Stat(fresh); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("the folder made for the demo is still there: %v", err)
	}
}

// TestDemoIsOpenedToday: what is done in the demo is dated by the clock, not by
// the last day of its story.
func TestDemoIsOpenedToday(t *testing.T) {
	s, err := makeDemo(context.Background(), t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}()
	before := time.Now().Format(time.DateOnly)
	commit, err := s.Commit(context.Background(), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Name: "Cape"}}})
	if err != nil {
		t.Fatal(err)
	}
	after := time.Now().Format(time.DateOnly)
	if added := string(commit.Collection.Copy(commit.Added()[0]).Added); added != before && added != after {
		t.Errorf("what is added now is dated %s, today is %s", added, after)
	}
}

// brokenPipe is an output whose reader has gone.
type brokenPipe struct{ tmp string }

func (b brokenPipe) Write([]byte) (int, error) {
	if left, err := os.ReadDir(b.tmp); err != nil || len(left) > 0 {
		return 0, fmt.Errorf("at the first write %d folders were left (%v)", len(left), err)
	}
	return 0, io.ErrClosedPipe
}

// TestDemoReaderGone: at the first write, which can be the program's end, all
// has been cleared away.
func TestDemoReaderGone(t *testing.T) {
	tmp := t.TempDir()
	t.Setenv("TMPDIR", tmp)
	t.Setenv("TMP", tmp)
	err := run(context.Background(), []string{"demo"}, streams{strings.NewReader(""), brokenPipe{tmp}, &bytes.Buffer{}})
	if !errors.Is(err, io.ErrClosedPipe) {
		t.Errorf("demo without a reader: %v", err)
	}
}
