package backup

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/whole"
)

// aside is how the name of a folder begins in which a restore keeps the store
// as it was; behind it stands when.
const aside = "before-restore-"

// Restored says what a restore has done.
type Restored struct {
	Collection *model.Collection // as the store has it now
	Aside      string            // the folder with the store as it was; empty when there was none
}

// Restore makes the store in a folder what a backup holds, which was read whole
// already. A new store is made of it beside the old one and read back, and only
// then the two change places. Until that moment an error, a kill or the end of
// the context leaves all as it was; from then on a kill leaves the new one,
// which the next opening puts in place. Errors wrap model.ErrInUse or
// model.ErrNoRoom where that is what is wrong.
func Restore(ctx context.Context, dir string, w *Whole, title string, now time.Time, p Progress) (r Restored, err error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return r, err
	}
	release, err := take(dir)
	if err != nil {
		return r, err
	}
	defer release()
	if err := room(dir, w.Collection); err != nil {
		return r, err
	}
	from, err := whole.Unfinished(dir, "restoring")
	if err != nil {
		return r, err
	}
	r.Collection, err = build(from, w.Collection, title, p)
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		r.Aside, err = changePlaces(ctx, dir, from, r.Collection, now, p)
	}
	if err != nil {
		err = errors.Join(err, os.RemoveAll(from)) // gone already when all went well
	}
	return r, err
}

// Return puts the store in place that the last restore has kept aside, after
// it was opened and read whole, and keeps the one of now aside in turn.
func Return(ctx context.Context, dir string, now time.Time, p Progress) (r Restored, err error) {
	release, err := take(dir)
	if err != nil {
		return r, err
	}
	defer release()
	from, err := lastAside(dir)
	if err != nil {
		return r, err
	}
	p("reading what was kept aside", 0, 0)
	verify := func(s *storage.Store) error { _, err := s.Verify(); return err }
	if r.Collection, err = readBack(from, verify); err != nil {
		return r, fmt.Errorf("what was kept aside stays where it is: %w", err)
	}
	r.Aside, err = changePlaces(ctx, dir, from, r.Collection, now, p)
	return r, err
}

// lastAside finds what the last restore has kept.
func lastAside(dir string) (string, error) {
	inside, err := os.ReadDir(dir) // by name, which is by time
	for _, e := range slices.Backward(inside) {
		if e.IsDir() && strings.HasPrefix(e.Name(), aside) {
			return filepath.Join(dir, e.Name()), nil
		}
	}
	return "", errors.Join(err, model.Inputf("%q keeps nothing from before a restore; the backups that there are: tuckrow backup --list", dir))
}

// take locks a folder, and finishes first what a kill has left of an earlier
// restore.
func take(dir string) (release func(), err error) {
	f, err := whole.Lock(dir)
	if errors.Is(err, model.ErrInUse) {
		who, _ := os.ReadFile(filepath.Join(dir, "holder")) // only to say it
		by := ""
		if len(who) > 0 {
			by = " by " + strings.TrimSpace(string(who))
		}
		return nil, fmt.Errorf("%w%s; close it there and try again", err, by)
	}
	if err != nil {
		return nil, err
	}
	if err := whole.Finish(dir); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return func() { _ = f.Close() }, nil
}

// build makes a store of a whole cupboard in a new folder, and opens it once
// more to see that all of it came to disk.
func build(dir string, c *model.Collection, title string, p Progress) (*model.Collection, error) {
	p("making a store of it", 0, 0)
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return nil, err
	}
	_, err = s.Begin(context.Background(), c, title)
	if err = errors.Join(err, s.Close()); err != nil {
		return nil, err
	}
	p("reading the store back", 0, 0)
	same := func(s *storage.Store) error {
		want, err := sumOf(c)
		if err != nil {
			return err
		}
		got, err := sumOf(s.Collection())
		if err == nil && got != want {
			err = fmt.Errorf("%w: what came to disk is not what was written; do not trust this disk", model.ErrDamaged)
		}
		return err
	}
	return readBack(dir, same)
}

// readBack opens a store, has it checked, and closes it.
func readBack(dir string, check func(*storage.Store) error) (*model.Collection, error) {
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return nil, err
	}
	return s.Collection(), errors.Join(check(s), s.Close())
}

func sumOf(c *model.Collection) (sum [sha256.Size]byte, err error) {
	h := sha256.New()
	err = exchange.WriteJSONL(h, c)
	return [sha256.Size]byte(h.Sum(nil)), err
}

// changePlaces puts the store in the folder from in place, and gives the folder
// in which the one of now is kept. The backup of today is made of the new one
// first: what comes later is to be compared with that, and not with what was
// before.
func changePlaces(ctx context.Context, dir, from string, c *model.Collection, now time.Time, p Progress) (string, error) {
	if err := asToday(ctx, Folder(dir), c, now, p); err != nil {
		return "", err
	}
	kept := freeName(dir, aside+now.Format("2006-01-02-150405"), "")
	err := whole.Switch(dir, filepath.Base(from), kept, stays, func() { p("putting it in place", 0, 0) })
	if err != nil {
		return "", err
	}
	if os.Remove(filepath.Join(dir, kept)) == nil { // it was empty: there was no store
		return "", nil
	}
	return filepath.Join(dir, kept), nil
}

// asToday makes the backup of today. The one that was there is kept under
// another name.
func asToday(ctx context.Context, folder string, c *model.Collection, now time.Time, p Progress) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return err
	}
	today := now.Format(time.DateOnly)
	path := filepath.Join(folder, today+ext)
	kept := filepath.Join(folder, freeName(folder, today+"."+aside+now.Format("150405"), ext))
	had := exists(path)
	if had {
		if err := os.Rename(path, kept); err != nil {
			return err
		}
	}
	_, err := write(ctx, path, c, now, p)
	if err != nil && had {
		err = errors.Join(err, os.Rename(kept, path))
	}
	return err
}

// stays tells what a restore leaves in the folder of a store: all that is not the
// store itself, as drafts, backups, what earlier restores kept aside, and somebody's
// own files, which nobody would look for in a folder that is to be removed one day.
func stays(name string) bool {
	of := []string{storage.BadgerFolder(""), storage.JournalFolder(""), storage.Log}
	return !slices.Contains(of, name)
}

// freeName gives a name that nothing in a folder has yet.
func freeName(dir, name, ext string) string {
	for n := 1; ; n++ {
		free := name + ext
		if n > 1 {
			free = fmt.Sprintf("%s-%d%s", name, n, ext)
		}
		if !exists(filepath.Join(dir, free)) {
			return free
		}
	}
}

func exists(path string) bool {
	_, err := os.Lstat(path)
	return !errors.Is(err, fs.ErrNotExist)
}
