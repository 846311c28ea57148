//go:build unix

package wire

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"syscall"
	"testing"
	"testing/iotest"
	"time"
)

func TestACommandIsCarriedThere(t *testing.T) {
	args := []string{"add", "name=Wrap dress", "notes=\xff\xfe not UTF-8", "", "--x=\x00"}
	h := serve(t, func(_ context.Context, c Call) int {
		fmt.Fprintf(c.Out, "%q", c.Args)
		fmt.Fprint(c.Err, "to the side")
		return 3
	})
	got := h.must(t, unread{t}, noFiles{t}, args...)
	if want := (said{fmt.Sprintf("%q", args), "to the side", 3}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := h.must(t, unread{t}, noFiles{t}); got.out != "[]" {
		t.Errorf("without arguments it is %q", got.out)
	}
}

func TestTheRevisionIsToldBefore(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	s, err := Dial(context.Background(), h.store, Command{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if s.Rev != 41 || s.PID != os.Getpid() {
		t.Errorf("revision %d of process %d, want 41 of %d", s.Rev, s.PID, os.Getpid())
	}
}

// What is large goes in many frames, and input only as far as it is asked for.
func TestInputAndOutputOfAnyLength(t *testing.T) {
	text := strings.Repeat("Größenkleid\n", 100_000)
	h := serve(t, func(_ context.Context, c Call) int {
		if c.Args[0] == "one" {
			b := make([]byte, 1)
			if _, err := io.ReadFull(c.In, b); err != nil {
				return 1
			}
			return 0
		}
		n, err := io.Copy(c.Out, c.In)
		if err != nil || n != int64(len(text)) {
			return 1
		}
		if n, err := c.In.Read(make([]byte, 8)); n != 0 || err != io.EOF {
			return 2
		}
		return 0
	})
	if got := h.must(t, strings.NewReader(text), noFiles{t}, "all"); got.out != text || got.code != 0 {
		t.Errorf("%d bytes came back with code %d, want %d", len(got.out), got.code, len(text))
	}
	in := strings.NewReader(text)
	if got := h.must(t, in, noFiles{t}, "one"); got.code != 0 || in.Len() < len(text)-mostChunk {
		t.Errorf("code %d; of %d bytes only %d are left for the next one", got.code, len(text), in.Len())
	}
}

func TestAnInterruptReachesTheCommand(t *testing.T) {
	begun := make(chan struct{})
	h := serve(t, func(ctx context.Context, c Call) int {
		close(begun)
		<-ctx.Done()
		if _, err := c.In.Read(make([]byte, 1)); !errors.Is(err, context.Canceled) {
			return 1
		}
		return 2
	})
	ctx, cancel := context.WithCancel(context.Background())
	go func() {
		<-begun
		cancel()
	}()
	if got, err := h.call(ctx, unread{t}, noFiles{t}); err != nil || got.code != 2 {
		t.Errorf("got %+v, %v; want code 2", got, err)
	}
}

// A reader that gives up by itself when it is interrupted may say so before the
// cancel has come, or where none comes.
func TestAnInputThatGivesUpIsAnInterrupt(t *testing.T) {
	h := serve(t, func(ctx context.Context, c Call) int {
		_, err := c.In.Read(make([]byte, 1))
		if ctx.Err() != nil {
			return 1 // not what this is about
		}
		if !errors.Is(err, context.Canceled) {
			fmt.Fprint(c.Err, err)
			return 2
		}
		return 0
	})
	given := iotest.ErrReader(fmt.Errorf("reading: %w", context.Canceled))
	if got := h.must(t, given, noFiles{t}); got.code != 0 {
		t.Errorf("got %+v, want an error that is an interrupt", got)
	}
}

func TestAPeerThatGoesEndsItsCommand(t *testing.T) {
	begun, ended := make(chan struct{}), make(chan error, 1)
	h := serve(t, func(ctx context.Context, c Call) int {
		close(begun)
		_, err := c.In.Read(make([]byte, 1))
		ended <- err
		return 0
	})
	s, err := Dial(context.Background(), h.store, Command{})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.conn.write(kindGo, nil); err != nil {
		t.Fatal(err)
	}
	<-begun
	s.Close()
	if err := <-ended; !errors.Is(err, context.Canceled) {
		t.Errorf("reading the input of a peer that has gone: %v", err)
	}
}

func TestACommandThatBreaksEndsAlone(t *testing.T) {
	h := serve(t, func(_ context.Context, c Call) int {
		if len(c.Args) > 0 {
			panic("torn tissue")
		}
		return 0
	})
	if got := h.must(t, unread{t}, noFiles{t}, "x"); got.code == 0 || !strings.Contains(got.err, "torn tissue") {
		t.Errorf("a command that panics: %+v", got)
	}
	h.wantLogged(t, "torn tissue", 1)
	if got := h.must(t, unread{t}, noFiles{t}); got.code != 0 {
		t.Errorf("the next one: %+v", got)
	}
}

// A connection that is lost before the exit code leaves open whether the
// command was done, and says whether something of it was seen.
func TestALostConnection(t *testing.T) {
	for _, printed := range []bool{false, true} {
		begun := make(chan struct{})
		h := serve(t, func(ctx context.Context, c Call) int {
			if printed {
				fmt.Fprint(c.Out, "the first line")
			}
			close(begun)
			<-ctx.Done()
			return 0
		})
		go func() {
			<-begun
			h.mu.Lock()
			defer h.mu.Unlock()
			for talk := range h.talks {
				_ = talk.conn.Close()
			}
		}()
		_, err := h.call(context.Background(), unread{t}, noFiles{t})
		wantLost(t, err, printed)
	}
}

func TestClosingWaitsForWhatRuns(t *testing.T) {
	begun, gate := make(chan struct{}), make(chan struct{})
	h := serve(t, func(_ context.Context, c Call) int {
		close(begun)
		<-gate
		fmt.Fprint(c.Out, "all of it")
		return 0
	})
	waiting, err := Dial(context.Background(), h.store, Command{}) // has not said go
	if err != nil {
		t.Fatal(err)
	}
	var got said
	done := make(chan error)
	go func() {
		var err error
		got, err = h.call(context.Background(), unread{t}, noFiles{t})
		done <- err
	}()
	<-begun
	_ = h.l.Close()
	closed := make(chan error)
	go func() { closed <- h.Server.Close(context.Background()) }()
	eventually(t, "the beginning of closing", func() bool {
		h.Server.mu.Lock()
		defer h.Server.mu.Unlock()
		return h.closing
	})
	if _, err := waiting.Run(context.Background(), Terminal{unread{t}, io.Discard, io.Discard, noFiles{t}}); err == nil {
		t.Error("a command was begun after the server had begun to close")
	}
	if _, err := Dial(context.Background(), h.store, Command{}); !errors.Is(err, ErrNobody) {
		t.Errorf("dialling a server that closes: %v", err)
	}
	select {
	case err := <-closed:
		t.Fatalf("it closed while a command ran: %v", err)
	default:
	}
	close(gate)
	if err := <-done; err != nil || got.out != "all of it" {
		t.Errorf("the command that ran gave %+v, %v", got, err)
	}
	if err := <-closed; err != nil {
		t.Error(err)
	}
}

// Who said go in the moment of closing is told that nothing was begun.
func TestGoInTheMomentOfClosing(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	s, err := Dial(context.Background(), h.store, Command{})
	if err != nil {
		t.Fatal(err)
	}
	h.Server.mu.Lock()
	h.closing = true
	h.Server.mu.Unlock()
	if _, err := s.Run(context.Background(), Terminal{unread{t}, io.Discard, io.Discard, noFiles{t}}); !errors.Is(err, ErrNobody) {
		t.Errorf("the error is %v, want %v", err, ErrNobody)
	}
}

func TestManyAtATime(t *testing.T) {
	var mu sync.Mutex
	running, most := 0, 0
	gate := make(chan struct{})
	h := serve(t, func(_ context.Context, c Call) int {
		mu.Lock()
		running++
		most = max(most, running)
		if running == 8 {
			close(gate)
		}
		mu.Unlock()
		<-gate
		fmt.Fprint(c.Out, c.Args[0])
		return 0
	})
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			name := fmt.Sprint("command ", i)
			if got, err := h.call(context.Background(), unread{t}, noFiles{t}, name); err != nil || got.out != name {
				t.Errorf("%s gave %+v, %v", name, got, err)
			}
		})
	}
	all.Wait()
	if most != 8 {
		t.Errorf("%d ran at once, want 8", most)
	}
}

