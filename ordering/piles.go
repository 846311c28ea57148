package ordering

import (
	"math"

	"example.org/tuckrow/model"
)

// PileFrom is how many envelopes are sorted at a table without piles: more than
// that are first dealt into piles (common practice, no source).
const PileFrom = 40

// The number of piles. Dealing n envelopes into k piles costs a choice among k
// for each, and putting a pile of n/k in order costs each of its envelopes a
// search among those laid already. The two together are least where k goes with
// the square root of n. Two piles are not worth the dealing, and twelve of C5
// envelopes, 162 by 229 mm (ISO 269), are four by three on a table of 0.7 by
// 0.7 m, as far as arms reach.
const (
	fewestPiles = 3
	mostPiles   = 12
)

// Pile is a table pile: the next so many of what is to be put in, in filing
// order.
type Pile struct {
	Count int
	UpTo  *Item // the last in it; what is printed on it tells where the pile ends
}

// Piles says in how many piles, and where cut, what is to be put in is best
// dealt out before it is sorted; none up to [PileFrom]. The piles are as equal
// as they can be: the squares of their sizes add up to the least, which makes
// sizes differ by one at most, unless copies of one number would be cut apart.
// Cost: number of piles times n log n.
func (l *Layout) Piles(m *Moves) []Pile {
	if len(m.Insert) <= PileFrom {
		return nil
	}
	k := min(max(int(math.Round(math.Sqrt(float64(len(m.Insert))))), fewestPiles), mostPiles)
	var ends []int // behind which inserts one may cut
	for i := range m.Insert {
		if i+1 == len(m.Insert) || !l.oneNumber(m.Insert[i].Item, m.Insert[i+1].Item) {
			ends = append(ends, i+1)
		}
	}
	var out []Pile
	from := 0
	for _, to := range evenCuts(ends, k) {
		last := m.Insert[to-1].Item
		out = append(out, Pile{Count: to - from, UpTo: last})
		from = to
	}
	return out
}

// oneNumber tells whether two neighbours bear the same number, or name where
// there is none, so that one cannot say "up to" between them.
func (l *Layout) oneNumber(a, b *Item) bool {
	p, q := a.Pattern, b.Pattern
	switch {
	case p == q:
		return true
	case a.Section != b.Section || p.Publisher != q.Publisher || (p.Number == "") != (q.Number == ""):
		return false
	case p.Number == "":
		return p.Filing() == q.Filing()
	}
	scheme := l.c.Publisher(p.Publisher).Numbers
	return model.ParseNumber(p.Number, scheme).Key() == model.ParseNumber(q.Number, scheme).Key()
}

// evenCuts picks at most k of the ends, the last one among them, so that the
// squares of the stretches between them add up to the least. The best last cut
// never moves towards the front as the stretch grows (the square is convex), so
// halving finds all of them for one number of piles in n log n steps.
func evenCuts(ends []int, k int) []int {
	n := len(ends)
	k = min(k, n)
	at := func(i int) int { // 0: nothing dealt yet
		if i == 0 {
			return 0
		}
		return ends[i-1]
	}
	cost := make([]int, n+1)
	for i := 1; i <= n; i++ {
		cost[i] = at(i) * at(i)
	}
	from := make([][]int, k+1) // by number of piles and ends used: where the last pile begins
	for piles := 2; piles <= k; piles++ {
		next := make([]int, n+1)
		from[piles] = make([]int, n+1)
		var fill func(lo, hi, first, last int)
		fill = func(lo, hi, first, last int) {
			if lo > hi {
				return
			}
			mid := (lo + hi) / 2
			best := -1
			for cut := max(first, piles-1); cut <= min(last, mid-1); cut++ {
				d := at(mid) - at(cut)
				if sum := cost[cut] + d*d; best < 0 || sum < next[mid] {
					best, next[mid] = cut, sum
				}
			}
			from[piles][mid] = best
			fill(lo, mid-1, first, best)
			fill(mid+1, hi, best, last)
		}
		fill(piles, n, piles-1, n-1)
		cost = next
	}
	cuts := make([]int, k)
	for piles, i := k, n; piles >= 1; piles-- {
		cuts[piles-1] = at(i)
		if piles > 1 {
			i = from[piles][i]
		}
	}
	return cuts
}

// UpTo says in words where a pile ends: "Harrow & Pell 4990".
func (l *Layout) UpTo(p Pile) string {
	pattern := p.UpTo.Pattern
	name := l.c.Publisher(pattern.Publisher).Name
	text := name + " " + pattern.Short()
	if title := l.Section(p.UpTo.Section).Title; len(l.Sections()) > 1 && title != name {
		text += " (" + title + ")"
	}
	return text
}
