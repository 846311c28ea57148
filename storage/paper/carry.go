package paper

import (
	"cmp"
	"fmt"
	"iter"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
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
		n += e.owned
	}
	title := fmt.Sprintf("Owned: %s, %s", words.Count(n, "pattern", "patterns"), src.Date)
	marks := legend(entries)
	w := &Work{Title: title, Count: n, paper: src.Paper}
	w.sheets = func(p *press) iter.Seq[*sheet.Sheet] { return p.carry(title, marks, entries) }
	w.text = func() []string { return carryText(title, marks, entries) }
	return w, nil
}

// carry entry: a publisher as a heading, or a pattern under it.
type carryEntry struct {
	heading             bool
	number, name, sizes string // of a heading the publisher is the name
	owned               int    // patterns
	mark                string // of what is not owned yet
}

// The marks of the carry list.
const (
	markWanted = "?"
	markComing = ">"
	markSizes  = "+" // between sizes that are both owned
)

// legend says what the marks mean that are on the list.
func legend(entries []carryEntry) string {
	var parts []string
	for _, m := range []struct{ mark, means string }{{markWanted, "wanted"}, {markComing, "on the way"}, {markSizes, "in both sizes"}} {
		if slices.ContainsFunc(entries, func(e carryEntry) bool { return e.mark == m.mark || m.mark == markSizes && e.owned > 1 }) {
			parts = append(parts, m.mark+" "+m.means)
		}
	}
	return strings.Join(parts, ", ")
}

// several joins a pattern to the entry before it when it is the same number and
// name in another size. One can be in the sleeve's number, "6123 H5", or in its
// size range.
func (e *carryEntry) several(last, p *model.Pattern, scheme model.Scheme) bool {
	a, b := model.ParseNumber(last.Number, scheme), model.ParseNumber(p.Number, scheme)
	alike := last.Publisher == p.Publisher && !a.Empty() && a.Prefix == b.Prefix && slices.Equal(a.Parts, b.Parts) && a.Suffix == b.Suffix
	if !alike || last.Name != p.Name || a.Size == b.Size && last.SizeRange == p.SizeRange {
		return false
	}
	if a.Size != b.Size {
		e.number += markSizes + b.Size
	}
	if p.SizeRange != last.SizeRange {
		e.sizes += markSizes + p.SizeRange
	}
	e.owned++
	return true
}

func carried(src *Source) []carryEntry {
	copies := map[model.PatternID]int{}
	for _, cp := range src.collection().Copies().All() {
		copies[cp.Pattern]++
	}
	var out []carryEntry
	publisher, last := "", (*model.Pattern)(nil)
	for i, x := range src.Layout.ToCarry() {
		p := x.Pattern
		if x.Publisher != publisher || i == 0 {
			publisher = x.Publisher
			out = append(out, carryEntry{heading: true, name: cmp.Or(publisher, "publisher not known")})
			last = nil
		}
		e := carryEntry{number: p.Number, name: p.Name, sizes: p.SizeRange}
		switch {
		case x.Wish != nil:
			if e.mark = markWanted; x.Wish.OnTheWay() {
				e.mark = markComing
			}
			out, last = append(out, e), nil
			continue
		case last != nil && copies[p.ID] == 1 && out[len(out)-1].several(last, p, src.collection().Publisher(p.Publisher).Numbers):
			continue
		}
		if e.owned = 1; copies[p.ID] > 1 {
			e.name = joined(" ", e.name, fmt.Sprintf("(%d copies)", copies[p.ID]))
		}
		out, last = append(out, e), p
		if copies[p.ID] > 1 {
			last = nil
		}
	}
	return out
}

// marked is the number as it stands on the list, behind its mark.
func (e *carryEntry) marked() string { return joined(" ", e.mark, e.number) }

// panels is how many strips a sheet is folded into, across its long side.
const panels = 4

// strip is one of them, being filled.
type strip struct {
	*press
	title string
	marks string // what they mean
	yield func(*sheet.Sheet) bool
	sheet *sheet.Sheet
	panel int
	y     float64
}

func (p *press) carry(title, marks string, entries []carryEntry) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		c := &strip{press: p, title: title, marks: marks, yield: yield}
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
	if c.marks != "" {
		c.y += c.put(c.sheet, c.title, c.marks, carryName, c.room(6), 2, sheet.Left).Height() + 1
	}
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
	number := c.fit(on, e.marked(), carryNumber, 0.35*in.W, line, 1)
	sizes := c.fit(on, e.sizes, carryName, 0.25*in.W, line, 1)
	c.sheet.Set(number, in, sheet.Left)
	c.sheet.Set(sizes, in, sheet.Right)
	from, to := max(0.17*in.W, number.Width()+1.5), in.W-sizes.Width()-1.5
	if e.marked() == "" {
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
func carryText(title, marks string, entries []carryEntry) []string {
	lines := folded(CarryColumns, "", title)
	if marks != "" {
		lines = append(lines, folded(CarryColumns, "", marks)...)
	}
	for _, e := range entries {
		if e.heading {
			lines = append(append(lines, ""), folded(CarryColumns, "", e.name)...)
			continue
		}
		lines = append(lines, folded(CarryColumns, "  ", joined(" ", e.marked(), e.name, e.sizes))...)
	}
	return lines
}
