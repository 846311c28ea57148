package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
)

// When the shell has gone from which the interface was started, nobody would let
// its supervisor go on: it does not stop with the interface then, and ends with it.
func TestNothingIsLeftStoppedWithoutItsShell(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the state of a process is looked up as Linux tells it")
	}
	dir := t.TempDir()
	store := filepath.Join(dir, "store")
	script := fmt.Sprintf(`exec 3<&0; (%q --store %q <&3 & echo $! >%[3]q; until test -e %[4]q; do sleep 0.1; done); echo gone >%[5]q; exec sleep 600`,
		built(t), store, filepath.Join(dir, "pid"), filepath.Join(dir, "go"), filepath.Join(dir, "gone"))
	cmd := exec.Command("sh", "-c", script)
	cmd.Env = append(os.Environ(), "TERM=vt100")
	terminal, err := pty.StartWithSize(cmd, &pty.Winsize{Rows: 24, Cols: 80})
	if err != nil {
		lacking(t, "pseudo-terminal", err)
	}
	s := &shown{t: t}
	go func() { _, _ = io.Copy(s, terminal) }()
	t.Cleanup(func() {
		_ = cmd.Process.Kill()
		_ = cmd.Wait()
		_ = terminal.Close()
	})
	s.wait("tuckrow:")
	read := func(name, as string, into *int) {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			_, err = fmt.Sscanf(string(b), as, into)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	var supervisor, child int
	read("pid", "%d", &supervisor)
	read("store/holder", "process %d", &child)
	if supervisor == child {
		t.Fatal("the interface has no supervisor")
	}
	if err := os.WriteFile(filepath.Join(dir, "go"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	until(t, "the shell has gone", func() bool { _, err := os.Stat(filepath.Join(dir, "gone")); return err == nil })
	if err := syscall.Kill(child, syscall.SIGSTOP); err != nil {
		t.Fatal(err)
	}
	until(t, "the interface is stopped", func() bool { return state(child) == "T" })
	for range 20 { // more than it takes to stop with it
		time.Sleep(20 * time.Millisecond)
		if state(supervisor) == "T" {
			_ = syscall.Kill(supervisor, syscall.SIGKILL)
			_ = syscall.Kill(child, syscall.SIGKILL)
			t.Fatal("the supervisor stopped, and there is no shell that lets it go on")
		}
	}
	for _, sig := range []syscall.Signal{syscall.SIGCONT, syscall.SIGTERM} {
		if err := syscall.Kill(child, sig); err != nil {
			t.Fatal(err)
		}
	}
	until(t, "both have ended", func() bool {
		return errors.Is(syscall.Kill(supervisor, 0), syscall.ESRCH) || state(supervisor) == "Z"
	})
}

// state is how a process is, as Linux tells it: T is stopped, Z ended.
func state(pid int) string {
	b, _ := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid)) // of one that has gone there is none
	_, after, _ := strings.Cut(string(b), ") ")
	return after[:min(1, len(after))]
}

// until waits for something that must come about.
func until(t *testing.T, what string, come func() bool) {
	t.Helper()
	for range 1000 {
		if come() {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("it does not come about that %s", what)
}
