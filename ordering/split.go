package ordering

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// Goal is what a split is to be best at.
type Goal string

// The goals.
const (
	// Fewest boxes: no more new ones than must be, and of all boxes as few in
	// use as can be.
	Fewest Goal = "fewest"
	// Even: with the fewest boxes, the fullest as little full as can be, by
	// share of what may be filled; then the shares as alike as can be.
	Even Goal = "even"
	// LeastMoved: the fewest envelopes change box, then the fewest labels are
	// redone, then the fewest boxes.
	LeastMoved Goal = "least-moved"
)

// Goals lists the goals.
func Goals() []Goal { return []Goal{Fewest, Even, LeastMoved} }

// Options are what a split reckons with besides.
type Options struct {
	// GrowthMonths has an even split leave room for what so many months will
	// bring, if each section goes on growing as in the year before the newest
	// arrival. The other goals do not look at it. What is more than MostGrowth
	// counts as that.
	GrowthMonths int
	// Boxes has an even split take so many boxes where the fewest are fewer: those
	// that the fewest would be, and of the others the first on the shelf, then new
	// ones. 0 is the fewest. Where it cannot be, the findings say so. The other
	// goals do not look at it.
	Boxes int
}

// MostGrowth is a hundred years in months.
const MostGrowth = 1200

// Plan says what is to stand in which box.
type Plan struct {
	Goal     Goal
	Boxes    []Holding
	Findings []string // what could not be met, in words, with what to do
}

// Used counts the boxes that hold something.
func (p *Plan) Used() int { return used(p.Boxes) }

func used(boxes []Holding) int {
	n := 0
	for i := range boxes {
		if len(boxes[i].Items) > 0 {
			n++
		}
	}
	return n
}

// Split plans where boxes begin and end: everything in the row, the pile
// included, laid into the boxes in their order. Boxes that are needed and not
// there come at the end, marked new, as long as the last one that is, or as the
// longest where the last would be too short for something that is there.
//
// What holds for every goal: a section that begins a box does; a locked box
// keeps its label, and where not all can, as few as can be lose it, which is
// said in the findings; a thing that no box takes stands alone in one. Among
// splits that are as good for the goal, one is taken that has the fewest walls
// between two copies of a pattern, or two size ranges of a number.
func (l *Layout) Split(g Goal) Plan { return l.SplitWith(g, Options{}) }

// SplitWith is Split with options. A goal that is not known is Fewest.
func (l *Layout) SplitWith(g Goal, o Options) Plan {
	s := l.newSplit()
	p := Plan{Goal: g}
	var ends []int
	switch g {
	case Even:
		grown := l.expected(o.GrowthMonths)
		if ends = s.even(grown); o.Boxes > 0 {
			ends, p.Findings = s.over(ends, o.Boxes, grown)
		}
	case LeastMoved:
		ends, p.Findings = s.leastMoved(firstWidth, mostPlaces)
	default:
		p.Goal, ends = Fewest, s.fewest()
	}
	p.Boxes = l.laid(ends, s.sizes.fresh)
	p.Findings = append(append(l.broken(s.locks, &p), p.Findings...), l.overfull(&p)...)
	return p
}

// laid makes the holdings of a split: where each box ends, new ones behind those
// that there are.
func (l *Layout) laid(ends []int, fresh model.Length) []Holding {
	boxes, next := l.c.Shelf().Boxes, l.freshBoxes(fresh)
	out, from := make([]Holding, len(ends)), 0
	placed := make([]Placed, len(l.row)) // of all boxes at once: the sooner done
	for i, to := range ends {
		if i < len(boxes) {
			out[i] = l.hold(placed, boxes[i], false, from, to)
		} else {
			out[i] = l.hold(placed, next(), true, from, to)
		}
		from = to
	}
	return out
}

// overfull says what no box takes.
func (l *Layout) overfull(p *Plan) []string {
	var out []string
	for i := range p.Boxes {
		if h := &p.Boxes[i]; h.Overfull() {
			out = append(out, fmt.Sprintf("%q takes %s, more than any box may be filled with; it stands alone in box %q, of which %s may be filled",
				h.Items[0].Pattern.Heading(), h.Load, h.Box.Name, h.Usable))
		}
	}
	return out
}

// split is a row that is to be laid into boxes.
type split struct {
	walls
	l     *Layout
	sizes sizes
	locks []lock
	twin  []bool // a wall before the item would part what belongs together
	shelf int    // how many of the holders are there

	together model.Length // what the thickest pile of twins takes
}

