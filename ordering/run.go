package ordering

import (
	"sort"

	"example.org/tuckrow/model"
)

// run is a row in its order, measured, to be laid into holders one after
// another: envelopes into boxes, sleeves into binders, what hangs onto hooks.
// Only measures are in it, so whatever is filed goes by one rule.
//
// It is taken for granted that leaving out the first item of a piece, or the
// last, never makes the piece take more; a box that opens later has its
// "continued" card all the same, but never one more than it would have had.
type run struct {
	head []model.Length // what each item takes with its cards at the head of a holder
	sum  []model.Length // what all items before each take with their cards, inside a holder
	stop []int          // where the first item behind each is that must begin a holder
	most model.Length   // what the roomiest holder takes, there or new
}

// newRun measures n items: what each takes at the head of a holder, and inside
// one; and which must begin a holder.
func newRun(n int, most model.Length, takes func(i int) (head, inside model.Length), opens func(i int) bool) *run {
	r := &run{make([]model.Length, n), make([]model.Length, n+1), make([]int, n), most}
	for i := range n {
		head, inside := takes(i)
		r.head[i], r.sum[i+1] = head, r.sum[i]+inside
	}
	for i, stop := n-1, n; i >= 0; i-- {
		r.stop[i] = stop
		if opens(i) {
			stop = i
		}
	}
	return r
}

// count is how many items there are.
func (r *run) count() int { return len(r.head) }

// load is what a piece of the row takes, cards included.
func (r *run) load(from, to int) model.Length {
	if from == to {
		return 0
	}
	return r.head[from] + r.sum[to] - r.sum[from+1]
}

// oversize tells what no holder takes. It goes alone into any, so that the rest
// of the row is not held up.
func (r *run) oversize(i int) bool { return r.head[i] > r.most }

// alone tells whether a piece is one thing that no holder takes.
func (r *run) alone(from, to int) bool { return to == from+1 && r.oversize(from) }

// to is the item before which a holder of that size ends when it begins at from
// and takes what it can.
func (r *run) to(size model.Length, from int) int {
	switch {
	case from == len(r.head):
		return from
	case r.oversize(from):
		return from + 1
	case r.head[from] > size:
		return from
	}
	room := size - r.head[from] + r.sum[from+1]
	// A holder takes little of a long row: look near first, then further and
	// further, then between.
	at, step := from+1, 16
	for ; at+step <= r.stop[from] && r.sum[at+step] <= room; step *= 2 {
		at += step
	}
	between := min(step, r.stop[from]-at)
	return at + sort.Search(between, func(i int) bool { return r.sum[at+1+i] > room })
}

// fits tells whether a piece goes into a holder of that size.
func (r *run) fits(size model.Length, from, to int) bool {
	return r.stop[from] >= to && r.load(from, to) <= size || r.alone(from, to)
}

// from is the first item at which a holder of that size can begin that ends at
// to; to itself when the item before it does not go in.
func (r *run) from(size model.Length, to int) int {
	lo, step := to, 16
	for lo >= step && r.fits(size, lo-step, to) {
		lo, step = lo-step, step*2
	}
	low := max(0, lo-step)
	return low + sort.Search(lo-low, func(i int) bool { return r.fits(size, low+i, to) })
}

// fill lays the row into holders from the front and gives where each ends.
// Each takes what fits, but stops at its stop, if there are any; what does not
// fit is pushed on. Without stops no other way gets further with the first so
// many holders (exchange argument: moving a wall on never makes the rest need
// more). What is left goes into new holders of the size fresh.
func (r *run) fill(sizes []model.Length, stops []int, fresh model.Length) []int {
	var ends []int
	at := 0
	for i, size := range sizes {
		end := r.to(size, at)
		if stops != nil {
			end = min(end, max(at, stops[i]))
		}
		ends, at = append(ends, end), end
	}
	for at < len(r.head) {
		// A new holder takes whatever any does; should it not, it takes one thing.
		at = max(at+1, r.to(fresh, at))
		ends = append(ends, at)
	}
	return ends
}
