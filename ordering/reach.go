package ordering

import (
	"slices"

	"example.org/tuckrow/model"
)

// limit goes down along the row with the beginning of a holder and keeps the
// furthest place at which it can end.
type limit struct {
	*run
	grown      *run
	size, room model.Length
	at         int
}

// limit begins with what is no nearer than the furthest place from where it is
// asked for first.
func (w *walls) limit(h *holder, at int) limit {
	return limit{w.run, w.grown, h.size, h.room, at}
}

// of is asked for places in order, from the last to the first.
func (l *limit) of(from int) int {
	s := &l.starts[from]
	at, most := min(l.at, s.stop), l.size+s.front
	for at > from && l.sum[at] > most {
		at--
	}
	if l.grown != nil {
		for at > from && l.grown.load(from, at) > l.room {
			at--
		}
	}
	if at == from && from < l.count() && l.oversize(from) {
		at = from + 1
	}
	l.at = at
	return at
}

// span says of each place of a span how far one gets from it, in memory that is used
// again.
func (l limit) span(memory []int, s span) []int {
	out := slices.Grow(memory[:0], s.to-s.from+1)[:s.to-s.from+1]
	for i := len(out) - 1; i >= 0; i-- {
		out[i] = l.of(s.from + i)
	}
	return out
}

// end is how far a holder gets that begins at a place; left when it cannot be
// used.
func (w *walls) end(t, from int) int { return w.endNear(t, from, from) }

// endNear is end where one has a guess at it.
func (w *walls) endNear(t, from, guess int) int {
	h := &w.holders[t]
	if h.pieces == nil {
		end := w.near(h.size, from, guess)
		if w.grown != nil && from < w.count() && !w.oversize(from) {
			end = min(end, w.grown.to(h.room, from))
		}
		return end
	}
	end := left
	for _, p := range h.pieces {
		if p.from <= from {
			end = max(end, p.to)
		}
	}
	return end
}

// takes tells whether a piece of one thing or more goes into a holder.
func (w *walls) takes(t, from, to int) bool {
	h := &w.holders[t]
	return w.fits(h.size, from, to) && (w.grown == nil || w.alone(from, to) || w.grown.load(from, to) <= h.room)
}

// start is where a holder can begin at the earliest that ends at a place or
// further on; left when it cannot be used.
func (w *walls) start(t, to int) int { return w.startNear(t, to, to) }

// startNear is start where one has a guess at it.
func (w *walls) startNear(t, to, guess int) int {
	h := &w.holders[t]
	if h.pieces == nil {
		start := w.fromNear(h.size, to, guess)
		if w.grown != nil && to > 0 && !w.oversize(to-1) {
			start = max(start, w.grown.from(h.room, to))
		}
		return start
	}
	start := left
	for _, p := range h.pieces {
		if p.to >= to && (start == left || p.from < start) {
			start = p.from
		}
	}
	return start
}

// last is how far a holder gets that begins at a place, where each behind it is
// to get something as well; left when it cannot be used.
func (w *walls) last(t, place, guess int) int {
	end := w.endNear(t, place, guess)
	if w.latest != nil {
		end = min(end, w.latest[t+1])
	}
	return end
}
