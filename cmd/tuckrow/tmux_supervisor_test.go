package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"
)

// pair gives the supervisor and the interface that it has started.
func (x *terminal) pair() (parent, child int) {
	x.Helper()
	pids := x.running()
	if len(pids) != 2 {
		x.Fatalf("%d processes run, want the supervisor and the interface", len(pids))
	}
	for _, pid := range pids {
		stat, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
		if err != nil {
			lacking(x, "/proc of the process", err)
		}
		var state string
		var of int
		if _, err := fmt.Sscanf(string(stat[strings.LastIndexByte(string(stat), ')')+1:]), " %s %d", &state, &of); err != nil {
			x.Fatal(err)
		}
		if of == pids[0] || of == pids[1] {
			parent, child = of, pid
		}
	}
	if parent == 0 {
		x.Fatalf("of %d, none has started the other", pids)
	}
	return parent, child
}

func (x *terminal) kill(pid int, s syscall.Signal) {
	x.Helper()
	if err := syscall.Kill(pid, s); err != nil {
		x.Fatal(err)
	}
}

// mode is how the terminal of the shell takes keys.
func (x *terminal) mode() string {
	x.Helper()
	file := filepath.Join(x.TempDir(), "mode")
	x.keys("'stty -g > "+file+"; echo mo''de", "Enter")
	x.wait("mode\n")
	b, err := os.ReadFile(file)
	if err != nil {
		x.Fatal(err)
	}
	x.keys("'clear", "Enter")
	return string(b)
}

// givenBack checks that the terminal is the shell's again, as it was.
func (x *terminal) givenBack(before string) {
	x.Helper()
	if got := x.tmux("display-message", "-p", "#{alternate_on} #{cursor_flag}"); got != "0 1\n" {
		x.Errorf("other screen, cursor: %q, want 0 1", got)
	}
	if after := x.mode(); after != before {
		x.Errorf("the terminal takes keys by %q, and did by %q", after, before)
	}
}

// However the interface dies, the terminal is given back, and it is said what
// there is to do.
func killed(x *terminal) {
	before := x.mode()
	for i, s := range []syscall.Signal{syscall.SIGKILL, syscall.SIGBUS, syscall.SIGSEGV, syscall.SIGABRT} {
		x.open()
		x.keys("C-n", "'Quillon", "Enter", fmt.Sprintf("'%d", 100+i), "Enter", "Enter")
		x.wait("1 entered")
		_, child := x.pair()
		x.kill(child, s)
		x.wait("left with ")
		code, text := 2, "tuckrow: the interface broke off: exit code 2: "+strings.ToUpper(map[syscall.Signal]string{syscall.SIGBUS: "sigbus", syscall.SIGSEGV: "sigsegv", syscall.SIGABRT: "sigabrt"}[s])
		if s == syscall.SIGKILL {
			code, text = 128+int(s), "tuckrow: the interface was ended by signal 9 (killed)."
		}
		packed := func(text string) string { return strings.Join(strings.Fields(text), "") } // whatever line it is broken in
		screen := packed(x.screen())
		for _, want := range []string{text, fmt.Sprintf("left with %d", code), "What it said was entered is stored."} {
			if !strings.Contains(screen, packed(want)) {
				x.Errorf("after %v the screen is without %q\n%s", s, want, x.screen())
			}
		}
		if strings.Contains(screen, "goroutine") {
			x.Errorf("after %v there is a stack on the screen\n%s", s, x.screen())
		}
		report, err := os.ReadFile(filepath.Join(x.store, "broke-off.txt"))
		if there := err == nil && strings.Contains(string(report), "goroutine "); there != (s != syscall.SIGKILL) {
			x.Errorf("after %v there is a report: %v, %v", s, there, err)
		}
		x.keys("'clear", "Enter")
		x.givenBack(before)
		if n := x.stored().Copies().Len(); n != i+1 {
			x.Errorf("after %v %d copies are stored, want %d", s, n, i+1)
		}
	}
}

// An interface whose supervisor is gone ends by itself.
func supervisorKilled(x *terminal) {
	x.open()
	x.keys("'Quillon", "Enter", "'100", "Enter", "Enter")
	x.wait("1 entered")
	x.keys("'101", "Enter", "'Half a na")
	x.wait("Half a na")
	parent, _ := x.pair()
	x.kill(parent, syscall.SIGKILL)
	x.quitted()
	x.halfTyped(1)
}

// halfTyped checks that so many copies are stored, and that what was being typed
// is offered on the next start.
func (x *terminal) halfTyped(copies int) {
	x.Helper()
	if n := x.stored().Copies().Len(); n != copies {
		x.Errorf("%d copies are stored, want %d", n, copies)
	}
	y := inTmux(x.T, x.bin)
	y.store = x.store
	y.open()
	y.wait("you were typing this on")
	y.wait("Half a na")
	y.keys("C-q")
	y.wait("left with 0")
}

// A window that is closed leaves nothing behind, and nothing is lost.
func windowClosed(x *terminal) {
	x.open()
	x.keys("'Quillon", "Enter", "'100", "Enter", "Enter")
	x.wait("1 entered")
	x.keys("'101", "Enter", "'Half a na")
	x.wait("Half a na")
	x.tmux("new-window", "-d", "sleep 1000")
	x.tmux("kill-pane")
	x.quitted()
	x.halfTyped(1)
}

