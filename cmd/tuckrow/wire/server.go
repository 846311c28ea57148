package wire

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"sync"
	"time"
)

// mostCalls is how many peers are spoken with at once.
const mostCalls = 64

// helloTime is how long a peer may take to say what it wants, and to go on
// once it is told that it may.
const helloTime = 10 * time.Second

// Call is a command that a peer wants run.
type Call struct {
	Command
	In       io.Reader // asks the peer to read on, and only then it does
	Out, Err io.Writer
	Files    Files
}

// Server runs the commands of peers, each in a goroutine of its own. Its
// fields are set before Serve and not altered.
type Server struct {
	// Run runs a command and gives its exit code. The context ends when the
	// peer interrupts the command or is gone, or the server has waited for the
	// command long enough.
	Run func(ctx context.Context, c Call) int
	// Rev gives the store's revision.
	Rev func() uint64
	// Log is told of peers that were refused and commands that broke.
	Log func(text string)

	// Shorter ones than those of this package, for tests.
	helloTime, writeTime time.Duration

	mu      sync.Mutex
	closing bool
	talks   map[*talk]bool
	all     sync.WaitGroup
}

// Serve listens until the listener is closed.
func (s *Server) Serve(l net.Listener) {
	for {
		c, err := l.Accept()
		if errors.Is(err, net.ErrClosed) {
			return
		}
		if err != nil { // out of files, mostly
			s.Log(fmt.Sprintf("socket: %v", err))
			time.Sleep(100 * time.Millisecond)
			continue
		}
		t := s.talkTo(c)
		if !s.enter(t) {
			t.refuse("too many commands at once, or the interface is just closing; try again", true)
			_ = c.Close()
			continue
		}
		go func() {
			defer s.leave(t)
			if err := t.hold(); err != nil && !errors.Is(err, io.EOF) {
				s.Log(fmt.Sprintf("socket: %v", err))
			}
		}()
	}
}

func (s *Server) talkTo(c net.Conn) *talk {
	t := &talk{server: s, conn: newConn(c), answers: make(chan reply)}
	t.conn.writeTime = cmp.Or(s.writeTime, writeTime)
	return t
}

// enter counts a peer in, unless there are too many.
func (s *Server) enter(t *talk) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closing || len(s.talks) >= mostCalls {
		return false
	}
	if s.talks == nil {
		s.talks = map[*talk]bool{}
	}
	s.talks[t] = false
	s.all.Add(1)
	return true
}

func (s *Server) leave(t *talk) {
	s.mu.Lock()
	delete(s.talks, t)
	s.mu.Unlock()
	_ = t.conn.Close()
	s.all.Done()
}

// begin notes that a command runs from here on, unless the server closes.
func (s *Server) begin(t *talk) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.talks[t] = !s.closing
	return !s.closing
}

// Close ends all conversations, when the listener has been closed. Commands
// that run are waited for until the context ends; then they are told to stop
// and their peers are left. It returns when none runs any more, or a little
// later with an error.
func (s *Server) Close(ctx context.Context) error {
	s.mu.Lock()
	s.closing = true
	for t, running := range s.talks {
		if !running {
			_ = t.conn.Close()
		}
	}
	s.mu.Unlock()
	ended := make(chan struct{})
	go func() {
		s.all.Wait()
		close(ended)
	}()
	select {
	case <-ended:
		return nil
	case <-ctx.Done():
	}
	s.mu.Lock()
	for t := range s.talks {
		_ = t.conn.Close() // its reader ends, and with it the command's context
	}
	n := len(s.talks)
	s.mu.Unlock()
	select {
	case <-ended:
		return nil
	case <-time.After(time.Second):
		return fmt.Errorf("%d commands of other terminals were still at work and were left", n)
	}
}

// talk is one conversation, at the end of who has the store.
type talk struct {
	server  *Server
	conn    *conn
	answers chan reply
	asking  sync.Mutex // one question at a time
}

