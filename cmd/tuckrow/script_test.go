package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"tuckrow": main})
}

// shared is where the fixtures lie that scripts and tests use together.
const shared = "../../testdata"

// TestScripts runs the commands as a user would, in a home of their own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:           filepath.Join(shared, "script"),
		UpdateScripts: *update,
		Setup: func(e *testscript.Env) error {
			e.Setenv("XDG_DATA_HOME", filepath.Join(e.WorkDir, "data"))
			e.Setenv("HOME", e.WorkDir)
			for _, name := range []string{"drawer.csv", "shelf.toml", "cupboard.toml"} {
				b, err := os.ReadFile(filepath.Join(shared, name))
				if err != nil {
					return err
				}
				if err := os.WriteFile(filepath.Join(e.WorkDir, name), b, 0o600); err != nil {
					return err
				}
			}
			return nil
		},
	})
}

// do runs a command in this process and gives what it printed and its exit
// code.
func do(t *testing.T, store string, args ...string) (string, int) {
	t.Helper()
	var out, errs bytes.Buffer
	err := run(context.Background(), append([]string{"--store", store}, args...), streams{strings.NewReader(""), &out, &errs})
	code := report(&errs, err)
	return out.String() + errs.String(), code
}

// must runs a command that has to succeed.
func must(t *testing.T, store string, args ...string) string {
	t.Helper()
	out, code := do(t, store, args...)
	if code != exitDone {
		t.Fatalf("tuckrow %s: exit code %d\n%s", strings.Join(args, " "), code, out)
	}
	return out
}

// The JSON that others build on: a sample of each is kept, so that no field
// goes or changes its meaning unseen.
func TestJSON(t *testing.T) {
	store := filepath.Join(t.TempDir(), "store")
	must(t, store, "import", filepath.Join(shared, "drawer.csv"))
	must(t, store, "shelf", "apply", filepath.Join(shared, "shelf.toml"))
	sample := func(name string, args ...string) {
		t.Helper()
		golden(t, filepath.Join(shared, "json", name), must(t, store, append(args, "--json")...))
	}
	sample("split.json", "split")
	sample("labels.json", "labels")
	sample("refile.json", "refile")
	must(t, store, "refile", "--done")
	must(t, store, "out", "cape", "--to", "the neighbour")
	sample("shelflist.json", "shelflist")
	sample("find.json", "find", "wrap", "dress")
	sample("have.json", "have", "harrow", "6123")
}

// golden compares with a file that is kept, or rewrites it.
func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; look at it and, if it is right, run: go test ./cmd/tuckrow -update\ngot:\n%s\nwant:\n%s", path, got, want)
	}
}
