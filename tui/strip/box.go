package strip

import (
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
)

// body draws the walls and what stands between them.
func (d *drawing) body() canvas {
	c := newCanvas(d.o.Width)
	in := c[min(1, len(c)):min(1+d.n, len(c))]
	if d.n > 0 {
		d.spare(in)
		d.envelopes(in)
	}
	c.set(0, d.g.wall, wall)
	if len(c) > 1 {
		c.set(d.n+1, d.g.backWall, wall)
	}
	if d.beside {
		c.put(d.n+3, d.beyond, warn)
	}
	return c
}

// sparing is written into working space that is wide enough for it.
const sparing = "keep free"

func (d *drawing) spare(in canvas) {
	from := d.last(max(d.h.Usable, d.h.Load)) + 1
	in.fill(from, d.n, d.g.spare, quiet)
	if w := len(sparing); d.n-from >= w+2 {
		in.put(from+(d.n-from-w)/2, sparing, quiet)
	}
}

func (d *drawing) envelopes(in canvas) {
	crowd := 0 // fronts in the cell of the one before
	for i, p := range d.h.Items {
		at := cardsFrom(p)
		for _, k := range p.Cards {
			if at < d.length {
				first := d.col(at)
				in.fill(first, max(first, d.last(at+k.Thickness))+1, d.g.card, card)
			}
			at += k.Thickness
		}
		if p.Front >= d.length {
			return
		}
		first := d.col(p.Front)
		if crowd++; i == 0 || d.col(d.h.Items[i-1].Front) != first {
			crowd = 1
		}
		d.envelope(in, i, first, crowd)
	}
}

// envelope draws one: its front where it stands, and more of it where it is
// thick.
func (d *drawing) envelope(in canvas, i, first, crowd int) {
	p, was := d.h.Items[i], in[first]
	sign, k := d.front(p, crowd), tick
	switch {
	case d.out(p):
		sign = d.g.out
	case d.marked(i):
		sign = d.g.marked
	case was.text == d.g.out || was.kind == mark:
		sign, k = was.text, was.kind // says more than that there are several
	case was.kind == card:
		sign, k = d.g.cardAndMore, card
	}
	if d.marked(i) {
		k = mark
	}
	in.set(first, sign, k)
	last := d.last(p.Front + p.Thickness)
	switch {
	case d.marked(i):
		in.fill(first+1, last+1, d.g.marked, mark)
	case d.cells(p.Thickness) < 2 && i+1 < len(d.h.Items):
		in.fill(first+1, last+1, d.g.one, tick)
	default:
		in.fill(first+1, last+1, d.g.body, tick)
	}
}

// cells is how many cells a length takes, rounded.
func (d *drawing) cells(x model.Length) int {
	return int((2*x*model.Length(d.n) + d.length) / (2 * d.length))
}

// front is the sign for the fronts of envelopes in a cell, the last of which
// is p. Envelopes of one thickness do not fall evenly into cells; where there
// are as many as that allows, the sign is that of their thickness, so that
// what is even on the shelf looks even here.
func (d *drawing) front(p ordering.Placed, crowd int) string {
	if thick := p.Thickness * model.Length(d.n); thick > 0 && crowd >= max(1, int(d.length/thick)) {
		crowd = int((2*d.length + thick) / (2 * thick))
	}
	switch {
	case crowd <= 1:
		return d.g.one
	case crowd == 2:
		return d.g.two
	}
	return d.g.many
}

// marked tells whether an item is the envelope in question.
func (d *drawing) marked(i int) bool { return d.o.Mark != nil && d.spot.on == i }

// standing is a card and the cell it stands in.
type standing struct {
	ordering.Card
	col int
}

// cardRow draws the cards above the envelopes, with their text where it fits.
// Cards of sections come first, then those of publishers, then those of ranges:
// each may hide what comes after it, never one of its own kind. The text of a
// section leaves room for publishers that are not right behind it.
func (d *drawing) cardRow() canvas {
	c := newCanvas(d.o.Width)
	if d.n == 0 {
		return c
	}
	rows := d.standing()
	for r, row := range rows {
		for i := 0; i < len(row); {
			s, next := row[i], i+1
			for next < len(row) && row[next].col == s.col {
				next++
			}
			end := len(c)
			if next < len(row) {
				end = row[next].col
			}
			for _, p := range rows[1] {
				if r == 0 && p.col > s.col+2*leastText {
					end = min(end, p.col)
				}
			}
			d.cardText(c, s, end)
			i = next
		}
	}
	return c
}

