// Package desk holds what the screens work on together: the cupboard in filing
// order, and the index that finds things in it.
//
// The usual way in is [New], then [Desk.Follow] from whichever screen hears of
// a change first; following it again costs nothing.
package desk

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
)

// Desk is for the one goroutine that runs the interface; others may see what
// lies on it Now.
type Desk struct {
	Layout *ordering.Layout
	Index  *lookup.Index
	Known  *propose.Known
	Today  func() model.Date // by the clock that changes are dated by
	mu     sync.RWMutex      // held while what is on the desk changes

	preparing sync.Mutex
	ahead     *Desk // of the latest large change; nil: none, or it is on the desk
}

// large is from how many records on a change is prepared aside. Below, to follow it
// record by record is quicker than a frame.
const large = 2000

// Prepare works out aside what Follow will lay on the desk, where a change is so
// large that keys would wait for it. It is called before Follow, for one change
// after another.
func (d *Desk) Prepare(commit model.Commit) {
	if len(commit.Delta) < large {
		return
	}
	c := commit.Collection
	next := New(c)
	d.preparing.Lock()
	defer d.preparing.Unlock()
	d.ahead = next
}

// prepared is what was prepared of a collection; nil where nothing was.
func (d *Desk) prepared(c *model.Collection) *Desk {
	d.preparing.Lock()
	defer d.preparing.Unlock()
	if next := d.ahead; next != nil && next.Collection() == c {
		d.ahead = nil
		return next
	}
	return nil
}

// New lays a collection on the desk, with what the first keys would wait for.
func New(c *model.Collection) *Desk {
	d := &Desk{Today: today}
	var work sync.WaitGroup
	work.Go(func() { d.Index = lookup.New(c) })
	work.Go(func() { d.Known = propose.New(c) })
	c.Steps() // is counted once, and shown at once
	d.Layout = ordering.Arrange(c)
	if boxes := c.Shelf().Boxes; len(boxes) > 0 {
		d.Layout.StandingIn(boxes[0].ID) // what stands in one is seen by what stands in all
	}
	work.Wait()
	return d
}

func today() model.Date { return model.Date(time.Now().Format(time.DateOnly)) }

// Collection is the cupboard as it is now.
func (d *Desk) Collection() *model.Collection { return d.Layout.Collection() }

// Follow takes a change along, once.
func (d *Desk) Follow(commit model.Commit) {
	if commit.Collection.Rev() <= d.Collection().Rev() {
		return
	}
	next := d.prepared(commit.Collection)
	d.mu.Lock()
	defer d.mu.Unlock()
	if next != nil {
		d.Layout, d.Index, d.Known = next.Layout, next.Index, next.Known
		return
	}
	d.Layout = d.Layout.Next(commit)
	d.Index = d.Index.Next(commit)
	d.Known.Follow(commit)
}

// Now gives any goroutine what lies on the desk, both of one revision.
func (d *Desk) Now() (*ordering.Layout, *lookup.Index) {
	d.mu.RLock()
	defer d.mu.RUnlock()
	return d.Layout, d.Index
}

// named is a name to choose, and how much it is used.
type named struct {
	name string
	used int
}

// Publishers lists the names of the publishers that begin with what was typed,
// in any of their words: those that begin so altogether first, and of these
// the ones with most patterns, so that one letter mostly will do.
func (d *Desk) Publishers(typed string) []string {
	var names []named
	for _, p := range d.Collection().Publishers().All() {
		names = append(names, named{p.Name, d.Known.Publisher(p.ID)})
	}
	return begin(names, typed)
}

// Categories does the same for categories.
func (d *Desk) Categories(typed string) []string {
	var names []named
	for _, k := range d.Collection().Categories().All() {
		names = append(names, named{k.Name, d.Known.Category(k.ID)})
	}
	return begin(names, typed)
}

// Batches does the same for batches, the latest begun first.
func (d *Desk) Batches(typed string) []string {
	var names []named
	for _, b := range d.Collection().Batches().All() {
		names = append(names, named{b.Name, int(b.ID)})
	}
	return begin(names, typed)
}

func begin(names []named, typed string) []string {
	q := words.Fold(typed)
	if q == "" {
		return nil
	}
	var first, later []named
	for _, n := range names {
		fold := words.Fold(n.name)
		switch {
		case strings.HasPrefix(fold, q):
			first = append(first, n)
		case strings.Contains(fold, " "+q):
			later = append(later, n)
		}
	}
	var out []string
	for _, list := range [][]named{first, later} {
		slices.SortFunc(list, func(a, b named) int {
			return cmp.Or(cmp.Compare(b.used, a.used), strings.Compare(a.name, b.name))
		})
		for _, n := range list {
			out = append(out, n.name)
		}
	}
	return out
}
