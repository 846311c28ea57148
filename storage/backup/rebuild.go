package backup

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/storage/journal"
	"example.org/tuckrow/storage/whole"
)

// rebuilt is how the name of a folder begins in which a rebuild keeps the store
// as it was; behind it stands when.
const rebuilt = "before-rebuild-"

// Rebuilt says what a rebuild has done.
type Rebuilt struct {
	Collection *model.Collection // as the store has it now
	From       string            // the backup it begins with; empty: with the journal, or with the store as it was
	Changes    int               // that came from the journal
	Lost       []string          // what the journal had and could not be read, or not be put anywhere
	Journal    bool              // only the journal was damaged and is begun anew
	Aside      string            // the folder with what was replaced
}

// Rebuild makes the store in a folder anew of its newest good backup and what
// the journal says came after it, or of the journal alone where that goes back
// to the beginning. Where the store as it is can be read and is further on than
// what comes of that, it is made anew of itself; where all of it is whole but the
// journal, only that goes aside, and the next opening begins another. The new store is read back
// before it takes the place of the old one, which is kept aside; until then an
// error, a kill or the end of the context leaves all as it was.
func Rebuild(ctx context.Context, dir string, now time.Time, p Progress) (r Rebuilt, err error) {
	release, err := take(dir)
	if err != nil {
		return r, err
	}
	defer func() { release() }()
	p("reading the journal and the backups", 0, 0)
	plan, err := planOf(ctx, dir)
	if err != nil {
		return r, err
	}
	release() // the store has a lock of its own
	standing, journalOnly, openErr := standing(dir)
	if errors.Is(openErr, model.ErrInUse) || errors.Is(openErr, model.ErrNoRoom) || errors.Is(openErr, model.ErrNewer) {
		return r, openErr
	}
	if release, err = take(dir); err != nil {
		release = func() {}
		return r, err
	}
	switch {
	case standing != nil && journalOnly && (plan == nil || standing.Rev() >= plan.last()):
		plan = &recipe{base: standing, keep: true}
	case standing != nil && (plan == nil || standing.Rev() > plan.last()):
		plan = &recipe{base: standing, lost: plan.missing()}
	}
	if plan == nil {
		return r, fmt.Errorf("%w, and there is no good backup and no journal to build it anew from; look for a copy elsewhere: tuckrow restore FILE", openErr)
	}
	if err := room(dir, cmp.Or(plan.base, model.NewCollection())); err != nil {
		return r, err
	}
	r.From, r.Changes, r.Lost, r.Journal = plan.from, len(plan.changes), plan.missing(), plan.keep
	r.Collection, r.Aside, err = plan.carryOut(ctx, dir, now, p)
	return r, err
}

// standing is what the store as it is holds, nil when it cannot be read, and
// whether all of it is whole but the journal.
func standing(dir string) (c *model.Collection, journalOnly bool, err error) {
	s, err := storage.Open(dir, storage.Options{})
	if err != nil {
		return nil, false, err
	}
	_, err = s.Verify()
	return s.Collection(), errors.As(err, new(*journal.DamageError)), s.Close()
}

// recipe is what a store can be made of.
type recipe struct {
	base    *model.Collection // nil: the first change is whole
	from    string            // the backup that base is from
	changes []*journal.Change
	journal bool     // the journal leads to its end, and can be gone on with
	keep    bool     // Badger's files are base already
	lost    []string // what is not in it
}

func (b *recipe) last() uint64 {
	switch {
	case len(b.changes) > 0:
		return b.changes[len(b.changes)-1].Rev
	case b.base != nil:
		return b.base.Rev()
	}
	return 0
}

func (b *recipe) missing() []string {
	if b == nil {
		return nil
	}
	return b.lost
}

