package main

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/backup"
	"github.com/spf13/cobra"
)

func (a *app) restoreCommand() *cobra.Command {
	var dryRun, undo bool
	cmd := &cobra.Command{
		Use:   "restore FILE",
		Short: "Bring a backup back; the store as it was is kept aside",
		Long: `Makes the store what a backup holds: one of the daily ones, one made with backup,
or an export as JSON Lines. The backup is read whole, a new store is made of it
and read back, and only then it takes the place of the old one, which is kept
aside in the same folder. With a file that is no whole backup nothing changes.
What was being typed stays.

restore --undo puts back what the last restore has kept aside.`,
		Example: "  tuckrow restore cupboard.jsonl --dry-run\n  tuckrow restore cupboard.jsonl\n  tuckrow restore --undo",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case undo && (dryRun || len(args) > 0):
				return model.Inputf("--undo puts back what the last restore has kept aside, and takes neither a FILE nor --dry-run")
			case undo:
				return a.undoRestore(cmd.Context())
			}
			if err := oneArg("the backup FILE to bring back")(cmd, args); err != nil {
				return err
			}
			return a.restore(cmd.Context(), args[0], dryRun)
		},
	}
	cmd.Flags().BoolVar(&dryRun, "dry-run", false, "read and check the backup, and change nothing")
	cmd.Flags().BoolVar(&undo, "undo", false, "put back what the last restore has kept aside")
	return cmd
}

func (a *app) restore(ctx context.Context, path string, dryRun bool) error {
	w, err := a.readBackup(ctx, path)
	if err != nil {
		return unchanged(fmt.Sprintf("restoring %q", path), err)
	}
	n := copies(w.Collection.Copies().Len())
	if dryRun {
		a.printf("%q is whole: %s%s would be restored. Nothing was changed.\n", path, n, made(w))
		return nil
	}
	p := a.progress()
	r, err := backup.Restore(ctx, a.storeDir(), w, "restored the cupboard from "+filepath.Base(path), time.Now(), p.tell)
	p.end()
	if err != nil {
		return unchanged(fmt.Sprintf("restoring %q", path), err)
	}
	a.printf("restored: %s%s.\n", n, made(w))
	a.sayAside(r)
	return nil
}

func (a *app) undoRestore(ctx context.Context) error {
	p := a.progress()
	r, err := backup.Return(ctx, a.storeDir(), time.Now(), p.tell)
	p.end()
	if err != nil {
		return unchanged("undoing the last restore", err)
	}
	a.printf("the store from before the restore is back, with %s.\n", copies(r.Collection.Copies().Len()))
	a.sayAside(r)
	return nil
}

func (a *app) sayAside(r backup.Restored) {
	if r.Aside != "" {
		a.printf("The store as it was is kept in %q.\nTo have that back: %s\nWhen you are sure that you will not need it, remove that folder.\n", r.Aside, a.again("restore --undo"))
	}
}
