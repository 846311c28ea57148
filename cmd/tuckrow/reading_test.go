package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// readOnly has a folder appear in another place, read-only whoever looks.
func readOnly(t *testing.T, dir, at string) {
	t.Helper()
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("only root on Linux can mount a folder read-only: run this test so")
	}
	for _, folder := range []string{dir, at} {
		if err := os.MkdirAll(folder, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, args := range [][]string{{"--bind", dir, at}, {"-o", "remount,bind,ro", at}} {
		if out, err := exec.Command("mount", args...).CombinedOutput(); err != nil {
			t.Skipf("a folder cannot be mounted read-only here: %v: %s", err, out)
		}
		if args[0] == "--bind" {
			t.Cleanup(func() {
				if out, err := exec.Command("umount", "-l", at).CombinedOutput(); err != nil {
					t.Errorf("unmounting %s: %v: %s", at, err, out)
				}
			})
		}
	}
}

// contents is what the files in a folder hold.
func contents(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		all.WriteString(path)
		all.Write(b)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all.String()
}

// On a store that cannot be written to, each command that changes nothing does
// what it does on any other, and each that would is refused.
func TestEveryCommandOnAReadOnlyStore(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	full, only := place(t), place(t)
	readOnly(t, filepath.Join(full, "store"), filepath.Join(only, "store"))
	for _, x := range everyCommand {
		if out, code := x.run(t, full); code != x.code {
			t.Fatalf("tuckrow %s: exit code %d, want %d\n%s", x.line, code, x.code, out)
		}
	}
	before := contents(t, filepath.Join(only, "store"))
	for _, name := range []string{"all.jsonl", "kept.jsonl"} {
		b, err := os.ReadFile(filepath.Join(full, name))
		if err == nil {
			err = os.WriteFile(filepath.Join(only, name), b, 0o600)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	read, refused := 0, 0
	for _, x := range everyCommand {
		free := t.TempDir() // a copy that can be written to says what is right
		if err := os.CopyFS(free, os.DirFS(full)); err != nil {
			t.Fatal(err)
		}
		journal := filepath.Join(free, "store", "journal")
		was := contents(t, journal)
		want, wantCode := x.run(t, free)
		writes := contents(t, journal) != was
		got, code := x.run(t, only)
		note, rest := "", []string{}
		for line := range strings.Lines(got) {
			if strings.HasPrefix(line, "tuckrow: opened for reading only: ") && strings.Contains(line, "read-only file system") {
				note = line
			} else {
				rest = append(rest, line)
			}
		}
		got = strings.Join(rest, "")
		switch {
		case writes:
			refused++
			if code != exitNoRoom || note == "" || !strings.Contains(got, "it is opened for reading only; give yourself the right to write there") {
				t.Errorf("tuckrow %s: exit code %d, want it refused with %d\n%s%s", x.line, code, exitNoRoom, note, got)
			}
		case code != wantCode || got != want && !x.apart:
			t.Errorf("tuckrow %s: exit code %d, want %d\n%s\nwant\n%s", x.line, code, wantCode, got, want)
		default:
			read++
		}
	}
	if contents(t, filepath.Join(only, "store")) != before {
		t.Error("the store was written to")
	}
	if left, _ := filepath.Glob(filepath.Join(os.TempDir(), "tuckrow-reading-*")); len(left) > 0 {
		t.Errorf("copies were left: %q", left)
	}
	t.Logf("%d read, %d refused", read, refused)
	if read < 60 || refused < 20 {
		t.Error("that is too few to have tried both")
	}
}

// The interface on such a store says so in each room, refuses what is entered
// without throwing it away, and says when it ends that this is lost.
func TestTheInterfaceOnAReadOnlyStore(t *testing.T) {
	full, only := place(t), filepath.Join(t.TempDir(), "store")
	store := filepath.Join(full, "store")
	must(t, store, "import", filepath.Join(full, "drawer.csv"))
	readOnly(t, store, only)
	showing := begin(t, only)
	showing.wait("reading only, nothing is kept")
	showing.press("\x0e") // ctrl+n
	showing.wait("Intake, reading only")
	showing.press("4242\rLong coat\r")
	showing.wait("opened for reading")
	if out, code := do(t, only, "find", "6123"); code != exitDone || !strings.Contains(out, "6123") {
		t.Errorf("find through the interface: exit code %d\n%s", code, out)
	}
	if out, code := do(t, only, "add", "publisher=Quillon", "number=1"); code != exitNoRoom {
		t.Errorf("add through the interface: exit code %d, want %d\n%s", code, exitNoRoom, out)
	}
	showing.quit()
	const lost = "what was half typed or half done is lost"
	if said := showing.said.String(); !strings.Contains(said, lost) {
		t.Errorf("it ended without a word of what was typed:\n%s", said)
	}
	showing = begin(t, only) // where nothing is in the making, nothing is lost
	showing.wait("reading only")
	showing.quit()
	if said := showing.said.String(); strings.Contains(said, lost) {
		t.Errorf("nothing was typed, and yet it said:\n%s", said)
	}
}
