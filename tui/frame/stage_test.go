//go:build unix

package frame

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
	"github.com/creack/pty"
)

// The test binary plays the program when this is set: on a terminal of its
// own, with real input and real signals.
const (
	sceneVar = "TUCKROW_FRAME_SCENE"
	logVar   = "TUCKROW_FRAME_LOG"
)

func TestMain(m *testing.M) {
	if scene := os.Getenv(sceneVar); scene != "" {
		playScene(scene)
	}
	os.Exit(m.Run())
}

// playScene is the program. What happens is noted in a file, since the
// terminal belongs to the interface.
func playScene(scene string) {
	file, err := os.OpenFile(os.Getenv(logVar), os.O_APPEND|os.O_WRONLY|os.O_CREATE, 0o600)
	if err != nil {
		panic(err)
	}
	note := func(format string, args ...any) { fmt.Fprintf(file, format+"\n", args...) }
	store := newStore()
	store.begun, store.gate = make(chan string, 99), make(chan struct{})
	open := sync.OnceFunc(func() { close(store.gate) })
	intake := &fake{on: func(f *fake, msg tea.Msg) tea.Cmd {
		switch msg := msg.(type) {
		case tea.KeyMsg:
			note("key %s", msg)
			switch msg.String() {
			case "W":
				for i := range 3 {
					f.Tell(Write{Seq: uint64(i), Change: add(fmt.Sprint("Cape ", i+1))})
				}
			case "P":
				panic("torn tissue")
			case "V":
				f.view = func(int, int) string { panic("torn view") }
			case "C":
				return tea.Batch(func() tea.Msg { return nil }, func() tea.Msg { panic("torn command") })
			case "S":
				note("stuck")
				open()
				select {}
			}
		case Pasted:
			note("pasted %q", msg.Text)
		case Closing:
			note("closing")
			open() // the first write is under way until here
		}
		return nil
	}}
	intake.text = scene == "text"
	o := options(intake, &fake{}, store)
	o.Theme = nil
	o.Patience = time.Minute
	if intake.text {
		o.Start = "intake"
	}
	if scene == "impatient" {
		o.Patience = 20 * time.Millisecond
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go func() {
		note("begun %s", <-store.begun)
		if scene == "context" {
			cancel()
		}
	}()
	err = Run(ctx, o, os.Stdin, os.Stdout)
	note("done %q", store.done)
	var broke *Panic
	switch {
	case errors.As(err, &broke):
		note("ended: %v, with a stack: %v", broke.Value, len(broke.Stack) > 0)
	case errors.Is(err, ErrStuck):
		note("ended: stuck")
	default:
		note("ended: %v", err)
	}
	os.Exit(0)
}

// stage is a program on a terminal, seen from outside.
type stage struct {
	t      *testing.T
	cmd    *exec.Cmd
	tty    *os.File // our end
	log    string
	before *term.State

	mu  sync.Mutex
	out bytes.Buffer
	eof chan struct{}
}

func play(t *testing.T, scene string, env ...string) *stage {
	t.Helper()
	t.Parallel()
	s := &stage{t: t, log: filepath.Join(t.TempDir(), "log"), eof: make(chan struct{})}
	ours, theirs, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	ours = polled(t, ours)
	s.tty = ours
	if err := pty.Setsize(theirs, &pty.Winsize{Cols: 80, Rows: 24}); err != nil {
		t.Fatal(err)
	}
	s.before = mode(t, ours)
	s.cmd = exec.Command(os.Args[0], "-test.run=^$")
	s.cmd.Env = append(append(os.Environ(), sceneVar+"="+scene, logVar+"="+s.log, "TERM=xterm-256color", "LC_ALL=C.UTF-8"), env...)
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = theirs, theirs, theirs
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		_ = s.cmd.Process.Kill()
		_ = ours.Close()
		_ = theirs.Close()
	})
	go s.read(ours)
	s.waitFor("the first view", func() bool { return strings.Contains(s.output(), "Intake") })
	return s
}

