package ordering

import "example.org/tuckrow/model"

// cost is what a split costs: first first, then second. Both add up over the
// holders. A goal that looks at more packs them, most weighty in the highest
// bits.
type cost struct{ first, second int64 }

func (a cost) plus(b cost) cost { return cost{a.first + b.first, a.second + b.second} }
func (a cost) less(b cost) bool {
	return a.first < b.first || a.first == b.first && a.second < b.second
}

// never is what cannot be costs.
var never = cost{1 << 62, 0}

// span is some places in the row, both ends included. A place is the index of
// the item behind it.
type span struct{ from, to int }

// node is where the wall before one holder may be: spans that do not touch, in
// order, and for each place in them what the rest of the row costs from there.
type node struct {
	spans []span
	start []int // where in rest each span begins
	rest  []cost
	next  []int32 // where the holder ends; left when it is left empty
}

const left = -1 // no place

func newNode(spans []span) *node {
	n, size := &node{spans: spans, start: make([]int, len(spans))}, 0
	for i, s := range spans {
		n.start[i] = size
		size += s.to - s.from + 1
	}
	n.rest, n.next = make([]cost, size), make([]int32, size)
	return n
}

// finder looks up places of a node, each no higher than the one before.
type finder struct {
	*node
	at int // the span looked at; those above are done with
}

func (n *node) finder() finder { return finder{n, len(n.spans) - 1} }

// index is where a place is in rest, -1 when it is not in the node.
func (f *finder) index(place int) int {
	for f.at >= 0 && f.spans[f.at].from > place {
		f.at--
	}
	if f.at < 0 || f.spans[f.at].to < place {
		return -1
	}
	return f.start[f.at] + place - f.spans[f.at].from
}

// find is index for places in any order.
func (n *node) find(place int) int {
	for i := range n.spans {
		if s := n.spans[i]; s.from <= place && place <= s.to {
			return n.start[i] + place - s.from
		}
	}
	return -1
}

// holder is one box to be laid, or left empty.
type holder struct {
	size   model.Length
	room   model.Length // what it may take of what is grown
	empty  int          // the node that leaving it empty leads to; left when it may not be
	unused cost         // what leaving it empty costs
	pieces []span       // where it has to keep its label: the only pieces it may take
}

// walls finds the cheapest way to lay a row into holders by looking at each
// wall in turn, from the last to the first, only where it may be.
//
// Where what a piece costs is a sum of what its two ends cost, the best end for
// each beginning is the least of a stretch that slides along the row, so that
// each place is looked at once or twice (a queue of which each place enters and
// leaves once). Of ways that cost the same, the one is taken whose first wall is
// furthest along the row, then whose second, and so on: boxes in front are
// filled first.
type walls struct {
	*run
	grown   *run // what things will take, where that is reckoned with
	holders []holder
	nodes   []*node // one more than holders
	begins  func(holder, place int) cost
	ends    func(holder, place int) cost
	between func(holder, from, to int) cost // nil where ends and begins say all
	// best is the least of between and what the rest costs, over the ends from
	// first on, and the furthest of those with which it is that.
	best   func(holder, from, first int, rest []cost) (cost, int)
	queue  []end // kept from holder to holder, so as not to make it anew
	latest []int // where each wall may be at the latest; nil where no holder need be used
	// rebate gives the few ends that make a piece cheaper, and by how much. It
	// is nil where there are none.
	rebate func(holder, from int) (ends []int, by cost)
}

// free lets each wall be where its spans say, and the row end at the last.
func (w *walls) free(spans [][]span) {
	w.nodes = make([]*node, len(spans))
	for t, s := range spans {
		w.nodes[t] = newNode(s)
	}
	last := w.nodes[len(spans)-1]
	for i := range last.rest {
		last.rest[i] = cost{}
	}
}

// solve works out all nodes but the last, which is given, and tells what the
// cheapest split costs; never when there is none within the nodes.
func (w *walls) solve() cost {
	for t := len(w.holders) - 1; t >= 0; t-- {
		w.step(t)
	}
	if i := w.nodes[0].find(0); i >= 0 {
		return w.nodes[0].rest[i]
	}
	return never
}

// step works out the node before one holder.
func (w *walls) step(t int) {
	n, h := w.nodes[t], &w.holders[t]
	for i := range n.rest {
		n.rest[i], n.next[i] = never, left
	}
	switch {
	case h.pieces != nil:
		w.stepPieces(t)
	case w.between != nil:
		w.stepBetween(t)
	default:
		w.stepSliding(t)
	}
	if h.empty == left {
		return
	}
	// A box is left empty only where that is better than to use it.
	f := w.nodes[h.empty].finder()
	for s := len(n.spans) - 1; s >= 0; s-- {
		for place := n.spans[s].to; place >= n.spans[s].from; place-- {
			if j := f.index(place); j >= 0 {
				i := n.start[s] + place - n.spans[s].from
				if c := f.rest[j].plus(h.unused); c.less(n.rest[i]) {
					n.rest[i], n.next[i] = c, left
				}
			}
		}
	}
}

// stepPieces takes one of few pieces.
func (w *walls) stepPieces(t int) {
	n, next := w.nodes[t], w.nodes[t+1]
	for _, p := range w.holders[t].pieces {
		i, j := n.find(p.from), next.find(p.to)
		if i < 0 || j < 0 || !next.rest[j].less(never) {
			continue
		}
		c := w.piece(t, p.from, p.to).plus(next.rest[j])
		if c.less(n.rest[i]) || c == n.rest[i] && int32(p.to) > n.next[i] {
			n.rest[i], n.next[i] = c, int32(p.to)
		}
	}
}

