package main

import (
	"context"
	"os"

	"github.com/mattn/go-isatty"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/backup"
	"example.org/tuckrow/tui"
)

// openInterface opens the interface on the user's store.
func (a *app) openInterface(ctx context.Context) error {
	if !a.atTerminal() {
		return model.Inputf("the interface needs a terminal; without one use the commands, see: tuckrow --help")
	}
	return a.here(a.storeDir(), func(s *storage.Store) error {
		w := backup.Watch(ctx, s)
		err := a.openInterfaceOn(ctx, s)
		a.tellBackup(w.Stop(ctx))
		return err
	})
}

// openInterfaceOn opens the interface on a store that is open already, and runs
// the commands of other terminals on it.
func (a *app) openInterfaceOn(ctx context.Context, s *storage.Store) error {
	h := newHost(s)
	defer h.close()
	return tui.Run(ctx, s, tui.Options{Title: "tuckrow", Started: h.open}, a.in.(*os.File), a.out.(*os.File))
}

// atTerminal tells whether there is a terminal at both ends that can show the
// interface.
func (a *app) atTerminal() bool {
	return isTerminal(a.in) && isTerminal(a.out) && os.Getenv("TERM") != "dumb"
}

func isTerminal(stream any) bool {
	if far, ok := stream.(interface{ isTerminal() bool }); ok { // of another process
		return far.isTerminal()
	}
	f, ok := stream.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}
