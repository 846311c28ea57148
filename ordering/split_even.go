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
// to, every larger one can. Within the frame for that share the walls are tried
// one by one.
func (s *split) even(grown []model.Length) (ends []int) {
	s.framed(func(f *frame) bool {
		f.back(&s.walls, nil)
		e := s.newEvening(grown)
		most := e.parts // no box is fuller than full, but with what is to come it may be
		if grown != nil || s.locked() {
			y := s.tally(f.spans(), f.used)
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
	share := smallest(min(most, e.lowest(f.used)), most, func(share uint64) bool { return e.within(f, share) != nil })
	// Only where locked boxes take the one piece or the other can the frame allow
	// more than what can be.
	last := uint64(math.MaxUint64)
	share = smallest(share, most, func(share uint64) bool { last = share; return e.solved(f, share) })
	if share != last && !e.solved(f, share) {
		return nil
	}
	return e.walk()
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
// known to do, and so is every number above one that does. It tries low first.
func smallest(low, most uint64, does func(uint64) bool) uint64 {
	for mid := low; low < most; mid = low + (most-low)/2 {
		if does(mid) {
			most = mid
		} else {
			low = mid + 1
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
}

// sharpest is enough parts for all lengths: two shares of boxes up to 100 m
// (model.Length, 10^7) differ by more than 10^-14.
const sharpest = 1 << 48

func (s *split) newEvening(grown []model.Length) *evening {
	e := &evening{walls: walls{run: s.run, begins: func(_, at int) cost { return cost{0, s.parts(at)} }}, parts: 1}
	e.holders = slices.Clone(s.holders)
	for _, h := range e.holders {
		e.sizes, e.all = append(e.sizes, h.size), append(e.all, h.pieces)
		e.parts = commonMultiple(e.parts, uint64(max(1, h.size)), sharpest)
	}
	if grown != nil {
		r := *s.run
		r.head, r.sum, r.most = slices.Clone(r.head), slices.Clone(r.sum), math.MaxInt64
		for i := range r.head {
			r.head[i] += grown[i+1] - grown[i]
			r.sum[i+1] += grown[i+1]
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

// solved finds the best split in which no box is fuller than a share.
func (e *evening) solved(f *frame, share uint64) bool {
	narrow := e.within(f, share)
	if narrow == nil {
		return false
	}
	narrow.used = f.used
	narrow.back(&e.walls, nil)
	e.square(share)
	e.free(narrow.spans())
	return e.solve().less(never)
}

// within lets no box be fuller than a share, and works out how far along the row
// walls can be then; nil when there is no way.
func (e *evening) within(f *frame, share uint64) *frame {
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
	return e.forward(f.used, f)
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
