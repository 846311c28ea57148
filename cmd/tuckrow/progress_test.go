package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/cmd/tuckrow/wire"
)

// manyRows is a spreadsheet of so many copies.
func manyRows(t *testing.T, dir string, n int) string {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("publisher,number,name\n")
	for i := range n {
		fmt.Fprintf(&b, "Quillon,%d,Cape %d\n", 100_000+i, i)
	}
	path := filepath.Join(dir, "many.csv")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// An import that was stopped has stored nothing, and says so.
func TestAStoppedImportStoresNothing(t *testing.T) {
	dir := t.TempDir()
	csv, jsonl := manyRows(t, dir, 10), filepath.Join(dir, "cupboard.jsonl")
	full, empty := filepath.Join(dir, "full"), filepath.Join(dir, "empty")
	must(t, full, "import", csv)
	must(t, full, "export", "--as", "jsonl", "--out", jsonl)
	for _, file := range []string{csv, jsonl} {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		err := run(ctx, []string{"--store", empty, "import", file}, streams{strings.NewReader(""), io.Discard, io.Discard})
		if code := report(io.Discard, err); code != exitStopped || !strings.Contains(err.Error(), "stopped, and nothing was stored") {
			t.Errorf("%s: %v (exit code %d), want to be told that it was stopped", file, err, code)
		}
		if out := must(t, empty, "shelflist", "--json"); strings.TrimSpace(out) != "[]" {
			t.Errorf("%s: stored all the same: %s", file, out)
		}
		must(t, empty, "import", file)
		must(t, empty, "undo")
		empty = filepath.Join(dir, "another")
	}
}

func TestProgressSaysHowFarItIs(t *testing.T) {
	f, err := os.Open(manyRows(t, t.TempDir(), 100))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	ctx, cancel := context.WithCancel(context.Background())
	in := newSteady(ctx, f)
	var out bytes.Buffer
	p := &progress{w: &out, begun: time.Unix(100, 0), stop: make(chan struct{})}
	p.step("reading many.csv", in.Share)
	if _, err := io.CopyN(io.Discard, in, wire.SizeOf(f)/4+1); err != nil {
		t.Fatal(err)
	}
	p.say(time.Unix(103, 0))
	p.step("storing 100 copies", nil)
	p.say(time.Unix(105, 0))
	p.end()
	if want := "\r\x1b[Kreading many.csv, 25 %, 3 s; ctrl+c stops it\r\x1b[Kstoring 100 copies, 5 s; ctrl+c stops it\r\x1b[K"; out.String() != want {
		t.Errorf("it said %q, want %q", out.String(), want)
	}
	cancel()
	if _, err := in.Read(make([]byte, 1)); err != context.Canceled {
		t.Errorf("reading on after the end gave %v", err)
	}
}

// Where nobody reads it nothing is said.
func TestNoProgressIntoAFile(t *testing.T) {
	var out bytes.Buffer
	a := &app{streams: streams{err: &out}}
	p := a.progress()
	p.step("reading", nil)
	p.end()
	if p.w != nil || out.Len() > 0 {
		t.Errorf("%q was said to a file", out.String())
	}
}