// piece is what a piece costs, a rebate aside.
func (w *walls) piece(t, from, to int) cost {
	c := w.begins(t, from).plus(w.ends(t, to))
	if w.between != nil {
		c = c.plus(w.between(t, from, to))
	}
	return c
}

// limit goes down along the row with the beginning of a holder and keeps the
// furthest place at which it can end.
type limit struct {
	w  *walls
	h  *holder
	at int
}

// limit begins at the highest place of the node before a holder.
func (w *walls) limit(t int) limit {
	l := limit{w: w, h: &w.holders[t]}
	if s := w.nodes[t].spans; len(s) > 0 {
		l.at = w.end(t, s[len(s)-1].to)
	}
	return l
}

func (l *limit) of(from int) int {
	r, grown := l.w.run, l.w.grown
	if from == r.count() {
		return from
	}
	l.at = min(l.at, r.stop[from])
	if r.oversize(from) {
		l.at = min(l.at, from+1)
		return l.at
	}
	for l.at > from && (r.load(from, l.at) > l.h.size || grown != nil && grown.load(from, l.at) > l.h.room) {
		l.at--
	}
	return l.at
}

// end is how far a holder gets that begins at a place; left when it cannot be
// used.
func (w *walls) end(t, from int) int {
	h := &w.holders[t]
	if h.pieces == nil {
		end := w.to(h.size, from)
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

// start is where a holder can begin at the earliest that ends at a place or
// further on; left when it cannot be used.
func (w *walls) start(t, to int) int {
	h := &w.holders[t]
	if h.pieces == nil {
		start := w.from(h.size, to)
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

// stepBetween tries every end for every beginning.
func (w *walls) stepBetween(t int) {
	n, next, lim := w.nodes[t], w.nodes[t+1], w.limit(t)
	last := len(next.spans) - 1
	for s := len(n.spans) - 1; s >= 0; s-- {
		for place := n.spans[s].to; place >= n.spans[s].from; place-- {
			to, i := lim.of(place), n.start[s]+place-n.spans[s].from
			for last >= 0 && next.spans[last].from > to {
				last-- // out of reach from here on
			}
			for k := last; k >= 0 && next.spans[k].to > place; k-- {
				sp, rest := next.spans[k], next.rest[next.start[k]:]
				if lo, hi := max(place+1, sp.from), min(to, sp.to); lo <= hi {
					if c, j := w.best(t, place, lo, rest[lo-sp.from:hi-sp.from+1]); c.less(n.rest[i]) {
						n.rest[i], n.next[i] = c, int32(j)
					}
				}
			}
			if n.rest[i] != never {
				n.rest[i] = n.rest[i].plus(w.begins(t, place))
			}
		}
	}
}

// end is an end that a holder may have, and what that and all behind it costs.
type end struct {
	place int
	cost  cost
}

// stepSliding keeps the ends within reach in a queue: furthest first, and none
// that costs more than one behind it, which stays within reach for longer.
func (w *walls) stepSliding(t int) {
	n, next, lim := w.nodes[t], w.nodes[t+1], w.limit(t)
	queue, first := w.queue[:0], 0 // what is before first is out of reach
	k, j := len(next.spans)-1, -1
	if k >= 0 {
		j = next.spans[k].to
	}
	for s := len(n.spans) - 1; s >= 0; s-- {
		for place := n.spans[s].to; place >= n.spans[s].from; place-- {
			to := lim.of(place)
			for k >= 0 && j > place {
				if j <= to {
					e := end{j, next.rest[next.start[k]+j-next.spans[k].from].plus(w.ends(t, j))}
					for len(queue) > first && e.cost.less(queue[len(queue)-1].cost) {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, e)
				}
				if j--; j < next.spans[k].from {
					if k--; k >= 0 {
						j = next.spans[k].to
					}
				}
			}
			for len(queue) > first && queue[first].place > to {
				first++
			}
			i := n.start[s] + place - n.spans[s].from
			if len(queue) > first && queue[first].cost.less(never) {
				n.rest[i], n.next[i] = queue[first].cost.plus(w.begins(t, place)), int32(queue[first].place)
			}
			if w.rebate != nil {
				w.stepRebate(t, place, to, i)
			}
		}
	}
	w.queue = queue
}

// stepRebate tries the few ends that make a piece cheaper.
func (w *walls) stepRebate(t, place, to, i int) {
	ends, by := w.rebate(t, place)
	n, next := w.nodes[t], w.nodes[t+1]
	for _, j := range ends {
		if j <= place || j > to {
			continue
		}
		if at := next.find(j); at >= 0 && next.rest[at].less(never) {
			c := next.rest[at].plus(w.piece(t, place, j))
			c = cost{c.first - by.first, c.second - by.second}
			if c.less(n.rest[i]) || c == n.rest[i] && int32(j) > n.next[i] {
				n.rest[i], n.next[i] = c, int32(j)
			}
		}
	}
}

// walk reads off where each holder ends.
func (w *walls) walk() []int {
	ends, at := make([]int, len(w.holders)), 0
	for t := 0; t < len(w.holders); {
		n, h := w.nodes[t], &w.holders[t]
		if to := n.next[n.find(at)]; to != left {
			at = int(to)
			ends[t] = at
			t++
			continue
		}
		for upTo := h.empty; t < upTo; t++ {
			ends[t] = at
		}
	}
	return ends
}
