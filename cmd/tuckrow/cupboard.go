package main

import (
	"context"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/desk"
)

// cupboard is what a command works on: the store that this process has opened,
// that of the interface in which the command is run for another terminal, or
// the newest backup while nothing better can be had. Errors are those of
// storage.Store.
type cupboard interface {
	Dir() string
	Collection() *model.Collection
	Commit(context.Context, model.Change) (model.Commit, error)
	Undo(context.Context) (model.Commit, error)
	Fill(ctx context.Context, c *model.Collection, title string) (model.Commit, error)
	Verify() (int, error)
	Dropped(since uint64) (int, error)
	// Layout is the collection, arranged.
	Layout() *ordering.Layout
	// Index finds things in the collection. Making it takes longer than Find does
	// without.
	Index() *lookup.Index
	// Find looks words up, as lookup.Find does.
	Find(words string, limit int) (lookup.Found, map[model.PatternID][]model.Accession)
}

// own is the store that this process has opened.
type own struct{ *storage.Store }

func (o own) Layout() *ordering.Layout { return ordering.Arrange(o.Collection()) }

func (o own) Index() *lookup.Index { return lookup.New(o.Collection()) }

func (o own) Find(words string, limit int) (lookup.Found, map[model.PatternID][]model.Accession) {
	return lookup.Find(o.Collection(), words, limit)
}

// withStore gives a command the cupboard to work on. It is called once, before
// the command reads or prints anything: where the interface has the store
// open, the whole command is run there instead, from its beginning.
func (a *app) withStore(do func(c cupboard) error) error {
	if a.lent != nil {
		return do(a.lent)
	}
	return a.reach(func(s *storage.Store) error { return a.working(s, do) }, a.visit, func(b *backedUp) error { return do(b) })
}

// withShelf is withStore for a command that reads, arranged.
func (a *app) withShelf(do func(l *ordering.Layout) error) error {
	return a.withStore(func(c cupboard) error { return do(c.Layout()) })
}

// working runs a command on a store that is open here.
func (a *app) working(s *storage.Store, do func(c cupboard) error) error {
	before := s.Collection().Rev()
	err := do(own{s})
	if s.Collection().Rev() != before {
		a.backUpDaily(context.WithoutCancel(a.ctx), s)
	}
	return err
}

// inTurn makes a change in its turn, and the screens know it then: what
// frame.Outside does.
type inTurn interface {
	Do(ctx context.Context, change func() (model.Commit, error)) (model.Commit, error)
}

// lent is the store of the interface, lent to one command that another
// terminal has typed: what it writes is on the screens at once.
type lent struct {
	*storage.Store
	outside inTurn
	desk    *desk.Desk
	seen    *model.Collection // that the command works things out from
	wrote   bool
}

// Collection is the cupboard as it is now.
func (l *lent) Collection() *model.Collection {
	c := l.Store.Collection()
	if l.seen == nil {
		l.seen = c
	}
	return c
}

// onDesk is what lies on the desk of the interface, if that is of the collection
// that this command works from.
func (l *lent) onDesk() (*ordering.Layout, *lookup.Index, bool) {
	on, x := l.desk.Now()
	return on, x, on.Collection() == l.Collection()
}

// Layout is mostly the one that the screens have.
func (l *lent) Layout() *ordering.Layout {
	if on, _, same := l.onDesk(); same {
		return on
	}
	return ordering.Arrange(l.Collection())
}

// Index is mostly the one that the screens have.
func (l *lent) Index() *lookup.Index {
	if _, x, same := l.onDesk(); same {
		return x
	}
	return lookup.New(l.Collection())
}

func (l *lent) Find(words string, limit int) (lookup.Found, map[model.PatternID][]model.Accession) {
	_, x, same := l.onDesk()
	if !same {
		return lookup.Find(l.Collection(), words, limit)
	}
	f, copies := x.Find(words, limit), map[model.PatternID][]model.Accession{}
	for _, p := range f.Patterns {
		copies[p] = x.Copies(p)
	}
	return f, copies
}

// errMoved: what a command has worked out is of a cupboard that has changed
// meanwhile, in the interface or by another command. Nothing was written.
var errMoved = &movedError{}

type movedError struct{}

func (*movedError) Error() string {
	return "the cupboard was changed meanwhile, in the interface or by another command, and this was not done; run it again"
}

func (*movedError) Unwrap() error { return model.ErrInUse }

// write makes a change in its turn, if what the command has seen is still so.
func (l *lent) write(ctx context.Context, change func() (model.Commit, error)) (model.Commit, error) {
	commit, err := l.outside.Do(ctx, func() (model.Commit, error) {
		if l.seen != nil && l.seen.Rev() != l.Store.Collection().Rev() {
			return model.Commit{}, errMoved
		}
		return change()
	})
	if err == nil {
		l.wrote, l.seen = true, nil
	}
	return commit, err
}

func (l *lent) Commit(ctx context.Context, ch model.Change) (model.Commit, error) {
	return l.write(ctx, func() (model.Commit, error) { return l.Store.Commit(ctx, ch) })
}

func (l *lent) Undo(ctx context.Context) (model.Commit, error) {
	return l.write(ctx, func() (model.Commit, error) { return l.Store.Undo(ctx) })
}

func (l *lent) Fill(ctx context.Context, c *model.Collection, title string) (model.Commit, error) {
	return l.write(ctx, func() (model.Commit, error) { return l.Store.Fill(ctx, c, title) })
}
