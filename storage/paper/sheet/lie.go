package sheet

import (
	"cmp"
	"math"
	"slices"

	"example.org/tuckrow/storage/paper/lettering"
)

// lie is in which row of a preview what is on a sheet lies. Rows are about as far
// apart as on paper, and further where two lines of text would fall into one.
type lie struct {
	rows          int
	tops, bottoms []int    // of the sheet's places
	texts         [][]Text // what does not run downwards, by row, from left to right

	high  float64
	steps []step
}

// step is a height on the sheet, in millimetres, with the row that it lies in.
type step struct {
	y   float64
	row int
}

// mark is a height at which there is something: the top or bottom of a place, or
// a text.
type mark struct {
	kind markKind
	y    float64
	of   int  // which of the places or texts
	zone int  // which of the zones
	own  bool // nothing else is beside it that could reach into it, or it into that
}

type markKind int

const (
	bottom markKind = iota // of the place above, before the top of the one below
	top
	text
)

// sameLine is how far two baselines may be apart, as a part of the smaller
// letters' size, for their texts to stand beside one another: texts of one row of
// a list are, where some were set smaller than others. Our choice: lines below
// one another are more than a whole size apart.
const sameLine = 0.4

// A zone is what has lines of its own: a place; behind these the sheet, or each
// strip that it is folded into from top to bottom. zoneOf gives that of a text.
func zoneOf(s *Sheet, t *Text) (zone int, own bool) {
	zone = slices.IndexFunc(s.Places, func(p Place) bool {
		return p.X <= t.X && t.X <= p.X+p.W && p.Y <= t.Y && t.Y <= p.Y+p.H
	})
	if zone >= 0 {
		return zone, true
	}
	zone = len(s.Places)
	if zone > 0 {
		return zone, false
	}
	for _, l := range s.Lines {
		if l.Dashed && l.X1 == l.X2 && math.Abs(l.Y2-l.Y1) > s.H/2 {
			if own = true; l.X1 < t.X {
				zone++
			}
		}
	}
	return zone, own
}

// lieOf finds the rows for a sheet, so many at least.
func lieOf(s *Sheet, rows int) *lie {
	l := &lie{rows: rows, tops: make([]int, len(s.Places)), bottoms: make([]int, len(s.Places)), high: s.H}
	last := step{}                                        // as far as it has come
	lines := make([]step, len(s.Places)+len(s.Lines)+1)   // the last of each zone, text or top
	size := make([]float64, len(s.Places)+len(s.Lines)+1) // of that line's smallest letters; 0: no text
	for i := range lines {
		lines[i].row = -1
	}
	edges := map[float64]int{} // what is at one height on paper is in one row
	at := make([]int, len(s.Texts))
	for _, m := range marks(s) {
		row := max(l.natural(m.y, rows), last.row)
		if len(s.Places) > 0 { // below what is on the sheet itself
			row = max(row, lines[len(s.Places)].row+1)
		}
		switch line := &lines[m.zone]; m.kind {
		case top:
			edges[m.y], *line = row, step{m.y, row}
		case bottom:
			row = max(row, line.row+1)
			edges[m.y] = row
		default:
			em := s.Texts[m.of].Size * lettering.Point
			if least := min(size[m.zone], em); m.y-line.y < sameLine*least {
				at[m.of], size[m.zone] = line.row, least
				continue
			}
			if row = max(row, line.row+1, 1); !m.own {
				row = max(row, last.row+1) // it may reach across any place
			}
			at[m.of], *line, size[m.zone] = row, step{m.y, row}, em
		}
		last = step{m.y, row}
		l.steps = append(l.steps, last)
	}
	for i, p := range s.Places {
		l.tops[i], l.bottoms[i] = edges[edgeAt(p.Y)], edges[edgeAt(p.Y+p.H)]
	}
	l.rows = max(rows, last.row+2)
	l.steps = append(l.steps, step{s.H, l.rows - 1})
	l.texts = make([][]Text, l.rows)
	for i, t := range s.Texts {
		if !t.Down {
			l.texts[at[i]] = append(l.texts[at[i]], t)
		}
	}
	for _, row := range l.texts {
		slices.SortStableFunc(row, func(a, b Text) int { return cmp.Compare(a.X, b.X) })
	}
	return l
}

// marks lists what there is, from the top of the sheet on.
func marks(s *Sheet) []mark {
	var all []mark
	for i, p := range s.Places {
		all = append(all, mark{top, edgeAt(p.Y), i, i, true}, mark{bottom, edgeAt(p.Y + p.H), i, i, true})
	}
	for i, t := range s.Texts {
		if t.Down {
			continue
		}
		zone, own := zoneOf(s, &t)
		all = append(all, mark{text, t.Y, i, zone, own})
	}
	slices.SortStableFunc(all, func(a, b mark) int { return cmp.Or(cmp.Compare(a.y, b.y), cmp.Compare(a.kind, b.kind)) })
	return all
}

// edgeAt is the height of an edge, the same for two that lie on one another.
func edgeAt(y float64) float64 { return math.Round(y*10) / 10 }

// natural is the row of a height where nothing else claims it.
func (l *lie) natural(y float64, rows int) int {
	return max(0, min(rows-1, int(math.Round(y/l.high*float64(rows-1)))))
}

// at is the row of a height: between those of what is above and below.
func (l *lie) at(y float64) int {
	i, _ := slices.BinarySearchFunc(l.steps, y, func(s step, y float64) int { return cmp.Compare(s.y, y) })
	above, below := step{}, l.steps[min(i, len(l.steps)-1)]
	if i > 0 {
		above = l.steps[i-1]
	}
	row := below.row
	if below.y > above.y {
		part := max(0, min(1, (y-above.y)/(below.y-above.y)))
		row = above.row + int(math.Round(part*float64(below.row-above.row)))
	}
	return max(0, min(l.rows-1, row))
}
