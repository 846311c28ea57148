package paper

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// table is a list that runs on over sheets.
type table struct {
	title   string
	notes   []string // below the title
	columns []column
	rows    []row
	tick    bool // an empty square before each row
	foot    string
}

// column is one column of a table; its width is its share of the sheet's.
type column struct {
	head  string
	share float64
	right bool // figures stand at the right
}

// row is a line of a table, or a heading over those that follow.
type row struct {
	heading string
	cells   []string
}

// square is a cell that is an empty square to be ticked.
const square = "[ ]"

// The margins of sheets that are read, the foot with room for the rule; and the
// space between columns and round lines.
const (
	margin   = 12.0
	footRoom = 15.0
	gutter   = 2.5
	tickSide = 3.2
)

// The sizes of letters in lists; below the least they are hard to read at arm's
// length (common practice, no source).
var (
	titleStyle   = lettering.Style{Weight: lettering.Bold, Size: 17, Least: 11}
	noteStyle    = lettering.Style{Size: 9, Least: 8}
	headStyle    = lettering.Style{Size: 7, Least: 6}
	headingStyle = lettering.Style{Weight: lettering.Bold, Size: 10, Least: 8}
	cellStyle    = lettering.Style{Size: 8.5, Least: 7.5}
	footStyle    = lettering.Style{Size: 7, Least: 6}
)

// mostInCell is how many lines of a cell are set before it is shortened.
const mostInCell = 3

// page is a sheet of a table being filled from the top.
type page struct {
	*press
	t     *table
	sheet *sheet.Sheet
	n     int
	y     float64
}

func (t *table) sheets(p *press) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		pg := &page{press: p, t: t}
		pg.begin()
		for i, r := range t.rows {
			blocks := pg.set(r)
			needs := height(blocks)
			if r.heading != "" && i+1 < len(t.rows) {
				needs += 12 // never alone at the foot
			}
			if pg.y+needs > pg.sheet.H-footRoom {
				if !yield(pg.sheet) {
					return
				}
				pg.begin()
			}
			pg.add(r, blocks)
		}
		yield(pg.sheet)
	}
}

// begin starts a sheet.
func (pg *page) begin() {
	s := sheet.Of(pg.paper, false)
	pg.sheet, pg.y = s, margin
	pg.n++
	w := s.W - 2*margin
	if pg.n == 1 {
		pg.y += pg.put(s, pg.t.title, pg.t.title, titleStyle, sheet.Rect{X: margin, Y: pg.y, W: w, H: 30}, 2, sheet.Left).Height() + 1
		for _, note := range pg.t.notes {
			pg.y += pg.put(s, pg.t.title, note, noteStyle, sheet.Rect{X: margin, Y: pg.y, W: w, H: 40}, 0, sheet.Left).Height() + 0.5
		}
		pg.y += 2
	}
	foot := joined(" · ", pg.t.title, pg.t.foot, fmt.Sprintf("sheet %d", pg.n))
	pg.put(s, pg.t.title, foot, footStyle, sheet.Rect{X: s.W / 2, Y: s.H - 8.5, W: s.W/2 - margin, H: 4}, 1, sheet.Right)
	pg.heads()
}

// heads are the heads of the columns, with a line below.
func (pg *page) heads() {
	high := 0.0
	pg.each(func(i int, c column, x, w float64) {
		b := pg.put(pg.sheet, pg.t.title, c.head, headStyle, sheet.Rect{X: x, Y: pg.y, W: w, H: 6}, 1, c.side())
		high = max(high, b.Height())
	})
	if high > 0 {
		pg.y += high + 0.5
		pg.sheet.Rule(margin, pg.y, pg.sheet.W-margin, pg.y)
		pg.y += 1
	}
}

func (c column) side() sheet.Align {
	if c.right {
		return sheet.Right
	}
	return sheet.Left
}

// each goes through the columns with where they begin and how wide they are.
func (pg *page) each(do func(i int, c column, x, w float64)) {
	x, all := margin, 0.0
	if pg.t.tick {
		x += tickSide + gutter
	}
	for _, c := range pg.t.columns {
		all += c.share
	}
	room := pg.sheet.W - margin - x - gutter*float64(len(pg.t.columns)-1)
	for i, c := range pg.t.columns {
		w := room * c.share / all
		do(i, c, x, w)
		x += w + gutter
	}
}

// set fits the cells of a row.
func (pg *page) set(r row) []lettering.Block {
	if r.heading != "" {
		return []lettering.Block{pg.fit(pg.t.title, r.heading, headingStyle, pg.sheet.W-2*margin, 20, 2)}
	}
	blocks := make([]lettering.Block, len(r.cells))
	pg.each(func(i int, c column, x, w float64) {
		if i < len(r.cells) && r.cells[i] != square {
			blocks[i] = pg.fit(pg.t.title, r.cells[i], cellStyle, w, 60, pg.t.most())
		}
	})
	return blocks
}

