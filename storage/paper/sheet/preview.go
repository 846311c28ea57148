package sheet

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"

	"example.org/tuckrow/storage/paper/lettering"
)

// Preview draws a sheet in cells of a terminal: its edge, the places of labels
// and cards on it, and the texts where they begin, each as far as it reaches on
// paper, and further where nothing else is: a cell is wider than most letters. It
// gives rows lines of cols cells each. What runs downwards, and what is smaller
// than a cell, is drawn as far as goes in.
func Preview(s *Sheet, cols, rows int) []string {
	if cols < 2 || rows < 2 {
		return blank(cols, rows)
	}
	c := &canvas{cols: cols, rows: rows, sheet: s, cells: make([]string, cols*rows)}
	for i := range c.cells {
		c.cells[i] = " "
	}
	c.box(Rect{0, 0, s.W, s.H})
	for _, p := range s.Places {
		c.box(p.Rect)
	}
	for _, code := range s.Codes {
		c.shade(code.Rect)
	}
	for _, t := range s.Texts {
		c.text(t)
	}
	for _, r := range c.cut {
		c.reach(r)
	}
	lines := make([]string, rows)
	for y := range lines {
		lines[y] = strings.Join(c.cells[y*cols:(y+1)*cols], "")
	}
	return lines
}

func blank(cols, rows int) []string {
	lines := make([]string, max(0, rows))
	for i := range lines {
		lines[i] = strings.Repeat(" ", max(0, cols))
	}
	return lines
}

// canvas is the cells of a preview. A sign two cells wide has its second cell
// empty.
type canvas struct {
	cols, rows int
	sheet      *Sheet
	cells      []string
	cut        []line // did not go in as far as they reach on paper
}

// line is a text as it is drawn: from where, and up to which cell.
type line struct {
	text      string
	x, y, end int
}

// cell is where a place on the sheet lies.
func (c *canvas) cell(x, y float64) (col, row int) {
	col = int(math.Round(x / c.sheet.W * float64(c.cols-1)))
	row = int(math.Round(y / c.sheet.H * float64(c.rows-1)))
	return max(0, min(c.cols-1, col)), max(0, min(c.rows-1, row))
}

// box draws the edge of an area. Where edges meet, it is drawn as a crossing.
func (c *canvas) box(r Rect) {
	left, top := c.cell(r.X, r.Y)
	right, bottom := c.cell(r.X+r.W, r.Y+r.H)
	for x := left; x <= right; x++ {
		c.edge(x, top, "─")
		c.edge(x, bottom, "─")
	}
	for y := top; y <= bottom; y++ {
		c.edge(left, y, "│")
		c.edge(right, y, "│")
	}
	for _, corner := range []struct {
		x, y int
		sign string
	}{{left, top, "┌"}, {right, top, "┐"}, {left, bottom, "└"}, {right, bottom, "┘"}} {
		c.cells[corner.y*c.cols+corner.x] = corner.sign
	}
}

func (c *canvas) edge(x, y int, sign string) {
	at := &c.cells[y*c.cols+x]
	if *at == " " || *at == sign {
		*at = sign
	} else {
		*at = "┼"
	}
}

// put writes a sign that is w cells wide. What is left of a wide sign that it
// covers in part is a space.
func (c *canvas) put(x, y int, sign string, w int) {
	if first, _ := utf8.DecodeRuneInString(sign); unicode.Is(unicode.M, first) {
		sign = strings.Repeat(" ", w) // alone it would go onto what stands before it
	}
	row := c.cells[y*c.cols : (y+1)*c.cols]
	for from := x; row[from] == ""; from-- {
		row[from], row[from-1] = " ", " "
	}
	for to := x + w; to < c.cols && row[to] == ""; to++ {
		row[to] = " "
	}
	row[x] = sign
	for k := 1; k < w; k++ {
		row[x+k] = ""
	}
}

// shade fills an area, for a code.
func (c *canvas) shade(r Rect) {
	left, top := c.cell(r.X, r.Y)
	right, bottom := c.cell(r.X+r.W, r.Y+r.H)
	for y := top; y < max(bottom, top+1); y++ {
		for x := left; x < max(right, left+1); x++ {
			c.cells[y*c.cols+x] = "▒"
		}
	}
}

// text writes a line of text from where it begins, as far as it reaches; where
// that is too little for all of it, it ends in an ellipsis.
func (c *canvas) text(t Text) {
	reach := t.Line.Width * t.Size * lettering.Point
	x, y := c.cell(t.X, t.Y)
	if t.Down {
		_, end := c.cell(t.X, t.Y+reach)
		for says := t.Line.Text; says != "" && y <= end; {
			sign, w := ansi.FirstGraphemeCluster(says, ansi.GraphemeWidth)
			if says = says[len(sign):]; w > 0 && x+w <= c.cols {
				c.put(x, y, sign, w)
				y++
			}
		}
		return
	}
	end, _ := c.cell(t.X+reach, t.Y)
	l := line{t.Line.Text, x, y, min(c.cols, max(x+1, end+1))}
	c.write(l)
	if ansi.StringWidth(l.text) > l.end-l.x {
		c.cut = append(c.cut, l)
	}
}

// reach writes a text on into the free cells behind it, but for the last one
// before something else.
func (c *canvas) reach(l line) {
	row := c.cells[l.y*c.cols : (l.y+1)*c.cols]
	want := min(c.cols, l.x+ansi.StringWidth(l.text))
	free := l.end
	for free < c.cols && row[free] == " " {
		free++
	}
	if end := min(want, free-1); end > l.end {
		l.end = end
		c.write(l)
	}
}

// write writes a line of text, with an ellipsis where not all of it goes in.
func (c *canvas) write(l line) {
	says, x := ansi.Truncate(l.text, l.end-l.x, "…"), l.x
	for says != "" {
		sign, w := ansi.FirstGraphemeCluster(says, ansi.GraphemeWidth)
		if w > 0 && x+w <= c.cols {
			c.put(x, l.y, sign, w)
			x += w
		}
		says = says[len(sign):]
	}
}
