package paper

import (
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// outCardWide is how wide an out card is: half an envelope or so, so that two go
// on a sheet and the tab is seen (our choice).
const outCardWide = 98.0

// OutCards makes a card for each copy that is out, to stand in its place: what
// it is, since when and where to; and lines to write on, for the next time.
func OutCards(src Source, o CardOptions) (*Work, error) {
	_, h := o.size()
	layout, err := cuttingFor(src.Paper, outCardWide, h, "an out card for "+o.Envelope.Name+" envelopes")
	if err != nil && !o.Alone {
		return nil, err
	}
	out := src.collection().OutList("")
	if len(out) == 0 {
		return nil, none("no out card", "nothing is noted as out; tuckrow out WORDS notes it")
	}
	cards := make([]outCard, len(out))
	for i, cp := range out {
		cards[i] = outCard{newEnvelopeLabel(&src, cp.Accession), *cp.Out}
	}
	w := &Work{Title: "Out cards", Count: len(cards), paper: src.Paper}
	w.sheets = func(p *press) iter.Seq[*sheet.Sheet] {
		draw := func(s *sheet.Sheet, i int, at sheet.Rect) { p.outCard(s, &cards[i], at) }
		if o.Alone {
			return alone(len(cards), outCardWide, h, draw)
		}
		return layout.sheets(len(cards), draw)
	}
	w.labels = func() []string {
		lines := make([]string, len(cards))
		for i := range cards {
			lines[i] = joined("  ", "OUT", cards[i].publisher, cards[i].number, cards[i].name, cards[i].since())
		}
		return lines
	}
	w.text = w.labels
	return w, nil
}

type outCard struct {
	envelopeLabel
	model.Out
}

func (c *outCard) since() string {
	return joined(", ", "since "+string(c.Since), prefixed("with ", c.To), prefixed("for ", c.For))
}

func prefixed(before, text string) string {
	if text == "" {
		return ""
	}
	return before + text
}

// standsFor writes what a card stands in the place of, and gives where that ends.
func (p *press) standsFor(s *sheet.Sheet, on string, c *envelopeLabel, in sheet.Rect) (y float64) {
	y = in.Y + 3
	number, name := joined("  ", c.number, c.sizes), c.name
	if c.number == "" { // in its place sizes would be taken for one
		number, name = "", joined("  ", c.name, c.sizes)
	}
	for _, line := range []struct {
		text string
		st   lettering.Style
	}{
		{c.publisher, lettering.Style{Size: 14, Least: 9}},
		{number, lettering.Style{Weight: lettering.Bold, Size: 14, Least: 9}},
		{name, lettering.Style{Size: 12, Least: 8}},
		{joined(" · ", c.category, c.accession), lettering.Style{Size: 8, Least: 7}},
	} {
		y += p.put(s, on, line.text, line.st, sheet.Rect{X: in.X, Y: y, W: in.W, H: 14}, 2, sheet.Left).Height() + 1
	}
	return y
}

func (p *press) outCard(s *sheet.Sheet, c *outCard, at sheet.Rect) {
	t := tab(s, at, 0, at.W)
	on := "out card of " + c.heading()
	p.put(s, on, "OUT", lettering.Style{Weight: lettering.Bold, Size: 34, Least: 34}, sheet.Rect{X: t.X + 4, Y: t.Y + 1, W: 30, H: rise - 1}, 1, sheet.Left)
	number := c.number
	if number == "" {
		number = c.name
	}
	p.put(s, on, number, lettering.Style{Weight: lettering.Bold, Size: 28, Least: 9}, sheet.Rect{X: t.X + 36, Y: t.Y + 2.5, W: t.W - 40, H: rise - 3}, 2, sheet.Right)

	in := sheet.Rect{X: at.X + 4, Y: at.Y + rise, W: at.W - 8, H: at.H - rise}
	s.Rule(at.X, in.Y, at.X+at.W, in.Y)
	y := p.standsFor(s, on, &c.envelopeLabel, in) + 3
	for i, head := range []string{"since", "with", "for"} {
		x := in.X + float64(i)*in.W/3
		p.put(s, on, head, footStyle, sheet.Rect{X: x, Y: y, W: in.W / 3, H: 4}, 1, sheet.Left)
		p.put(s, on, []string{string(c.Since), c.To, c.For}[i], lettering.Style{Size: 10, Least: 7}, sheet.Rect{X: x, Y: y + 3.5, W: in.W/3 - 2, H: 9}, 2, sheet.Left)
	}
	const line = 9.0
	for y += 3.5 + line; y < at.Y+at.H-4; y += line {
		s.Rule(in.X, y, in.X+in.W, y)
	}
}
