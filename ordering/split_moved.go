package ordering

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// leastMoved finds the split by which the fewest envelopes change box, then the
// fewest labels are redone, then the fewest boxes are new, then in use, then the
// fewest twins are parted.
//
// Walls are looked for within so many places of where they are when what stands
// is pushed on, and no further than boxes can reach. The width is four times as
// much from one try to the next until outside proves that no split with a wall further off can be as
// good, or until there would be too many places to look at.
func (s *split) leastMoved(first, most int) (ends []int, findings []string) {
	m := s.newMoving()
	defer m.done()
	for width := first; ; width = min(4*width, most/max(1, len(m.holders))+1) {
		whole := m.band(width)
		c, places := m.solve(), width*len(m.holders)
		if !c.less(never) {
			if whole { // keeping the locks was found to be possible, so there is a way
				s.unlock()
				return s.leastMoved(first, most)
			}
			if places > most {
				return s.fewest(), []string{fmt.Sprintf("locked boxes hold the walls more than %d places from where they are now, which was not looked at; this is the split into the fewest boxes", width)}
			}
			continue
		}
		ends, findings = m.read(), m.unseen(width, whole, c.first>>labelBits)
		if findings == nil || places > most || places > most/32 && m.bound == c.first>>labelBits {
			return ends, findings
		}
	}
}

// read reads off where all boxes end, the new ones included.
func (m *moving) read() []int {
	ends := m.walk()
	at := 0
	if len(ends) > 0 {
		at = ends[len(ends)-1]
	}
	for at < m.count() {
		at = int(m.fresh[at])
		ends = append(ends, at)
	}
	return ends
}

// unseen says what a split that was found leaves open; nil when none is better.
func (m *moving) unseen(width int, whole bool, moved int64) []string {
	if whole {
		return nil
	}
	switch m.bound = m.outside(); {
	case m.bound > moved:
		return nil
	case m.bound == moved:
		return []string{fmt.Sprintf("no split moves fewer, but one with a wall more than %d places from where it is now may move as few and redo fewer labels or use fewer boxes; those were not looked at", width)}
	}
	return []string{fmt.Sprintf("what stands is so far from filing order that splits with a wall more than %d places from where it is now were not looked at; one of them may move fewer", width)}
}

// firstWidth is a guess that is mostly enough; mostPlaces bounds time and memory
// on rows that are in no order at all, where nearly everything moves whatever
// the split. Where the fewest moves are certain and only labels and boxes are
// not, a thirty-second of that is enough.
const (
	firstWidth = 8
	mostPlaces = 1_200_000
)

// How a cost is packed: moved and labels in the first part; new boxes, boxes in
// use and twins parted in the second. There are fewer than a million boxes.
const (
	labelBits       = 32
	oneLabel  int64 = 1
	oneUsed   int64 = 1 << 20
	oneNew    int64 = 1 << 40
	oneMoved  int64 = 1 << labelBits
)

// moving is a row with what stands where.
type moving struct {
	*split
	own      [][]int32 // what stands in each box and belongs in the row, by place
	labels   []label   // what is on each box now
	center   []int     // where each wall is when what stands is pushed on
	furthest []int     // how far along the row each can be
	fresh    []int32   // where a new box ends that begins at a place
	front    counter
	back     counter
	bearing  bearing
	bound    int64 // how few could move with a wall outside the bands
}

// label is what is on a box now.
type label struct {
	text        string
	first, last *Item // nil for an empty box
}

func (s *split) newMoving() *moving {
	l, n := s.l, s.count()
	boxes := l.c.Shelf().Boxes
	mine := *s
	mine.holders = slices.Clone(s.holders) // empty boxes have a price of their own here
	s = &mine
	m := &moving{split: s, own: make([][]int32, len(boxes)), labels: make([]label, len(boxes)), fresh: make([]int32, n+1)}
	at, from := l.inBoxes(), 0
	var usable []model.Length
	for t, b := range boxes {
		row := l.c.Row(b.ID)
		m.own[t] = slices.Clone(at.ranks[from:at.ends[t]])
		slices.Sort(m.own[t])
		from = at.ends[t]
		if len(row) > 0 {
			first, last := l.stands(row[0]), l.stands(row[len(row)-1])
			m.labels[t] = label{l.standingLabel(b.ID), first, last}
		}
		usable = append(usable, s.holders[t].size)
		s.holders[t].empty = t + 1
		s.holders[t].unused = cost{int64(len(m.own[t]))*oneMoved + oneLabel*int64(b2i(len(row) > 0)), 0}
		if s.holders[t].pieces != nil {
			s.holders[t].empty = left
		}
	}
	m.center = append([]int{0}, s.fill(usable, l.stops(l.found()), s.sizes.usable)[:len(boxes)]...)
	m.furthest = []int{0}
	for t := range boxes {
		end := s.end(t, m.furthest[t])
		if end == left {
			end = m.furthest[t] // no more than a bound: solving finds that it cannot be
		}
		m.furthest = append(m.furthest, end)
		if p := s.holders[t].pieces; p != nil {
			m.center[t], m.center[t+1] = p[0].from, p[0].to
		}
	}
	m.begins = func(t, at int) cost {
		return cost{m.lostFront(t, at)*oneMoved + oneLabel, oneUsed + s.parts(at)}
	}
	m.ends = func(t, at int) cost { return cost{m.lostBack(t, at) * oneMoved, 0} }
	m.rebate = m.keeps
	m.bearing.box = left
	return m
}

