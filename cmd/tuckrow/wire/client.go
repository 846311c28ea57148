package wire

import (
	"context"
	"fmt"
	"io"
	"net"
	"time"
)

// SilentError: there is a program that has the store open, and it does not
// answer.
type SilentError struct {
	PID       int  // 0 where the system does not tell
	Suspended bool // known for certain
}

func (e *SilentError) Error() string {
	return fmt.Sprintf("the program that has the store open (process %d) does not answer", e.PID)
}

// RefusedError: the program that has the store open will not run the command.
type RefusedError struct{ Text string }

func (e *RefusedError) Error() string { return e.Text }

// LostError: the conversation ended before the command's exit code came. It
// may have been done or not; where it wraps a SilentError, the program that runs
// it has been suspended meanwhile.
type LostError struct {
	Printed bool // something of its output came
	Err     error
}

func (e *LostError) Error() string { return fmt.Sprintf("the connection was lost: %v", e.Err) }

func (e *LostError) Unwrap() error { return e.Err }

// answerTime is how long whoever has the store may take to answer a hello, and
// a cancel. On a machine that is busy it is short of that by far.
const answerTime = 5 * time.Second

// Session is a conversation with the program that has the store open, at the
// end of who types, in which the command has not been begun yet.
type Session struct {
	PID  int    // of the other end, 0 where the system does not tell
	Rev  uint64 // the store's revision before the command
	conn *conn
	in   *inbox
}

// Terminal is what a command reads and writes here.
type Terminal struct {
	In       io.Reader
	Out, Err io.Writer
	Files    Files
}

// Dial asks the program that has a store open whether it will run a command.
// The error wraps ErrNobody when there is no such program, or it is just
// closing; it is a *SilentError when it does not answer and a *RefusedError
// when it will not.
func Dial(ctx context.Context, store string, typed Command) (*Session, error) {
	hello, err := helloOf(typed)
	if err != nil {
		return nil, err
	}
	if len(hello) > mostFrame {
		return nil, &RefusedError{fmt.Sprintf("the command line is too long for the interface that is open (%d bytes, and %d is the most); close that first", len(hello), mostFrame)}
	}
	c, p, err := dial(store)
	if err != nil {
		return nil, err
	}
	s := newSession(c, p.pid)
	if err := s.greet(ctx, hello); err != nil {
		s.Close()
		return nil, err
	}
	return s, nil
}

func newSession(c net.Conn, pid int) *Session {
	s := &Session{PID: pid, conn: newConn(c)}
	s.in = newInbox(s.conn)
	return s
}

func (s *Session) greet(ctx context.Context, hello []byte) error {
	go func() { _ = s.conn.write(kindHello, hello) }() // whether it has come is seen by the answer
	look := time.NewTicker(answerTime / 50)
	defer look.Stop()
	late := time.After(answerTime)
	for {
		select {
		case f, ok := <-s.in.frames:
			if !ok {
				return fmt.Errorf("%w any more: %v", ErrNobody, s.in.err)
			}
			return s.welcomed(f)
		case <-look.C:
			if stopped(s.PID) {
				return &SilentError{s.PID, true}
			}
		case <-late:
			return &SilentError{s.PID, false}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (s *Session) welcomed(f frame) error {
	switch f.kind {
	case kindReady:
		var r readiness
		err := decode(f.payload, &r)
		s.Rev = r.Rev
		return err
	case kindRefused:
		return refused(f)
	}
	return fmt.Errorf("%w: a frame of kind %q where ready belongs", errGarbage, f.kind)
}

func refused(f frame) error {
	var r refusal
	if err := decode(f.payload, &r); err != nil {
		return err
	}
	if r.Again {
		return fmt.Errorf("%w any more: %s", ErrNobody, r.Text)
	}
	return &RefusedError{r.Text}
}

// Close ends a conversation in which nothing is to be run any more.
func (s *Session) Close() {
	_ = s.conn.Close()
	s.in.empty()
}

// Run has the command run and gives its exit code. The error wraps ErrNobody
// when it certainly was not begun, and is a *LostError when that is not known.
// A program that is suspended for long while it runs the command is not waited
// for.
// When the context ends the command is told to stop, and may still finish; a
// reader that would keep it waiting has to look at the context itself.
func (s *Session) Run(ctx context.Context, t Terminal) (code int, err error) {
	defer s.Close()
	r := running{session: s, terminal: t, opened: opened{input: t.In, files: t.Files, reads: map[uint32]io.ReadCloser{}, writes: map[uint32]Draft{}}}
	defer r.closeAll()
	if err := s.conn.write(kindGo, nil); err != nil {
		return 0, r.lost(err)
	}
	interrupted := ctx.Done()
	var late <-chan time.Time
	look := time.NewTicker(answerTime / 50)
	defer look.Stop()
	since := time.Now() // it was seen at work
	for {
		select {
		case f, ok := <-s.in.frames:
			if !ok {
				return 0, r.lost(s.in.err)
			}
			if f.kind == kindExit && len(f.payload) == 1 {
				return int(f.payload[0]), r.unprinted
			}
			if err := r.onFrame(f); err != nil {
				return 0, err
			}
		case <-interrupted:
			interrupted, late = nil, time.After(answerTime)
			_ = s.conn.write(kindCancel, nil) // a peer that is gone has stopped anyway
		case <-late:
			return 0, r.lost(ctx.Err())
		case now := <-look.C:
			if !stopped(s.PID) {
				since = now
			} else if now.Sub(since) > answerTime {
				return 0, r.lost(&SilentError{s.PID, true})
			}
		}
	}
}

// running is a command that has been begun.
type running struct {
	session  *Session
	terminal Terminal
	opened
	printed   bool
	unprinted error // the first thing that could not be printed here
}

func (r *running) lost(err error) error { return &LostError{r.printed, err} }

// onFrame does what a frame says.
func (r *running) onFrame(f frame) error {
	switch f.kind {
	case kindOut:
		r.print(r.terminal.Out, f.payload)
	case kindErr:
		r.print(r.terminal.Err, f.payload)
	case kindRefused:
		return refused(f)
	case kindAsk:
		var q question
		err := decode(f.payload, &q)
		if err == nil {
			err = r.session.conn.send(kindAnswer, r.answer(q))
		}
		if err != nil {
			return r.lost(err)
		}
	default:
		return r.lost(fmt.Errorf("%w: a frame of kind %q while a command runs", errGarbage, f.kind))
	}
	return nil
}

// print prints what came. That it cannot be printed does not end the command.
func (r *running) print(w io.Writer, b []byte) {
	r.printed = true
	if _, err := w.Write(b); err != nil && r.unprinted == nil {
		r.unprinted = fmt.Errorf("printing: %w", err)
	}
}
