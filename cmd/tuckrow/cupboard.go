package main

import (
	"context"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage"
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
	return a.withStore(func(c cupboard) error { return do(ordering.Arrange(c.Collection())) })
}

// working runs a command on a store that is open here.
func (a *app) working(s *storage.Store, do func(c cupboard) error) error {
	before := s.Collection().Rev()
	err := do(s)
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
