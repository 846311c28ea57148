package ordering

import (
	"math"
	"math/bits"

	"example.org/tuckrow/model"
)

// squares prices a piece by the square of the share that it fills of its box.
type squares struct {
	*evening
	row *run
	per []units // in each box
	box int64   // what a box in use costs: more than all squares
}

// units turns a length into parts of a share: times so much, and of that so many bits
// dropped. None are where all lengths are whole parts.
type units struct {
	times uint64
	bits  uint
}

func (u units) of(load model.Length) uint64 { return uint64(load) * u.times >> (u.bits & 63) }

// square has pieces priced by squares, in parts as shares are, where the sum of
// all squares is sure to fit into what is reckoned with, else in as small ones as
// do.
func (e *evening) square(share uint64) {
	n := len(e.holders)
	width := 61 - bits.Len(uint(n)+1)
	full := math.Max(1, float64(share)/float64(e.parts))
	most := math.Sqrt(math.Exp2(float64(width))/float64(n+1))/full - 1
	q := &squares{evening: e, row: e.weighed(), per: make([]units, n), box: 1 << width}
	parts := e.parts
	if float64(parts) > most {
		parts = 1 << max(0, math.Ilogb(most))
	}
	longest := bits.Len64(uint64(q.row.sum[q.row.count()]))
	for t, size := range e.sizes {
		size := uint64(max(1, size))
		if q.per[t].times = parts / size; parts%size != 0 {
			// So many bits as a load times that leaves room for.
			drop := max(0, min(63-longest-bits.Len64(parts/size), 63-bits.Len64(parts)))
			q.per[t] = units{parts << drop / size, uint(drop)}
		}
	}
	e.price, e.better = q.piece, q.better
}

func (q *squares) piece(t, from, to int) cost {
	if q.alone(from, to) {
		return cost{q.box, int64(b2i(q.twin[from]))}
	}
	s := q.per[t].of(q.row.load(from, to))
	return cost{q.box + int64(s*s), int64(b2i(q.twin[from]))}
}

// better is where an even split spends its time. A square grows faster the larger
// what is squared is, so where a box begins further in front, the best end is not
// further along: from place to place fewer ends are left to try. Where parts are
// rounded that may be wrong by one, so all are tried.
func (q *squares) better(t int, here, next *known, lim limit) {
	if next.least+q.box > here.most {
		return
	}
	here.most = 0
	per := q.per[t]
	for i := len(here.rest) - 1; i >= 0; i-- {
		from := here.from + i
		low, high := max(from+1, next.from), min(lim.of(from), next.to)
		if low <= high {
			var best cost
			at := 0
			if rest := next.rest[low-next.from : high-next.from+1]; q.alone(from, high) {
				best = rest[0]
			} else if best, at = per.best(q.row.sum[low:high+1], q.row.starts[from].front, rest); per.bits == 0 && best.less(never) {
				lim.at = low + at
			}
			if best = best.plus(cost{q.box, int64(b2i(q.twin[from]))}); best.less(here.rest[i]) {
				here.rest[i], here.next[i] = best, int32(low+at)
			}
		}
		here.most = max(here.most, here.rest[i].first)
	}
}

// best finds the least of what the rest costs with the square of a load, and the last
// place where it is that. A load is the sum at its end less what is in front.
func (u units) best(sums []model.Length, front model.Length, rest []cost) (best cost, at int) {
	best, rest = never, rest[:len(sums)]
	for i := len(sums) - 1; i >= 0; i-- {
		s := u.of(sums[i] - front)
		if c := rest[i].first + int64(s*s); c < best.first || c == best.first && rest[i].second < best.second {
			best, at = cost{c, rest[i].second}, i
		}
	}
	return best, at
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
