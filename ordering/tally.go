package ordering

import (
	"math"
	"sort"

	"example.org/tuckrow/model"
)

// tally finds the split that uses the fewest holders and, among those, parts the
// fewest twins. That costs one a holder and one a twin parted, wherever else the
// walls are, so what the rest of the row costs is the same for long stretches of
// places. A tally reckons with those stretches, of which there are a few for
// each wall, and not with the places in them.
//
// Of ways that cost the same it takes the one whose first wall is furthest along
// the row, then whose second, and so on.
type tally struct {
	*walls
	twin   []bool
	chains []span   // walls side by side that part twins, where not every holder takes what is between the places before and behind
	at     [][]step // for each wall, in order; one more than holders
	budget int64    // no more twins than that are parted
	over   bool     // there are ways that part more
	took   int      // how many went into the holder looked at last
	scratch
}

// step is a stretch of places from which the rest costs the same.
type step struct {
	span
	cost cost
}

// tally works out what the rest of the row costs from each wall, which may lie
// in the spans given for it, so that no more holders are used than given; nil
// where there is no way. It asks first whether no twins need be parted, then
// whether one pair or none, then up to two, four, and so on: the fewer may be,
// the fewer the stretches.
func (s *split) tally(spans [][]span, used int) *tally {
	y := &tally{walls: &s.walls, twin: s.twin, at: make([][]step, len(spans))}
	if s.together > y.smallest() {
		y.findChains()
	}
	for {
		switch y.solve(spans); {
		case costAt(y.at[0], 0).first <= int64(used):
			return y
		case !y.over:
			return nil
		}
		y.budget = max(1, 2*y.budget)
	}
}

func (y *tally) solve(spans [][]span) {
	last := len(y.holders)
	y.over, y.at[last] = false, []step{{span{y.count(), y.count()}, cost{}}}
	for t := last - 1; t >= 0; t-- {
		h, here := &y.holders[t], []step(nil)
		if h.pieces != nil {
			here = y.byPieces(t)
		} else {
			here = y.byEnds(t)
		}
		if h.empty != left {
			y.all = lower(y.all[:0], here, y.at[h.empty])
			here = y.all
		}
		y.at[t] = inside(make([]step, 0, len(here)), here, spans[t])
	}
}

// smallest is the size of the smallest holder.
func (w *walls) smallest() model.Length {
	size := model.Length(math.MaxInt64)
	for i := range w.holders {
		size = min(size, w.holders[i].size)
	}
	return size
}

// findChains finds what few rows have: more twins side by side than a holder
// takes.
func (y *tally) findChains() {
	smallest := y.smallest()
	y.piles(y.twin, func(from, to int) {
		if !y.fits(smallest, from, to) {
			y.chains = append(y.chains, span{from + 1, to - 1})
		}
	})
}

// piles goes through what belongs together and stands side by side.
func (r *run) piles(twin []bool, pile func(from, to int)) {
	for from := 1; from < r.count(); from++ {
		if !twin[from] {
			continue
		}
		to := from + 1
		for twin[to] {
			to++
		}
		pile(from-1, to)
		from = to
	}
}

// together is what the thickest pile of twins takes.
func (r *run) together(twin []bool) model.Length {
	most := model.Length(0)
	r.piles(twin, func(from, to int) { most = max(most, r.load(from, to)) })
	return most
}

// costAt looks up a place.
func costAt(steps []step, place int) cost {
	i := sort.Search(len(steps), func(i int) bool { return steps[i].to >= place })
	if i < len(steps) && steps[i].from <= place {
		return steps[i].cost
	}
	return never
}

// byPieces prices the places where the few pieces begin that a holder may take.
func (y *tally) byPieces(t int) []step {
	var out []step
	for _, p := range y.holders[t].pieces {
		if c := costAt(y.at[t+1], p.to).plus(y.use(p.to)); c.less(never) && y.within(c) {
			out = lower(nil, out, []step{{span{p.from, p.from}, c}})
		}
	}
	return out
}

// within tells whether no more twins are parted than may be.
func (y *tally) within(c cost) bool {
	y.over = y.over || c.second > y.budget
	return c.second <= y.budget
}

// use is what a holder costs that ends at a place.
func (y *tally) use(end int) cost { return cost{1, int64(b2i(y.twin[end]))} }

// byEnds prices the places from which a holder gets to where the rest can go on.
// From any place before the last of a stretch, and from which its first can be
// reached, some of it can be. The place before a thing too thick for this holder
// is none; but it costs less to leave the holder empty there, as the rest then
// does with what takes that thing.
func (y *tally) byEnds(t int) []step {
	size := y.holders[t].size
	apart, parting := y.apart[:0], y.parting[:0] // at ends that part no twins, at any
	reach := func(to []step, from, end int, c cost) []step {
		begin := y.fromNear(size, from, from-y.took)
		if y.took = from - begin; begin < end {
			return append(to, step{span{begin, end - 1}, c})
		}
		return to
	}
	for _, x := range y.at[t+1] {
		c := x.cost.plus(cost{1, 0})
		if c := c.plus(cost{0, 1}); y.within(c) {
			parting = reach(parting, x.from, x.to, c)
		}
		y.spans = y.plain(y.spans[:0], x.span)
		for _, s := range y.spans {
			apart = reach(apart, s.from, s.to, c)
		}
	}
	y.apart, y.parting = apart, parting
	y.one, y.other = y.envelope(y.one[:0], apart), y.envelope(y.other[:0], parting)
	y.both = lower(y.both[:0], y.one, y.other)
	return y.both
}

// plain appends to out the parts of a stretch of places that end at walls which part no
// twins, and between which it is never further from one such to the next than a
// holder takes.
func (y *tally) plain(out []span, s span) []span {
	for s.from <= s.to && y.twin[s.from] {
		s.from++
	}
	for s.from <= s.to && y.twin[s.to] {
		s.to--
	}
	if s.from > s.to {
		return out
	}
	for i := sort.Search(len(y.chains), func(i int) bool { return y.chains[i].from > s.from }); i < len(y.chains) && y.chains[i].to < s.to; i++ {
		out = append(out, span{s.from, y.chains[i].from - 1})
		s.from = y.chains[i].to + 1
	}
	return append(out, s)
}

// walk reads off where each holder ends.
func (y *tally) walk() []int {
	ends, place := make([]int, len(y.holders)), 0
	for t := 0; t < len(y.holders); {
		if to := y.bestEnd(t, place); to != left {
			place = to
			ends[t] = place
			t++
			continue
		}
		for upTo := y.holders[t].empty; t < upTo; t++ {
			ends[t] = place
		}
	}
	return ends
}

// bestEnd is where a holder ends, at the furthest; left when it is left empty.
func (y *tally) bestEnd(t, place int) int {
	best := costAt(y.at[t], place)
	ends := func(to int) bool { return costAt(y.at[t+1], to).plus(y.use(to)) == best }
	if pieces := y.holders[t].pieces; pieces != nil {
		to := left
		for _, p := range pieces {
			if p.from == place && p.to > to && ends(p.to) {
				to = p.to
			}
		}
		return to
	}
	for to := y.end(t, place); to > place; to-- {
		if ends(to) {
			return to
		}
	}
	return left
}
