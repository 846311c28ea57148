package ordering

// frame says between which places each wall can be in a split that uses so many
// holders and no more, by how many are used before it. Being further along the
// row is never worse for what is left, and what can be reached with some holders
// are all places up to the furthest. So a wall lies between the nearest place
// from which the rest goes into the holders left, and the furthest that those
// before get to.
type frame struct {
	nodes []frameNode // one more than holders
	used  int         // as few as can be
}

// frameNode is one wall. Counts of used holders begin at base.
type frameNode struct {
	base     int
	furthest []int // left where it cannot be
	nearest  []int
}

func (n *frameNode) reach(used, place int) {
	if len(n.furthest) == 0 {
		n.base = used
	}
	for used < n.base {
		n.furthest, n.base = append([]int{left}, n.furthest...), n.base-1
	}
	for used >= n.base+len(n.furthest) {
		n.furthest = append(n.furthest, left)
	}
	n.furthest[used-n.base] = max(n.furthest[used-n.base], place)
}

func (n *frameNode) at(places []int, used int) int {
	if i := used - n.base; i >= 0 && i < len(places) {
		return places[i]
	}
	return left
}

// forward works out how far one gets, by how many holders are in use, and how
// few can be in use; nil when no more than most will not do. Where a wider frame
// is given, what is outside it is left out.
func (w *walls) forward(most int, wider *frame) *frame {
	f := &frame{nodes: make([]frameNode, len(w.holders)+1)}
	f.nodes[0].reach(0, 0)
	var least []int
	if wider == nil {
		least = w.least()
	}
	for t := range w.holders {
		node, h := &f.nodes[t], &w.holders[t]
		if next := &f.nodes[t+1]; next.furthest == nil {
			next.furthest = make([]int, 0, len(node.furthest)+2)
		}
		for i, place := range node.furthest {
			used, lowest := node.base+i, left
			if wider == nil {
				lowest = least[t]
			} else if lowest = wider.nodes[t].at(wider.nodes[t].nearest, used); lowest == left {
				continue
			}
			if place == left || place < lowest {
				continue
			}
			if h.empty != left {
				f.nodes[h.empty].reach(used, place)
			}
			if end := w.last(t, place); end != left && used < most {
				f.nodes[t+1].reach(used+1, end)
			}
		}
	}
	last := &f.nodes[len(w.holders)]
	for i, place := range last.furthest {
		if place == w.count() {
			f.used = last.base + i
			return f
		}
	}
	return nil
}

// least is the earliest place of each wall from which all holders behind it
// together take the rest.
func (w *walls) least() []int {
	least := make([]int, len(w.holders)+1)
	least[len(w.holders)] = w.count()
	for t := len(w.holders) - 1; t >= 0; t-- {
		least[t] = w.count() + 1 // nowhere
		if to := least[t+1]; to <= w.count() {
			if from := w.start(t, to); from != left {
				least[t] = from
			}
		}
	}
	return least
}

// goesOn tells whether the rest may be laid from a place, with so many holders in
// use before it.
func (n *frameNode) goesOn(used, place int) bool {
	nearest := n.at(n.nearest, used)
	return nearest != left && nearest <= place
}

// back works out the nearest places, by how many holders were in use before, so
// that no more than f.used are in the end. Where twins are given, no wall parts
// any.
func (f *frame) back(w *walls, twin []bool) {
	last := len(w.holders)
	for t := last; t >= 0; t-- {
		node := &f.nodes[t]
		node.nearest = make([]int, len(node.furthest))
		for i := range node.nearest {
			node.nearest[i] = left
			used := node.base + i
			if t == last {
				if used <= f.used {
					node.nearest[i] = w.count()
				}
				continue
			}
			best := left
			if e := w.holders[t].empty; e != left {
				best = f.nodes[e].at(f.nodes[e].nearest, used)
			}
			next := &f.nodes[t+1]
			to := next.at(next.nearest, used+1)
			for most := next.at(next.furthest, used+1); twin != nil && to != left && twin[to]; to++ {
				if to == most {
					to = left
					break
				}
			}
			if to != left {
				if s := w.start(t, to); s != left && (best == left || s < best) {
					best = s
				}
			}
			node.nearest[i] = best
		}
	}
}

// spans gives the places of each wall.
func (f *frame) spans() [][]span {
	out := make([][]span, len(f.nodes))
	for t := range f.nodes {
		var spans []span
		n := &f.nodes[t]
		for i, to := range n.furthest {
			from := n.nearest[i]
			if from == left || to < from {
				continue
			}
			// With one holder more one begins further on, but where there are some
			// to spare the stretches overlap.
			for len(spans) > 0 && spans[len(spans)-1].to >= from-1 {
				from = min(from, spans[len(spans)-1].from)
				to = max(to, spans[len(spans)-1].to)
				spans = spans[:len(spans)-1]
			}
			spans = append(spans, span{from, to})
		}
		out[t] = spans
	}
	return out
}

// skips says for each holder where leaving it empty leads to. What goes into the
// next holder in use would go into the one left empty as well, unless that is
// the shorter one or the next has to keep its label. So an empty holder leads on
// to the next that is longer or keeps its label. New holders are never empty.
func skips(holders []holder, fresh int) {
	next := []int(nil) // of holders behind, the longer ones and those that keep a label, nearest last
	for t := len(holders) - 1; t >= 0; t-- {
		h := &holders[t]
		for len(next) > 0 && holders[next[len(next)-1]].size <= h.size && holders[next[len(next)-1]].pieces == nil {
			next = next[:len(next)-1]
		}
		h.empty = len(holders)
		if len(next) > 0 {
			h.empty = next[len(next)-1]
		} else if fresh > 0 {
			h.empty = left
		}
		if t >= len(holders)-fresh || h.pieces != nil {
			h.empty = left
		}
		next = append(next, t)
	}
}