// newSplit measures the row and settles which locked boxes keep their label.
func (l *Layout) newSplit() *split {
	m := l.measured()
	s := &split{l: l, sizes: m.sizes, twin: l.parting(), shelf: len(l.c.Shelf().Boxes), together: m.together}
	s.run = m.run
	for _, b := range l.c.Shelf().Boxes {
		s.holders = append(s.holders, holder{size: b.Usable(l.c.Shelf().Settings)})
	}
	if s.locks = l.locks(&s.walls); len(s.locks) > 0 {
		s.hold(s.locks)
	}
	return s
}

// parting tells before which items a wall would part what belongs together.
func (l *Layout) parting() []bool {
	return l.kept.twins.get(func() []bool {
		twin := make([]bool, len(l.row)+1)
		for i := 1; i < len(l.row); i++ {
			twin[i] = l.twins(l.row[i-1], l.row[i])
		}
		return twin
	})
}

// twins tells whether two items that stand side by side belong together: two
// copies of one pattern, or one number sold in two size ranges.
func (l *Layout) twins(a, b *Item) bool {
	p, q := a.Pattern, b.Pattern
	if p == q {
		return true
	}
	if a.publisher != b.publisher || a.Section != b.Section || a.mark != b.mark || p.Number == "" || q.Number == "" {
		return false
	}
	if p.Number == q.Number {
		return p.SizeRange != q.SizeRange
	}
	scheme := l.keyer.schemes[p.Publisher]
	m, n := model.ParseNumber(p.Number, scheme), model.ParseNumber(q.Number, scheme)
	return m.Key() == n.Key() && (m.Size != n.Size || p.SizeRange != q.SizeRange)
}

// parts costs one for a wall that parts twins.
func (s *split) parts(at int) int64 { return int64(b2i(at > 0 && s.twin[at])) }

// addFresh adds as many new boxes as the row needs at the least.
func (s *split) addFresh() int {
	at := 0
	for t := range s.holders {
		if end := s.end(t, at); end != left {
			at = end
		}
	}
	n := 0
	for ; at < s.count(); n++ {
		at = max(at+1, s.to(s.sizes.usable, at))
		s.holders = append(s.holders, holder{size: s.sizes.usable})
	}
	skips(s.holders, n)
	return n
}

// fewest finds the split with the fewest new boxes, then the fewest in use,
// then the fewest twins parted.
func (s *split) fewest() (ends []int) {
	s.framed(func(f *frame) bool {
		if ends = s.apart(f); ends != nil {
			return true
		}
		if y := s.tally(f.back(&s.walls, nil).spans(), f.used); y != nil {
			ends = y.walk()
		}
		return ends != nil
	})
	return ends
}

// apart finds the split within a frame that parts no twins, of several the one
// whose first wall is furthest along the row, then whose second. Where a wall may
// be is told by how near it may be at the least, and that is what there must be,
// not always enough: locked boxes, things too thick for some boxes and more twins
// side by side than a box takes can be in the way. Then, as where there is none,
// it gives nil.
func (s *split) apart(f *frame) []int {
	p := f.back(&s.walls, s.twin)
	ends, place, used := make([]int, len(s.holders)), 0, 0
	for t := 0; t < len(s.holders); {
		to := s.end(t, place)
		for to > place && s.twin[to] {
			to--
		}
		if to > place && p.nodes[t+1].goesOn(used+1, to) && s.holders[t].pieces == nil {
			ends[t], place, used, t = to, to, used+1, t+1
			continue
		}
		upTo := s.holders[t].empty
		if upTo == left || !p.nodes[upTo].goesOn(used, place) {
			return nil
		}
		for ; t < upTo; t++ {
			ends[t] = place
		}
	}
	return ends
}

// framed adds the new boxes that are needed, finds the fewest that can be in use
// and has that frame solved. What a frame allows is a little more than what can
// be: where locked boxes take the one piece or the other, not all places between
// can be reached. So more holders are tried until there is a way, and at last
// the locks are let go.
func (s *split) framed(solved func(*frame) bool) {
	for {
		fresh := s.addFresh()
		for f := s.forward(len(s.holders)); f != nil && f.used <= len(s.holders); f.used++ {
			if solved(f) {
				return
			}
			if !s.locked() {
				break // there is always a way
			}
		}
		s.holders = s.holders[:len(s.holders)-fresh]
		s.unlock()
	}
}

func (w *walls) locked() bool {
	return slices.ContainsFunc(w.holders, func(h holder) bool { return h.pieces != nil })
}

func (s *split) unlock() {
	for i := range s.holders {
		s.holders[i].pieces = nil
	}
}
