package ordering

import (
	"slices"
	"sort"

	"example.org/tuckrow/model"
)

// skipping finds a split with fewer boxes by leaving some of them empty, or
// gives nil when filled, the split made by filling each box before the next,
// uses as few as there can be. It never takes a new box more for that.
//
// Where all boxes take the same, filling is best. Where they do not, a short
// box left empty can save one: what would have gone into it goes on into a
// long one. Being further along the row is never worse, so it is enough to know
// how far the boxes get with at most so many of them in use: boxes times boxes
// in use, each one search by halves.
func (l *Layout) skipping(filled []Holding) []Holding {
	boxes, s := l.c.Shelf().Boxes, l.c.Shelf().Settings
	unlike := func(b model.Box) bool { return b.Usable(s) != boxes[0].Usable(s) }
	old := used(filled[:len(boxes)])
	if old < 1 || !slices.ContainsFunc(boxes, unlike) {
		return nil
	}
	r := l.newReach()
	far := make([]int, old+1)           // how far the boxes so far get, by how many may be in use
	begins := make([][]int, len(boxes)) // where each begins in getting there; -1 when it stays empty
	for i, b := range boxes {
		begins[i] = slices.Repeat([]int{-1}, old+1)
		for k := min(old, i+1); k > 0; k-- {
			if to := r.to(b.Usable(s), far[k-1]); to > far[k] {
				far[k], begins[i][k] = to, far[k-1]
			}
		}
	}
	// Filling gets furthest and so takes the fewest new boxes.
	fresh, best := len(filled)-len(boxes), old
	for best > 0 && r.fits(fresh, far[best-1]) {
		best--
	}
	if best == old {
		return nil
	}
	return l.laid(begins, best, far[best], r)
}

// laid makes the holdings of a split that skipping found: most boxes in use of
// those there are, which get as far as at, and new ones from there on.
func (l *Layout) laid(begins [][]int, most, at int, r *reach) []Holding {
	boxes, fresh := l.c.Shelf().Boxes, l.freshBoxes(r.fresh)
	out := make([]Holding, len(boxes))
	end := at
	for i := len(boxes) - 1; i >= 0; i-- {
		from := end
		if b := begins[i][most]; b >= 0 {
			from, most = b, most-1
		}
		out[i] = l.hold(boxes[i], false, l.behind(from), l.row[from:end])
		end = from
	}
	for at < len(l.row) {
		b := fresh()
		to := r.to(b.Usable(l.c.Shelf().Settings), at)
		out = append(out, l.hold(b, true, l.behind(at), l.row[at:to]))
		at = to
	}
	return out
}

// reach tells how far along the row a box gets.
type reach struct {
	sizes
	head []model.Length // what each item takes with its cards at the head of a box
	sum  []model.Length // what all items before each take with their cards, within a box
	stop []int          // where the first section behind each item begins that begins a box
}

// newReach measures the row.
func (l *Layout) newReach() *reach {
	n := len(l.row)
	r := &reach{l.sizes(), make([]model.Length, n), make([]model.Length, n+1), make([]int, n)}
	for i, it := range l.row {
		prev := l.behind(i)
		r.head[i] = thick(it, l.cards(prev, it, true))
		r.sum[i+1] = r.sum[i] + thick(it, l.cards(prev, it, false))
	}
	stop := n
	for i := n - 1; i >= 0; i-- {
		r.stop[i] = stop
		if l.opensBox(l.behind(i), l.row[i]) {
			stop = i
		}
	}
	return r
}

// to is the item before which a box of that usable length ends when it begins
// at from.
func (r *reach) to(usable model.Length, from int) int {
	switch {
	case from == len(r.head):
		return from
	case r.head[from] > r.most: // no box takes it: alone in any
		return from + 1
	case r.head[from] > usable:
		return from
	}
	room := usable - r.head[from] + r.sum[from+1]
	// A box takes little of a long row: look near first, then further and
	// further, then between.
	at, step := from+1, 16
	for ; at+step <= r.stop[from] && r.sum[at+step] <= room; step *= 2 {
		at += step
	}
	between := min(step, r.stop[from]-at)
	return at + sort.Search(between, func(i int) bool { return r.sum[at+1+i] > room })
}

// fits tells whether the row from an item on goes into so many new boxes.
func (r *reach) fits(boxes, from int) bool {
	for ; boxes > 0; boxes-- {
		from = r.to(r.usable, from)
	}
	return from == len(r.head)
}
