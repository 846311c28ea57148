package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
)

// terminal is the built program in a real terminal.
type terminal struct {
	*testing.T
	socket, store, bin string
}

// inTmux builds the program and opens it on an empty store.
func inTmux(t *testing.T) *terminal {
	t.Helper()
	if _, err := exec.LookPath("tmux"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("tmux is needed here and is not installed")
		}
		t.Skip("tmux is not installed; the program is not tried in a real terminal")
	}
	dir := t.TempDir()
	x := &terminal{t, fmt.Sprintf("tuckrow-test-%d-%s", os.Getpid(), strings.ToLower(t.Name())), filepath.Join(dir, "store"), filepath.Join(dir, "tuckrow")}
	if out, err := exec.Command("go", "build", "-o", x.bin, ".").CombinedOutput(); err != nil {
		t.Fatalf("building: %v\n%s", err, out)
	}
	x.tmux("new-session", "-d", "-x", "80", "-y", "24", "env", "LC_ALL=C.UTF-8", "sh")
	t.Cleanup(func() { _ = exec.Command("tmux", "-L", x.socket, "kill-server").Run() })
	x.open()
	return x
}

// open starts the program, under its own process so that it can be signalled.
func (x *terminal) open() {
	x.Helper()
	x.tmux("send-keys", x.bin+" --store "+x.store+"; echo l''eft with $?", "Enter") // the quotes keep the echo of the line apart from what it prints
	x.wait("tuckrow: ")
}

func (x *terminal) tmux(args ...string) string {
	x.Helper()
	out, err := exec.Command("tmux", append([]string{"-L", x.socket, "-f", "/dev/null"}, args...)...).CombinedOutput()
	if err != nil {
		x.Fatalf("tmux %v: %v\n%s", args, err, out)
	}
	return string(out)
}

// keys sends keys by tmux's names; text in quotes letter by letter.
func (x *terminal) keys(keys ...string) {
	x.Helper()
	for _, k := range keys {
		if text, ok := strings.CutPrefix(k, "'"); ok {
			x.tmux("send-keys", "-l", text)
		} else {
			x.tmux("send-keys", k)
		}
	}
}

func (x *terminal) screen() string { return x.tmux("capture-pane", "-p") }

// wait waits until the screen shows a text. The limit is only there so that a
// test that fails ends.
func (x *terminal) wait(text string) {
	x.Helper()
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if strings.Contains(x.screen(), text) {
			return
		}
	}
	x.Fatalf("the screen never showed %q:\n%s", text, x.screen())
}

// signal sends a signal to the program.
func (x *terminal) signal(s syscall.Signal) {
	x.Helper()
	out, err := exec.Command("pgrep", "-f", "^"+x.bin).Output()
	if err != nil {
		x.Fatalf("the program is not running: %v", err)
	}
	for _, f := range strings.Fields(string(out)) {
		pid, err := strconv.Atoi(f)
		if err != nil {
			x.Fatal(err)
		}
		if err := syscall.Kill(pid, s); err != nil {
			x.Fatal(err)
		}
	}
}

// stored opens the store, when the program has left it, and checks it.
func (x *terminal) stored() *model.Collection {
	x.Helper()
	s, err := storage.Open(x.store, storage.Options{})
	if err != nil {
		x.Fatal(err)
	}
	defer func() {
		if err := s.Close(); err != nil {
			x.Error(err)
		}
	}()
	if _, err := s.Verify(); err != nil {
		x.Error(err)
	}
	return s.Collection()
}

func TestTmuxIntakeBurstPasteResize(t *testing.T) {
	x := inTmux(t)
	x.keys("'Quillon", "Enter", "'220", "Enter", "'Hooded cape", "Enter")
	x.wait("1 entered")
	// A scanner sends digits and Enter in one write.
	x.tmux("send-keys", "-l", "6291041500213\r")
	x.wait("2 entered")
	// A bracketed paste with a tab and a line break in it stays in the field.
	x.tmux("set-buffer", "300\tTwo\nlines")
	x.tmux("paste-buffer", "-p")
	x.wait("300 Two lines")
	x.tmux("resize-window", "-x", "40", "-y", "12")
	x.wait("300 Two lines")
	x.tmux("resize-window", "-x", "100", "-y", "30")
	x.wait("300 Two lines")
	x.keys("C-u", "'301", "Enter", "'Größenkleid", "Enter")
	x.wait("3 entered")
	x.keys("C-z")
	x.wait("undid: added 301 Größenkleid")
	x.keys("C-f", "'cape")
	x.wait("1 pattern:")
	x.keys("C-q")
	x.wait("left with 0")
	if n := x.stored().Copies().Len(); n != 2 {
		t.Errorf("%d copies are stored, want 2", n)
	}
	// It begins in Find, and where an entry was left half typed, in Intake.
	x.open()
	x.wait("tuckrow: Find")
	x.keys("C-n", "'302", "Enter", "'Half a na", "C-q")
	x.wait("left with 0")
	x.open()
	x.wait("tuckrow: Intake")
	x.wait("you were typing this on")
	x.wait("Half a na")
}

// Whatever ends the program, what it said was entered is there afterwards; and
// where it can still act, it gives the terminal back.
func TestTmuxSignals(t *testing.T) {
	x := inTmux(t)
	want := 0
	enter := func() {
		want++
		if want == 1 {
			x.keys("'Quillon", "Enter")
		}
		x.keys(fmt.Sprintf("'%d", 100+want), "Enter", "Enter")
		x.wait("1 entered")
	}
	for _, s := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT, syscall.SIGKILL} {
		enter()
		x.signal(s)
		x.wait("left with")
		x.tmux("send-keys", "stty sane; clear; echo r''eady again", "C-j") // a killed program leaves the terminal raw, where Enter is no line end
		x.wait("ready again")
		if n := x.stored().Copies().Len(); n != want {
			t.Fatalf("after %v %d copies are stored, want %d", s, n, want)
		}
		x.open()
		x.keys("C-n")
		x.wait("tuckrow: Intake")
	}
}

func TestTmuxSecondProgramIsToldWhoHasTheStore(t *testing.T) {
	x := inTmux(t)
	out, code := do(t, x.store, "find", "cape")
	if code != exitInUse || !strings.Contains(out, "in use by process ") {
		t.Errorf("exit code %d, %q; want %d and who has it", code, out, exitInUse)
	}
}

// At a terminal a long import says what it is doing, and ctrl+c stops it with
// nothing stored.
func TestTmuxALongImportIsStopped(t *testing.T) {
	x := inTmux(t)
	x.keys("C-q")
	x.wait("left with 0")
	csv := manyRows(t, t.TempDir(), 150_000)
	x.tmux("send-keys", "clear; "+x.bin+" --store "+x.store+" import "+csv+" >/dev/null; echo e''nded with $?", "Enter")
	x.wait("; ctrl+c stops it")
	x.keys("C-c")
	x.wait("ended with " + strconv.Itoa(exitStopped))
	if n := x.stored().Copies().Len(); n != 0 {
		t.Errorf("%d copies are stored, want none", n)
	}
}
