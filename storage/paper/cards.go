package paper

import (
	"fmt"
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// CardOptions say how cards that stand among envelopes are made.
type CardOptions struct {
	Envelope model.Paper
	Upright  bool // envelopes stand on their short side
	Alone    bool // the sheet is the card: it goes through the printer by itself
}

// rise is how far the tab of a card stands above the tops of the envelopes
// (common practice, no source).
const rise = 18.0

// slots is how many tabs stand side by side; each next card has its tab further
// to the right, so that none hides another.
const slots = 5

// size is how large a card is, its tab included, in millimetres.
func (o CardOptions) size() (w, h float64) {
	w, h = o.Envelope.Height.MM(), o.Envelope.Width.MM()
	if o.Upright {
		w, h = h, w
	}
	return w, h + rise
}

// cutting is how cards are laid on a sheet, to be cut.
type cutting struct {
	paper         model.Paper
	lying         bool
	columns, rows int
	w, h          float64
}

// printable is how far from the edge of a sheet a card may begin.
const printable = 5.0

// cuttingFor lays as many cards of a size as go on a sheet. The error says what
// to print on instead.
func cuttingFor(paper model.Paper, w, h float64, what string) (cutting, error) {
	best := cutting{paper: paper, w: w, h: h}
	for _, lying := range []bool{false, true} {
		s := sheet.Of(paper, lying)
		c := cutting{paper, lying, int((s.W - 2*printable) / w), int((s.H - printable - ruleRoom) / h), w, h}
		if c.count() > best.count() {
			best = c
		}
	}
	if best.count() > 0 {
		return best, nil
	}
	hint := "use larger paper, or --alone to print on card cut to size"
	if a3 := model.Papers()[2]; paper != a3 {
		if _, err := cuttingFor(a3, w, h, what); err == nil {
			hint = fmt.Sprintf("use --paper %s, or --alone to print on card cut to size", a3.Name)
		}
	}
	return best, model.Inputf("%s of %.0f x %.0f mm does not go on %s; %s", what, w, h, paper.Name, hint)
}

// ruleRoom is what the rule takes at the foot of a sheet.
const ruleRoom = 10.0

func (c cutting) count() int { return c.columns * c.rows }

// sheets lays n cards on sheets, each drawn by draw into its place.
func (c cutting) sheets(n int, draw func(s *sheet.Sheet, i int, at sheet.Rect)) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		for i := 0; i < n; {
			s := sheet.Of(c.paper, c.lying)
			left, top := (s.W-float64(c.columns)*c.w)/2, (s.H-ruleRoom+printable-float64(c.rows)*c.h)/2
			for k := 0; k < c.count() && i < n; k, i = k+1, i+1 {
				draw(s, i, sheet.Rect{X: left + float64(k%c.columns)*c.w, Y: top + float64(k/c.columns)*c.h, W: c.w, H: c.h})
			}
			if !yield(s) {
				return
			}
		}
	}
}

// alone gives each card a sheet of its own size.
func alone(n int, w, h float64, draw func(s *sheet.Sheet, i int, at sheet.Rect)) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		for i := range n {
			s := sheet.New(w, h)
			draw(s, i, sheet.Rect{W: w, H: h})
			s.Places = nil // the sheet is the card, and bears the rule where none sees it
			if !yield(s) {
				return
			}
		}
	}
}

// tab draws the outline of a card whose tab is so wide and begins so far from
// its left, and gives the area of the tab.
func tab(s *sheet.Sheet, at sheet.Rect, from, wide float64) sheet.Rect {
	y, right, foot := at.Y+rise, at.X+at.W, at.Y+at.H
	t := sheet.Rect{X: at.X + from, Y: at.Y, W: wide, H: rise}
	corners := [][2]float64{{t.X, t.Y}, {t.X + t.W, t.Y}, {t.X + t.W, y}, {right, y}, {right, foot}, {at.X, foot}, {at.X, y}, {t.X, y}}
	for i, c := range corners {
		d := corners[(i+1)%len(corners)]
		if c != d {
			s.Rule(c[0], c[1], d[0], d[1])
		}
	}
	s.Add(sheet.Place{Rect: at})
	return t
}

// tabText sets two lines on a tab: a small one, and a large one below it.
func (p *press) tabText(s *sheet.Sheet, t sheet.Rect, small, large string) {
	in := sheet.Rect{X: t.X + 2.5, Y: t.Y + 1.2, W: t.W - 5, H: t.H - 2}
	if small != "" {
		high := 4.2
		p.put(s, large, small, lettering.Style{Size: 9, Least: 6.5}, sheet.Rect{X: in.X, Y: in.Y, W: in.W, H: high}, 1, sheet.Left)
		in.Y, in.H = in.Y+high, in.H-high
	}
	b := p.fit(large, large, lettering.Style{Weight: lettering.Bold, Size: 30, Least: 9}, in.W, in.H, 2)
	in.Y += (in.H - b.Height()) / 2
	s.Set(b, in, sheet.Left)
}
