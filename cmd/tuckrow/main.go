// Command tuckrow keeps a cupboard of paper sewing patterns in order: what is
// owned, where each envelope stands, what to pull and where to put it, where
// boxes begin and end. Without arguments it opens the interface.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"example.org/tuckrow/cmd/tuckrow/supervisor"
	"example.org/tuckrow/cmd/tuckrow/wire"
	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	_ "example.org/tuckrow/tui/ground" // settles the terminal's background before bubbletea asks for it
)

// Exit codes; they are part of what scripts build on.
const (
	exitDone    = 0
	exitNo      = 1
	exitInput   = 2
	exitPart    = 3
	exitInUse   = 4
	exitDamaged = 5
	exitNoRoom  = 6
)

// streams are what a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM, syscall.SIGHUP)
	a := newApp(streams{os.Stdin, os.Stdout, os.Stderr})
	a.supervises = supervisor.Supported
	err := a.run(ctx, os.Args[1:])
	stop()
	code := report(os.Stderr, err)
	if child := supervisor.Inside(); child != nil {
		child.Done()
	}
	os.Exit(code)
}

// run does what the arguments say.
func run(ctx context.Context, args []string, io streams) error { return newApp(io).run(ctx, args) }

// newApp is for a command that this process runs for itself.
func newApp(io streams) *app {
	a := &app{streams: io, files: wire.Here{}}
	if isTerminal(io.err) && os.Getenv("TERM") != "dumb" {
		a.over = io.err
	}
	return a
}

// run does what the arguments say, where and for whom the app is.
func (a *app) run(ctx context.Context, args []string) error {
	a.ctx, a.args = ctx, args
	cmd := newRoot(a)
	cmd.SetArgs(args)
	cmd.SetIn(a.in)
	cmd.SetOut(a.out)
	cmd.SetErr(a.err)
	return cmd.ExecuteContext(ctx)
}

// answer is an outcome that is no failure but has an exit code of its own; its
// text has been printed already.
type answer int

func (a answer) Error() string { return fmt.Sprintf("exit code %d", int(a)) }

// report prints an error and gives the exit code for it: the one place where
// errors become numbers.
func report(w io.Writer, err error) int {
	var said answer
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &said):
		return int(said)
	}
	fmt.Fprintf(w, "tuckrow: %s\n", words.Escape(err.Error()))
	switch {
	case errors.Is(err, errStopped):
		return exitStopped
	case errors.Is(err, model.ErrInUse):
		return exitInUse
	case errors.Is(err, model.ErrDamaged):
		return exitDamaged
	case errors.Is(err, model.ErrNoRoom), errors.Is(err, os.ErrPermission), errors.Is(err, syscall.ENOSPC):
		return exitNoRoom
	}
	return exitInput
}