func TestTooMany(t *testing.T) {
	h := serve(t, func(context.Context, Call) int { return 0 })
	for range mostCalls {
		s, err := Dial(context.Background(), h.store, Command{})
		if err != nil {
			t.Fatal(err)
		}
		defer s.Close()
	}
	if _, err := Dial(context.Background(), h.store, Command{}); !errors.Is(err, ErrNobody) || !strings.Contains(err.Error(), "too many") {
		t.Errorf("one more: %v", err)
	}
}

// A peer that never reads holds up its own command only, and not for ever.
func TestAPeerThatNeverReads(t *testing.T) {
	ended := make(chan error, 1)
	h := serve(t, func(_ context.Context, c Call) int {
		if len(c.Args) == 0 {
			return 0
		}
		_, err := c.Out.Write(make([]byte, 64<<20))
		ended <- err
		return 0
	}, func(s *Server) { s.writeTime = 20 * time.Millisecond })
	c, _, err := dial(h.store)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	deaf := newConn(c)
	hello, err := helloOf(Command{Args: []string{"shelflist"}})
	if err := errors.Join(err, deaf.write(kindHello, hello), deaf.write(kindGo, nil)); err != nil {
		t.Fatal(err)
	}
	if got := h.must(t, unread{t}, noFiles{t}); got.code != 0 {
		t.Errorf("another peer got %+v", got)
	}
	if err := <-ended; !errors.Is(err, os.ErrDeadlineExceeded) {
		t.Errorf("the command that nobody reads ended with %v", err)
	}
}