// planOf finds what to build a store of; nil when there is nothing.
func planOf(ctx context.Context, dir string) (*recipe, error) {
	runs, lost := runsOf(storage.JournalFolder(dir))
	all, err := List(Folder(dir))
	if err != nil {
		return nil, err
	}
	var newest *recipe // that the journal does not lead on from
	for _, d := range slices.Backward(all) {
		w, err := Read(ctx, d.Path, NoProgress)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil || w.Made.IsZero() {
			continue
		}
		base, err := model.Build(w.Revision, w.Collection.Counters(), w.Collection.Records())
		if err != nil {
			return nil, err
		}
		mark, err := storage.MarkOf(base)
		if err != nil {
			return nil, err
		}
		b := &recipe{base: base, from: d.Path}
		for i, run := range slices.Backward(runs) {
			if at := slices.IndexFunc(run, func(c *journal.Change) bool { return c.Mark == mark }); at >= 0 {
				b.changes = after(run, at, mark)
				b.journal = i == len(runs)-1 && len(lost) == 0
				b.lost = append(slices.Clone(lost), titles(runs[i+1:])...)
				break
			}
		}
		if b.journal {
			return b, nil
		}
		if newest == nil {
			if newest = b; b.lost == nil {
				b.lost = append(slices.Clone(lost), titles(runs)...)
			}
		}
	}
	for i, run := range slices.Backward(runs) {
		at := lastWhole(run)
		if at < 0 {
			continue
		}
		b := &recipe{changes: run[at:], journal: i == len(runs)-1 && len(lost) == 0, lost: append(slices.Clone(lost), titles(runs[i+1:])...)}
		if newest == nil || b.last() > newest.last() {
			return b, nil
		}
		break
	}
	return newest, nil
}

// runsOf reads a journal as runs of changes that follow each other, and lists
// what keeps them apart.
func runsOf(dir string) (runs [][]*journal.Change, lost []string) {
	next := true
	for c, err := range journal.Read(dir) {
		damage := (*journal.DamageError)(nil)
		if errors.As(err, &damage) && damage.Tail {
			continue // a change that was not finished
		}
		if err != nil {
			lost, next = append(lost, err.Error()), true
			continue
		}
		if n := len(runs); !next && !c.Whole && c.Rev > runs[n-1][len(runs[n-1])-1].Rev+1 {
			next = true
		}
		if next {
			runs, next = append(runs, nil), false
		}
		runs[len(runs)-1] = append(runs[len(runs)-1], c)
	}
	if runs == nil {
		lost = append(lost, "there is no journal; what came after the backup is not known")
	}
	return runs, lost
}

// after is what comes after a place in a run. What is at the same mark, as the
// head of a file is, brings nothing.
func after(run []*journal.Change, at int, mark journal.Mark) []*journal.Change {
	for at < len(run) && run[at].Mark == mark {
		at++
	}
	return run[at:]
}

func lastWhole(run []*journal.Change) int {
	for i, c := range slices.Backward(run) {
		if c.Whole {
			return i
		}
	}
	return -1
}

// titles names the changes of runs.
func titles(runs [][]*journal.Change) (list []string) {
	for _, run := range runs {
		for _, c := range run {
			if c.Title != "" {
				list = append(list, fmt.Sprintf("revision %d, %s: %s", c.Rev, c.At.Format("2 January 2006, 15:04"), c.Title))
			}
		}
	}
	return list
}

// carryOut makes the new store and puts it in place.
func (b *recipe) carryOut(ctx context.Context, dir string, now time.Time, p Progress) (c *model.Collection, kept string, err error) {
	from, err := whole.Unfinished(dir, "rebuilding")
	if err != nil {
		return nil, "", err
	}
	var goes []string
	if c = b.base; !b.keep {
		p("making the store anew", 0, 0)
		goes = append(goes, filepath.Base(storage.BadgerFolder(dir)))
		if c, err = storage.Remake(from, b.base, b.changes); err == nil {
			err = os.Remove(filepath.Join(from, storage.Log)) // there is one
		}
	}
	if err == nil {
		err = ctx.Err()
	}
	kept = freeName(dir, rebuilt+now.Format("2006-01-02-150405"), "")
	if !b.journal {
		goes = append(goes, filepath.Base(storage.JournalFolder(dir)))
	}
	if err == nil {
		stays := func(name string) bool { return !slices.Contains(goes, name) }
		err = whole.Switch(dir, filepath.Base(from), kept, stays, func() { p("putting it in place", 0, 0) })
	}
	if err != nil {
		return nil, "", errors.Join(err, os.RemoveAll(from))
	}
	if os.Remove(filepath.Join(dir, kept)) == nil { // it was empty: there was no store
		return c, "", nil
	}
	return c, filepath.Join(dir, kept), nil
}
