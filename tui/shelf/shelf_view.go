package shelf

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/strip"
)

// View implements frame.Screen.
func (s *Screen) View() string {
	s.viewed = true
	var lines []string
	switch s.stage {
	case inside:
		lines = s.insideView()
	case readingIt:
		lines = s.readView()
	case recording:
		lines = s.reviewView()
	case editing:
		lines = s.editView()
	case filling:
		lines = s.formView()
	case weighing:
		lines = s.weighView()
	case straying:
		lines = s.strayView()
	default:
		lines = s.cupboardView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

func (s *Screen) spread(style lipgloss.Style, left, right string) string {
	return s.theme.Spread(style, left, right, s.w)
}

func (s *Screen) dots(parts ...string) string { return s.theme.Dots(parts...) }

const (
	cellHeight = 2  // lines that a box takes in the cupboard
	leastCell  = 28 // cells
	picture    = 5  // lines of the chosen box under the cupboard
	leastBoxes = 4  // boxes that must be seen above it
)

// cupboardView shows the boxes as they stand, and the chosen one drawn.
func (s *Screen) cupboardView() []string {
	t, g := s.theme, s.grid
	if g == nil || len(g.boxes) == 0 {
		return []string{s.spread(t.Heading, "The shelf", s.strayed()), "", t.Quiet.Render(cells.Cut("  there is no box yet; e: boxes, sections and all else are entered there", s.w))}
	}
	b, _ := s.desk.Collection().Shelf().Box(s.box)
	lines := []string{""} // the heading says which columns are shown
	var pic []string
	if s.h >= 1+cellHeight*leastBoxes+picture {
		pic = s.picture(nil, picture)
	}
	room := s.h - len(lines) - len(pic)
	heads := len(g.cols) > 1 || g.cols[0].head != ""
	if heads {
		room--
	}
	if len(pic) > 0 {
		room--
	}
	width := max(leastCell, s.w/len(g.cols))
	shown := max(1, min(len(g.cols), s.w/width))
	width = s.w / shown
	col, i := g.find(s.box)
	from := min(max(0, col-shown/2), len(g.cols)-shown)
	columns := ""
	if shown < len(g.cols) {
		columns = fmt.Sprintf("columns %d to %d of %d", from+1, from+shown, len(g.cols))
	}
	lines[0] = s.spread(t.Heading, s.dots(words.Count(len(g.boxes), "box", "boxes"), columns), cmp.Or(s.strayed(), s.dots(s.standing(), s.overfull())))
	rows := max(1, room/cellHeight)
	top := min(max(0, g.cols[col].boxes[i].y-rows/2), max(0, g.rows-rows))
	if heads {
		head := ""
		for _, c := range g.cols[from : from+shown] {
			head += cells.Fit("  "+c.head, width)
		}
		lines = append(lines, t.Card.Render(head))
	}
	lines = append(lines, s.cellLines(g.cols[from:from+shown], width, top, min(rows, g.rows-top))...)
	if len(pic) == 0 {
		return lines
	}
	for len(lines) < s.h-len(pic) {
		lines = append(lines, "")
	}
	if b.Place != "" {
		pic[0] = s.spread(t.Quiet, pic[0], b.Place)
	}
	return append(lines, pic...)
}

// standing and overfull are what all boxes come to.
func (s *Screen) standing() string {
	n := 0
	for _, x := range s.sums {
		n += x.count
	}
	if s.sums == nil {
		return ""
	}
	return words.Count(n, "envelope", "envelopes")
}

func (s *Screen) overfull() string {
	n := 0
	for _, x := range s.sums {
		if x.load > x.usable {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%d too full", n)
}

// strayed says that there is something to look at that was read in a box which
// is gone.
func (s *Screen) strayed() string {
	if len(s.strays) == 0 {
		return ""
	}
	return fmt.Sprintf("v: what was read in %s", words.Count(len(s.strays), "box that is gone", "boxes that are gone"))
}

// cellLines draws so many rows of some columns.
func (s *Screen) cellLines(cols []column, width, top, rows int) []string {
	drawn := make([][][cellHeight]string, len(cols))
	for i, c := range cols {
		drawn[i] = make([][cellHeight]string, rows)
		for _, st := range c.boxes {
			if y := st.y - top; y >= 0 && y < rows {
				drawn[i][y] = s.cell(st.box, width)
			}
		}
	}
	var lines []string
	for y := range rows {
		for k := range cellHeight {
			line := ""
			for i := range cols {
				text := drawn[i][y][k]
				if text == "" {
					text = strings.Repeat(" ", width)
				}
				line += text
			}
			lines = append(lines, line)
		}
	}
	return lines
}

// cell is a box: its name, how full it is and how much room it has; its label
// under that.
func (s *Screen) cell(b model.Box, width int) [cellHeight]string {
	t := s.theme
	mark, style, quiet := "  ", t.Plain, t.Quiet
	if b.ID == s.box {
		mark, style, quiet = t.Glyphs.Arrow+" ", t.Focus, t.Focus
	}
	x, known := s.sums[b.ID]
	room, label := "", ""
	switch {
	case !known:
	case x.load > x.usable:
		room, label = s.theme.Length(x.load-x.usable)+" over", x.label
		if b.ID != s.box {
			style = t.Warn
		}
	default:
		room, label = s.theme.Length(x.usable-x.load)+" free", x.label
	}
	if b.Locked {
		label = s.dots("locked", label)
	}
	if _, begun := s.walks[b.ID]; begun {
		label = s.dots("reading begun", label)
	}
	const roomWidth = 12
	name := max(4, min(12, width/5))
	bar := max(0, width-2-name-1-roomWidth-1)
	first := mark + cells.Fit(b.Name, name) + " " + s.bar(b, x, bar) + cells.Right(room, roomWidth)
	return [cellHeight]string{style.Render(cells.Fit(first, width-1)) + " ", quiet.Render(cells.Fit("  "+label, width-1)) + " "}
}

// bar shows how much of a box is taken, up to where it should be kept free.
func (s *Screen) bar(b model.Box, x sum, width int) string {
	inner := width - 2
	if inner < 1 {
		return strings.Repeat(" ", max(0, width))
	}
	length := max(b.Length, 1)
	part := func(l model.Length) int { return min(inner, int(l*model.Length(inner)/length)) }
	full := part(x.load)
	if x.load > 0 {
		full = max(1, full)
	}
	usable := max(full, part(b.Usable(s.desk.Collection().Shelf().Settings)))
	return s.theme.Glyphs.Wall + strings.Repeat("█", full) + strings.Repeat(s.theme.Glyphs.Dot, usable-full) +
		strings.Repeat(" ", inner-usable) + s.theme.Glyphs.Wall
}

// picture draws the chosen box; as many empty lines where it is not known yet,
// so that nothing jumps.
func (s *Screen) picture(mark *strip.Mark, height int) []string {
	if height <= 0 {
		return nil
	}
	if s.held.Box.ID != s.box || s.box == 0 {
		return make([]string, height)
	}
	o := strip.Options{Width: s.w, Theme: s.theme, Height: max(1, height-1), Mark: mark, Out: s.isOut}
	title := strip.Title(&s.held, s.desk.Layout.Label(&s.held), s.w, s.theme)
	if mark == nil { // the label stands in the cupboard already
		title = strip.Title(&s.held, "", s.w, s.theme)
	}
	if height == 1 {
		return []string{s.theme.Quiet.Render(title)}
	}
	if mark != nil {
		title = s.theme.Quiet.Render(title)
	}
	return append([]string{title}, strip.Draw(&s.held, o)...)
}

func (s *Screen) isOut(a model.Accession) bool {
	cp := s.desk.Collection().Copy(a)
	return cp != nil && cp.Out != nil
}
