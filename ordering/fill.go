package ordering

import (
	"cmp"
	"slices"
	"strconv"

	"example.org/tuckrow/model"
)

// Goal is what a split is to be best at.
type Goal string

// Fewest boxes: no more new ones than must be, and of all boxes as few in use as
// can be.
const Fewest Goal = "fewest"

// Plan says what is to stand in which box.
type Plan struct {
	Goal  Goal
	Boxes []Holding
}

// Used counts the boxes that hold something.
func (p *Plan) Used() int { return used(p.Boxes) }

func used(boxes []Holding) int {
	n := 0
	for i := range boxes {
		if len(boxes[i].Items) > 0 {
			n++
		}
	}
	return n
}

// defaultBox is the length of a box where the shelf has none to go by (common
// practice, no source).
const defaultBox = 380 * model.Millimetre

// Split plans where boxes begin and end: everything in the row, the pile
// included, laid into the boxes in their order. Boxes that are needed and not
// there come at the end, marked new, as long as the last one that is, or as the
// longest where the last would be too short for something that is there.
func (l *Layout) Split(Goal) Plan {
	boxes := l.fill(nil)
	if better := l.skipping(boxes); better != nil {
		boxes = better
	}
	return Plan{Fewest, boxes}
}

// fill lays the row into boxes from the front. Each box takes what fits, but
// stops before the item at which the next box with a wall is to begin; what
// does not fit is pushed on. Without walls no split gets further with the
// first so many boxes.
func (l *Layout) fill(walls map[model.BoxID]int) []Holding {
	boxes, out := l.c.Shelf().Boxes, []Holding(nil)
	at := 0
	stops, size := l.stops(walls), l.sizes()
	for i, b := range boxes {
		h := l.take(b, false, at, max(at, stops[i]), size.most)
		at += len(h.Items)
		out = append(out, h)
	}
	for fresh := l.freshBoxes(size.fresh); at < len(l.row); {
		h := l.take(fresh(), true, at, len(l.row), size.most)
		at += len(h.Items)
		out = append(out, h)
	}
	return out
}

// stops says, for each box, before which item it is to stop: where the next
// box with a wall begins.
func (l *Layout) stops(walls map[model.BoxID]int) []int {
	boxes := l.c.Shelf().Boxes
	stops, next := make([]int, len(boxes)), len(l.row)
	for i := len(boxes) - 1; i >= 0; i-- {
		stops[i] = next
		if w, ok := walls[boxes[i].ID]; ok {
			next = w
		}
	}
	return stops
}

// sizes is what boxes there may be.
type sizes struct {
	fresh  model.Length // how long a new box is
	usable model.Length // what it takes
	most   model.Length // what the roomiest takes, there or new
}

// sizes chooses how long new boxes are, so that whatever any box takes, a new
// one does.
func (l *Layout) sizes() sizes {
	s := l.c.Shelf()
	if len(s.Boxes) == 0 {
		usable := model.Box{Length: defaultBox}.Usable(s.Settings)
		return sizes{defaultBox, usable, usable}
	}
	last := s.Boxes[len(s.Boxes)-1]
	longest := slices.MaxFunc(s.Boxes, func(a, b model.Box) int { return cmp.Compare(a.Length, b.Length) })
	size := sizes{last.Length, last.Usable(s.Settings), longest.Usable(s.Settings)}
	if size.usable < size.most {
		for i, it := range l.row {
			if load := thick(it, l.cards(l.behind(i), it, true)); load > size.usable && load <= size.most {
				return sizes{longest.Length, size.most, size.most}
			}
		}
	}
	return size
}

// thick is what an item takes with the cards before it.
func thick(it *Item, cards []Card) model.Length {
	t := it.Thickness
	for _, c := range cards {
		t += c.Thickness
	}
	return t
}

// take fills one box from the row at from, up to stop. A thing that no box
// takes, since the roomiest takes only most, goes into the first that is empty
// for it, alone, so that the rest of the row is not held up.
func (l *Layout) take(b model.Box, isNew bool, from, stop int, most model.Length) Holding {
	prev := l.behind(from)
	usable, load, n := b.Usable(l.c.Shelf().Settings), model.Length(0), 0
	for i, last := from, prev; i < stop; i++ {
		it := l.row[i]
		if n > 0 && l.opensBox(last, it) {
			break
		}
		load += thick(it, l.cards(last, it, n == 0))
		if load > usable && (n > 0 || load <= most) {
			break
		}
		n, last = n+1, it
	}
	return l.hold(b, isNew, prev, l.row[from:from+n])
}

// behind is the item before an index of the row; nil for the first.
func (l *Layout) behind(i int) *Item {
	if i == 0 {
		return nil
	}
	return l.row[i-1]
}

// opensBox tells whether it begins a section that begins a box.
func (l *Layout) opensBox(prev, it *Item) bool {
	return (prev == nil || prev.Section != it.Section) && l.Section(it.Section).NewBox
}

// freshBoxes gives new boxes one after another, named by the next numbers that
// no box bears.
func (l *Layout) freshBoxes(length model.Length) func() model.Box {
	boxes := l.c.Shelf().Boxes
	taken := make(map[string]bool, len(boxes))
	for _, b := range boxes {
		taken[b.Name] = true // a number is written alike in either case
	}
	n := len(boxes)
	return func() model.Box {
		for n++; taken[strconv.Itoa(n)]; n++ {
		}
		return model.Box{Name: strconv.Itoa(n), Length: length}
	}
}
