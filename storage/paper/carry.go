package paper

import (
	"fmt"
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// CarryColumns is how many cells the carry list as text is wide at most: what a
// phone shows in a line.
const CarryColumns = 32

// Carry makes the list to have at hand in a shop: every pattern by publisher and
// number, dense, on sheets that fold into a strip of a quarter's width.
func Carry(src Source) (*Work, error) {
	entries := carried(&src)
	if len(entries) == 0 {
		return nil, none("no carry list", "the list is empty; enter patterns first")
	}
	n := 0
	for _, e := range entries {
		if !e.heading {
			n++
		}
	}
	title := fmt.Sprintf("Owned: %s, %s", plural(n, "pattern", "patterns"), src.Date)
	w := &Work{Title: title, Count: n, paper: src.Paper}
	w.sheets = func(p *press) iter.Seq[*sheet.Sheet] { return p.carry(title, entries) }
	w.text = func() []string { return carryText(title, entries) }
	return w, nil
}

// carry entry: a publisher as a heading, or a pattern under it.
type carryEntry struct {
	heading             bool
	number, name, sizes string // of a heading the publisher is the name
}

func carried(src *Source) []carryEntry {
	copies := map[model.PatternID]int{}
	for _, cp := range src.collection().Copies().All() {
		copies[cp.Pattern]++
	}
	var out []carryEntry
	var last model.PublisherID
	for _, p := range src.Layout.ByNumber() {
		if p.Publisher != last || len(out) == 0 {
			out = append(out, carryEntry{heading: true, name: src.publisher(p)})
			last = p.Publisher
		}
		e := carryEntry{number: p.Number, name: p.Name, sizes: p.SizeRange}
		if n := copies[p.ID]; n > 1 {
			e.name = joined(" ", e.name, fmt.Sprintf("(%d copies)", n))
		}
		out = append(out, e)
	}
	return out
}

// panels is how many strips a sheet is folded into, across its long side.
const panels = 4

// strip is one of them, being filled.
type strip struct {
	*press
	title string
	yield func(*sheet.Sheet) bool
	sheet *sheet.Sheet
	panel int
	y     float64
}

func (p *press) carry(title string, entries []carryEntry) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		c := &strip{press: p, title: title, yield: yield}
		c.open()
		heading := ""
		for i, e := range entries {
			alone := e.heading && i+1 < len(entries) // not at the foot by itself
			if e.heading {
				heading = e.name
			}
			if !c.add(e, heading, alone) {
				return
			}
		}
		yield(c.sheet)
	}
}

// The margins within a strip, and the room at its foot.
const stripMargin, stripTop, stripFoot = 4.0, 6.0, 12.0

func (c *strip) open() {
	c.sheet, c.panel = sheet.Of(c.paper, true), 0
	for i := 1; i < panels; i++ {
		x := c.sheet.W * float64(i) / panels
		c.sheet.Fold(x, 0, x, c.sheet.H-stripFoot+2)
	}
	c.y = stripTop
	c.y += c.put(c.sheet, c.title, c.title, lettering.Style{Weight: lettering.Bold, Size: 9, Least: 6}, c.room(8), 2, sheet.Left).Height() + 1
}

// room is the rest of the strip, so high.
func (c *strip) room(high float64) sheet.Rect {
	w := c.sheet.W / panels
	return sheet.Rect{X: float64(c.panel)*w + stripMargin, Y: c.y, W: w - 2*stripMargin, H: high}
}

var (
	carryHeading = lettering.Style{Weight: lettering.Bold, Size: 8, Least: 6.5}
	carryNumber  = lettering.Style{Weight: lettering.Bold, Size: 7, Least: 6}
	carryName    = lettering.Style{Size: 7, Least: 6}
)

// add puts an entry into the strip, or into the next where it is full; the
// publisher is said again there.
func (c *strip) add(e carryEntry, heading string, alone bool) bool {
	const line = 3.0
	needs := line
	if alone {
		needs += 2 * line
	}
	if c.y+needs > c.sheet.H-stripFoot {
		if !c.next() {
			return false
		}
		if !e.heading {
			c.headed(heading + " …")
		}
	}
	if e.heading {
		c.y += 1
		c.headed(e.name)
		return true
	}
	on, in := "carry list", c.room(line)
	number := c.fit(on, e.number, carryNumber, 0.35*in.W, line, 1)
	sizes := c.fit(on, e.sizes, carryName, 0.25*in.W, line, 1)
	c.sheet.Set(number, in, sheet.Left)
	c.sheet.Set(sizes, in, sheet.Right)
	from, to := max(0.17*in.W, number.Width()+1.5), in.W-sizes.Width()-1.5
	if e.number == "" {
		from = 0
	}
	c.put(c.sheet, on, e.name, carryName, sheet.Rect{X: in.X + from, Y: in.Y, W: to - from, H: line}, 1, sheet.Left)
	c.y += line
	return true
}

func (c *strip) headed(publisher string) {
	c.y += c.put(c.sheet, "carry list", publisher, carryHeading, c.room(6), 1, sheet.Left).Height()
}

// next goes to the next strip, or the next sheet.
func (c *strip) next() bool {
	if c.panel++; c.panel == panels {
		if !c.yield(c.sheet) {
			return false
		}
		c.open()
		return true
	}
	c.y = stripTop
	return true
}

// carryText is the list in lines of CarryColumns cells at most: a name that is
// longer goes on in the next, further in.
func carryText(title string, entries []carryEntry) []string {
	lines := folded(CarryColumns, "", title)
	for _, e := range entries {
		if e.heading {
			lines = append(append(lines, ""), folded(CarryColumns, "", e.name)...)
			continue
		}
		lines = append(lines, folded(CarryColumns, "  ", joined(" ", e.number, e.name, e.sizes))...)
	}
	return lines
}
