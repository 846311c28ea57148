package sheet

import (
	"cmp"
	"slices"

	"github.com/charmbracelet/x/ansi"
)

// span is a text in its row: from which cell on, and up to which.
type span struct {
	Text
	y, start, end int
	wants         int // how many cells all of it takes
}

// row writes the texts of a row beside one another, from left to right.
func (c *canvas) row(y int, texts []Text) {
	spans := make([]span, len(texts))
	for i, t := range texts {
		start := c.col(t.X)
		spans[i] = span{t, y, start, max(start, c.col(t.X+t.reach())) + 1, ansi.StringWidth(t.Line.Text)}
	}
	c.part(spans)
	spans = slices.DeleteFunc(spans, func(s span) bool { return s.end <= s.start }) // there is no cell left for it
	for i := range spans {
		c.write(spans[i])
	}
	short := make([]*span, 0, len(spans))
	for i := range spans {
		if s := &spans[i]; s.wants > s.end-s.start {
			short = append(short, s)
		}
	}
	slices.SortStableFunc(short, func(a, b *span) int { return cmp.Compare(a.wants-a.end+a.start, b.wants-b.end+b.start) })
	for _, s := range short {
		c.widen(s)
	}
}

// part leaves a free cell between neighbours. What ends at the right of its
// column gives way to what is behind it; what does not goes on there no further.
func (c *canvas) part(spans []span) {
	for i := len(spans) - 2; i >= 0; i-- {
		if s, next := &spans[i], &spans[i+1]; s.At == Right && s.end > next.start-1 {
			s.end = max(1, next.start-1)
			s.start = min(s.start, s.end-1)
		}
	}
	for i := range spans {
		s := &spans[i]
		if i > 0 {
			s.start = max(s.start, spans[i-1].start+2)
		}
		s.end = min(c.cols, max(s.end, s.start+1))
		if i > 0 {
			spans[i-1].yield(s)
		}
	}
	for i := range spans {
		s := &spans[i]
		if free := s.end - s.start - s.wants; free > 0 && s.At == Right {
			s.start += free
		} else if free > 0 {
			s.end -= free
		}
	}
}

// yield ends a text before the next one. A number beside a name is whole at the
// name's cost: the shorter of the two gets what it wants, up to half of what both
// have.
func (s *span) yield(next *span) {
	half := (s.start + next.end) / 2
	switch {
	case s.wants < next.wants && s.At != Right:
		next.start = max(next.start, min(s.start+s.wants+1, half))
	case next.wants < s.wants && next.At == Right:
		next.start = min(next.start, max(next.end-next.wants, half+1))
	}
	s.end = min(s.end, next.start-1)
}

// widen writes a text on into the free cells beside it, away from where its
// column begins, but for the last one before something else.
func (c *canvas) widen(s *span) {
	row := c.cells[s.y*c.cols : (s.y+1)*c.cols]
	start, end := s.start, s.end
	if s.At != Left {
		for start > 1 && end-start < s.wants && row[start-1] == " " && row[start-2] == " " {
			start--
		}
	}
	if s.At != Right {
		for end < c.cols-1 && end-start < s.wants && row[end] == " " && row[end+1] == " " {
			end++
		}
	}
	if end-start > s.end-s.start {
		s.start, s.end = start, end
		c.write(*s)
	}
}

// write writes a text, with an ellipsis where not all of it goes in.
func (c *canvas) write(s span) {
	says, x := ansi.Truncate(s.Line.Text, s.end-s.start, "…"), s.start
	for says != "" {
		sign, w := ansi.FirstGraphemeCluster(says, ansi.GraphemeWidth)
		if w > 0 && x+w <= c.cols {
			c.put(x, s.y, sign, w)
			x += w
		}
		says = says[len(sign):]
	}
}
