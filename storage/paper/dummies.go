package paper

import (
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// Dummies makes a card for each copy that is oversize, to stand in its place in
// the boxes: what it is, and in which box it lies. It is no higher than an
// envelope, since it stands there for good.
func Dummies(src Source, o CardOptions) (*Work, error) {
	_, h := o.size()
	h -= rise
	layout, err := cuttingFor(src.Paper, outCardWide, h, "a dummy among "+o.Envelope.Name+" envelopes")
	if err != nil && !o.Alone {
		return nil, err
	}
	cards := dummies(&src)
	if all := src; len(cards) == 0 && src.OnlyNew {
		if all.OnlyNew = false; len(dummies(&all)) > 0 {
			return nil, none("no dummy", "each stands in its place already; all are printed where not only new ones are asked for")
		}
	}
	if len(cards) == 0 {
		return nil, none("no dummy", "nothing is noted as oversize; tuckrow change WORDS home=oversize notes it")
	}
	w := &Work{Title: "Dummies", Count: len(cards), paper: src.Paper}
	w.sheets = func(p *press) iter.Seq[*sheet.Sheet] {
		draw := func(s *sheet.Sheet, i int, at sheet.Rect) { p.dummy(s, &cards[i], at) }
		if o.Alone {
			return alone(len(cards), outCardWide, h, draw)
		}
		return layout.sheets(len(cards), draw)
	}
	w.labels = func() []string {
		lines := make([]string, len(cards))
		for i, c := range cards {
			lines[i] = joined("  ", "SEE "+c.lies, c.publisher, c.number, c.name)
		}
		return lines
	}
	w.text = w.labels
	return w, nil
}

type dummyCard struct {
	envelopeLabel
	lies, thing string // in which box, and what
}

// dummies lists the cards in the order of the row. With OnlyNew those that stand
// already are left out.
func dummies(src *Source) []dummyCard {
	c := src.collection()
	var out []dummyCard
	type place struct{ lies, thing string }
	where := map[model.Accession]place{}
	for _, h := range src.Layout.Oversize() {
		lies := "box " + h.Box.Name
		if h.New {
			lies = "oversize"
		}
		for _, x := range h.Things {
			for _, a := range x.Copies {
				where[a] = place{lies, x.Title}
			}
		}
	}
	for _, it := range src.Layout.Row() {
		if _, stands := c.Standing(it.Copy); !c.Shelf().LiesApart(c.Copy(it.Copy)) || stands && src.OnlyNew {
			continue
		}
		at := where[it.Copy]
		out = append(out, dummyCard{newEnvelopeLabel(src, it.Copy), at.lies, at.thing})
	}
	return out
}

func (p *press) dummy(s *sheet.Sheet, c *dummyCard, at sheet.Rect) {
	on := "dummy of " + c.heading()
	s.Add(sheet.Place{Rect: at, Cut: true})
	in := sheet.Rect{X: at.X + 4, Y: at.Y + 2, W: at.W - 8, H: at.H - 4}
	y := p.standsFor(s, on, &c.envelopeLabel, in) + 4
	s.Rule(at.X, y, at.X+at.W, y)
	y += 4
	y += p.put(s, on, "SEE "+c.lies, lettering.Style{Weight: lettering.Bold, Size: 28, Least: 12}, sheet.Rect{X: in.X, Y: y, W: in.W, H: 24}, 2, sheet.Left).Height() + 2
	y += p.put(s, on, c.thing, lettering.Style{Size: 12, Least: 8}, sheet.Rect{X: in.X, Y: y, W: in.W, H: 12}, 2, sheet.Left).Height() + 2
	p.put(s, on, "It is too large to stand here and lies there. This card keeps its place in the order.", lettering.Style{Size: 9, Least: 8}, sheet.Rect{X: in.X, Y: y, W: in.W, H: 12}, 3, sheet.Left)
}
