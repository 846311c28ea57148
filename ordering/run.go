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
	starts []start        // of a holder at each item, and at the end
	sum    []model.Length // what all items before each take with their cards, inside a holder
	most   model.Length   // what the roomiest holder takes, there or new
}

// start is a place at which a holder may begin.
type start struct {
	front model.Length // what a holder takes that begins here is the sum at its end less this
	stop  int          // where the first item behind is that must begin a holder
}

// newRun measures n items: what each takes at the head of a holder, and inside
// one; and which must begin a holder.
func newRun(n int, most model.Length, takes func(i int) (head, inside model.Length), opens func(i int) bool) *run {
	r := &run{make([]start, n+1), make([]model.Length, n+1), most}
	for i := range n {
		head, inside := takes(i)
		r.sum[i+1] = r.sum[i] + inside
		r.starts[i].front = r.sum[i+1] - head
	}
	r.starts[n].front = r.sum[n]
	for i, stop := n, n; i >= 0; i-- {
		r.starts[i].stop = stop
		if i < n && opens(i) {
			stop = i
		}
	}
	return r
}

// count is how many items there are.
func (r *run) count() int { return len(r.sum) - 1 }

// load is what a piece of the row takes, cards included.
func (r *run) load(from, to int) model.Length {
	if from == to {
		return 0
	}
	return r.sum[to] - r.starts[from].front
}

// oversize tells what no holder takes. It goes alone into any, so that the rest
// of the row is not held up.
func (r *run) oversize(i int) bool { return r.load(i, i+1) > r.most }

// alone tells whether a piece is one thing that no holder takes.
func (r *run) alone(from, to int) bool { return to == from+1 && r.oversize(from) }

// to is the item before which a holder of that size ends when it begins at from
// and takes what it can.
func (r *run) to(size model.Length, from int) int {
	switch {
	case from == r.count():
		return from
	case r.oversize(from):
		return from + 1
	}
	s := r.starts[from]
	return r.last(from, s.stop, size+s.front)
}

// last is the last place from low to high in front of which no more than so much is
// taken, or low.
func (r *run) last(low, high int, most model.Length) int {
	// A holder takes little of a long row: look near first, then further and
	// further, then between.
	step := 16
	for ; low+step <= high && r.sum[low+step] <= most; step *= 2 {
		low += step
	}
	between := min(step, high-low)
	return low + sort.Search(between, func(i int) bool { return r.sum[low+1+i] > most })
}

// about is how many places are looked at about a guess: by halves, which takes no
// branch that could be foretold wrongly.
const about = 16

// near is to, the sooner found the better one guesses it.
func (r *run) near(size model.Length, from, guess int) int {
	s := &r.starts[from]
	low, most := max(from+1, guess-about/2), size+s.front
	if low+about > s.stop || r.sum[low] > most || r.sum[low+about] <= most {
		return r.to(size, from)
	}
	sums, at := r.sum[low:low+about], 0
	if sums[8] <= most {
		at = 8
	}
	if sums[(at+4)&15] <= most {
		at += 4
	}
	if sums[(at+2)&15] <= most {
		at += 2
	}
	if sums[(at+1)&15] <= most {
		at++
	}
	return low + at
}

// fromNear is from, the sooner found the better one guesses it.
func (r *run) fromNear(size model.Length, to, guess int) int {
	low, least := max(0, guess-about/2), r.sum[to]-size
	if low+about >= to || r.starts[low].stop < to || r.starts[low].front >= least || r.starts[low+about].front < least {
		return r.from(size, to)
	}
	starts, at := r.starts[low:low+about], 0
	if starts[8].front < least {
		at = 8
	}
	if starts[(at+4)&15].front < least {
		at += 4
	}
	if starts[(at+2)&15].front < least {
		at += 2
	}
	if starts[(at+1)&15].front < least {
		at++
	}
	return low + at + 1
}

// fits tells whether a piece goes into a holder of that size.
func (r *run) fits(size model.Length, from, to int) bool {
	return r.starts[from].stop >= to && r.load(from, to) <= size || r.alone(from, to)
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
	for at < r.count() {
		// A new holder takes whatever any does; should it not, it takes one thing.
		at = max(at+1, r.to(fresh, at))
		ends = append(ends, at)
	}
	return ends
}