// counter counts, in a list in order, what is in front of a place. It goes on
// from where it was.
type counter struct {
	list []int32
	at   int
}

func (c *counter) below(list []int32, place int) int64 {
	if len(list) != len(c.list) || len(list) > 0 && &list[0] != &c.list[0] {
		c.list, c.at = list, 0
	}
	for c.at < len(list) && int(list[c.at]) < place {
		c.at++
	}
	for c.at > 0 && int(list[c.at-1]) >= place {
		c.at--
	}
	return int64(c.at)
}

// lostFront is how many leave a box when it begins at a place, lostBack when it
// ends there. So what moves is what the ends of all boxes lose.
func (m *moving) lostFront(t, place int) int64 { return m.front.below(m.own[t], place) }
func (m *moving) lostBack(t, place int) int64 {
	return int64(len(m.own[t])) - m.back.below(m.own[t], place)
}

// bearing is where a box can end so that the end of its label stays.
type bearing struct {
	box  int
	next *known
	ends []int
}

// sameEnd tells whether a label says the same of two items that are first, or
// last. Most can be told apart without going to where the patterns lie in memory.
func sameEnd(a, b *Item) bool {
	if a.publisher != b.publisher || a.mark != b.mark && a.mark != 0 && b.mark != 0 {
		return false
	}
	return a.Pattern.Short() == b.Pattern.Short()
}

// keeps gives the ends of a piece with which its box keeps its label.
func (m *moving) keeps(t, from int) (ends []int, by cost) {
	old := &m.labels[t]
	if old.first == nil || from == m.count() || !sameEnd(m.l.row[from], old.first) {
		return nil, cost{}
	}
	next := &m.nodes[t+1][0]
	if b := &m.bearing; b.box != t || b.next != next {
		*b = bearing{t, next, b.ends[:0]}
		for j := max(1, next.from); j <= next.to; j++ {
			if sameEnd(m.l.row[j-1], old.last) {
				b.ends = append(b.ends, j)
			}
		}
	}
	for _, j := range m.bearing.ends {
		if j > from && m.l.labelOf(from, j) == old.text {
			ends = append(ends, j)
		}
	}
	return ends, cost{oneLabel, 0}
}

// band sets each wall free within so many places of its centre, and tells
// whether that is everywhere that it can be.
func (m *moving) band(width int) (whole bool) {
	spans := make([]span, len(m.holders)+1)
	bands := make([][]span, len(spans))
	whole = true
	for t := range spans {
		center := min(m.center[t], m.furthest[t]) // locked boxes can hold a wall back
		s := span{max(0, center-width), min(m.furthest[t], center+width)}
		if t == 0 {
			s = span{0, 0}
		}
		whole = whole && (s.from == 0 && s.to == m.furthest[t])
		spans[t], bands[t] = s, spans[t:t+1]
	}
	m.free(bands)
	m.laysFresh()
	return whole
}

// laysFresh works out the node behind the last box: what is left goes into the
// fewest new boxes, so that the fewest twins are parted.
func (m *moving) laysFresh() {
	last, n := &m.nodes[len(m.holders)][0], m.count()
	lim := limit{run: m.run, size: m.sizes.usable, at: n}
	costs := make([]cost, n+1-last.from)
	queue := []end{{n, cost{}}}
	for place := n - 1; place >= last.from; place-- {
		to := max(place+1, lim.of(place))
		for queue[0].place > to {
			queue = queue[1:]
		}
		c := queue[0].cost.plus(cost{oneLabel, oneNew + oneUsed + m.parts(place)})
		costs[place-last.from], m.fresh[place] = c, int32(queue[0].place)
		for len(queue) > 0 && c.less(queue[len(queue)-1].cost) {
			queue = queue[:len(queue)-1]
		}
		queue = append(queue, end{place, c})
	}
	copy(last.rest, costs)
}
