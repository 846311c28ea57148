package measure

import "math"

// NonNegative finds x, nothing in it below zero, for which the squares of
// a·x - b add up to the least. The rows of a are equations, one a measurement,
// each with as many numbers as there are unknowns. Of several answers it gives
// the one with the fewest unknowns that are not zero, the first of those in
// the order of their numbers. It is meant for very few unknowns: each set of
// them is tried, two to the power of their number.
func NonNegative(a [][]float64, b []float64, unknowns int) []float64 {
	best, least := make([]float64, unknowns), squares(a, b, make([]float64, unknowns))
	// The sum is known to so many digits; a gain below that is none.
	const digits = 1e-12
	scale := least
	for size := 1; size <= unknowns; size++ {
		for set := 1; set < 1<<unknowns; set++ {
			in := members(set, unknowns)
			if len(in) != size {
				continue
			}
			x, ok := solveFor(a, b, in, unknowns)
			if !ok {
				continue // these cannot be told apart; a smaller set does as well
			}
			if sum := squares(a, b, x); sum < least-digits*scale {
				best, least = x, sum
			}
		}
	}
	return best
}

func members(set, unknowns int) []int {
	var in []int
	for i := range unknowns {
		if set&(1<<i) != 0 {
			in = append(in, i)
		}
	}
	return in
}

// solveFor is plain least squares for some of the unknowns, the others being
// zero; false where it has no single answer or one below zero.
func solveFor(a [][]float64, b []float64, in []int, unknowns int) ([]float64, bool) {
	g, right := gram(a, in), make([]float64, len(in))
	for r, row := range a {
		for i, u := range in {
			right[i] += row[u] * b[r]
		}
	}
	inv, ok := inverse(g)
	if !ok {
		return nil, false
	}
	x := make([]float64, unknowns)
	for i, u := range in {
		for j := range in {
			x[u] += inv[i][j] * right[j]
		}
		if x[u] < 0 {
			return nil, false
		}
	}
	return x, true
}

func squares(a [][]float64, b, x []float64) float64 {
	sum := 0.0
	for r, row := range a {
		d := -b[r]
		for i, v := range row {
			d += v * x[i]
		}
		sum += d * d
	}
	return sum
}

// gram multiplies some columns of a with each other.
func gram(a [][]float64, in []int) [][]float64 {
	g := make([][]float64, len(in))
	for i, u := range in {
		g[i] = make([]float64, len(in))
		for j, v := range in {
			for _, row := range a {
				g[i][j] += row[u] * row[v]
			}
		}
	}
	return g
}

// inverse inverts a symmetric matrix; false where it cannot be told from one
// that has no inverse.
func inverse(m [][]float64) ([][]float64, bool) {
	n := len(m)
	work, top := make([][]float64, n), 0.0
	for i, row := range m {
		work[i] = make([]float64, 2*n)
		copy(work[i], row)
		work[i][n+i] = 1
		top = max(top, row[i])
	}
	// What is left of a pivot of a matrix with no inverse is rounding: some
	// 1e-16 of the largest number in it.
	const nothing = 1e-12
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(work[r][c]) > math.Abs(work[p][c]) {
				p = r
			}
		}
		if math.Abs(work[p][c]) <= nothing*top {
			return nil, false
		}
		work[c], work[p] = work[p], work[c]
		pivot := work[c][c]
		for k := range work[c] {
			work[c][k] /= pivot
		}
		for r := range n {
			if f := work[r][c]; r != c && f != 0 {
				for k := range work[r] {
					work[r][k] -= f * work[c][k]
				}
			}
		}
	}
	for i := range work {
		work[i] = work[i][n:]
	}
	return work, true
}

// toldApart tells whether each of some columns still varies by at least so much
// when the others have explained what they can of it. The part of a column that
// the others do not explain has the length 1/sqrt of its entry on the diagonal
// of the inverse.
func toldApart(a [][]float64, in []int, atLeast float64) bool {
	inv, ok := inverse(gram(a, in))
	if !ok {
		return false
	}
	for i := range in {
		if v := inv[i][i]; !(v > 0) || 1/math.Sqrt(v) < atLeast {
			return false
		}
	}
	return true
}