func (t *table) most() int {
	if t.title == indexTitle {
		return 0
	}
	return mostInCell
}

// add puts a row where the sheet has come to.
func (pg *page) add(r row, blocks []lettering.Block) {
	if r.heading != "" {
		pg.y += 2
		pg.sheet.Set(blocks[0], sheet.Rect{X: margin, Y: pg.y, W: pg.sheet.W - 2*margin}, sheet.Left)
		pg.y += blocks[0].Height() + 0.8
		return
	}
	tick := func(x float64) { pg.sheet.Frame(sheet.Rect{X: x, Y: pg.y + 0.5, W: tickSide, H: tickSide}) }
	high := height(blocks)
	if pg.t.tick || slices.Contains(r.cells, square) {
		high = max(high, tickSide+1)
	}
	if pg.t.tick {
		tick(margin)
	}
	pg.each(func(i int, c column, x, w float64) {
		switch {
		case i >= len(blocks):
		case r.cells[i] == square:
			tick(x)
		default:
			pg.sheet.Set(blocks[i], sheet.Rect{X: x, Y: pg.y, W: w}, c.side())
		}
	})
	pg.y += high + 0.6
}

func height(blocks []lettering.Block) float64 {
	h := 0.0
	for i := range blocks {
		h = max(h, blocks[i].Height())
	}
	return h
}

const indexTitle = "In full"

// index lists what was shortened, all of it.
func (p *press) index(of string) iter.Seq[*sheet.Sheet] {
	short := p.report.Short
	if len(short) == 0 {
		return func(func(*sheet.Sheet) bool) {}
	}
	t := &table{title: indexTitle, notes: []string{of + ": what did not go in whole, in letters that can still be read."},
		columns: []column{{"on", 1, false}, {"all of it", 3, false}}}
	for _, s := range short {
		t.rows = append(t.rows, row{cells: []string{s.On, s.Text}})
	}
	return t.sheets(p)
}

// terminal is how many cells a list takes as plain text, at the most.
const terminal = 80

// text is the table as plain text, in columns. What does not go into its column
// goes on in the next line.
func (t *table) text() []string {
	lines := []string{t.title}
	for _, note := range t.notes {
		lines = append(lines, folded(terminal, "", note)...)
	}
	lines = append(lines, "")
	heads := row{cells: make([]string, len(t.columns))}
	for i, c := range t.columns {
		heads.cells[i] = c.head
	}
	wide := t.widths(append([]row{heads}, t.rows...))
	lines = append(lines, t.lines(heads, "    ", wide)...)
	for _, r := range t.rows {
		if r.heading != "" {
			lines = append(append(lines, ""), folded(terminal, "", r.heading)...)
			continue
		}
		lines = append(lines, t.lines(r, square+" ", wide)...)
	}
	return lines
}

const textGutter = 2

// widths are those of the columns in cells: as wide as what is in them, the
// widest narrowed until all go into a line.
func (t *table) widths(rows []row) []int {
	wide := make([]int, len(t.columns))
	for _, r := range rows {
		for i, cell := range r.cells {
			wide[i] = max(wide[i], ansi.StringWidth(cell))
		}
	}
	room := terminal - textGutter*(len(wide)-1)
	if t.tick {
		room -= len(square + " ")
	}
	for _, w := range wide {
		room -= w
	}
	for ; room < 0; room++ {
		wide[slices.Index(wide, slices.Max(wide))]--
	}
	return wide
}

// lines writes a row, with a mark before it where rows are ticked.
func (t *table) lines(r row, mark string, wide []int) []string {
	cells, most := make([][]string, len(r.cells)), 0
	for i, cell := range r.cells {
		cells[i] = folded(wide[i], "", cell)
		most = max(most, len(cells[i]))
	}
	lines := make([]string, most)
	for n := range lines {
		parts := make([]string, len(cells))
		for i, c := range cells {
			text := ""
			if n < len(c) {
				text = c[n]
			}
			fill := strings.Repeat(" ", max(0, wide[i]-ansi.StringWidth(text)))
			if parts[i] = text + fill; t.columns[i].right {
				parts[i] = fill + text
			}
		}
		lines[n] = strings.Join(parts, strings.Repeat(" ", textGutter))
		if t.tick {
			lines[n] = mark + lines[n]
			mark = strings.Repeat(" ", len(mark))
		}
		lines[n] = strings.TrimRight(lines[n], " ")
	}
	return lines
}

// work makes a work of a table.
func (t *table) work(src *Source) *Work {
	t.foot = string(src.Date)
	n := 0
	for _, r := range t.rows {
		if r.heading == "" {
			n++
		}
	}
	return &Work{Title: t.title, Count: n, paper: src.Paper, sheets: t.sheets, text: t.text}
}
