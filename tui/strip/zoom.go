package strip

import (
	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
)

// The enlarged part has one scale for all boxes and all screens, so that the
// eye gets to know it: an envelope of 5 mm takes 7 cells, which is its edge, a
// number of five digits and a space; one of 4 mm still holds four digits.
const (
	zoomCells = 7
	zoomOver  = 5 * model.Millimetre
)

// leastZoom is how many times larger it must be to be worth a line.
const leastZoom = 1.5

func (d *drawing) worthZoom() bool {
	return d.n >= 2*zoomCells && d.length.MM()/float64(d.n) > leastZoom*zoomOver.MM()/zoomCells
}

// The enlarged part may be off the mark of the whole box near the walls: by a
// few cells so that a wall close by is seen, and by more so that a neighbour
// of common thickness is.
const (
	slack     = 4
	leastSide = zoomCells + 1
)

// zoomColumn is the column of the mark in the enlarged part: the one that it
// has in the whole box where that can be.
func (d *drawing) zoomColumn() int {
	at := d.column
	d.zoomAt = at
	if off := 1 - d.zoomCol(0, false); off > 0 {
		return at + nudge(off, at)
	}
	if off := d.zoomCol(d.end(), true) - (d.n + 1); off > 0 {
		return at - nudge(off, d.o.Width-1-at)
	}
	return at
}

// nudge is how far to move from a wall that is off by so many cells from where
// it would be seen, with so much room on its side.
func nudge(off, room int) int {
	if off <= slack {
		return off
	}
	return min(off, max(0, leastSide-room))
}

// end is where the enlarged part ends at the latest: at the wall, or behind it
// if what stands in the box sticks out.
func (d *drawing) end() model.Length { return max(d.length, d.h.Load) }

// zoomCol is the column of a length from the front in the enlarged part. At a
// gap the envelopes are pulled apart, as a hand would, so that there is room
// for the sign that something goes in there.
func (d *drawing) zoomCol(x model.Length, behind bool) int {
	n := (min(max(0, x), d.end()) - min(max(0, d.o.Mark.At), d.end())) * zoomCells
	if n < 0 {
		n -= zoomOver - 1 // towards the front, like everything else
	}
	at := d.zoomAt + int(n/zoomOver)
	switch {
	case d.spot.on >= 0:
		return at
	case behind:
		return at + 2
	}
	return at - 1
}

// window is the part of the box that is enlarged, in cells between the walls.
func (d *drawing) window() (from, to int) {
	if !d.zoomed {
		return 0, 0
	}
	left := model.Length(d.zoomAt-1) * zoomOver / zoomCells
	right := model.Length(d.o.Width-d.zoomAt-1) * zoomOver / zoomCells
	return d.col(d.o.Mark.At - left), d.col(d.o.Mark.At + right)
}

// closeUp draws the part around the mark, with numbers.
func (d *drawing) closeUp() canvas {
	c := newCanvas(d.o.Width)
	c.fill(d.zoomCol(max(d.h.Usable, d.h.Load), true), d.zoomCol(d.length, true), d.g.spare, quiet)
	for i, p := range d.h.Items {
		d.closeEnvelope(c, i, p)
	}
	d.closeCards(c)
	if d.spot.on < 0 {
		c.set(d.zoomAt-1, d.g.openLeft, mark)
		c.set(d.zoomAt, d.g.in, mark)
		c.set(d.zoomAt+1, d.g.openRight, mark)
	}
	d.closeEnds(c)
	return c
}

// closeEnvelope draws one with its number between its edges. The edge at its
// back is drawn over by the front of the next.
func (d *drawing) closeEnvelope(c canvas, i int, p ordering.Placed) {
	behind := i >= d.spot.next
	from, to := d.zoomCol(p.Front, behind), d.zoomCol(p.Front+p.Thickness, behind)
	if to < 0 || from >= len(c) {
		return
	}
	if len(p.Cards) > 0 && to-from > 1 && d.zoomCol(p.Front-p.Cards[len(p.Cards)-1].Thickness, behind) == from {
		from++ // the card has the cell
	}
	front, k := d.g.one, tick
	if d.marked(i) {
		front, k = d.g.marked, mark
		c.set(to-1, d.g.marked, k)
	}
	if d.out(p) {
		front = d.g.out
	}
	c.set(to, d.g.one, tick)
	c.set(from, front, k)
	if d.marked(i) {
		to--
	}
	// Where the line ends within an envelope, its number stands in the part
	// that is seen, but only whole.
	first, end := max(from, 0)+1, min(to, len(c)-1)
	if w := d.zoomWall(); first <= w && w < end { // the wall stands before it
		if w-first > end-w-1 {
			end = w
		} else {
			first = w + 1
		}
	}
	text, room := name(p.Item), end-first
	if w := cells.Width(cells.Plain(text)); room >= w || from >= 0 && to < len(c) && room >= leastText {
		c.put(first, d.fit(text, room), k)
	}
}

func (d *drawing) closeCards(c canvas) {
	for i, p := range d.h.Items {
		at := cardsFrom(p)
		for _, k := range p.Cards {
			behind := i > d.spot.next || i == d.spot.next && at >= d.o.Mark.At
			first := d.zoomCol(at, behind)
			at += k.Thickness
			c.fill(first, max(first+1, d.zoomCol(at, behind)), d.g.card, card)
		}
	}
}

// zoomWall is the column of the back wall in the enlarged part.
func (d *drawing) zoomWall() int { return d.zoomCol(d.length, d.length >= d.o.Mark.At) }

// closeEnds draws the walls where the enlarged part reaches them, else signs
// that the box goes on.
func (d *drawing) closeEnds(c canvas) {
	if front := d.zoomCol(0, false) - 1; front >= 0 {
		c.set(front, d.g.wall, wall)
	} else {
		c.set(0, d.g.more, quiet)
	}
	back := d.zoomWall()
	if back > 0 && back < len(c) {
		c.set(back, d.g.backWall, wall)
	}
	if d.zoomCol(d.end(), true) >= len(c) {
		c.set(len(c)-1, d.g.more, quiet)
	} else if d.h.Load <= d.length {
		c.erase(back + 1)
	}
}
