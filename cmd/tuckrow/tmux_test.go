package main

import (
	"fmt"
	"io"
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

// lacking skips a test for want of something that the machine does not have;
// where the whole project is checked it must have it.
func lacking(t testing.TB, what string, err error) {
	t.Helper()
	if os.Getenv("CI") != "" {
		t.Fatalf("%s is needed here: %v", what, err)
	}
	t.Skipf("there is no %s here, and this is not tried: %v", what, err)
}

// TestTmux tries the program as it is built, in a real terminal with a shell in
// it.
func TestTmux(t *testing.T) {
	if _, err := exec.LookPath("tmux"); err != nil {
		lacking(t, "tmux", err)
	}
	bin := built(t)
	for name, try := range map[string]func(x *terminal){
		"burst, paste and resize": burstPasteResize,
		"signals":                 signals,
		"second program":          secondProgram,
		"long import is stopped":  longImportIsStopped,
		"stopped and continued":   stoppedAndContinued,
		"kinds of terminal":       kindsOfTerminal,
		"paste into every field":  pasteIntoEveryField,
		"too small and back":      tooSmallAndBack,
		"no colour":               noColour,
		"killed":                  killed,
		"supervisor killed":       supervisorKilled,
		"window closed":           windowClosed,
		"no shell":                noShell,
		"suspended":               suspended,
		"demo killed":             demoKilled,
		"demo suspended":          demoSuspended,
		"killed in mid-entry":     killedInMidEntry,
	} {
		t.Run(name, func(t *testing.T) { try(inTmux(t, bin)) })
	}
}

// terminal is a terminal for the built program.
type terminal struct {
	*testing.T
	socket, store, bin string
}

// inTmux makes a terminal with an empty store beside it.
func inTmux(t *testing.T, bin string) *terminal {
	t.Helper()
	x := &terminal{t, fmt.Sprintf("tuckrow-test-%d-%d", os.Getpid(), time.Now().UnixNano()), filepath.Join(t.TempDir(), "store"), bin}
	// A shell with job control, and nothing of whoever runs the test in it.
	x.tmux("new-session", "-d", "-x", "80", "-y", "24", "env", "-u", "NO_COLOR", "-u", "COLORTERM", "LC_ALL=C.UTF-8", "PS1=$ ", "bash", "--norc", "--noprofile")
	t.Cleanup(func() {
		for _, pid := range x.running() { // one that is stopped would stay when its shell goes
			_ = syscall.Kill(pid, syscall.SIGKILL)
		}
		_ = exec.Command("tmux", "-L", x.socket, "kill-server").Run()
	})
	return x
}

// demo puts the demo into the store, and gives how many copies it has.
func (x *terminal) demo() int {
	x.Helper()
	if err := run(x.Context(), []string{"demo", "--keep", x.store}, streams{strings.NewReader(""), io.Discard, io.Discard}); err != nil {
		x.Fatal(err)
	}
	return x.stored().Copies().Len()
}

// open starts the program, with more in its environment.
func (x *terminal) open(env ...string) {
	x.Helper()
	x.tmux("send-keys", "-l", strings.Join(append(append([]string{"env"}, env...), x.bin, "--store", x.store), " ")+"; echo l''eft with $?") // the quotes keep the echo of the line apart from what it prints
	x.keys("Enter")
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

// running are the processes of the program.
func (x *terminal) running() []int {
	x.Helper()
	out, err := exec.Command("pgrep", "-f", "^"+x.bin+" --store "+x.store).Output()
	if err != nil {
		return nil // there is none
	}
	var pids []int
	for _, f := range strings.Fields(string(out)) {
		pid, err := strconv.Atoi(f)
		if err != nil {
			x.Fatal(err)
		}
		pids = append(pids, pid)
	}
	return pids
}

// signal sends a signal to the program.
func (x *terminal) signal(s syscall.Signal) {
	x.Helper()
	pids := x.running()
	if len(pids) == 0 {
		x.Fatal("the program is not running")
	}
	for _, pid := range pids {
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

func burstPasteResize(x *terminal) {
	x.open()
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
	x.wait("to envelope") // at 40 the header has no room for it
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
		x.Errorf("%d copies are stored, want 2", n)
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
func signals(x *terminal) {
	x.open()
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
			x.Fatalf("after %v %d copies are stored, want %d", s, n, want)
		}
		x.open()
		x.keys("C-n")
		x.wait("tuckrow: Intake")
	}
}

func secondProgram(x *terminal) {
	x.open()
	x.keys("'Quillon", "Enter", "'220", "Enter", "'Hooded cape", "Enter")
	x.wait("1 entered")
	if out := must(x.T, x.store, "find", "cape"); !strings.Contains(out, "Hooded cape") {
		x.Errorf("a second terminal does not find what the first has entered: %q", out)
	}
	if out := must(x.T, x.store, "add", "publisher=Quillon", "number=221", "name=Smock"); out != "2\n" {
		x.Errorf("what a second terminal entered has the accession number %q", out)
	}
	x.wait("from another terminal: added 221 Smock")
}

// At a terminal a long import says what it is doing, and ctrl+c stops it with
// nothing stored.
func longImportIsStopped(x *terminal) {
	csv := manyRows(x.T, x.TempDir(), 150_000)
	x.tmux("send-keys", "clear; "+x.bin+" --store "+x.store+" import "+csv+" >/dev/null; echo e''nded with $?", "Enter")
	x.wait("; ctrl+c stops it")
	x.keys("C-c")
	x.wait("ended with " + strconv.Itoa(exitStopped))
	if n := x.stored().Copies().Len(); n != 0 {
		x.Errorf("%d copies are stored, want none", n)
	}
}
