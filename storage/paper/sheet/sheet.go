// Package sheet is what lies on a sheet of paper: texts, lines, areas and codes
// at their places, and how it gets out: as PDF, or drawn in the cells of a
// terminal.
//
// The usual way in is [New], then [Sheet.Set] and its like for each thing, and
// [WritePDF] with the sheets one after another. [Preview] draws one sheet small.
//
// Promised: lengths are millimetres from the top left corner, and what is drawn
// lies there within a hundredth of one; text can be searched for and copied as
// it is read; the same sheets give the same bytes.
package sheet

import (
	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
)

// Rect is an area: its left upper corner, its width and height.
type Rect struct{ X, Y, W, H float64 }

// Inset is the area without a margin.
func (r Rect) Inset(by float64) Rect { return Rect{r.X + by, r.Y + by, r.W - 2*by, r.H - 2*by} }

// Sheet is one page.
type Sheet struct {
	W, H   float64
	Texts  []Text
	Lines  []Stroke
	Codes  []Code
	Places []Place
}

// Text is a line of text. X and Y are where its baseline begins.
type Text struct {
	X, Y float64
	Size float64 // points
	Down bool    // it runs downwards, as on a spine
	At   Align   // the side of its room that it was set to
	Line lettering.Line
}

// Stroke is a straight line.
type Stroke struct {
	X1, Y1, X2, Y2 float64
	Width          float64
	Dashed         bool
}

// Place is a label or card on the sheet: where it is, and whether its edge is
// drawn to be cut along.
type Place struct {
	Rect
	Cut bool
}

// New makes an empty sheet of a size in millimetres.
func New(w, h float64) *Sheet { return &Sheet{W: w, H: h} }

// Of makes an empty sheet of paper, upright or lying.
func Of(p model.Paper, lying bool) *Sheet {
	if lying {
		return New(p.Height.MM(), p.Width.MM())
	}
	return New(p.Width.MM(), p.Height.MM())
}

// Align says at which side of its room a text begins.
type Align int

// The sides.
const (
	Left Align = iota
	Centre
	Right
)

// Set puts a fitted text into a room, its first line at the top.
func (s *Sheet) Set(b lettering.Block, room Rect, a Align) {
	y := room.Y
	for _, l := range b.Lines {
		em := b.Size * lettering.Point
		y += l.Above() * em
		s.Texts = append(s.Texts, Text{X: aligned(room.X, room.W, l.Width*em, a), Y: y, Size: b.Size, At: a, Line: l})
		y += l.Below() * em
	}
}

// SetDown puts a fitted text into a room that is read with the head turned to
// the right: lines run downwards, the first at the right.
func (s *Sheet) SetDown(b lettering.Block, room Rect, a Align) {
	x := room.X + room.W
	for _, l := range b.Lines {
		em := b.Size * lettering.Point
		x -= l.Above() * em
		s.Texts = append(s.Texts, Text{X: x, Y: aligned(room.Y, room.H, l.Width*em, a), Size: b.Size, Down: true, At: a, Line: l})
		x -= l.Below() * em
	}
}

func aligned(from, room, takes float64, a Align) float64 {
	switch a {
	case Centre:
		return from + (room-takes)/2
	case Right:
		return from + room - takes
	}
	return from
}

// hairline is how thick lines are that part or frame things, in millimetres.
const hairline = 0.2

// Rule draws a thin line.
func (s *Sheet) Rule(x1, y1, x2, y2 float64) {
	s.Lines = append(s.Lines, Stroke{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: hairline})
}

// Frame draws a thin line round an area.
func (s *Sheet) Frame(r Rect) {
	s.Rule(r.X, r.Y, r.X+r.W, r.Y)
	s.Rule(r.X+r.W, r.Y, r.X+r.W, r.Y+r.H)
	s.Rule(r.X+r.W, r.Y+r.H, r.X, r.Y+r.H)
	s.Rule(r.X, r.Y+r.H, r.X, r.Y)
}

// Fold draws a dashed line to fold along.
func (s *Sheet) Fold(x1, y1, x2, y2 float64) {
	s.Lines = append(s.Lines, Stroke{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: hairline, Dashed: true})
}

// Add notes a label or card, and draws its edge where it is to be cut.
func (s *Sheet) Add(p Place) {
	s.Places = append(s.Places, p)
	if p.Cut {
		s.Frame(p.Rect)
	}
}
