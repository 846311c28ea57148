package ordering

import (
	"math"
	"math/bits"
	"slices"
)

// squares prices a piece by the square of the share that it fills of its box.
type squares struct {
	*evening
	row   *run
	units uint64   // of a share
	whole []uint64 // units that a length is in each box, where that is a whole number; else 0
	box   int64    // what a box in use costs: more than all squares
}

// square has pieces priced by squares, in parts as shares are, where the sum of
// all squares is sure to fit into what is reckoned with, else in as small ones as
// do.
func (e *evening) square(share uint64) {
	n := len(e.holders)
	width := 61 - bits.Len(uint(n)+1)
	full := math.Max(1, float64(share)/float64(e.parts))
	most := math.Sqrt(math.Exp2(float64(width))/float64(n+1))/full - 1
	q := &squares{evening: e, row: e.weighed(), units: e.parts, whole: make([]uint64, n), box: 1 << width}
	if float64(q.units) > most {
		q.units = 1 << max(0, math.Ilogb(most))
	}
	for t, size := range e.sizes {
		if size > 0 && q.units%uint64(size) == 0 {
			q.whole[t] = q.units / uint64(size)
		}
	}
	e.ends = func(int, int) cost { return cost{} }
	e.between, e.best = q.piece, q.bestEnd
}

func (q *squares) piece(t, from, to int) cost {
	if q.alone(from, to) {
		return cost{q.box, 0}
	}
	s := uint64(q.row.load(from, to)) * q.whole[t]
	if q.whole[t] == 0 {
		s = ratio(uint64(q.row.load(from, to)), q.units, uint64(q.sizes[t]))
	}
	return cost{q.box + int64(s*s), 0}
}

// bestEnd finds the best of the ends from first on, and the furthest of those
// that are as good. This is where an even split spends its time.
func (q *squares) bestEnd(t, from, first int, rest []cost) (cost, int) {
	best, at := never, left
	if q.whole[t] == 0 || q.oversize(from) {
		for i, r := range slices.Backward(rest) {
			if c := r.plus(q.piece(t, from, first+i)); c.less(best) {
				best, at = c, first+i
			}
		}
		return best, at
	}
	// A load is the sum at the end less that at the beginning.
	sums, front, whole := q.row.sum[first:first+len(rest)], q.row.sum[from+1]-q.row.head[from], q.whole[t]
	for i := len(rest) - 1; i >= 0; i-- {
		s := uint64(sums[i]-front) * whole
		if c := (cost{rest[i].first + int64(s*s), rest[i].second}); c.less(best) {
			best, at = c, first+i
		}
	}
	return best.plus(cost{q.box, 0}), at
}

// ratio is a*b/c rounded down, or the most there is where that is more.
func ratio(a, b, c uint64) uint64 {
	hi, lo := bits.Mul64(a, b)
	switch {
	case hi == 0 && lo == 0:
		return 0
	case hi >= c:
		return math.MaxInt64
	case hi == 0:
		return lo / c
	}
	q, _ := bits.Div64(hi, lo, c)
	return min(q, math.MaxInt64)
}

// commonMultiple is the least of two numbers, but no more than most.
func commonMultiple(a, b, most uint64) uint64 {
	x, y := a, b
	for y != 0 {
		x, y = y, x%y
	}
	if hi, lo := bits.Mul64(a/x, b); hi == 0 && lo <= most {
		return lo
	}
	return most
}