// hold holds a conversation from its first frame to its last.
func (t *talk) hold() error {
	if c, ok := t.conn.Conn.(*net.UnixConn); ok {
		if _, err := peerOf(c); err != nil {
			t.refuse(err.Error(), false)
			return err
		}
	}
	typed, err := t.greet()
	if err != nil || typed.Args == nil {
		return err
	}
	if !t.server.begin(t) {
		t.refuse("the interface is just closing; try again", true)
		return nil
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go t.listen(ctx, cancel)
	code := t.run(ctx, typed)
	return t.conn.write(kindExit, []byte{byte(code)})
}

// greet takes the peer up to its go, and gives what is typed; the arguments are
// nil when the peer has thought better of it.
func (t *talk) greet() (none Command, err error) {
	if err := t.conn.SetReadDeadline(time.Now().Add(cmp.Or(t.server.helloTime, helloTime))); err != nil {
		return none, err
	}
	k, b, err := t.conn.read()
	if err == nil && k != kindHello {
		err = fmt.Errorf("%w: it begins with a frame of kind %q", errGarbage, k)
	}
	var v byte
	var r Command
	if err == nil {
		v, r, err = parseHello(b)
	}
	if err != nil {
		return none, t.turnAway(err)
	}
	if v != version {
		text := fmt.Sprintf("the interface that is open is another version of tuckrow (it speaks %d, this command %d); close it and open it again", version, v)
		t.refuse(text, false)
		return none, errors.New(text)
	}
	if err := t.conn.send(kindReady, readiness{t.server.Rev()}); err != nil {
		return none, err
	}
	k, _, err = t.conn.read()
	switch {
	case errors.Is(err, io.EOF):
		return none, nil
	case err == nil && k != kindGo:
		err = fmt.Errorf("%w: a frame of kind %q where go belongs", errGarbage, k)
	}
	if err != nil {
		return none, t.turnAway(err)
	}
	if r.Args == nil {
		r.Args = []string{}
	}
	return r, t.conn.SetReadDeadline(time.Time{})
}

// turnAway says to a peer that it was not understood, where it may hear that.
func (t *talk) turnAway(err error) error {
	if errors.Is(err, errGarbage) {
		t.refuse(err.Error(), false)
	}
	return err
}

func (t *talk) refuse(text string, again bool) {
	_ = t.conn.send(kindRefused, refusal{text, again}) // who is refused need not listen
}

// listen reads what the peer sends while its command runs.
func (t *talk) listen(ctx context.Context, cancel func()) {
	defer cancel()
	for {
		k, b, err := t.conn.read()
		switch {
		case err != nil:
			return // gone, or cut by Close
		case k == kindCancel:
			return
		case k != kindAnswer:
			t.server.Log(fmt.Sprintf("socket: %v: a frame of kind %q while a command runs", errGarbage, k))
			return
		}
		var r reply
		if err := decode(b, &r); err != nil {
			t.server.Log(fmt.Sprintf("socket: %v", err))
			return
		}
		select {
		case t.answers <- r:
		case <-ctx.Done():
			return
		}
	}
}

// run runs the command. One that panics ends alone.
func (t *talk) run(ctx context.Context, typed Command) (code int) {
	out, errs := stream{t, kindOut}, stream{t, kindErr}
	defer func() {
		if p := recover(); p != nil {
			t.server.Log(fmt.Sprintf("socket: the command %q broke off: %v", typed.Args, p))
			fmt.Fprintf(errs, "tuckrow: the command broke off: %v\n", p)
			code = 2
		}
	}()
	return t.server.Run(ctx, Call{Command: typed, In: &file{ctx: ctx, talk: t, input: true}, Out: out, Err: errs, Files: remote{ctx, t}})
}

// stream is what a command prints to.
type stream struct {
	talk *talk
	kind kind
}

func (s stream) Write(b []byte) (int, error) {
	done := 0
	for done < len(b) {
		n := min(mostChunk, len(b)-done)
		if err := s.talk.conn.write(s.kind, b[done:done+n]); err != nil {
			return done, fmt.Errorf("printing to the other terminal: %w", err)
		}
		done += n
	}
	return done, nil
}
