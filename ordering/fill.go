package ordering

import (
	"cmp"
	"slices"
	"strconv"

	"example.org/tuckrow/model"
)

// defaultBox is the length of a box where the shelf has none to go by (common
// practice, no source).
const defaultBox = 380 * model.Millimetre

// fill lays the row into boxes from the front. Each box takes what fits, but
// stops before the item at which the next box with a wall is to begin; what
// does not fit is pushed on.
func (l *Layout) fill(walls map[model.BoxID]int) []Holding {
	m := l.measured()
	set := l.c.Shelf().Settings
	var usable []model.Length
	for _, b := range l.c.Shelf().Boxes {
		usable = append(usable, b.Usable(set))
	}
	return l.laid(m.fill(usable, l.stops(walls), m.sizes.usable), m.sizes.fresh)
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
}

// measured is the row as boxes take it: shared, not to be altered.
type measured struct {
	*run
	sizes    sizes        // of new boxes: whatever any box takes, a new one does
	together model.Length // what the thickest pile of twins takes
}

// measured measures the row.
func (l *Layout) measured() *measured { return l.measures.get(l.measure) }

func (l *Layout) measure() *measured {
	s := l.c.Shelf()
	box := model.Box{Length: defaultBox}
	longest := box
	if len(s.Boxes) > 0 {
		box = s.Boxes[len(s.Boxes)-1]
		longest = slices.MaxFunc(s.Boxes, func(a, b model.Box) int { return cmp.Compare(a.Length, b.Length) })
	}
	size, most := sizes{box.Length, box.Usable(s.Settings)}, longest.Usable(s.Settings)
	places := l.cards().places
	r := newRun(len(l.row), most,
		func(i int) (head, inside model.Length) {
			n, it := places[i], l.row[i]
			return it.Thickness + model.Length(n.end-n.atHead)*s.Settings.Divider, it.Thickness + model.Length(n.end-n.within)*s.Settings.Divider
		},
		func(i int) bool { return l.opensBox(l.behind(i), l.row[i]) })
	for i := 0; i < r.count() && size.usable < most; i++ {
		if load := r.load(i, i+1); load > size.usable && load <= most {
			size = sizes{longest.Length, most}
		}
	}
	return &measured{r, size, r.together(l.parting())}
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
