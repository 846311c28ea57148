package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/backup"
	"example.org/tuckrow/storage/exchange"
	"github.com/spf13/cobra"
)

func (a *app) backupCommand() *cobra.Command {
	var list bool
	cmd := &cobra.Command{
		Use:   "backup FILE",
		Short: "Back the whole cupboard up into a file, and read it back",
		Long: `Writes the whole cupboard into a file, on a stick for example, reads it back, and
only then puts it in place. A file that is there is replaced if it is an older
backup of this cupboard, and no other.

By itself tuckrow makes a backup each day on which something changes, in the
folder backups of the store. Kept are the newest 7 days, the newest of each of
the newest 4 weeks and of the newest 12 months; --list shows them. restore
brings one back.`,
		Example: "  tuckrow backup /media/stick/cupboard.jsonl\n  tuckrow backup --list",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case list && len(args) > 0:
				return model.Inputf("--list lists the daily backups and takes no FILE; to look at one: tuckrow verify %q", args[0])
			case list:
				return a.listBackups()
			}
			if err := oneArg("the FILE to back up into, or --list")(cmd, args); err != nil {
				return err
			}
			return a.withCopy(func(s backup.Store) error { return a.backUp(cmd.Context(), s, args[0]) })
		},
	}
	cmd.Flags().BoolVar(&list, "list", false, "list the daily backups")
	return a.reads(cmd)
}

func (a *app) backUp(ctx context.Context, s backup.Store, path string) error {
	p := a.progress()
	stamp, err := backup.Write(ctx, path, s, time.Now(), p.tell)
	p.end()
	if err != nil {
		return unchanged("backing up", err)
	}
	a.printf("%s backed up into %q and read back; all of it is there.\n", copies(stamp.Copies), path)
	return nil
}

// listedBackup is a daily backup in JSON.
type listedBackup struct {
	Day     model.Date `json:"day"`
	File    string     `json:"file"`
	Bytes   int64      `json:"bytes"`
	Problem string     `json:"problem,omitempty"`
	exchange.Stamp
}

func (a *app) listBackups() error {
	folder := backup.Folder(a.storeDir())
	all, err := backup.List(folder)
	if err != nil {
		return fmt.Errorf("listing the backups: %w", err)
	}
	out, rows := []listedBackup{}, [][]string(nil)
	today := model.Date(time.Now().Format(time.DateOnly))
	for _, b := range all {
		l := listedBackup{Day: b.Day, File: b.Path, Bytes: b.Size, Stamp: b.Stamp}
		switch {
		case b.Err != nil:
			l.Problem = b.Err.Error()
		case b.Day > today:
			l.Problem = "of a day still to come: while it lies there none is cleared away; move it if the clock was wrong"
		}
		out = append(out, l)
		rows = append(rows, []string{string(b.Day), clock(b.Made), copies(b.Copies), size(b.Size), l.Problem})
	}
	if a.json {
		return a.printJSON(out)
	}
	if len(rows) == 0 {
		a.printf("there are no daily backups yet. A command that changes something makes the first,\nand so does the interface: within ten minutes, and when it is closed.\n")
		return nil
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf("They lie in %q.\nTo see whether one is whole: tuckrow verify FILE\nTo bring one back: %s\n", folder, a.again("restore FILE"))
	return nil
}

// size writes how large a file is.
func size(n int64) string {
	if n < 1e6 {
		return fmt.Sprintf("%d kB", (n+999)/1000)
	}
	return fmt.Sprintf("%.1f MB", float64(n)/1e6)
}

func clock(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format("15:04")
}

// again is a command as the user would type it, on the store of this one.
func (a *app) again(command string) string {
	if a.dir == "" {
		return "tuckrow " + command
	}
	return fmt.Sprintf("tuckrow --store %q %s", a.dir, command)
}

// backUpDaily makes the backup of the day where it is due. That it could not be
// made is told and stops nothing.
func (a *app) backUpDaily(ctx context.Context, s *storage.Store) {
	p := a.progress()
	err := backup.Daily(ctx, s, time.Now(), backup.OnceADay, p.tell)
	p.end()
	a.tellBackup(err)
}

func (a *app) tellBackup(err error) {
	if err != nil && !errors.Is(err, context.Canceled) {
		fmt.Fprintf(a.err, "tuckrow: %s\n", words.Escape(err.Error()))
	}
}

// verifyFile reads a backup, or any export, and checks all of it.
func (a *app) verifyFile(ctx context.Context, path string) error {
	w, err := a.readBackup(ctx, path)
	if err != nil {
		return unchanged(fmt.Sprintf("verifying %q", path), err)
	}
	a.printf("%q is whole: %s%s.\n", path, copies(w.Collection.Copies().Len()), made(w))
	return nil
}

// unchanged says that nothing was changed. Who has stopped it need not be told
// why it ended.
func unchanged(doing string, err error) error {
	if errors.Is(err, context.Canceled) {
		return fmt.Errorf("%s: %w", doing, errStopped)
	}
	return fmt.Errorf("%s: nothing was changed: %w", doing, err)
}

// readBackup reads a backup and says what to do where it is none.
func (a *app) readBackup(ctx context.Context, path string) (*backup.Whole, error) {
	p := a.progress()
	w, err := backup.Read(ctx, path, p.tell)
	p.end()
	switch {
	case err == nil, errors.Is(err, model.ErrNewer), errors.Is(err, context.Canceled):
		return w, err
	case errors.Is(err, os.ErrNotExist), errors.Is(err, os.ErrPermission):
		return nil, unreadable(err)
	}
	return nil, fmt.Errorf("%w; name another file, the daily ones are listed by: %s", err, a.again("backup --list"))
}

// made says when a backup was made, where it says so itself.
func made(w *backup.Whole) string {
	if w.Made.IsZero() {
		return ""
	}
	return w.Made.Local().Format(" as of 2 January 2006, 15:04")
}
