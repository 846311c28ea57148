package ordering

import (
	"bytes"
	"reflect"
	"sync"

	"example.org/tuckrow/model"
)

// lazily is a value worked out when first asked for.
type lazily[T any] struct {
	once sync.Once
	v    T
}

func (z *lazily[T]) get(work func() T) T {
	z.once.Do(func() { z.v = work() })
	return z.v
}

// kept is what is worked out once for a layout, and for those after it for as
// long as it is true of them.
type kept struct {
	planned  *lazily[*planned]  // cards that the row calls for
	present  *lazily[*stood]    // cards in the boxes as they stand
	ranks    *lazily[[]int32]   // indices in the row by accession number, -1 for what does not belong in a box
	twins    *lazily[[]bool]    // a wall before the item would part what belongs together; one more than items
	measures *lazily[*measured] // the row as boxes take it
	standing *lazily[*inBoxes]  // what of the row stands in boxes
}

func nothingKept() kept {
	return kept{new(lazily[*planned]), new(lazily[*stood]), new(lazily[[]int32]), new(lazily[[]bool]), new(lazily[*measured]), new(lazily[*inBoxes])}
}

// keep takes along what was worked out for the layout before a change, where the
// change left it true, so that one entry into 60,000 does not deal all cards
// again.
func (l *Layout) keep(from *Layout, delta model.Delta, touched map[model.Accession]bool) {
	row, boxes, shelf := true, true, true
	for _, e := range delta {
		boxes = boxes && e.Kind != model.KindRow
		shelf = shelf && e.Kind != model.KindShelf
	}
	l.kept = nothingKept()
	if len(touched) == 0 {
		l.kept.ranks, l.kept.twins = from.kept.ranks, from.kept.twins
		if shelf {
			l.measures = from.measures
		}
		if shelf && boxes {
			l.kept.standing = from.kept.standing
		}
	}
	for a := range touched {
		was, is := from.Item(a), l.Item(a)
		if was == is || was != nil && is != nil && bytes.Equal(was.key, is.key) {
			continue // it files as before, so section, publisher and number are the same
		}
		row = false
		if boxes {
			_, stands := l.c.Standing(a)
			boxes = !stands
		}
	}
	if row {
		l.planned = from.planned
	}
	if boxes && shelf {
		l.present = from.present
	}
}

// filesAlike tells whether two shelves file and measure what there is alike: they
// differ in boxes at the most, and in what has nothing to do with the row.
func filesAlike(a, b model.Shelf) bool {
	for _, s := range []*model.Shelf{&a, &b} {
		s.Boxes, s.Binders, s.Labels, s.Settings.Printing = nil, nil, nil, model.Printing{}
	}
	return reflect.DeepEqual(a, b)
}
