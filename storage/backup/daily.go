package backup

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/whole"
)

// Folder is where the daily backups of a store lie.
func Folder(store string) string { return filepath.Join(store, "backups") }

// ext is how the names of backups end; before it stands the day.
const ext = ".jsonl"

// Dated is one of the daily backups.
type Dated struct {
	Day  model.Date
	Path string
	Size int64 // bytes
	exchange.Stamp
	Err error // when it cannot be one, as far as a glance at it tells
}

// List lists the daily backups in a folder, the earliest first. What has
// another name is none.
func List(folder string) ([]Dated, error) {
	inside, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	var all []Dated
	for _, e := range inside {
		day, ok := strings.CutSuffix(e.Name(), ext)
		if _, bad := time.Parse(time.DateOnly, day); !ok || bad != nil {
			continue
		}
		d := Dated{Day: model.Date(day), Path: filepath.Join(folder, e.Name())}
		if info, err := e.Info(); err == nil {
			d.Size = info.Size()
		}
		d.Stamp, d.Err = glance(d.Path)
		all = append(all, d)
	}
	return all, err // by name is by day
}

// When says when Daily is to make a backup of a store that has changed since
// the last one.
type When int

const (
	OnceADay   When = iota // only if there is none of today
	EachChange             // the one of today is made anew
)

// Daily backs a store up into its folder, if it has changed since the newest
// backup there, and removes the backups that are no longer kept. A store that
// has fallen behind its newest backup is backed up beside it, and the error is
// a *DoubtError. An error is to be told, and is no reason to stop: nothing was
// lost.
func Daily(ctx context.Context, s Journaled, now time.Time, when When, p Progress) error {
	if s.Dir() == "" { // in memory
		return nil
	}
	d := &day{ctx: ctx, store: s, c: s.Collection(), now: now, told: p, folder: Folder(s.Dir())}
	err := d.look()
	if err == nil && d.due(when) {
		err = d.save(when)
	}
	var doubt *DoubtError
	if err == nil || errors.As(err, &doubt) || errors.Is(err, context.Canceled) {
		return err
	}
	return fmt.Errorf("the daily backup is not as it should be: %w; what was entered is safe in the store", err)
}

// day is one making of a daily backup.
type day struct {
	ctx    context.Context
	store  Journaled
	c      *model.Collection
	now    time.Time
	told   Progress
	folder string

	earlier []Dated // good ones, as far as a glance tells
	newest  *Dated  // with which the store is compared
}

func (d *day) today() model.Date { return model.Date(d.now.Format(time.DateOnly)) }

// look finds the backups that are there. The one to compare with is the newest
// that is not of a day still to come, unless all are.
func (d *day) look() error {
	all, err := List(d.folder)
	for _, b := range all {
		if b.Err != nil || b.Made.IsZero() {
			continue
		}
		d.earlier = append(d.earlier, b)
		if d.newest == nil || b.Day <= d.today() || d.newest.Day > d.today() {
			d.newest = &b
		}
	}
	return err
}

// due tells whether there is anything to be done.
func (d *day) due(when When) bool {
	if d.newest == nil {
		return d.c.Rev() > 0 // something has happened to the store
	}
	changed := d.newest.Revision != d.c.Rev() || d.newest.Copies != d.c.Copies().Len()
	return changed && (when == EachChange || d.newest.Day != d.today())
}

func (d *day) save(when When) error {
	if err := os.MkdirAll(d.folder, 0o700); err != nil {
		return err
	}
	if err := room(d.folder, d.c); err != nil {
		return err
	}
	if err := whole.Clear(d.folder, ""); err != nil {
		return err
	}
	if d.newest != nil {
		if why := doubt(d.newest.Stamp, d.store, d.c); why != "" {
			return d.beside(why, when)
		}
	}
	path := filepath.Join(d.folder, string(d.today())+ext)
	if err := mayReplace(path); err != nil {
		return err
	}
	if _, err := write(d.ctx, path, d.c, d.now, d.told); err != nil {
		return err
	}
	return d.clear()
}

// beside backs a store up that must not take the place of its newest backup.
func (d *day) beside(why string, when When) error {
	path := filepath.Join(d.folder, string(d.today())+doubtful)
	if _, err := glance(path); err != nil || when == EachChange {
		if err := mayReplace(path); err != nil {
			return err
		}
		if _, err := write(d.ctx, path, d.c, d.now, d.told); err != nil {
			return err
		}
	}
	return &DoubtError{Why: why, Newest: d.newest.Path, Beside: path}
}

// clear removes the backups that are no longer kept, now that the one of today
// is there and was read back.
func (d *day) clear() error {
	days := []model.Date{d.today()}
	for _, b := range d.earlier {
		days = append(days, b.Day)
	}
	kept := Keep(days, d.today())
	var failed error
	for _, b := range d.earlier {
		if !slices.Contains(kept, b.Day) {
			failed = errors.Join(failed, os.Remove(b.Path))
		}
	}
	return errors.Join(failed, d.store.ForgetJournal(d.reach()))
}

// reach is the revision that the journal must go on from: that of the earliest
// of the backups of the last days, so that a damaged one leaves others.
func (d *day) reach() uint64 {
	rev := d.c.Rev()
	for i, b := range slices.Backward(d.earlier) {
		if len(d.earlier)-i < keptDays {
			rev = min(rev, b.Revision)
		}
	}
	return rev
}

// mayReplace tells whether the file at the place of a backup, if there is one,
// can give way to a new one: what is no backup is somebody's.
func mayReplace(path string) error {
	_, err := glance(path)
	if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, model.ErrDamaged) {
		return nil
	}
	return fmt.Errorf("%q is in its place: %w; move it away", path, err)
}

// DoubtError says that a store has fallen behind its newest backup.
type DoubtError struct {
	Why    string
	Newest string // the newest backup
	Beside string // where the store as it is was backed up
}

func (e *DoubtError) Error() string {
	return fmt.Sprintf("look at this before you go on: of the newest backup, %q, %s.\n"+
		"The store as it is was backed up beside it, and no backup was removed.\n"+
		"To have the cupboard as in that backup: tuckrow restore %q\n"+
		"If the store is right as it is:         mv %q %q",
		e.Newest, e.Why, e.Newest, e.Beside, strings.TrimSuffix(e.Beside, doubtful)+ext)
}

// doubtful is how the name of a backup ends that must not take the place of
// another.
const doubtful = ".doubtful" + ext

// spare is how much room a backup leaves on the disk: where a disk is full,
// Badger ends the program that has a store open on it.
const spare = 64 << 20

// room tells whether there is enough on the disk for a copy of the cupboard.
func room(dir string, c *model.Collection) error {
	const perCopy = 1 << 10 // three times what one takes in the sample cupboards
	free, known := whole.Free(dir)
	if need := uint64(spare + perCopy*c.Copies().Len()); known && free < need {
		return fmt.Errorf("%w on the disk of %q: %d MiB are free, and %d MiB should be", model.ErrNoRoom, dir, free>>20, need>>20)
	}
	return nil
}
