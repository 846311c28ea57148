package frame

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"example.org/tuckrow/tui/ground"
	"example.org/tuckrow/tui/theme"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/term"
)

// ErrNoTerminal: the interface needs a terminal, and there is none.
var ErrNoTerminal = errors.New("the interface needs a terminal")

// ErrStuck: the program did not end by itself when a signal asked it to.
var ErrStuck = errors.New("the interface did not end when it was asked to; what was being typed may be lost")

// ThemeFor is the theme for the terminal that out is.
func ThemeFor(out *os.File) *theme.Theme {
	t := theme.New(theme.Renderer(out, os.Getenv, ground.Dark()))
	t.Glyphs = theme.GlyphsFor(os.Getenv)
	return t
}

// CheckTerminal gives an error, of the kind ErrNoTerminal, where the interface
// cannot be drawn.
func CheckTerminal(in, out *os.File, getenv func(string) string) error {
	switch {
	case !term.IsTerminal(in.Fd()):
		return fmt.Errorf("%w, and the input is none; for scripts there are commands, see: tuckrow --help", ErrNoTerminal)
	case !term.IsTerminal(out.Fd()):
		return fmt.Errorf("%w, and the output is none; for scripts there are commands, see: tuckrow --help", ErrNoTerminal)
	case getenv("TERM") == "dumb":
		return fmt.Errorf("%w that can be drawn on, and TERM is %q; use the commands, see: tuckrow --help", ErrNoTerminal, "dumb")
	}
	return nil
}

// Run shows the interface until the user quits, the context ends, or SIGTERM,
// SIGINT or SIGHUP comes. In each case the screens keep what is typed, the
// terminal is restored, and what was told to be written is written before Run
// returns. Being asked to end is no error. A mistake in the program ends it in
// the same way; the error is a *Panic then.
func Run(ctx context.Context, o Options, in, out *os.File) error {
	if err := CheckTerminal(in, out, os.Getenv); err != nil {
		return err
	}
	if o.Theme == nil {
		o.Theme = ThemeFor(out)
	}
	if o.PID == 0 {
		o.PID = os.Getpid()
	}
	if o.Patience <= 0 {
		o.Patience = 2 * time.Second
	}
	root := New(o)
	// Bubble Tea's own way with signals and contexts ends the program without
	// asking the screens.
	p := tea.NewProgram(root, tea.WithInput(in), tea.WithOutput(out), tea.WithAltScreen(), tea.WithoutSignalHandler())
	root.wake = func() { go p.Send(stop{}) }
	root.stirred.later = func(after time.Duration, msg tea.Msg) { time.AfterFunc(after, func() { p.Send(msg) }) }
	root.jobs.later = func(after time.Duration) { time.AfterFunc(after, func() { p.Send(beat{}) }) }
	before, _ := term.GetState(in.Fd())
	s := &session{root: root, program: p, patience: o.Patience, suspends: o.Suspend != nil, beforeSleep: o.BeforeSleep, ended: make(chan error, 1)}
	defer s.listen()()
	over := make(chan struct{})
	go func() {
		_, err := p.Run()
		close(over)
		s.ended <- err
	}()
	if o.Started != nil {
		o.Started(&Outside{root: root, send: p.Send, ended: over})
	}
	err := s.wait(ctx)
	if errors.Is(err, ErrStuck) {
		// The root may still be at work, so only what is safe from aside: the
		// writes, and the terminal.
		GiveBack(in, out, before)
		limit, cancel := s.limit(ctx)
		defer cancel()
		return errors.Join(err, root.writer.drain(limit))
	}
	limit, cancel := s.limit(ctx)
	defer cancel()
	if root.broke != nil {
		err = errors.Join(root.broke, err)
	}
	return errors.Join(err, root.Drain(limit))
}

// session is one run of the program and what may end it.
type session struct {
	root     *Root
	program  *tea.Program
	patience time.Duration
	suspends bool

	beforeSleep func(context.Context)

	asleep  bool            // a suspension has been begun
	rested  <-chan struct{} // closed when what comes before it is done, or takes too long
	signals chan os.Signal
	ended   chan error
}

