package ordering

import (
	"math"
	"slices"

	"example.org/tuckrow/model"
)

// even finds the split into the fewest boxes whose fullest is the least full by
// share of its usable length; then the one whose shares are most alike, by the
// sum of their squares; then the one that parts the fewest twins. What no box
// takes is overfull wherever it stands and is left out of this. What is grown is
// what all before each item will take besides; nil for nothing.
//
// How full the fullest has to be is found by halves: where a share can be kept
// to, every larger one can. Within the frame for that share each place is tried for
// each wall.
func (s *split) even(grown []model.Length) (ends []int) {
	s.framed(func(f *frame) bool {
		e := s.newEvening(grown)
		defer e.done()
		most := e.parts // no box is fuller than full, but with what is to come it may be
		if grown != nil || s.locked() {
			y := s.tally(f.back(&s.walls, nil).spans(), f.used)
			if y == nil {
				return false
			}
			most = e.fullest(y.walk())
		}
		ends = e.level(f, most)
		return true
	})
	return ends
}

// level finds the even split within a frame, where no box need be fuller than a
// share; nil when there is none.
func (e *evening) level(f *frame, most uint64) []int {
	least, narrow := e.leastShare(f, most)
	// Only where locked boxes take the one piece or the other can the frame allow
	// more than what can be.
	last := uint64(math.MaxUint64)
	solved := func(share uint64) (next uint64) {
		if last = share; share != least {
			narrow, _ = e.within(f, share)
		}
		if e.solved(narrow, share) {
			return 0
		}
		return share + 1
	}
	share := smallest(least, most, solved)
	if share != last && solved(share) > 0 {
		return nil
	}
	return e.walk()
}

// leastShare finds the least share, up to the most, that a frame allows, and where
// walls can be then. In a wide frame few of the ways mostly do as well as all: so these
// are looked at first, and all but once or twice.
func (e *evening) leastShare(f *frame, most uint64) (share uint64, narrow *frame) {
	low := min(most, e.lowest(f.used))
	try := func(share uint64) (next uint64) {
		n, next := e.within(f, share)
		if n != nil {
			narrow = n
		}
		return next
	}
	few := e.likely(f)
	tryFew := func(share uint64) (next uint64) { _, next = e.within(few, share); return next }
	if few != nil && tryFew(most) == 0 {
		most = smallest(low, most, tryFew)
		if low == most || try(most-1) > 0 {
			narrow, _ = e.within(f, most)
			return most, narrow
		}
		f, most = narrow, most-1
	} else {
		e.allow(most)
	}
	f = f.back(&e.walls, nil) // so that less need be looked at, time and again
	share = smallest(low, most, try)
	if narrow == nil {
		narrow, _ = e.within(f, share)
	}
	return share, narrow
}

// Of a frame that allows more than so many counts of holders in use before a wall,
// those that differ by so many at most from what is likely are looked at first.
const (
	wideFrame = 16
	aside     = 3
)

// likely is a wide frame with only what is near to using the longest boxes, and of
// those that are equally long so many all along the row; nil for one that is not
// wide.
func (e *evening) likely(f *frame) *frame {
	if f.used == 0 {
		return nil
	}
	l, wide := &frame{nodes: slices.Clone(f.nodes), used: f.used}, false
	longest := slices.Sorted(slices.Values(e.sizes))
	shortest := longest[len(longest)-f.used] // of those in use
	all, some := 0, 0                        // that are longer, that are as long
	for _, size := range e.sizes {
		all += b2i(size > shortest)
		some += b2i(size == shortest)
	}
	longer, alike := 0, 0
	for t := range l.nodes {
		n := &l.nodes[t]
		center := longer + alike*(f.used-all)/some - n.base
		size := len(n.furthest)
		wide = wide || size > wideFrame
		low := min(max(0, center-aside), size)
		high := max(low, min(size, center+aside+1))
		n.base, n.furthest, n.nearest = n.base+low, n.furthest[low:high], n.nearest[low:high]
		if t < len(e.sizes) {
			longer += b2i(e.sizes[t] > shortest)
			alike += b2i(e.sizes[t] == shortest)
		}
	}
	if !wide {
		return nil
	}
	return l
}

// lowest is a share that the fullest of so many boxes has at the least: that of
// all there is in the longest of them.
func (e *evening) lowest(used int) uint64 {
	r, all, room := e.weighed(), model.Length(0), model.Length(0)
	for i := range r.count() {
		if !e.oversize(i) {
			all += r.sum[i+1] - r.sum[i]
		}
	}
	longest := slices.Sorted(slices.Values(e.sizes))
	for _, size := range longest[len(longest)-used:] {
		room += size
	}
	return ratio(uint64(all), e.parts, uint64(max(1, room)))
}

// smallest finds the least number from low on that will do, by halves; most is
// known to do, and so is every number above one that does. To try a number gives 0
// when it does, else a higher one such that none in between does. It tries low first.
func smallest(low, most uint64, try func(uint64) (next uint64)) uint64 {
	for mid := low; low < most; mid = low + (most-low)/2 {
		if next := try(mid); next == 0 {
			most = mid
		} else {
			low = next
		}
	}
	return most
}

// evening looks for the smallest share. Shares are whole numbers of parts, of
// which there are so many in a full box that any two shares that differ do so by
// one part at the least.
type evening struct {
	walls
	sizes []model.Length // what may be filled of each box
	all   [][]span       // the pieces of boxes that keep their label
	parts uint64
	twin  []bool
	idle  *frame // that is no longer of use
}

// sharpest is enough parts for all lengths: two shares of boxes up to 100 m
// (model.Length, 10^7) differ by more than 10^-14.
const sharpest = 1 << 48

