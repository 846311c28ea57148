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
// gives lines of cols cells each: as many as rows, or more where there are more
// lines of text below one another than go into these, since each has a row of its
// own. Between two texts of a row stays a free cell at least. What runs downwards,
// and what is smaller than a cell, is drawn as far as goes in.
func Preview(s *Sheet, cols, rows int) []string {
	if cols < 2 || rows < 2 {
		return blank(cols, rows)
	}
	lie := lieOf(s, rows)
	c := &canvas{cols: cols, rows: lie.rows, sheet: s, lie: lie, cells: make([]string, cols*lie.rows)}
	for i := range c.cells {
		c.cells[i] = " "
	}
	c.box(Rect{0, 0, s.W, s.H}, 0, lie.rows-1)
	for i, p := range s.Places {
		c.box(p.Rect, lie.tops[i], lie.bottoms[i])
	}
	for _, code := range s.Codes {
		c.shade(code.Rect)
	}
	for _, t := range s.Texts {
		if t.Down {
			c.down(t)
		}
	}
	for y, texts := range lie.texts {
		c.row(y, texts)
	}
	lines := make([]string, lie.rows)
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
	lie        *lie
	cells      []string
}

// col is the column of cells in which a place on the sheet lies.
func (c *canvas) col(x float64) int {
	return max(0, min(c.cols-1, int(math.Round(x/c.sheet.W*float64(c.cols-1)))))
}

// box draws the edge of an area. Where edges meet, it is drawn as a crossing.
func (c *canvas) box(r Rect, top, bottom int) {
	left, right := c.col(r.X), c.col(r.X+r.W)
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
	left, right := c.col(r.X), c.col(r.X+r.W)
	top, bottom := c.lie.at(r.Y), c.lie.at(r.Y+r.H)
	for y := top; y < max(bottom, top+1); y++ {
		for x := left; x < max(right, left+1); x++ {
			c.cells[y*c.cols+x] = "▒"
		}
	}
}

// down writes a text that runs downwards.
func (c *canvas) down(t Text) {
	x, y, end := c.col(t.X), c.lie.at(t.Y), c.lie.at(t.Y+t.reach())
	for says := t.Line.Text; says != "" && y <= end; {
		sign, w := ansi.FirstGraphemeCluster(says, ansi.GraphemeWidth)
		if says = says[len(sign):]; w > 0 && x+w <= c.cols {
			c.put(x, y, sign, w)
			y++
		}
	}
}

// reach is how long a text is on paper, in millimetres.
func (t *Text) reach() float64 { return t.Line.Width * t.Size * lettering.Point }
