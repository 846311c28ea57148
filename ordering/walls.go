package ordering

import "example.org/tuckrow/model"

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
	nodes   []node // one more than holders
	memory  *memory
	begins  func(holder, place int) cost
	ends    func(holder, place int) cost
	price   func(holder, from, to int) cost // nil where begins and ends say all
	// better puts what is less of the price and what the rest costs, with an end in
	// one stretch of the next wall, in place of what is known for each place in one of
	// this. Of ends that cost the same it takes the furthest, and what is known is
	// further. The limit is where the holder ends at the latest.
	better func(holder int, here, next *known, lim limit)
	queue  []end // kept from holder to holder, so as not to make it anew
	latest []int // where each wall may be at the latest; nil where no holder need be used
	// rebate gives the few ends that make a piece cheaper, and by how much. It
	// is nil where there are none.
	rebate func(holder, from int) (ends []int, by cost)
}

// solve works out all nodes but the last, which is given, and tells what the
// cheapest split costs; never when there is none within the nodes.
func (w *walls) solve() cost {
	for t := len(w.holders) - 1; t >= 0; t-- {
		w.step(t)
	}
	if first, i := w.nodes[0].find(0); first != nil {
		return first.rest[i]
	}
	return never
}

// step works out the node before one holder.
func (w *walls) step(t int) {
	n, h := w.nodes[t], &w.holders[t]
	for s := range n {
		k := &n[s]
		k.least, k.most = 0, never.first
		for i := range k.rest {
			k.rest[i], k.next[i] = never, left
		}
	}
	switch {
	case h.pieces != nil:
		w.stepPieces(t)
	case w.better != nil:
		w.stepBetween(t)
	default:
		w.stepSliding(t)
	}
	if h.empty != left {
		n.orEmpty(w.nodes[h.empty], h.unused)
	}
	if w.better != nil {
		for s := range n {
			n[s].sumUp()
		}
	}
}

// orEmpty leaves a holder empty only where that is better than to use it.
func (n node) orEmpty(next node, unused cost) {
	last := len(next) - 1
	for s := len(n) - 1; s >= 0; s-- {
		here := &n[s]
		for ; last >= 0 && next[last].to >= here.from; last-- {
			there := &next[last]
			for place := max(here.from, there.from); place <= min(here.to, there.to); place++ {
				i := place - here.from
				if c := there.rest[place-there.from].plus(unused); c.less(here.rest[i]) {
					here.rest[i], here.next[i] = c, left
				}
			}
			if there.from < here.from {
				break // it is in the stretch in front as well
			}
		}
	}
}

// stepPieces takes one of few pieces.
func (w *walls) stepPieces(t int) {
	for _, p := range w.holders[t].pieces {
		here, i := w.nodes[t].find(p.from)
		there, j := w.nodes[t+1].find(p.to)
		if here != nil && there != nil && there.rest[j].less(never) {
			here.better(i, w.piece(t, p.from, p.to).plus(there.rest[j]), p.to)
		}
	}
}

// piece is what a piece costs, a rebate aside.
func (w *walls) piece(t, from, to int) cost {
	if w.price != nil {
		return w.price(t, from, to)
	}
	return w.begins(t, from).plus(w.ends(t, to))
}

// stepBetween tries every end for every beginning.
func (w *walls) stepBetween(t int) {
	n, next := w.nodes[t], w.nodes[t+1]
	last := len(next) - 1
	for s := len(n) - 1; s >= 0; s-- {
		here := &n[s]
		for last >= 0 && next[last].from > here.to && !w.takes(t, here.to, next[last].from) {
			last-- // out of reach from here on
		}
		for k := last; k >= 0 && next[k].to > here.from; k-- {
			w.better(t, here, &next[k], w.limit(&w.holders[t], next[k].to))
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
	n, next := w.nodes[t], w.nodes[t+1]
	queue, first := w.queue[:0], 0 // what is before first is out of reach
	k, j := len(next)-1, -1
	if k >= 0 {
		j = next[k].to
	}
	for s := len(n) - 1; s >= 0; s-- {
		here := &n[s]
		lim := w.limit(&w.holders[t], w.end(t, here.to))
		for place := here.to; place >= here.from; place-- {
			to := lim.of(place)
			for k >= 0 && j > place {
				if j <= to {
					e := end{j, next[k].rest[j-next[k].from].plus(w.ends(t, j))}
					for len(queue) > first && e.cost.less(queue[len(queue)-1].cost) {
						queue = queue[:len(queue)-1]
					}
					queue = append(queue, e)
				}
				if j--; j < next[k].from {
					if k--; k >= 0 {
						j = next[k].to
					}
				}
			}
			for len(queue) > first && queue[first].place > to {
				first++
			}
			if i := place - here.from; len(queue) > first && queue[first].cost.less(never) {
				here.rest[i], here.next[i] = queue[first].cost.plus(w.begins(t, place)), int32(queue[first].place)
			}
			if w.rebate != nil {
				w.stepRebate(t, here, place, to)
			}
		}
	}
	w.queue = queue
}

// stepRebate tries the few ends that make a piece cheaper.
func (w *walls) stepRebate(t int, here *known, place, to int) {
	ends, by := w.rebate(t, place)
	for _, j := range ends {
		if j <= place || j > to {
			continue
		}
		if there, at := w.nodes[t+1].find(j); there != nil && there.rest[at].less(never) {
			c := there.rest[at].plus(w.piece(t, place, j))
			here.better(place-here.from, cost{c.first - by.first, c.second - by.second}, j)
		}
	}
}

// walk reads off where each holder ends.
func (w *walls) walk() []int {
	ends, at := make([]int, len(w.holders)), 0
	for t := 0; t < len(w.holders); {
		here, i := w.nodes[t].find(at)
		if to := here.next[i]; to != left {
			at = int(to)
			ends[t] = at
			t++
			continue
		}
		for upTo := w.holders[t].empty; t < upTo; t++ {
			ends[t] = at
		}
	}
	return ends
}