// standing lists the cards that stand within the walls: those that head a
// section, those of publishers, and the others.
func (d *drawing) standing() (rows [3][]standing) {
	for _, p := range d.h.Items {
		at := cardsFrom(p)
		for _, card := range p.Cards {
			if at < d.length {
				row := 2
				switch card.Kind {
				case ordering.SectionCard, ordering.ContinuedCard:
					row = 0
				case ordering.PublisherCard:
					row = 1
				}
				rows[row] = append(rows[row], standing{card, d.col(at) + 1})
			}
			at += card.Thickness
		}
	}
	return rows
}

// leastText is the shortest piece of a card's text that still says something.
const leastText = 4

// cardText puts up one card. Its text goes behind it, up to the next card, or
// before it where behind it there is next to no room.
func (d *drawing) cardText(c canvas, s standing, end int) {
	if c.free(s.col, 1) == 0 {
		return
	}
	c.set(s.col, d.g.card, card)
	room := min(c.free(s.col+1, 1), end-s.col-1)
	if end < len(c) || room < len(c)-s.col-1 {
		room-- // a space between it and what comes
	}
	text := s.Text
	if title, ok := strings.CutSuffix(text, " (continued)"); ok && cells.Width(cells.Plain(text)) > room {
		text = title + " (cont.)"
	}
	w := cells.Width(cells.Plain(text))
	if left := c.free(s.col-1, -1) - 1; room < min(w, 2*leastText) && left >= w {
		c.put(s.col-w, d.fit(text, w), card)
		return
	}
	if room >= min(w, leastText) {
		c.put(s.col+1, d.fit(text, room), card)
	}
}

// scales are what a ruler counts in, by unit, with the distances that there can
// be between its numbers.
var scales = map[string]struct {
	one   model.Length
	steps []int
}{
	model.Millimetres: {model.Millimetre, []int{10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000, 50_000}},
	model.Inches:      {model.Inch, []int{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000}},
}

// leastStep is how many cells a step must have to hold its number.
const leastStep = 7

// ruler draws the side of the box with lengths on it, and the mark. The numbers
// are put up first, so that none ever moves: the mark covers the one it falls
// on, and all others stand where they stood.
func (d *drawing) ruler() canvas {
	c := newCanvas(d.o.Width)
	in := c[min(1, len(c)):min(1+d.n, len(c))]
	if d.h.Box.Length > 0 {
		d.numbers(in)
	}
	if d.o.Mark != nil {
		c.set(d.column, d.g.pointer, mark)
	}
	from, to := d.window()
	for i := range in {
		switch {
		case in[i].kind != blank:
		case d.zoomed && i >= from && i <= to:
			in.set(i, d.g.zoomedSide, wall)
		default:
			in.set(i, d.g.side, wall)
		}
	}
	if d.column > 0 || d.o.Mark == nil {
		c.set(0, d.g.corner, wall)
	}
	if len(c) > 1 && (d.o.Mark == nil || d.column != d.n+1) {
		c.set(d.n+1, d.g.backCorner, wall)
	}
	return c
}

func (d *drawing) numbers(in canvas) {
	zero, end := model.Length(0).In(d.units), d.length.In(d.units)
	scale := scales[d.units]
	if in.free(d.n-1, -1) > 2*leastStep+len(end) {
		in.put(d.n-len(end), end, quiet)
		zero = "0"
	}
	if d.h.Overfull() && d.h.Usable < d.length {
		d.label(in, d.col(d.h.Usable), d.g.limit, "full", warn)
	}
	step := scale.steps[len(scale.steps)-1]
	for _, n := range slices.Backward(scale.steps) {
		if int(model.Length(n)*scale.one*model.Length(d.n)/d.length) >= leastStep {
			step = n
		}
	}
	from, to := d.window()
	for n := 0; model.Length(n)*scale.one < d.length; n += step {
		number, at, sign := strconv.Itoa(n), d.col(model.Length(n)*scale.one), d.g.step
		if n == 0 {
			number = zero
		}
		if d.zoomed && at >= from && at <= to {
			sign = d.g.zoomedStep
		}
		d.label(in, at, sign, number, quiet)
	}
}

// label puts a sign at a cell of the ruler and its text beside it, on the side
// where there is room. Without any room only the sign stays; and where another
// text begins right behind it, which it would be taken to belong to, not even
// that.
func (d *drawing) label(in canvas, at int, sign, text string, k kind) {
	room := in.free(at, 1) - 1
	if room < 0 || room == 0 && at+1 < len(in) {
		return
	}
	in.set(at, sign, k)
	w := len(text)
	switch {
	case room > w || room == w && at+1+w == len(in):
		in.put(at+1, text, k)
	case in.free(at-1, -1) > w:
		in.put(at-w, text, k)
	}
}