func (s *split) newEvening(grown []model.Length) *evening {
	e := &evening{walls: walls{run: s.run}, twin: s.twin, parts: 1}
	e.holders = slices.Clone(s.holders)
	for _, h := range e.holders {
		e.sizes, e.all = append(e.sizes, h.size), append(e.all, h.pieces)
		e.parts = commonMultiple(e.parts, uint64(max(1, h.size)), sharpest)
	}
	if grown != nil {
		r := *s.run
		r.starts, r.sum, r.most = slices.Clone(r.starts), slices.Clone(r.sum), math.MaxInt64
		for i := range r.sum {
			r.starts[i].front += grown[i]
			r.sum[i] += grown[i]
		}
		e.grown = &r
	}
	return e
}

// weighed is the row with what each thing counts as.
func (e *evening) weighed() *run {
	if e.grown != nil {
		return e.grown
	}
	return e.run
}

// weight is what a piece counts as.
func (e *evening) weight(from, to int) model.Length { return e.weighed().load(from, to) }

// fullest is the share of the fullest box of a split, rounded up.
func (e *evening) fullest(ends []int) uint64 {
	share, from := uint64(0), 0
	for t, to := range ends {
		if from < to && !e.alone(from, to) {
			share = max(share, ratio(uint64(e.weight(from, to)), e.parts, uint64(e.sizes[t]))+1)
		}
		from = to
	}
	return share
}

// solved finds the best split in which no box is fuller than a share, and where
// walls can be then.
func (e *evening) solved(narrow *frame, share uint64) bool {
	if narrow == nil {
		return false
	}
	e.allow(share)
	e.square(share)
	e.free(narrow.back(&e.walls, nil).spans())
	return e.solve().less(never)
}

// within works out how far along the row walls can be when no box is fuller than a
// share. Where there is no way it gives nil, and the next higher share at which a box
// takes more: below that there is none either.
func (e *evening) within(f *frame, share uint64) (narrow *frame, next uint64) {
	e.allow(share)
	narrow, fuller := e.narrower(f)
	switch {
	case narrow != nil:
		return narrow, 0
	case e.locked():
		return nil, share + 1
	}
	// What was compared as floating-point numbers is right to less than an eighth of
	// a part; so that is taken off before it is rounded up.
	return nil, max(share+1, (ratio(8*uint64(fuller.load), e.parts, uint64(fuller.size))+6)/8)
}

// filled is how full a box is.
type filled struct {
	load, size model.Length
	share      float64
}

// narrower works out how far one gets when holders take less than when a wider
// frame was worked out, what is outside of which is left out; nil when one does not
// get to the end. It says as well which box is the least full if it takes one thing
// more.
func (e *evening) narrower(wider *frame) (f *frame, fuller filled) {
	f, e.idle, fuller = wider.blank(e.idle), nil, filled{math.MaxInt64 / 8, 1, math.Inf(1)}
	f.nodes[0].again(0, 0)
	row := e.weighed()
	for t := range e.holders {
		node, h, was, each := &f.nodes[t], &e.holders[t], &wider.nodes[t], 1/float64(e.sizes[t])
		for i, place := range node.furthest {
			if lowest := was.nearest[i]; place == left || lowest == left || place < lowest {
				continue
			}
			used := node.base + i
			if h.empty != left {
				f.nodes[h.empty].again(used, place)
			}
			before := wider.nodes[t+1].at(wider.nodes[t+1].furthest, used+1)
			if used == wider.used || before == left {
				continue
			}
			// A holder takes about as many as it did.
			if end := e.last(t, place, place+before-was.furthest[i]); end != left {
				f.nodes[t+1].again(used+1, end)
				if end == row.count() {
					continue
				}
				load := row.load(place, end+1)
				if share := float64(load) * each; share < fuller.share {
					fuller = filled{load, e.sizes[t], share}
				}
			}
		}
	}
	if f.reached(e.count()) == nil {
		e.idle = f
		return nil, fuller
	}
	f.used = wider.used
	return f, fuller
}

// allow lets no box be fuller than a share.
func (e *evening) allow(share uint64) {
	for t := range e.holders {
		h := &e.holders[t]
		room := model.Length(min(math.MaxInt64, ratio(share, uint64(e.sizes[t]), e.parts)))
		if h.room = room; e.grown == nil {
			h.size = min(e.sizes[t], room)
		}
		if e.all[t] != nil {
			h.pieces = []span{}
			for _, p := range e.all[t] {
				if e.alone(p.from, p.to) || e.weight(p.from, p.to) <= room {
					h.pieces = append(h.pieces, p)
				}
			}
		}
	}
}

// expected is what the copies that so many months will bring are going to take,
// in front of each item of the row and of all: what each section gained in the
// year before the newest arrival goes on, as thick as the mean of its
// copies, and is spread over its items alike. Nil for no months.
func (l *Layout) expected(months int) []model.Length {
	if months <= 0 {
		return nil
	}
	months = min(months, MostGrowth)
	gained, grown := l.growth(), make([]model.Length, len(l.row)+1)
	for from := 0; from < len(l.row); {
		to, thick := from, model.Length(0)
		for ; to < len(l.row) && l.row[to].Section == l.row[from].Section; to++ {
			thick += l.row[to].Thickness
		}
		n := uint64(to - from)
		all := ratio(uint64(gained[l.row[from].Section])*uint64(months), uint64(thick), 12*n)
		for i := from; i < to; i++ {
			grown[i+1] = grown[from] + model.Length(ratio(all, uint64(i+1-from), n))
		}
		from = to
	}
	return grown
}
