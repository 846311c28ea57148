package ordering

import (
	"cmp"

	"example.org/tuckrow/model"
)

// Target is the plan that a refiling carries out: the split that was decided
// on, or else the boxes as they stand. A wall stays where it is unless its box
// would spill; what spills is pushed on into the next.
func (l *Layout) Target() Plan {
	walls := l.decided()
	if len(walls) == 0 {
		walls = l.found()
	}
	return Plan{Boxes: l.fill(walls)}
}

// decided reads the walls that the owner settled. Of those that no longer come
// one behind the other it leaves out as few as can be. Where the copy that was
// to be first is gone, the box begins as it stands, if the others allow that.
func (l *Layout) decided() map[model.BoxID]int {
	firsts := map[model.BoxID]model.Accession{}
	for _, w := range l.c.Walls().Firsts {
		firsts[w.Box] = w.First
	}
	var ranks []int32
	var of []model.BoxID
	for _, b := range l.c.Shelf().Boxes {
		if a, ok := firsts[b.ID]; ok {
			// Where the first cannot be found, the box begins where it would stand.
			if r := l.Due(a); r >= 0 && r < len(l.row) {
				ranks, of = append(ranks, int32(r)), append(of, b.ID)
			}
		}
	}
	walls := map[model.BoxID]int{}
	for _, i := range LongestRun(ranks) {
		walls[of[i]] = int(ranks[i])
	}
	if len(walls) > 0 && len(of) < len(firsts) {
		l.restore(walls, firsts)
	}
	return walls
}

// restore gives boxes whose decided first copy is gone a wall where they stand,
// between those that hold.
func (l *Layout) restore(walls map[model.BoxID]int, firsts map[model.BoxID]model.Accession) {
	stand, stops, last := l.found(), l.stops(walls), -1
	for i, b := range l.c.Shelf().Boxes {
		a, wanted := firsts[b.ID]
		w, stands := stand[b.ID]
		if wanted && stands && l.Due(a) < 0 && w > last && w < stops[i] {
			walls[b.ID] = w
		}
		if w, ok := walls[b.ID]; ok {
			last = w
		}
	}
}

// found reads the walls off what stands. What is out of order must be moved
// anyway, so only a longest run in order, over all boxes, says where a box
// begins: that leaves the fewest envelopes to pull.
func (l *Layout) found() map[model.BoxID]int {
	walls, at, box := map[model.BoxID]int{}, l.inBoxes(), 0
	for _, i := range at.run {
		for at.ends[box] <= i {
			box++
		}
		id := l.c.Shelf().Boxes[box].ID
		if _, ok := walls[id]; !ok {
			walls[id] = int(at.ranks[i])
		}
	}
	return walls
}

// inBoxes is what stands in the boxes and belongs in the row, one box after
// another: shared, not to be altered.
type inBoxes struct {
	ranks []int32 // by index in the row
	ends  []int   // of each box in ranks
	run   []int   // a longest run in order over all boxes: indices of ranks
}

func (l *Layout) inBoxes() *inBoxes { return l.kept.standing.get(l.newInBoxes) }

func (l *Layout) newInBoxes() *inBoxes {
	boxes, rank := l.c.Shelf().Boxes, l.ranks()
	at := &inBoxes{make([]int32, 0, len(l.row)), make([]int, len(boxes)), nil}
	for t, b := range boxes {
		for _, a := range l.c.Row(b.ID) {
			if r := rank[a]; r >= 0 {
				at.ranks = append(at.ranks, r)
			}
		}
		at.ends[t] = len(at.ranks)
	}
	at.run = LongestRun(at.ranks)
	return at
}

// LongestRun gives the indices of a longest non-decreasing subsequence, in
// order, by patience sorting: piles hold, for each length, the index of the
// smallest value that ends a run of that length. n log n.
func LongestRun[T cmp.Ordered](v []T) []int {
	piles, before := make([]int, 0, len(v)), make([]int, len(v))
	for i, x := range v {
		lo, hi := 0, len(piles)
		for lo < hi {
			if mid := (lo + hi) / 2; v[piles[mid]] <= x {
				lo = mid + 1
			} else {
				hi = mid
			}
		}
		before[i] = -1
		if lo > 0 {
			before[i] = piles[lo-1]
		}
		if lo == len(piles) {
			piles = append(piles, i)
		} else {
			piles[lo] = i
		}
	}
	run := make([]int, len(piles))
	if len(piles) > 0 {
		for k, i := len(piles)-1, piles[len(piles)-1]; k >= 0; k, i = k-1, before[i] {
			run[k] = i
		}
	}
	return run
}