func (s *stage) read(ours *os.File) {
	defer close(s.eof)
	buf := make([]byte, 4096)
	for {
		n, err := ours.Read(buf)
		s.mu.Lock()
		s.out.Write(buf[:n])
		s.mu.Unlock()
		if err != nil {
			return
		}
	}
}

func (s *stage) output() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.out.String()
}

func (s *stage) notes() []string {
	b, _ := os.ReadFile(s.log)
	return strings.Split(strings.TrimSpace(string(b)), "\n")
}

// polled gives a file that can be closed while it is being read from.
func polled(t *testing.T, f *os.File) *os.File {
	t.Helper()
	fd, err := syscall.Dup(int(f.Fd()))
	if err == nil {
		err = errors.Join(f.Close(), syscall.SetNonblock(fd, true))
	}
	if err != nil {
		t.Fatal(err)
	}
	syscall.CloseOnExec(fd) // the program must not hold our end of its terminal
	return os.NewFile(uintptr(fd), f.Name())
}

// on calls the system on a file. File.Fd would undo what polled has done.
func on(t *testing.T, f *os.File, call func(fd uintptr) error) {
	t.Helper()
	conn, err := f.SyscallConn()
	if err != nil {
		t.Fatal(err)
	}
	if err := conn.Control(func(fd uintptr) { err = call(fd) }); err != nil {
		t.Fatal(err)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// mode is what mode a terminal is in.
func mode(t *testing.T, f *os.File) (m *term.State) {
	t.Helper()
	on(t, f, func(fd uintptr) (err error) {
		m, err = term.GetState(fd)
		return err
	})
	return m
}

// waitFor gives up after a minute, which is no measure of anything.
func (s *stage) waitFor(what string, there func() bool) {
	s.t.Helper()
	for end := time.Now().Add(time.Minute); !there(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			s.t.Fatalf("%s never came; notes %q, output %q", what, s.notes(), s.output())
		}
	}
}

func (s *stage) waitForNote(note string) {
	s.t.Helper()
	s.waitFor("the note "+note, func() bool { return slices.Contains(s.notes(), note) })
}

func (s *stage) typed(keys string) {
	s.t.Helper()
	if _, err := s.tty.WriteString(keys); err != nil {
		s.t.Fatal(err)
	}
}

func (s *stage) signal(sig syscall.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		s.t.Fatal(err)
	}
}

// wantEnd waits for the end and looks at what the program leaves.
func (s *stage) wantEnd(notes ...string) {
	s.t.Helper()
	// A program that hangs says where it does.
	hangs := time.AfterFunc(time.Minute, func() { _ = s.cmd.Process.Signal(syscall.SIGQUIT) })
	defer hangs.Stop()
	if err := s.cmd.Wait(); err != nil {
		s.t.Errorf("the program ended with %v, notes %q, output %q", err, s.notes(), s.output())
	}
	if got := s.notes(); !slices.Equal(got, notes) {
		s.t.Errorf("notes:\n%s\nwant:\n%s", strings.Join(got, "\n"), strings.Join(notes, "\n"))
	}
}

func (s *stage) wantTerminalRestored() {
	s.t.Helper()
	const entered, left = "\x1b[?1049h", "\x1b[?1049l" // more than once, where the terminal was given up meanwhile
	s.waitFor("leaving the alternate screen", func() bool {
		out := s.output()
		return strings.LastIndex(out, left) > strings.LastIndex(out, entered)
	})
	if after := mode(s.t, s.tty); *after != *s.before {
		s.t.Errorf("the terminal is left as %v, it was %v", after, s.before)
	}
	if out := s.output(); strings.LastIndex(out, "\x1b[?25h") < strings.LastIndex(out, "\x1b[?25l") {
		s.t.Errorf("the cursor is left hidden: %q", out)
	}
}
