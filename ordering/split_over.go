package ordering

import (
	"fmt"
	"math"
	"slices"

	"example.org/tuckrow/model"
)

// Spread over many boxes with few envelopes each, walls could be anywhere, and
// to look at all that would take gigabytes.
const (
	mostSpread = 500 // boxes that are looked at however few envelopes go into each
	leastEach  = 8   // envelopes in each, on average, where there are more boxes
)

// over spreads the row evenly over so many boxes, none of which stays empty:
// those that the even split into the fewest takes, and of the others the first
// on the shelf, then new ones. Where that cannot be it gives what comes nearest,
// and says so.
func (s *split) over(fewest []int, asked int, grown []model.Length) (ends []int, findings []string) {
	taken, needed := make([]bool, len(fewest)), 0
	for t, to := range fewest {
		taken[t] = to > 0 && (t == 0 || to > fewest[t-1])
		needed += b2i(taken[t])
	}
	boxes := min(asked, max(needed, mostSpread, s.count()/leastEach), s.count())
	switch {
	case asked < needed:
		return fewest, []string{fmt.Sprintf("what is there does not go into as few boxes as asked for (%d); this is the even split over %d, the fewest it goes into", asked, needed)}
	case boxes < asked && boxes == s.count():
		findings = []string{fmt.Sprintf("there are only %d envelopes for the boxes asked for (%d)", boxes, asked)}
	case boxes < asked:
		findings = []string{fmt.Sprintf("more boxes than %d are not looked at; asked for were %d", boxes, asked)}
	}
	if boxes == needed {
		return fewest, findings
	}
	at := s.choose(taken, boxes-needed)
	spread := s.filling(at).evenly(grown)
	if spread == nil {
		return fewest, []string{fmt.Sprintf("no split puts something into each of the boxes asked for (%d); this is the even split over %d", asked, needed)}
	}
	ends = make([]int, max(len(fewest), at[boxes-1]+1))
	for i, to := range spread {
		for t := at[i]; t < len(ends); t++ {
			ends[t] = to
		}
	}
	return ends, findings
}

// evenly finds the even split into all of the boxes; nil when there is none.
func (s *split) evenly(grown []model.Length) []int {
	f := s.forward(len(s.holders))
	if f == nil {
		return nil
	}
	f = f.back(&s.walls, nil)
	if !s.anywhere() { // the frame may allow more than what can be: one look saves many
		s.begins = func(int, int) cost { return cost{} }
		s.ends = func(int, int) cost { return cost{} }
		s.free(f.spans())
		can := s.solve().less(never)
		if s.done(); !can {
			return nil
		}
	}
	e := s.newEvening(grown)
	e.latest = s.latest
	defer e.done()
	// No box is fuller than full, but with what is to come it may be.
	for most := e.parts; most < math.MaxInt64/2; most *= 2 {
		if _, next := e.within(f, most); next == 0 {
			if ends := e.level(f, most); ends != nil {
				return ends
			}
		}
		if grown == nil {
			break
		}
	}
	return nil
}

// anywhere tells whether each thing, but for what no box takes, goes into each
// box, and no box keeps its label.
func (s *split) anywhere() bool {
	thickest := model.Length(0)
	for i := range s.count() {
		if !s.oversize(i) {
			thickest = max(thickest, s.load(i, i+1))
		}
	}
	return !slices.ContainsFunc(s.holders, func(h holder) bool { return h.pieces != nil || h.size < thickest })
}

// choose adds so many boxes to those that are taken, and gives all of them in
// order: first of what is left on the shelf, then new ones.
func (s *split) choose(taken []bool, more int) []int {
	var at []int
	for t, is := range taken {
		if !is && t < s.shelf && more > 0 {
			is, more = true, more-1
		}
		if is {
			at = append(at, t)
		}
	}
	for t := len(taken); more > 0; t++ {
		at, more = append(at, t), more-1
	}
	return at
}

// filling is the row to be laid into the boxes chosen, none of which may stay
// empty.
func (s *split) filling(at []int) *split {
	w := &split{l: s.l, sizes: s.sizes, twin: s.twin, shelf: s.shelf, together: s.together}
	w.run = s.run
	for _, t := range at {
		h := holder{size: s.sizes.usable} // of a new one
		if t < len(s.holders) {
			h = s.holders[t]
		}
		h.empty = left
		w.holders = append(w.holders, h)
	}
	w.latest = make([]int, len(at)+1)
	for t := range w.latest {
		w.latest[t] = s.count() - len(at) + t
	}
	return w
}
