package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"example.org/tuckrow/cmd/tuckrow/supervisor"
	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
	"github.com/spf13/cobra"
)

func (a *app) demoCommand() *cobra.Command {
	var keep string
	cmd := &cobra.Command{
		Use:   "demo",
		Short: "A cupboard of invented patterns to try things on",
		Long: `Makes the cupboard of a small village theatre, all invented: some 420 patterns
in three long drawers and on hooks, a few put back in the wrong place, and a
pile still to be filed. At a terminal it opens the interface on it; otherwise it
prints a report. Your own store is not touched. What the demo made is removed
afterwards, unless --keep names a folder for it.`,
		Example: "  tuckrow demo\n  tuckrow demo | more\n  tuckrow demo --keep try && tuckrow --store try find 6123",
		Args:    noArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			if a.dir != "" {
				return model.Inputf("demo makes a store of its own and would not use %q; to make it there: tuckrow demo --keep %q", a.dir, a.dir)
			}
			if !a.atTerminal() {
				return a.demo(cmd.Context(), keep)
			}
			return a.supervised(cmd.Context(), func(ctx context.Context) error { return a.demo(ctx, keep) })
		},
	}
	cmd.Flags().StringVar(&keep, "keep", "", "folder to keep the store in; it must be empty, or not be there yet")
	return cmd
}

// demo makes the store and shows it. The report is printed last, when all else
// is done: a reader that has seen enough ends the program at the first write
// (tuckrow demo | head), and nothing is to be left behind then.
func (a *app) demo(ctx context.Context, keep string) error {
	var text bytes.Buffer
	plain := *a
	plain.out = &text
	err := withDemo(ctx, keep, func(s *storage.Store) error {
		switch {
		case a.atTerminal() && keep != "": // another terminal may look into it
			return a.openInterfaceBackedUp(ctx, s)
		case a.atTerminal():
			return a.openInterfaceOn(ctx, s, nil)
		}
		return plain.demoReport(ordering.Arrange(s.Collection()))
	})
	if err != nil {
		return err
	}
	if keep != "" {
		plain.printf("\nkept in %s; go on with: tuckrow --store %q\n", keep, keep)
	}
	_, err = text.WriteTo(a.out)
	return err
}

// withDemo makes the store of the demo for one use, and removes it again unless
// it is to be kept.
func withDemo(ctx context.Context, keep string, do func(*storage.Store) error) (err error) {
	dir, remove, err := demoFolder(keep)
	if err != nil {
		return err
	}
	made := false
	defer func() {
		if keep == "" || !made { // half a story is no use
			err = errors.Join(err, remove())
		}
	}()
	s, err := makeDemo(ctx, dir)
	if err != nil {
		return fmt.Errorf("making the demo: %w", err)
	}
	made = true
	defer func() { err = errors.Join(err, s.Close()) }() // before the folder goes
	return do(s)
}

// demoFolder gives the folder for the demo and what removes what the demo put
// there. A folder that the user has named must hold nothing.
func demoFolder(keep string) (dir string, remove func() error, err error) {
	if keep == "" {
		dir, err = os.MkdirTemp("", "tuckrow-demo-")
		if err != nil {
			return "", nil, fmt.Errorf("making a folder for the demo: %w; name one with --keep", err)
		}
		if child := supervisor.Inside(); child != nil {
			child.Folder(dir)
		}
		return dir, func() error { return os.RemoveAll(dir) }, nil
	}
	inside, err := os.ReadDir(keep)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return keep, func() error { return os.RemoveAll(keep) }, nil
	case err != nil:
		return "", nil, fmt.Errorf("--keep %q cannot be used: %w; name a folder that is empty or not there yet", keep, err)
	case len(inside) > 0:
		return "", nil, model.Inputf("--keep %q is not empty, it holds %q among others; name a folder that is empty or not there yet", keep, inside[0].Name())
	}
	return keep, func() error { return emptyFolder(keep) }, nil
}

// emptyFolder removes what is in a folder, and leaves the folder.
func emptyFolder(dir string) error {
	inside, err := os.ReadDir(dir)
	for _, e := range inside {
		err = errors.Join(err, os.RemoveAll(filepath.Join(dir, e.Name())))
	}
	return err
}

// makeDemo makes a store in which the story of the sample cupboard has
// happened, each change on its day. What is done to it later is of today.
func makeDemo(ctx context.Context, dir string) (*storage.Store, error) {
	now := time.Now
	s, err := storage.Open(dir, storage.Options{Now: func() time.Time { return now() }})
	if err != nil {
		return nil, err
	}
	for _, e := range sample.Demo().Events {
		day, err := time.Parse(time.DateOnly, string(e.On))
		if err == nil {
			err = ctx.Err()
		}
		if err == nil {
			now = func() time.Time { return day }
			_, err = s.Commit(ctx, e.Change)
		}
		if err != nil {
			return nil, errors.Join(err, s.Close())
		}
	}
	now = time.Now
	return s, nil
}
