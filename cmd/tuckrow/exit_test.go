package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/spf13/cobra"

	"example.org/tuckrow/model"
)

// Exit codes are what scripts build on.
func TestExitCodes(t *testing.T) {
	dir := t.TempDir()
	store := filepath.Join(dir, "store")
	part := filepath.Join(dir, "part.csv")
	if err := os.WriteFile(part, []byte("publisher,number,cut\nQuillon,1,uncut\nQuillon,2,perhaps\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	damaged := filepath.Join(dir, "damaged")
	must(t, damaged, "add", "publisher=Quillon", "number=1")
	if err := os.Remove(filepath.Join(damaged, "badger", "MANIFEST")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		code  int
		store string
		args  []string
	}{
		{exitDone, store, []string{"add", "publisher=Quillon", "number=220", "name=Cape"}},
		{exitDone, store, []string{"have", "quillon", "220"}},
		{exitNo, store, []string{"have", "quillon", "221"}},
		{exitInput, store, []string{"add", "publisher=Quillon"}},
		{exitInput, store, []string{"fnid", "220"}},
		{exitInput, store, []string{"find", "--colour"}},
		{exitPart, store, []string{"import", part}},
		{exitDamaged, damaged, []string{"find", "220"}},
	} {
		if out, code := do(t, x.store, x.args...); code != x.code {
			t.Errorf("tuckrow %s: exit code %d, want %d\n%s", strings.Join(x.args, " "), code, x.code, out)
		}
	}
	for err, want := range map[error]int{
		nil:                                   exitDone,
		answer(exitNo):                        exitNo,
		fmt.Errorf("x: %w", model.ErrInUse):   exitInUse,
		fmt.Errorf("x: %w", model.ErrDamaged): exitDamaged,
		fmt.Errorf("x: %w", model.ErrNoRoom):  exitNoRoom,
		&fs.PathError{Op: "open", Path: "x", Err: syscall.ENOSPC}:   exitNoRoom,
		&fs.PathError{Op: "open", Path: "x", Err: fs.ErrPermission}: exitNoRoom,
		errors.New("anything else"):                                 exitInput,
	} {
		if got := report(io.Discard, err); got != want {
			t.Errorf("report(%v) = %d, want %d", err, got, want)
		}
	}
}

// Every command has a line that says what it does and an example, and the
// examples use flags that are there: of the command that the line is of, which
// may be one below the one whose help it stands in.
func TestEveryCommandHasAnExample(t *testing.T) {
	var visit func(cmd *cobra.Command)
	n := 0
	visit = func(cmd *cobra.Command) {
		n++
		if cmd.Short == "" || cmd.Example == "" {
			t.Errorf("%s: it has no short help or no example", cmd.CommandPath())
		}
		for line := range strings.Lines(cmd.Example) {
			of, words := cmd, strings.Fields(line)
			if len(words) > 1 && words[0] == "tuckrow" {
				of, _, _ = cmd.Root().Find(words[1:]) // where there is none, it is the root, which has no such flags
			}
			for _, word := range words {
				name, ok := strings.CutPrefix(word, "--")
				if ok && of.Flag(strings.SplitN(name, "=", 2)[0]) == nil {
					t.Errorf("%s: the example uses %s, which is no flag of %s", cmd.CommandPath(), word, of.CommandPath())
				}
			}
		}
		for _, c := range cmd.Commands() {
			visit(c)
		}
	}
	visit(newRoot(&app{streams: streams{strings.NewReader(""), io.Discard, io.Discard}}))
	if n < 15 {
		t.Errorf("only %d commands were looked at", n)
	}
}

func TestCompletionIsThere(t *testing.T) {
	for _, shell := range []string{"bash", "zsh", "fish", "powershell"} {
		if out := must(t, t.TempDir(), "completion", shell); !strings.Contains(out, "tuckrow") {
			t.Errorf("completion for %s says nothing of tuckrow", shell)
		}
	}
}
