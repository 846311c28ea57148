//go:build unix

package wire

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"os"
	"strings"
	"sync"
	"testing"
	"time"
)

// The test binary plays a program that has a store open, or a user of another
// name, when this is set.
const sceneVar = "TUCKROW_WIRE_SCENE"

func TestMain(m *testing.M) {
	switch os.Getenv(sceneVar) {
	case "serve":
		l, err := Listen(os.Args[1])
		if err != nil {
			panic(err)
		}
		_, _ = os.Stdout.WriteString("listening\n")
		(&Server{Run: func(context.Context, Call) int { return 7 }, Rev: func() uint64 { return 1 }, Log: func(string) {}}).Serve(l)
	case "intrude":
		intrude(os.Args[1])
	default:
		os.Exit(m.Run())
	}
}

// host is a program that has a store open.
type host struct {
	*Server
	store string
	l     net.Listener

	mu    sync.Mutex
	lines []string
}

// newStore makes a folder that stands for a store, and a runtime folder whose
// path is short enough for a socket.
func newStore(t testing.TB) string {
	t.Helper()
	run, err := os.MkdirTemp("/tmp", "wire")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := os.RemoveAll(run); err != nil {
			t.Error(err)
		}
	})
	t.Setenv("XDG_RUNTIME_DIR", run)
	return t.TempDir()
}

func serve(t testing.TB, run func(context.Context, Call) int, alter ...func(*Server)) *host {
	t.Helper()
	h := &host{store: newStore(t)}
	h.Server = &Server{Run: run, Rev: func() uint64 { return 41 }, Log: func(text string) {
		h.mu.Lock()
		defer h.mu.Unlock()
		h.lines = append(h.lines, text)
	}}
	for _, a := range alter {
		a(h.Server)
	}
	var err error
	if h.l, err = Listen(h.store); err != nil {
		t.Fatal(err)
	}
	go h.Serve(h.l)
	t.Cleanup(h.close)
	return h
}

func (h *host) close() {
	_ = h.l.Close()
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if h.Server.Close(ctx) != nil {
		h.all.Wait() // a busy machine takes longer; what hangs, for ever
	}
}

// wantLogged waits for so many lines of the log that have a text. The limit is only
// there so that a test that fails ends.
func (h *host) wantLogged(t *testing.T, text string, times int) {
	t.Helper()
	eventually(t, fmt.Sprintf("%d lines of the log with %s", times, text), func() bool {
		h.mu.Lock()
		defer h.mu.Unlock()
		n := 0
		for _, line := range h.lines {
			if strings.Contains(line, text) {
				n++
			}
		}
		return n == times
	})
}

func eventually(t testing.TB, what string, there func() bool) {
	t.Helper()
	for end := time.Now().Add(time.Minute); !there(); time.Sleep(time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%s never came", what)
		}
	}
}

// said is what a command run over the socket gave.
type said struct {
	out, err string
	code     int
}

func (h *host) call(ctx context.Context, in io.Reader, files Files, args ...string) (said, error) {
	s, err := Dial(ctx, h.store, Command{Args: args})
	if err != nil {
		return said{}, err
	}
	var out, errs bytes.Buffer
	code, err := s.Run(ctx, Terminal{in, &out, &errs, files})
	return said{out.String(), errs.String(), code}, err
}

// must makes a call that has to come to its end.
func (h *host) must(t *testing.T, in io.Reader, files Files, args ...string) said {
	t.Helper()
	s, err := h.call(context.Background(), in, files, args...)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// noFiles is a terminal in which nothing may be opened.
type noFiles struct{ *testing.T }

func (f noFiles) Open(name string) (io.ReadCloser, error) {
	f.Errorf("%q was opened", name)
	return nil, fs.ErrInvalid
}

func (f noFiles) Create(name string, _ bool) (Draft, error) {
	f.Errorf("%q was begun", name)
	return nil, fs.ErrInvalid
}

// unread is an input that must not be read.
type unread struct{ *testing.T }

func (u unread) Read([]byte) (int, error) {
	u.Error("the input was read, which the command did not ask for")
	return 0, io.EOF
}

func wantLost(t *testing.T, err error, printed bool) {
	t.Helper()
	var lost *LostError
	if !errors.As(err, &lost) || lost.Printed != printed {
		t.Errorf("the error is %v (%T), want a lost connection, printed %v", err, err, printed)
	}
}
