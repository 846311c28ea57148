package ordering

import (
	"math"
	"slices"
)

// outside is a bound for all splits with some wall outside the bands: no fewer
// envelopes than that change box.
//
// The argument. What changes box is counted by the box it leaves: those in front
// of where the box then begins, and those behind where it then ends. Let a wall
// be outside, below its band. Wherever it is, the box in front of it loses at
// least what it has behind the last place below the band, and the box behind it
// can get no further than from that place; and the other way round above. So a
// path along the walls, in which being below or above is one step each with that
// price and that reach, and in which walls within their bands are priced as they
// are, costs no more than the split it stands for. The cheapest path with a step
// outside is the bound. Labels are left out, and so is what locked boxes must
// take: that only makes it lower.
//
// As each wall outside costs about the width of its band, or all of the box, the
// bound soon exceeds what a split costs whose walls move less.
func (m *moving) outside() int64 {
	b := bound{m: m, any: m.atEnd(0), out: m.atEnd(nowhere)}
	b.below, b.above = b.beyond(len(m.holders), 0)
	for t := len(m.holders) - 1; t >= 0; t-- {
		b.step(t)
	}
	return b.out[0]
}

// nowhere is the price of what cannot be.
const nowhere = math.MaxInt64 / 4

// bound is what the rest costs at the least from the wall before one box.
type bound struct {
	m            *moving
	any, out     []int64 // from each place of the band; out: with a wall outside to come
	below, above int64   // from outside
	limits       []int   // how far the box gets from each place of the band
	ends         []int64 // what it loses that ends at each place of the next
	queue        []priced
	idle         [2][]int64 // memory for what is known of the next wall
}

// priced is an end that a box may have, and what that and all behind it costs.
type priced struct {
	place int
	price int64
}

func (m *moving) atEnd(price int64) []int64 {
	v := make([]int64, len(m.nodes[len(m.holders)][0].rest))
	for i := range v {
		v[i] = price
	}
	return v
}

// beyond prices being outside a band, where that can be.
func (b *bound) beyond(t int, price int64) (below, above int64) {
	s := b.m.nodes[t][0].span
	below, above = int64(nowhere), int64(nowhere)
	if t > 0 && s.from > 0 {
		below = price
	}
	if t > 0 && s.to < b.m.furthest[t] {
		above = price
	}
	return below, above
}

// step goes on from the wall behind a box to the wall before it.
func (b *bound) step(t int) {
	m := b.m
	here, next := m.nodes[t][0].span, m.nodes[t+1][0].span
	can, could := b.beyond(t, 0)
	below, above := int64(nowhere), int64(nowhere)
	if can == 0 {
		reach := m.end(t, here.from-1)
		below = b.least(t, left, here.from-1, reach, next)
	}
	if could == 0 {
		reach := m.end(t, m.furthest[t])
		above = b.least(t, here.to+1, m.furthest[t], reach, next)
		if above < nowhere {
			above += m.lostFront(t, here.to+1)
		}
	}
	// What a locked box must take is left out.
	lim := limit{run: m.run, size: m.holders[t].size, at: m.to(m.holders[t].size, here.to)}
	b.limits = lim.span(b.limits, here)
	b.ends = b.ends[:0]
	for j := next.from; j <= next.to; j++ {
		b.ends = append(b.ends, m.lostBack(t, j))
	}
	anyNow, outNow := b.slide(b.idle[0], b.any, here, next), b.slide(b.idle[1], b.out, here, next)
	for i, reach := range slices.Backward(b.limits) {
		place := here.from + i
		front, far := m.lostFront(t, place), b.far(t, place, reach, next)
		anyNow[i], outNow[i] = min(nowhere, front+min(anyNow[i], far)), min(nowhere, front+min(outNow[i], far))
	}
	b.idle = [2][]int64{b.any, b.out}
	b.any, b.out, b.below, b.above = anyNow, outNow, below, above
}

// least is the price from outside one band: to places of the next that are
// between the lowest and the reach, or outside again.
func (b *bound) least(t, lowest, highest, reach int, next span) int64 {
	best := int64(nowhere)
	for j := max(next.from, lowest); j <= min(next.to, max(reach, highest)); j++ {
		best = min(best, b.m.lostBack(t, j)+b.any[j-next.from])
	}
	return min(best, b.far(t, lowest, max(reach, highest), next))
}

// far is the price of a box that ends outside the next band, where it begins at
// a place or behind and reaches so far.
func (b *bound) far(t, place, reach int, next span) int64 {
	best := int64(nowhere)
	if b.below < nowhere && place < next.from {
		best = b.m.lostBack(t, next.from-1) + b.below
	}
	if b.above < nowhere && reach > next.to {
		best = min(best, b.m.lostBack(t, reach)+b.above)
	}
	return best
}

// slide is the price of what is behind each place, while within the bands, as in
// stepSliding.
func (b *bound) slide(memory, rest []int64, here, next span) []int64 {
	n := here.to - here.from + 1
	out := slices.Grow(memory[:0], n)[:n]
	queue, first := b.queue[:0], 0 // what is before first is out of reach
	j := next.to
	for i := len(out) - 1; i >= 0; i-- {
		place := here.from + i
		to := max(place, b.limits[i])
		for ; j >= max(place, next.from); j-- {
			if j > to {
				continue
			}
			e := priced{j, b.ends[j-next.from] + rest[j-next.from]}
			for len(queue) > first && e.price <= queue[len(queue)-1].price {
				queue = queue[:len(queue)-1]
			}
			queue = append(queue, e)
		}
		for len(queue) > first && queue[first].place > to {
			first++
		}
		out[i] = nowhere
		if len(queue) > first {
			out[i] = queue[first].price
		}
	}
	b.queue = queue
	return out
}
