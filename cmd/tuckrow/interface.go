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
	return a.withStore(func(s *storage.Store) error {
		w := backup.Watch(ctx, s)
		err := a.openInterfaceOn(ctx, s)
		a.tellBackup(w.Stop(ctx))
		return err
	})
}

// openInterfaceOn opens the interface on a store that is open already.
func (a *app) openInterfaceOn(ctx context.Context, s *storage.Store) error {
	return tui.Run(ctx, s, "tuckrow", a.in.(*os.File), a.out.(*os.File))
}

// atTerminal tells whether there is a terminal at both ends that can show the
// interface.
func (a *app) atTerminal() bool {
	return isTerminal(a.in) && isTerminal(a.out) && os.Getenv("TERM") != "dumb"
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && (isatty.IsTerminal(f.Fd()) || isatty.IsCygwinTerminal(f.Fd()))
}
