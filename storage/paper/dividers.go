package paper

import (
	"fmt"
	"iter"
	"strings"

	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper/sheet"
)

// Dividers makes the divider cards that a plan calls for, box by box in the
// order in which they are to stand; of what is new, those that stand nowhere
// yet, and it says which are to be moved and which are left over.
func Dividers(src Source, plan ordering.Plan, o CardOptions) (*Work, error) {
	w, h := o.size()
	layout, err := cuttingFor(src.Paper, w, h, "a card for "+o.Envelope.Name+" envelopes")
	if err != nil && !o.Alone {
		return nil, err
	}
	var cards []divider
	work := &Work{Title: "Divider cards", paper: src.Paper}
	if src.OnlyNew {
		redo := src.redo(plan)
		for _, c := range redo.Cards {
			if c.From == "" {
				cards = append(cards, newDivider(&src, c.Card))
			} else {
				work.Move = append(work.Move, fmt.Sprintf("the card %q from box %s to box %s, before %s", c.Text, c.From, c.Box.Name, c.Before.Pattern.Heading()))
			}
		}
		for _, c := range redo.Spare {
			work.Remove = append(work.Remove, fmt.Sprintf("box %s: the card %q", c.Box, c.Text))
		}
	} else {
		for i := range plan.Boxes {
			for _, c := range plan.Boxes[i].Cards() {
				cards = append(cards, newDivider(&src, c))
			}
		}
	}
	if len(cards)+len(work.Remove)+len(work.Move) == 0 {
		return nil, none("no divider card", "none is new, or the boxes are empty")
	}
	stagger(cards)
	work.Count = len(cards)
	work.sheets = func(p *press) iter.Seq[*sheet.Sheet] {
		draw := func(s *sheet.Sheet, i int, at sheet.Rect) { p.divider(s, cards[i], at) }
		if o.Alone {
			return alone(len(cards), w, h, draw)
		}
		return layout.sheets(len(cards), draw)
	}
	work.text = func() []string {
		var lines []string
		for _, c := range cards {
			lines = append(lines, joined("  ", c.small, c.large))
		}
		return lines
	}
	work.labels = work.text
	return work, nil
}

// divider is what a divider card says, and where its tab is.
type divider struct {
	kind         ordering.CardKind
	small, large string
	slot         int
}

// newDivider says of a card what it is a card of: a range of its publisher, a
// publisher of its section.
func newDivider(src *Source, c ordering.Card) divider {
	it := src.Layout.Item(c.Before)
	section, publisher := src.Layout.Section(it.Section).Title, src.publisher(it.Pattern)
	d := divider{kind: c.Kind, large: c.Text}
	switch c.Kind {
	case ordering.ContinuedCard:
		d.large, d.small = strings.TrimSuffix(c.Text, ordering.Continued), strings.Trim(ordering.Continued, " ()")
	case ordering.PublisherCard:
		d.small = section
	case ordering.RangeCard:
		d.small = publisher
	}
	return d
}

// head is how many of the slots the tab of a section takes: they stand at the
// left, one behind the other, and all others share the rest.
const head = 2

// stagger gives each card that heads no section the slot behind that of the one
// before.
func stagger(cards []divider) {
	next := 0
	for i := range cards {
		if c := &cards[i]; !c.heads() {
			c.slot = head + next%(slots-head)
			next++
		}
	}
}

func (d *divider) heads() bool {
	return d.kind == ordering.SectionCard || d.kind == ordering.ContinuedCard
}

func (p *press) divider(s *sheet.Sheet, d divider, at sheet.Rect) {
	slot := at.W / slots
	wide := slot
	if d.heads() {
		wide = head * slot
	}
	p.tabText(s, tab(s, at, float64(d.slot)*slot, wide), d.small, d.large)
}
