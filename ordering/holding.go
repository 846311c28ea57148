package ordering

import (
	"example.org/tuckrow/model"
)

// CardKind says what a divider card marks.
type CardKind string

// The kinds of card.
const (
	SectionCard   CardKind = "section"
	ContinuedCard CardKind = "continued" // at the head of a box in mid-section
	PublisherCard CardKind = "publisher" // in a section of several
	RangeCard     CardKind = "range"     // what stands behind it is at least the number on it
)

// Card is a divider card standing before a copy.
type Card struct {
	Kind      CardKind
	Text      string
	Before    model.Accession
	Thickness model.Length
}

// Placed is a copy with the cards that stand right before it.
type Placed struct {
	*Item
	Cards []Card
	Front model.Length // from the front of the box to the front of the envelope
}

// Holding is one box, as it stands or as planned, front to back.
type Holding struct {
	Box    model.Box
	New    bool // the shelf does not have it yet
	Usable model.Length
	Load   model.Length // contents and cards
	Items  []Placed
}

// Free is the room left before the working space; negative when overfull.
func (h *Holding) Free() model.Length { return h.Usable - h.Load }

// Overfull tells whether there is more in the box than should be.
func (h *Holding) Overfull() bool { return h.Load > h.Usable }

// Cards lists the cards in the box, front to back.
func (h *Holding) Cards() []Card {
	var cards []Card
	for _, p := range h.Items {
		cards = append(cards, p.Cards...)
	}
	return cards
}

// Contents lists the copies in the box, front to back.
func (h *Holding) Contents() []model.Accession {
	out := make([]model.Accession, len(h.Items))
	for i, p := range h.Items {
		out[i] = p.Copy
	}
	return out
}

// hold lays a piece of the row into a box.
func (l *Layout) hold(placed []Placed, box model.Box, isNew bool, from, to int) Holding {
	p := l.cards()
	return l.layIn(placed[from:to:to], box, isNew, l.row[from:to], func(i int) []Card { return p.before(from+i, i == 0) })
}

// lay lays items into a box, each behind its cards.
func (l *Layout) lay(box model.Box, isNew bool, items []*Item, cards func(int) []Card) Holding {
	return l.layIn(make([]Placed, len(items)), box, isNew, items, cards)
}

// layIn is lay with the memory for what is placed.
func (l *Layout) layIn(placed []Placed, box model.Box, isNew bool, items []*Item, cards func(int) []Card) Holding {
	h := Holding{Box: box, New: isNew, Usable: box.Usable(l.c.Shelf().Settings), Items: placed}
	for i, it := range items {
		p := &placed[i]
		p.Item, p.Cards = it, cards(i)
		for k := range p.Cards {
			h.Load += p.Cards[k].Thickness
		}
		p.Front = h.Load
		h.Load += it.Thickness
	}
	return h
}

// Standing gives the boxes as they stand, as recorded, with the cards that
// belong there: those that what stands calls for, the pile left out. A copy
// that stands out of order has no card, and none stands behind it because of
// it.
func (l *Layout) Standing() []Holding {
	var out []Holding
	for _, b := range l.c.Shelf().Boxes {
		out = append(out, l.holdStanding(b))
	}
	return out
}

// StandingIn gives one box as it stands; the zero Holding when there is no such
// box.
func (l *Layout) StandingIn(id model.BoxID) Holding {
	if b, ok := l.c.Shelf().Box(id); ok {
		return l.holdStanding(b)
	}
	return Holding{}
}

func (l *Layout) holdStanding(b model.Box) Holding {
	cards, items := l.standingCards().cards, l.standing(b.ID)
	return l.lay(b, false, items, func(i int) []Card { return cards[items[i].Copy] })
}

// standing is what stands in a box as recorded. A copy that stands there but
// belongs on a hook takes room all the same.
func (l *Layout) standing(id model.BoxID) []*Item {
	row := l.c.Row(id)
	items := make([]*Item, len(row))
	for i, a := range row {
		items[i] = l.stands(a)
	}
	return items
}

func (l *Layout) stands(a model.Accession) *Item {
	if it := l.Item(a); it != nil {
		return it
	}
	return l.item(l.c.Copy(a))
}
