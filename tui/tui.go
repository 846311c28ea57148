// Package tui is the interface at the shelf: rooms of work for one person with
// full hands, each a screen of its own in a package of its own, in one frame.
//
// The usual way in is [Run] with an open store and a terminal.
package tui

import (
	"context"
	"os"
	"slices"

	"github.com/charmbracelet/bubbles/key"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/buying"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/press"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/sewing"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/stocktake"
	"example.org/tuckrow/tui/theme"
)

// Run opens the interface on a terminal and returns when the user leaves it,
// with everything that was entered written.
func Run(ctx context.Context, s frame.Store, o Options, in, out *os.File) error {
	t := frame.ThemeFor(out)
	d := desk.New(s.Collection())
	rooms := RoomsOn(d, s, t)
	f := frame.Options{Rooms: rooms, Start: Start(rooms, s.Collection()), Store: s, Prepare: d.Prepare, Theme: t, Title: o.Title, Standing: o.Standing, Suspend: o.Suspend, BeforeSleep: o.BeforeSleep}
	if o.Started != nil {
		f.Started = func(outside *frame.Outside) { o.Started(outside, d) }
	}
	return frame.Run(ctx, f, in, out)
}

// Options say what there is beside the rooms: as in frame.Options. Who changes
// the store from outside may look at the desk, too.
type Options struct {
	Title    string
	Standing string
	Started  func(*frame.Outside, *desk.Desk)
	Suspend  func()

	BeforeSleep func(context.Context)
}

// Start is the room to begin in: Intake where an entry was left half typed or
// nothing is listed yet, else Find.
func Start(rooms []frame.Room, c *model.Collection) string {
	begun := slices.ContainsFunc(rooms, func(r frame.Room) bool {
		in, ok := r.Screen.(*intake.Screen)
		return ok && in.Begun()
	})
	if begun || c.Copies().Len() == 0 {
		return intake.ID
	}
	return find.ID
}

// Rooms makes the rooms of work on one desk.
func Rooms(s frame.Store, t *theme.Theme) []frame.Room {
	return RoomsOn(desk.New(s.Collection()), s, t)
}

// RoomsOn makes them on a desk that is there.
func RoomsOn(d *desk.Desk, s frame.Store, t *theme.Theme) []frame.Room {
	if dated, ok := s.(interface{ Today() model.Date }); ok {
		d.Today = dated.Today
	}
	kept, _ := s.(drafts.Store) // a store that keeps none is fine
	return []frame.Room{
		{ID: intake.ID, Title: "Intake", Key: bind("ctrl+n", "intake"), Screen: intake.New(d, t, intake.Options{Drafts: drafts.New(kept, "draft")})},
		{ID: find.ID, Title: "Find", Key: bind("ctrl+f", "find"), Screen: find.New(d, t, drafts.New(kept, "draft-find"))},
		{ID: refile.ID, Title: "Refile", Key: bind("ctrl+r", "refile"), Screen: refile.New(d, t, drafts.New(kept, "draft-refile"))},
		{ID: shelf.ID, Title: "Shelf", Key: bind("ctrl+b", "shelf"), Screen: shelf.New(d, t, drafts.New(kept, "draft-shelf"))},
		{ID: split.ID, Title: "Split", Key: bind("ctrl+p", "split"), Screen: split.New(d, t)},
		{ID: press.ID, Title: "Print", Key: bind("f5", "print"), Screen: press.New(d, t, press.Options{})},
		{ID: binders.ID, Title: "Binders", Key: bind("f2", "binders"), Screen: binders.New(d, t, drafts.New(kept, "draft-binders"))},
		{ID: buying.ID, Title: "Buying", Key: bind("f3", "buying"), Screen: buying.New(d, t, drafts.New(kept, "draft-buying"))},
		{ID: sewing.ID, Title: "Sewing", Key: bind("f4", "sewing"), Screen: sewing.New(d, t, drafts.New(kept, "draft-sewing"))},
		{ID: stocktake.ID, Title: "Stocktake", Key: bind("f7", "stocktake"), Screen: stocktake.New(d, t, drafts.New(kept, "draft-stocktake"))},
		{ID: collection.ID, Title: "Collection", Key: bind("f6", "collection"), Screen: collection.New(d, t, drafts.New(kept, "draft-collection"), drafts.New(kept, "draft-takein"))},
	}
}

func bind(k, what string) key.Binding {
	return key.NewBinding(key.WithKeys(k), key.WithHelp(k, what))
}
