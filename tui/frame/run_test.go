//go:build unix

package frame

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"
)

const allDone = `done ["added Cape 1" "added Cape 2" "added Cape 3"]`

func TestAScannerBurstIsRoutedRuneByRune(t *testing.T) {
	s := play(t, "text")
	s.typed("6291041500213\r")
	s.waitForNote("key enter")
	s.typed("\x11")
	want := []string{}
	for _, r := range "6291041500213" {
		want = append(want, "key "+string(r))
	}
	s.wantEnd(append(want, "key enter", "closing", "done []", "ended: <nil>")...)
	s.wantTerminalRestored()
}

func TestAPasteIsOnePiece(t *testing.T) {
	s := play(t, "text")
	s.typed("\x1b[200~6123\tWrap dress\r6131\r\x1b[201~x")
	s.waitForNote("key x")
	s.typed("\x03")
	s.wantEnd(`pasted "6123\tWrap dress\n6131\n"`, "key x", "closing", "done []", "ended: <nil>")
}

func TestSignalsEndTheProgramInOrder(t *testing.T) {
	for _, sig := range []syscall.Signal{syscall.SIGTERM, syscall.SIGHUP, syscall.SIGINT} {
		t.Run(sig.String(), func(t *testing.T) {
			s := play(t, "plain")
			s.typed("W")
			s.waitForNote("begun added Cape 1")
			s.signal(sig)
			s.wantEnd("key W", "begun added Cape 1", "closing", allDone, "ended: <nil>")
			s.wantTerminalRestored()
		})
	}
}

func TestTheContextEndsTheProgramInOrder(t *testing.T) {
	s := play(t, "context")
	s.typed("W")
	s.wantEnd("key W", "begun added Cape 1", "closing", allDone, "ended: <nil>")
	s.wantTerminalRestored()
}

func TestATerminalThatGoesAway(t *testing.T) {
	s := play(t, "plain")
	s.typed("W")
	s.waitForNote("begun added Cape 1")
	_ = s.tty.Close()
	s.wantEnd("key W", "begun added Cape 1", "closing", allDone, "ended: <nil>")
}

func TestAPanicInAScreen(t *testing.T) {
	for key, what := range map[string]string{"P": "tissue", "V": "view", "C": "command"} {
		t.Run(what, func(t *testing.T) {
			s := play(t, "plain")
			s.typed("W")
			s.waitForNote("begun added Cape 1")
			s.typed(key)
			s.wantEnd("key W", "begun added Cape 1", "key "+key, "closing", allDone, "ended: torn "+what+", with a stack: true")
			s.wantTerminalRestored()
			if strings.Contains(s.output(), "goroutine") {
				t.Errorf("a stack was written over the screen: %q", s.output())
			}
		})
	}
}

func TestAScreenThatIsStuck(t *testing.T) {
	s := play(t, "impatient")
	s.typed("W")
	s.waitForNote("begun added Cape 1")
	s.typed("S")
	s.waitForNote("stuck")
	s.signal(syscall.SIGTERM)
	s.wantEnd("key W", "begun added Cape 1", "key S", "stuck", allDone, "ended: stuck")
	s.wantTerminalRestored()
}

// A shell that lets a stopped program go on has the terminal in its own mode.
func TestAContinuedProgramTakesKeysAgain(t *testing.T) {
	s := play(t, "plain")
	raw := mode(t, s.tty)
	if *raw == *s.before {
		t.Fatal("the program does not take keys one by one in the first place")
	}
	on(t, s.tty, func(fd uintptr) error { return term.Restore(fd, s.before) })
	s.signal(syscall.SIGCONT)
	s.waitFor("the raw mode", func() bool { return *mode(t, s.tty) == *raw })
	s.typed("k")
	s.waitForNote("key k")
	s.typed("\x11")
	s.wantEnd("key k", "closing", "done []", "ended: <nil>")
	s.wantTerminalRestored()
}

func TestNoColourOnARealTerminal(t *testing.T) {
	for name, c := range map[string]struct {
		env    string
		colour bool
	}{"coloured": {"NO_COLOR=", true}, "plain": {"NO_COLOR=1", false}} {
		t.Run(name, func(t *testing.T) {
			s := play(t, "plain", c.env, "CI=", "COLORTERM=")
			s.typed("\x11")
			s.wantEnd("closing", "done []", "ended: <nil>")
			if got := strings.Contains(s.output(), "\x1b[1m") || strings.Contains(s.output(), "\x1b[38;"); got != c.colour {
				t.Errorf("colour: %v, want %v: %q", got, c.colour, s.output())
			}
		})
	}
}

func TestTheTerminalIsNotAsked(t *testing.T) {
	s := play(t, "plain", "CI=")
	s.typed("\x11")
	s.wantEnd("closing", "done []", "ended: <nil>")
	if out := s.output(); strings.Contains(out, "\x1b]11;?") || strings.Contains(out, "\x1b[6n") {
		t.Errorf("the terminal was asked something: %q", out)
	}
}

func TestWhereThereIsNoTerminal(t *testing.T) {
	ours, theirs, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	defer ours.Close()
	defer theirs.Close()
	file, err := os.Create(filepath.Join(t.TempDir(), "file"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, c := range []struct {
		name    string
		in, out *os.File
		term    string
		says    string
	}{
		{"input", file, theirs, "xterm", "the input is none"},
		{"output", theirs, file, "xterm", "the output is none"},
		{"dumb", theirs, theirs, "dumb", `TERM is "dumb"`},
		{"fine", theirs, theirs, "xterm", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := CheckTerminal(c.in, c.out, func(string) string { return c.term })
			switch {
			case c.says == "" && err != nil:
				t.Errorf("got %v, want none", err)
			case c.says != "" && (!errors.Is(err, ErrNoTerminal) || !strings.Contains(err.Error(), c.says)):
				t.Errorf("got %v, want %q in it", err, c.says)
			}
		})
	}
	if err := Run(context.Background(), options(&fake{}, &fake{}, newStore()), file, file); !errors.Is(err, ErrNoTerminal) {
		t.Errorf("Run: %v, want %v", err, ErrNoTerminal)
	}
}

// What comes before sleep is waited for no longer than patience has it, and who
// lets the program go on meanwhile keeps it awake.
func TestWhatComesBeforeSleep(t *testing.T) {
	begun, hangs := make(chan struct{}, 2), make(chan struct{})
	defer close(hangs)
	s := &session{patience: time.Millisecond, beforeSleep: func(context.Context) { begun <- struct{}{}; <-hangs }}
	s.onJob(t.Context(), syscall.SIGTSTP)
	<-begun
	rested := s.rested
	s.onJob(t.Context(), syscall.SIGTSTP) // the supervisor passes on what the group has got already
	if s.rested != rested {
		t.Error("told twice, it begins twice")
	}
	<-rested // though it hangs
	s.onJob(t.Context(), syscall.SIGCONT)
	if s.rested != nil || s.asleep {
		t.Error("it goes to sleep after it was let go on, when nobody is left to wake it")
	}

	s = &session{patience: time.Hour, beforeSleep: func(context.Context) { begun <- struct{}{} }}
	s.onJob(t.Context(), syscall.SIGTSTP)
	<-s.rested // no longer than it takes
	if len(begun) != 1 {
		t.Error("it goes to sleep before all else is done")
	}
}