// listen has signals wait to be heeded, from before the program takes the
// terminal until the returned function is called: what came in between would
// end the process and leave the terminal as it is.
func (s *session) listen() (stop func()) {
	s.signals = make(chan os.Signal, 4)
	signal.Notify(s.signals, syscall.SIGTERM, syscall.SIGINT, syscall.SIGHUP)
	for _, sig := range jobSignals {
		if s.suspends || isContinue(sig) {
			signal.Notify(s.signals, sig)
		}
	}
	return func() { signal.Stop(s.signals) }
}

// together is the time in which signals to end count as one: a signal to the
// whole process group comes also from the supervisor, and through the context.
const together = 300 * time.Millisecond

// limit is how long the writes may take when the program has ended.
func (s *session) limit(ctx context.Context) (context.Context, context.CancelFunc) {
	return context.WithTimeout(context.WithoutCancel(ctx), 5*s.patience)
}

// wait waits for the program to end, and ends it when asked to: in order at
// first, by force when that takes too long or one asks again, and at last it
// gives up with ErrStuck.
func (s *session) wait(ctx context.Context) error {
	asked := 0
	var at time.Time
	cancelled := ctx.Done()
	var tooLong <-chan time.Time
	ask := func() {
		asked++
		switch asked {
		case 1:
			at = time.Now()
			go s.program.Send(stop{}) // it would wait for a root that is stuck
		case 2:
			s.program.Kill()
		}
		tooLong = time.After(s.patience)
	}
	for {
		select {
		case err := <-s.ended:
			return verdict(err, asked > 0)
		case <-cancelled:
			cancelled = nil
			if asked == 0 {
				ask()
			}
		case sig := <-s.signals:
			if !s.onJob(ctx, sig) && (asked != 1 || time.Since(at) > together) {
				ask()
			}
		case <-s.rested:
			s.rested = nil
			go s.program.Send(suspended{})
		case <-tooLong:
			if asked >= 2 {
				return ErrStuck
			}
			ask()
		}
	}
}

// onJob does what job control asks for, and tells whether it was that. Whoever
// lets the process go on before it has gone to sleep keeps it awake.
func (s *session) onJob(ctx context.Context, sig os.Signal) bool {
	switch {
	case isSuspend(sig) && !s.asleep:
		s.asleep = true
		s.rest(ctx)
	case isContinue(sig) && s.asleep:
		s.asleep, s.rested = false, nil // it takes the terminal again by itself
	case isContinue(sig):
		go s.program.Send(continued{})
	}
	return isSuspend(sig) || isContinue(sig)
}

// rest does what comes before sleep, aside: no key waits for it.
func (s *session) rest(ctx context.Context) {
	ctx, done := context.WithTimeout(ctx, s.patience)
	s.rested = ctx.Done()
	go func() {
		defer done()
		if s.beforeSleep != nil {
			s.beforeSleep(ctx)
		}
	}()
}

// verdict tells what Bubble Tea's error means to us.
func verdict(err error, asked bool) error {
	switch {
	case err == nil:
		return nil
	case errors.Is(err, tea.ErrProgramPanic):
		return fmt.Errorf("the interface broke off; start tuckrow again: %w", err)
	case asked, errors.Is(err, syscall.EIO), errors.Is(err, io.EOF):
		// Killed because we asked, or the terminal went away before its signal
		// came.
		return nil
	}
	return fmt.Errorf("the interface broke off; start tuckrow again: %w", err)
}

// GiveBack restores a terminal that Bubble Tea has not: to the state that it
// was in before, where that is known.
func GiveBack(in, out *os.File, before *term.State) {
	if before != nil {
		_ = term.Restore(in.Fd(), before)
	}
	written := make(chan struct{})
	go func() { // a terminal that is held, with ctrl+s say, takes nothing
		defer close(written)
		_, _ = out.WriteString("\x1b[m\x1b[?2004l\x1b[?25h\x1b[?1049l")
	}()
	select {
	case <-written:
	case <-time.After(100 * time.Millisecond):
	}
}

// asleep is a command that stops this process until it is let go on.
type asleep struct{ nothing }

// nothing is a command that does nothing. Bubble Tea gives up the terminal for
// it and takes it again.
type nothing struct{}

func (nothing) Run() error          { return nil }
func (nothing) SetStdin(io.Reader)  {}
func (nothing) SetStdout(io.Writer) {}
func (nothing) SetStderr(io.Writer) {}