// What a pager has not read yet does not hold up the command.
func TestASlowReaderHoldsNothingUp(t *testing.T) {
	finished := make(chan struct{})
	h := serve(t, func(_ context.Context, c Call) int {
		defer close(finished)
		if _, err := c.Out.Write(make([]byte, 16<<20)); err != nil {
			return 1
		}
		return 0
	})
	s, err := Dial(context.Background(), h.store, Command{})
	if err != nil {
		t.Fatal(err)
	}
	pager := &waiting{until: finished}
	if code, err := s.Run(context.Background(), Terminal{unread{t}, pager, io.Discard, noFiles{t}}); code != 0 || err != nil || pager.n != 16<<20 {
		t.Errorf("code %d, %d bytes, %v", code, pager.n, err)
	}
}

// waiting takes nothing until something has happened.
type waiting struct {
	until <-chan struct{}
	n     int
}

func (w *waiting) Write(b []byte) (int, error) {
	<-w.until
	w.n += len(b)
	return len(b), nil
}

// Where the output goes may be full; the command's end is waited for all the
// same, because it may have stored something.
func TestOutputThatCannotBePrinted(t *testing.T) {
	done := false
	h := serve(t, func(_ context.Context, c Call) int {
		fmt.Fprint(c.Out, "stored")
		done = true
		return 0
	})
	s, err := Dial(context.Background(), h.store, Command{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Run(context.Background(), Terminal{unread{t}, full{}, io.Discard, noFiles{t}}); !errors.Is(err, syscall.ENOSPC) || !done {
		t.Errorf("the error is %v; done: %v", err, done)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, syscall.ENOSPC }
