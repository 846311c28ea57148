package shelf

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// draft is the furniture as it is being changed. It is kept, like a form that
// was left half filled in, until it is saved or thrown away by its key.
type draft struct {
	now, was furniture      // was: what it was made of
	renames  []model.Rename // of pieces that were there, by their names then
	changed  bool
	at       int // in its list
	form     *form
	version  int
	effect   *effect // of the version shows, at a revision
	shows    int
	rev      uint64
	checked  *model.Shelf // against which outrun is
	outrun   bool         // the shelf was changed otherwise
}

func newDraft(c *model.Collection) *draft {
	f := furnitureOf(c)
	return &draft{now: f.clone(), was: f}
}

func (d *draft) touch() {
	d.changed = true
	d.version++
}

// change is what saving the draft does. Publishers that were there and file as
// any does need no mention.
func (d *draft) change() *model.SetShelf {
	spec := d.now.clone().ShelfSpec
	spec.Publishers = slices.DeleteFunc(spec.Publishers, func(p model.PublisherSpec) bool {
		_, was := d.origin(aPublisher, p.Name)
		return was && plain(p)
	})
	return &model.SetShelf{Spec: spec, Renames: slices.Clone(d.renames)}
}

// fits tells whether the furniture is still what the draft was made of: saved
// otherwise, it would take back unseen what was changed since. Publishers and
// categories that have come with patterns make no difference.
func (d *draft) fits(c *model.Collection) bool {
	is, was := furnitureOf(c), d.was.clone()
	for _, f := range []*furniture{&is, &was} {
		f.Publishers = slices.DeleteFunc(f.Publishers, plain)
		f.Categories = nil
	}
	return alike(is, was)
}

// alike compares what would be written down: an empty list is like none.
func alike(a, b furniture) bool {
	x, errA := json.Marshal(a)
	y, errB := json.Marshal(b)
	return errA == nil && errB == nil && bytes.Equal(x, y)
}

// meet takes publishers and categories along that have come since.
func (d *draft) meet(c *model.Collection) {
	is := furnitureOf(c)
	for _, p := range is.Publishers {
		if plain(p) && d.was.find(aPublisher, p.Name) < 0 && d.now.find(aPublisher, p.Name) < 0 {
			d.was.Publishers, d.now.Publishers = append(d.was.clone().Publishers, p), append(d.now.clone().Publishers, p)
		}
	}
	for _, k := range is.Categories {
		if d.was.find(aCategory, k) < 0 && d.now.find(aCategory, k) < 0 {
			d.was.Categories, d.now.Categories = append(d.was.clone().Categories, k), append(d.now.clone().Categories, k)
		}
	}
}

// find is the index of the piece of that name, -1 where there is none.
func (f *furniture) find(k kind, name string) int {
	for i := range f.count(k) {
		if same(k, f.name(piece{k, i}), name) {
			return i
		}
	}
	return -1
}

// same tells whether two names are one, as the model takes them for the kind.
func same(k kind, a, b string) bool {
	if k.given() {
		return words.Fold(a) == words.Fold(b) && words.Fold(a) != "" || a == b
	}
	return strings.EqualFold(a, b)
}

// origin is the name by which a piece is saved so far; false when it is new.
func (d *draft) origin(k kind, name string) (string, bool) {
	for _, r := range d.renames {
		if r.Kind == named[k] && same(k, r.New, name) {
			return r.Old, true
		}
	}
	for _, r := range d.renames {
		if r.Kind == named[k] && same(k, r.Old, name) {
			return "", false // another piece was called so
		}
	}
	if i := d.was.find(k, name); i >= 0 {
		return d.was.name(piece{k, i}), true
	}
	return "", false
}

// clash finds another piece of the kind that has the name already.
func (d *draft) clash(p piece, isNew bool, name string) error {
	if named[p.kind] == "" || name == "" {
		return nil
	}
	for i := range d.now.count(p.kind) {
		if other := d.now.name(piece{p.kind, i}); (isNew || i != p.i) && same(p.kind, other, name) {
			return model.Inputf("%s %q is there already; give this one a name of its own, or rename that one first", kindNames[p.kind], other)
		}
	}
	return nil
}

// rename notes that a piece is called otherwise, and calls it so wherever the
// furniture names it.
func (d *draft) rename(k kind, from, to string) {
	old, was := d.origin(k, from)
	d.forget(k, from)
	if was && old != to {
		d.renames = append(d.renames, model.Rename{Kind: named[k], Old: old, New: to})
	}
	switch k {
	case aPublisher:
		for i, sec := range d.now.Sections {
			names := slices.Clone(sec.Publishers)
			for n := range names {
				if same(k, names[n], from) {
					names[n] = to
				}
			}
			d.now.Sections[i].Publishers = names
		}
	case aCategory:
		for i := range d.now.Binders {
			if b := &d.now.Binders[i]; same(k, b.Category, from) {
				b.Category = to
			}
		}
	}
}

// forget drops the renaming of a piece.
func (d *draft) forget(k kind, name string) {
	d.renames = slices.DeleteFunc(slices.Clone(d.renames), func(r model.Rename) bool { return r.Kind == named[k] && same(k, r.New, name) })
}

// droppable tells whether a piece can be taken away: a publisher that was there
// can only be made to file as any does.
func (d *draft) droppable(p piece) bool {
	switch {
	case p.i < 0 || p.kind == theSettings || p.kind == aCategory:
		return false
	case p.kind == aPublisher:
		_, was := d.origin(p.kind, d.now.name(p))
		return !was || !plain(d.now.Publishers[p.i])
	}
	return true
}

// drop takes a piece away, and tells whether it could.
func (d *draft) drop(p piece) bool {
	if !d.droppable(p) {
		return false
	}
	name := d.now.name(p)
	if _, was := d.origin(p.kind, name); was && p.kind == aPublisher {
		d.now = d.now.clone()
		d.now.Publishers[p.i] = model.PublisherSpec{Name: name}
		return true
	}
	d.forget(p.kind, name)
	d.now.remove(p)
	return true
}

// take puts the texts of a form into the draft, and goes to the piece.
func (d *draft) take(f *form) error {
	texts := f.texts()
	if err := d.clash(f.piece, f.isNew, texts[0]); err != nil {
		return err
	}
	old := ""
	if !f.isNew {
		old = d.now.name(f.piece)
	}
	at, err := d.now.put(f.piece, f.isNew, texts)
	if err != nil {
		return err
	}
	if !f.isNew && named[f.kind] != "" && old != texts[0] {
		d.rename(f.kind, old, texts[0])
	}
	d.touch()
	d.at = max(0, slices.Index(d.now.pieces(), piece{f.kind, at}))
	return nil
}
