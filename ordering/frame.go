package ordering

import "slices"

// frame says between which places each wall can be in a split that uses so many
// holders and no more, by how many are used before it. Being further along the
// row is never worse for what is left, and what can be reached with some holders
// are all places up to the furthest. So a wall lies between the nearest place
// from which the rest goes into the holders left, and the furthest that those
// before get to.
type frame struct {
	nodes  []frameNode // one more than holders
	used   int         // as few as can be
	places []int       // of all nodes, where they are in one piece
}

// frameNode is one wall. Counts of used holders begin at base.
type frameNode struct {
	base     int
	furthest []int // left where it cannot be
	nearest  []int
}

// reach notes that a place can be got to, and makes room for that.
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

// again notes it where there is room for it.
func (n *frameNode) again(used, place int) {
	if i := used - n.base; i >= 0 && i < len(n.furthest) && n.furthest[i] < place {
		n.furthest[i] = place
	}
}

func (n *frameNode) at(places []int, used int) int {
	if i := used - n.base; i >= 0 && i < len(places) {
		return places[i]
	}
	return left
}

// forward works out how far one gets, by how many holders are in use, and how
// few can be in use; nil when no more than most will not do. The nearest places are
// those from which all holders behind take the rest, until back says more.
func (w *walls) forward(most int) *frame {
	f := &frame{nodes: make([]frameNode, len(w.holders)+1)}
	f.nodes[0].reach(0, 0)
	least := w.least()
	for t := range w.holders {
		node, h := &f.nodes[t], &w.holders[t]
		if next := &f.nodes[t+1]; next.furthest == nil {
			next.furthest = make([]int, 0, len(node.furthest)+2)
		}
		for i, place := range node.furthest {
			if place == left || place < least[t] {
				continue
			}
			if h.empty != left {
				f.nodes[h.empty].reach(node.base+i, place)
			}
			if node.base+i < most {
				if end := w.last(t, place, place); end != left {
					f.nodes[t+1].reach(node.base+i+1, end)
				}
			}
		}
	}
	places := make([]int, f.size())
	for t := range f.nodes {
		n := len(f.nodes[t].furthest)
		for i := range places[:n] {
			places[i] = least[t]
		}
		f.nodes[t].nearest, places = places[:n:n], places[n:]
	}
	return f.reached(w.count())
}

// reached is a frame in which the end of the row can be got to; else nil.
func (f *frame) reached(end int) *frame {
	last := &f.nodes[len(f.nodes)-1]
	for i, place := range last.furthest {
		if place == end {
			f.used = last.base + i
			return f
		}
	}
	return nil
}

// size is how many places a frame has room for.
func (f *frame) size() int {
	size := 0
	for t := range f.nodes {
		size += len(f.nodes[t].furthest)
	}
	return size
}

// blank is a frame in which nothing can be got to yet, with room for what is in
// this one. It takes the memory of one that is no longer of use, if there is one.
func (f *frame) blank(idle *frame) *frame {
	size := f.size()
	if idle == nil || cap(idle.places) < size {
		idle = &frame{nodes: make([]frameNode, len(f.nodes)), places: make([]int, size)}
	}
	b := &frame{nodes: idle.nodes[:len(f.nodes)], places: idle.places[:size]}
	places := b.places
	for i := range places {
		places[i] = left
	}
	for t := range b.nodes {
		n := len(f.nodes[t].furthest)
		b.nodes[t] = frameNode{base: f.nodes[t].base, furthest: places[:n:n]}
		places = places[n:]
	}
	return b
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

// back is the frame with the nearest places worked out, by how many holders were in
// use before, so that no more than f.used are in the end. Where twins are given, no
// wall parts any.
func (f *frame) back(w *walls, twin []bool) *frame {
	b, places := &frame{nodes: slices.Clone(f.nodes), used: f.used}, make([]int, f.size())
	for t := len(w.holders); t >= 0; t-- {
		node := &b.nodes[t]
		n := len(node.furthest)
		node.nearest, places = places[:n:n], places[n:]
		for i := range node.nearest {
			switch used := node.base + i; {
			case node.furthest[i] == left:
				node.nearest[i] = left
			case t < len(w.holders):
				node.nearest[i] = b.backFrom(w, t, used, twin)
			case used <= f.used:
				node.nearest[i] = w.count()
			default:
				node.nearest[i] = left
			}
		}
	}
	return b
}

// backFrom is the nearest place before one holder.
func (f *frame) backFrom(w *walls, t, used int, twin []bool) int {
	best := left
	if e := w.holders[t].empty; e != left {
		best = f.nodes[e].at(f.nodes[e].nearest, used)
	}
	next := &f.nodes[t+1]
	to, most := next.at(next.nearest, used+1), next.at(next.furthest, used+1)
	if to == left {
		return best
	}
	// A holder takes about as many here as furthest along.
	guess := to + f.nodes[t].at(f.nodes[t].furthest, used) - most
	for ; twin != nil && twin[to]; to++ {
		if to == most {
			return best
		}
	}
	if s := w.startNear(t, to, guess); s != left && (best == left || s < best) {
		best = s
	}
	return best
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
