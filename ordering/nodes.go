package ordering

import (
	"slices"
	"sync"
)

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

const left = -1 // no place

// node is where the wall before one holder may be: stretches that do not touch, in
// order.
type node []known

// known is a stretch of places, and for each of them what the rest of the row costs
// from there, and where the holder ends that begins there; left when it is left
// empty.
type known struct {
	span
	rest        []cost
	next        []int32
	least, most int64 // of the first of rest; while that is worked out, no less and no more
}

// find is where a place is in a node; nil when it is not.
func (n node) find(place int) (*known, int) {
	for s := range n {
		if k := &n[s]; k.from <= place && place <= k.to {
			return k, place - k.from
		}
	}
	return nil, 0
}

// better puts a cost with an end in place of what is known, where it is less or as
// much with an end further along.
func (k *known) better(i int, c cost, next int) {
	if c.less(k.rest[i]) || c == k.rest[i] && int32(next) > k.next[i] {
		k.rest[i], k.next[i] = c, int32(next)
	}
}

// sumUp finds the least and the most.
func (k *known) sumUp() {
	k.least, k.most = never.first, 0
	for _, c := range k.rest {
		k.least, k.most = min(k.least, c.first), max(k.most, c.first)
	}
}

// memory is for what is known of all places. There is a lot of it, so it is used
// again and again.
type memory struct {
	rest []cost
	next []int32
}

var idleMemory = sync.Pool{New: func() any { return new(memory) }}

// free lets each wall be where its spans say, and the row end at the last.
func (w *walls) free(spans [][]span) {
	size, count := 0, 0
	for _, of := range spans {
		count += len(of)
		for _, s := range of {
			size += s.to - s.from + 1
		}
	}
	w.done()
	w.memory = idleMemory.Get().(*memory)
	w.memory.rest, w.memory.next = slices.Grow(w.memory.rest[:0], size), slices.Grow(w.memory.next[:0], size)
	rest, next, all := w.memory.rest[:size], w.memory.next[:size], make(node, count)
	w.nodes = make([]node, len(spans))
	for t, of := range spans {
		w.nodes[t], all = all[:len(of):len(of)], all[len(of):]
		for i, s := range of {
			n := s.to - s.from + 1
			w.nodes[t][i] = known{span: s, rest: rest[:n:n], next: next[:n:n]}
			rest, next = rest[n:], next[n:]
		}
	}
	for _, k := range w.nodes[len(spans)-1] {
		clear(k.rest)
	}
}

// done gives the memory back.
func (w *walls) done() {
	if w.memory != nil {
		idleMemory.Put(w.memory)
		w.memory, w.nodes = nil, nil
	}
}