// Where there is no shell that would let it go on, nothing suspends it.
func noShell(x *terminal) {
	x.tmux("respawn-pane", "-k", "exec "+x.bin+" --store "+x.store)
	x.wait("tuckrow: Intake")
	x.keys("'Quillon", "Enter", "C-\\", "'100")
	x.wait("Number      100")
	parent, child := x.pair()
	x.kill(parent, syscall.SIGTSTP)
	x.keys("Enter", "'Cape", "Enter")
	x.wait("1 entered")
	x.kill(child, syscall.SIGKILL)
	x.quitted()
}

// Suspended by its key, or from outside, it gives way to the shell; and it goes
// on as it was, as often as one likes.
func suspended(x *terminal) {
	before := x.mode()
	x.tmux("send-keys", "-l", x.bin+" --store "+x.store)
	x.keys("Enter")
	x.wait("tuckrow: Intake")
	x.keys("'Quillon", "Enter")
	parent, child := x.pair()
	for i, stop := range []func(){
		func() { x.keys("C-\\") }, func() { x.keys("C-\\") }, func() { x.kill(parent, syscall.SIGTSTP) },
		func() { x.kill(child, syscall.SIGTSTP) }, func() { x.kill(child, syscall.SIGSTOP) }, func() { x.keys("C-\\") },
	} {
		number := fmt.Sprint(7001 + i)
		x.keys("'" + number)
		x.wait("Number      " + number)
		screen := x.screen()
		stop()
		x.wait("Stopped")
		x.keys("'clear", "Enter")
		x.givenBack(before)
		if i > 0 && i != 4 { // but for STOP it was backed up with all that was entered before
			x.backedUp(fmt.Sprint(7000 + i))
		}
		x.keys("'fg", "Enter")
		x.become(screen)
		x.keys("Enter", "'Cape for "+number, "Enter")
		x.wait(fmt.Sprintf("%d entered", i+1))
	}
	x.keys("C-q")
	x.quitted()
	x.givenBack(before)
}

// backedUp looks up a number while the interface is suspended, which the newest
// backup must have.
func (x *terminal) backedUp(number string) {
	x.Helper()
	x.keys("'"+x.bin+" --store "+x.store+" find "+number, "Enter")
	x.wait("backup of ")
	x.wait("Cape for " + number)
	x.keys("'clear", "Enter")
}

// A demo that is kept is backed up before it is suspended, too.
func demoSuspended(x *terminal) {
	x.tmux("send-keys", "-l", x.bin+" demo --keep "+x.store)
	x.keys("Enter")
	x.wait("tuckrow: ")
	x.keys("C-n") // the publisher is carried over
	for i, stop := range []func(){
		func() { x.kill(slices.Min(x.demos()), syscall.SIGTSTP) }, func() { x.keys("C-\\") },
	} {
		number := fmt.Sprint(7001 + i)
		x.keys("'"+number, "Enter", "'Cape for "+number, "Enter")
		x.wait(fmt.Sprintf("%d entered", i+1))
		stop()
		x.wait("Stopped")
		x.keys("'clear", "Enter")
		x.backedUp(number)
		x.keys("'fg", "Enter")
		x.wait("tuckrow: Intake")
	}
	x.keys("C-q")
	x.wait("kept in ")
}

// demos are the processes of the demo, the supervisor first.
func (x *terminal) demos() []int {
	x.Helper()
	out, err := exec.Command("pgrep", "-f", "^"+x.bin+" demo").Output()
	if err != nil {
		x.Fatal(err)
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

// A demo that is killed leaves no folder behind.
func demoKilled(x *terminal) {
	dir := x.TempDir()
	x.tmux("send-keys", "-l", "TMPDIR="+dir+" "+x.bin+" demo")
	x.keys("Enter")
	x.wait("tuckrow: ")
	made, err := filepath.Glob(filepath.Join(dir, "tuckrow-demo-*"))
	if err != nil || len(made) != 1 {
		x.Fatalf("folders of the demo: %q, %v", made, err)
	}
	x.kill(slices.Max(x.demos()), syscall.SIGKILL) // the child is the later one
	x.wait("the demo is gone with it")
	if _, err := os.Stat(made[0]); !os.IsNotExist(err) {
		x.Errorf("the demo's folder is still there: %v", err)
	}
}

// What was typed a moment before the kill is offered again.
func killedInMidEntry(x *terminal) {
	x.open()
	x.keys("'Quillon", "Enter", "'100", "Enter", "Enter")
	x.wait("1 entered")
	x.keys("'101", "Enter", "'Half a na")
	x.wait("Half a na")
	draft := filepath.Join(x.store, "draft.json")
	for end := time.Now().Add(30 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if b, err := os.ReadFile(draft); err == nil && strings.Contains(string(b), "Half a na") {
			break
		} else if time.Now().After(end) {
			x.Fatalf("what is typed is never kept: %s, %v", b, err)
		}
	}
	_, child := x.pair()
	x.kill(child, syscall.SIGKILL)
	x.wait("left with 137")
	if screen := strings.Join(strings.Fields(x.screen()), ""); !strings.Contains(screen, `Whatwasbeingtypediskeptin"`+filepath.Dir(draft)+`"`) {
		x.Errorf("where the draft is, is not said:\n%s", x.screen())
	}
	x.halfTyped(1)
}
