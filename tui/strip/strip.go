// Package strip draws a box as one sees it standing before the shelf: from
// above, front at the left, back at the right. It is the one picture that runs
// through all screens.
//
// The usual way in is [Title] for the line over it and [Draw] for the picture:
//
//	lines := append([]string{strip.Title(h, label, w, t)}, strip.Draw(h, strip.Options{Width: w, Theme: t})...)
//
// From top to bottom: the divider cards with their text, which stand taller
// than the envelopes; the envelopes between the walls, each as wide as it is
// thick; a ruler along the side of the box. With a [Mark], the
// ruler carries it, the part of the box around it is drawn again, enlarged and
// with the numbers of the envelopes, and words say how far from the front it
// is and what stands on either side. The mark is in the same column in both
// pictures. [Legend] says what the signs mean.
//
// Promised: no line is wider than Options.Width, by cells.Width; with a mark
// there are at most 8 lines, without one at most 4, and never more than
// Options.Height; nothing panics at any size; and without
// colours the picture says all that it says with them.
package strip

import (
	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// Mark is the place in question.
type Mark struct {
	At    model.Length // from the front of the box
	Width model.Length // how thick the envelope there is; 0: a gap between two
	Label string       // what is there; empty: an envelope is called by its number and name
}

// Options say how to draw.
type Options struct {
	Width  int                        // cells; 0 or less draws nothing
	Height int                        // most lines; 0: as many as there are
	Mark   *Mark                      // nil: no place in question
	Theme  *theme.Theme               // nil: no colours, signs of a UTF-8 terminal, millimetres
	Out    func(model.Accession) bool // whether an out card stands in for a copy; nil: none
}

// Draw gives the lines of the picture. What is less needed goes first where
// Height is short: the enlarged part, the cards, the ruler, the neighbours.
func Draw(h *ordering.Holding, o Options) []string {
	if o.Width <= 0 || h == nil {
		return nil
	}
	d := newDrawing(h, o)
	picture := []layer{{d.cardRow(), 2}, {d.body(), 5}, {d.ruler(), 3}}
	if d.beyond != "" && !d.beside {
		picture = append(picture, layer{d.note(d.beyond), 4})
	}
	if o.Mark != nil {
		if d.zoomed {
			picture = append(picture, layer{d.closeUp(), 1})
		}
		for i, c := range d.words() {
			picture = append(picture, layer{c, [...]int{6, 4, 4}[i]})
		}
	}
	return d.render(picture)
}

// layer is a line of the picture and how much it is needed, the least first.
type layer struct {
	canvas
	need int
}

// render drops lines until the rest fits, and makes text of them.
func (d *drawing) render(picture []layer) []string {
	for d.o.Height > 0 && len(picture) > d.o.Height {
		least := 0
		for i, l := range picture {
			if l.need <= picture[least].need {
				least = i
			}
		}
		picture = append(picture[:least], picture[least+1:]...)
	}
	lines := make([]string, len(picture))
	for i, l := range picture {
		lines[i] = l.text(d.t)
	}
	return lines
}

// drawing is what all lines of one picture go by.
type drawing struct {
	h      *ordering.Holding
	o      Options
	t      *theme.Theme // nil: no colours
	g      glyphs
	units  string       // that lengths are written in
	length model.Length // what the inside of the picture stands for
	n      int          // cells between the walls
	beyond string       // what sticks out behind the back wall, in words
	beside bool         // those words stand beside the wall
	column int          // of the mark, walls counted
	spot   spot
	zoomed bool
	zoomAt int // column of the mark in the enlarged part
}

// leastBeside is how many cells a box must keep when words are put beside it;
// under that the words get a line of their own.
const leastBeside = 24

func newDrawing(h *ordering.Holding, o Options) *drawing {
	d := &drawing{h: h, o: o, t: o.Theme, g: glyphsOf(o.Theme), units: unitsOf(o.Theme), length: h.Box.Length}
	if d.length <= 0 {
		d.length = max(h.Load, 1) // a box never measured is as long as what is in it
	}
	room := o.Width
	if over := h.Load - d.length; over > 0 {
		d.beyond = over.In(d.units) + " beyond the wall"
		if cells.Width(d.beyond) > o.Width {
			d.beyond = over.In(d.units) + " beyond"
		}
		if w := cells.Width(d.beyond) + 1; room-w >= leastBeside {
			d.beside, room = true, room-w
		}
	}
	d.n = max(0, room-2)
	if o.Mark != nil {
		d.spot = locate(h, o.Mark)
		d.column = min(d.col(o.Mark.At)+1, max(0, o.Width-1))
		if d.zoomed = d.worthZoom(); d.zoomed {
			d.zoomAt = d.zoomColumn()
		}
	}
	return d
}

// unitsOf is the unit that lengths are written in.
func unitsOf(t *theme.Theme) string {
	if t == nil || t.Units == "" {
		return model.Millimetres
	}
	return t.Units
}

// col is the cell between the walls in which a length from the front falls.
func (d *drawing) col(x model.Length) int {
	x = min(max(0, x), d.length)
	return min(int(x*model.Length(d.n)/d.length), max(0, d.n-1))
}

// last is the last cell that is covered, by half at least, by what ends at x.
func (d *drawing) last(x model.Length) int {
	x = min(max(0, x), d.length)
	return int((2*x*model.Length(d.n)+d.length)/(2*d.length)) - 1
}

// out tells whether an out card stands in for a copy.
func (d *drawing) out(p ordering.Placed) bool { return d.o.Out != nil && d.o.Out(p.Copy) }

// fit gives text of the user's in at most w cells.
func (d *drawing) fit(s string, w int) string {
	s = cells.Cut(s, w)
	if d.g.ascii {
		s = cells.ASCII(s)
	}
	return s
}

// note is a line of words.
func (d *drawing) note(s string) canvas {
	c := newCanvas(d.o.Width)
	c.put(0, d.fit(s, d.o.Width), plain)
	return c
}
