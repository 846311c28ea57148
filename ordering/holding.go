package ordering

import (
	"example.org/tuckrow/model"
)

// CardKind says what a divider card marks.
type CardKind string

// The kinds of card.
const (
	SectionCard   CardKind = "section"
	ContinuedCard CardKind = "continued"
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

// cards says which cards stand before an item that comes behind prev; at the
// head of a box there is always one, so that a box opened in mid-section says
// what it goes on with.
func (l *Layout) cards(prev, it *Item, atHead bool) []Card {
	title, divider := l.Section(it.Section).Title, l.c.Shelf().Settings.Divider
	switch {
	case prev == nil || prev.Section != it.Section:
		return []Card{{SectionCard, title, it.Copy, divider}}
	case atHead:
		return []Card{{ContinuedCard, title + " (continued)", it.Copy, divider}}
	}
	return nil
}

// hold lays items into a box behind what stands before it.
func (l *Layout) hold(box model.Box, isNew bool, prev *Item, items []*Item) Holding {
	h := Holding{Box: box, New: isNew, Usable: box.Usable(l.c.Shelf().Settings), Items: make([]Placed, len(items))}
	for i, it := range items {
		p := Placed{Item: it, Cards: l.cards(prev, it, i == 0)}
		for _, card := range p.Cards {
			h.Load += card.Thickness
		}
		p.Front = h.Load
		h.Load += it.Thickness
		h.Items[i] = p
		prev = it
	}
	return h
}

// Standing gives the boxes as they stand, as recorded, with the cards that
// belong there.
func (l *Layout) Standing() []Holding {
	var out []Holding
	var prev *Item
	for _, b := range l.c.Shelf().Boxes {
		items := l.standing(b.ID)
		out = append(out, l.hold(b, false, prev, items))
		if len(items) > 0 {
			prev = items[len(items)-1]
		}
	}
	return out
}

// StandingIn gives one box as it stands; the zero Holding when there is no such
// box.
func (l *Layout) StandingIn(id model.BoxID) Holding {
	h, _ := l.standingIn(id)
	return h
}

// standingIn gives one box as it stands, and what stands last before it.
func (l *Layout) standingIn(id model.BoxID) (Holding, *Item) {
	var prev *Item
	for _, b := range l.c.Shelf().Boxes {
		if b.ID == id {
			return l.hold(b, false, prev, l.standing(id)), prev
		}
		if row := l.c.Row(b.ID); len(row) > 0 {
			prev = l.stands(row[len(row)-1])
		}
	}
	return Holding{}, nil
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
