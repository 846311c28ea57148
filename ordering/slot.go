package ordering

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
)

// Place is the kind of place a copy is at.
type Place string

// The kinds of place.
const (
	InBox  Place = "box"
	OnHook Place = "hook"
	OnPile Place = "pile"
	IsOut  Place = "out"
	Lost   Place = "missing" // looked for and not found
)

// Slot says where a copy is, and where it stands or stood.
type Slot struct {
	Kind           Place
	Box            model.Box // zero when it has no slot in a box
	Position       int       // from the front, 1 first
	FromFront      model.Length
	Behind, Before *Item // neighbours in the box; nil at its ends
	Section        string
	Hook           string
	Out            *model.Out
	Missing        model.Date // the day on which it was not found
	Holding        *Holding   // the box, for drawing; nil when in none
	// Apart is the box in which it lies, being oversize; what has the slot then is a
	// dummy for it. nil: it has the slot itself.
	Apart *OversizeHolding
}

// Slot looks up a copy, as recorded.
func (l *Layout) Slot(a model.Accession) Slot {
	cp := l.c.Copy(a)
	if cp == nil {
		return Slot{Kind: OnPile}
	}
	s := Slot{Kind: OnPile, Out: cp.Out, Missing: cp.Missing}
	if h, apart := l.Apart(a); apart {
		s.Apart = &h
	}
	if it := l.Item(a); it != nil {
		s.Section = l.Section(it.Section).Title
	}
	if spot, ok := l.c.Standing(a); ok {
		h := l.StandingIn(spot.Box)
		s.Kind, s.Box, s.Position, s.Holding = InBox, h.Box, spot.Index+1, &h
		s.FromFront = h.Items[spot.Index].Front
		if spot.Index > 0 {
			s.Behind = h.Items[spot.Index-1].Item
		}
		if spot.Index+1 < len(h.Items) {
			s.Before = h.Items[spot.Index+1].Item
		}
	} else if cp.Hook.Row != 0 {
		s.Kind, s.Hook = OnHook, l.c.HookText(cp.Hook)
	}
	switch {
	case cp.Out != nil:
		s.Kind = IsOut
	case cp.Missing != "":
		s.Kind = Lost
	}
	return s
}

// Text says a slot in words.
func (s Slot) Text() string {
	var parts []string
	apart := ""
	switch {
	case s.Kind == IsOut && s.Out.To != "":
		parts = append(parts, fmt.Sprintf("out since %s, with %s", s.Out.Since, s.Out.To))
	case s.Kind == IsOut:
		parts = append(parts, fmt.Sprintf("out since %s", s.Out.Since))
	case s.Kind == OnHook:
		return "on hook " + s.Hook
	case s.Kind == OnPile && s.Apart != nil:
		return "in " + s.Apart.name() + "; its dummy is on the to-file pile"
	case s.Kind == OnPile:
		return "on the to-file pile"
	case s.Kind == Lost:
		return "not found on " + string(s.Missing)
	}
	if s.Apart != nil && s.Kind == InBox {
		apart = "in " + s.Apart.name() + "; its dummy in "
	}
	if s.Box.ID != 0 {
		parts = append(parts, fmt.Sprintf("%sbox %s, place %d, %s from the front", apart, s.Box.Name, s.Position, s.FromFront.Whole()))
		if s.Behind != nil {
			parts = append(parts, "behind "+s.Behind.Pattern.Heading())
		}
		if s.Before != nil {
			parts = append(parts, "before "+s.Before.Pattern.Heading())
		}
	} else if s.Hook != "" {
		parts = append(parts, "its place is hook "+s.Hook)
	}
	return strings.Join(parts, ", ")
}

// Gap is where a copy that is not there yet would stand.
type Gap struct {
	Holding        *Holding     // nil when no box has a neighbour of it
	FromFront      model.Length // to the front of its envelope, behind the cards that it stands behind
	Behind, Before *Item        // nearest neighbours that stand in the box
	Section        string
}

// GapFor says between which two a new copy of a pattern would stand, in the
// boxes as they stand now. The publisher is given by name: it may be new. The
// cards are those that are there, and one of its own if it is the first of its
// section; which others are due once it is there, the next layout says.
func (l *Layout) GapFor(publisher string, p *model.Pattern) Gap {
	k := l.keyer
	r, scheme, q := k.newcomer(publisher), model.Scheme(""), *p
	q.Publisher = 0
	if pub := l.c.PublisherNamed(publisher); pub != nil {
		if known, ok := k.ranks[pub.ID]; ok {
			r, scheme, q.Publisher = known, pub.Numbers, pub.ID
		}
	}
	section := k.section(&q)
	key, n := appendTitle(appendHead(nil, section, r), &q, scheme)
	key = append(key, 0xff, 0xff, 0xff, 0xff) // behind the copies there are
	at := find(l.row, key)
	newcomer := &Item{Section: section, Pattern: &q, publisher: q.Publisher, first: firstOf(n, scheme)}
	behind, before := l.nearest(at-1, -1), l.nearest(at, +1)
	switch {
	case behind == nil && before == nil:
		return Gap{Section: l.Section(section).Title}
	case behind == nil || (before != nil && behind.Section != section && before.Section == section):
		return l.gapAt(before, 0, newcomer)
	}
	return l.gapAt(behind, 1, newcomer)
}

// gapAt is the gap right before a copy that stands in a box, or with offset 1
// right behind it, for a newcomer.
func (l *Layout) gapAt(home *Item, offset int, newcomer *Item) Gap {
	spot, _ := l.c.Standing(home.Copy)
	h := l.StandingIn(spot.Box)
	i := spot.Index + offset
	g := Gap{Holding: &h, Section: l.Section(newcomer.Section).Title}
	if i > 0 {
		last := h.Items[i-1]
		g.Behind, g.FromFront = last.Item, last.Front+last.Thickness
	}
	cards := 0
	if i < len(h.Items) {
		g.Before = h.Items[i].Item
		cards = l.inFront(h.Items[i], newcomer)
	}
	g.FromFront += model.Length(cards+l.ownCards(newcomer, i == 0, cards)) * l.c.Shelf().Settings.Divider
	return g
}

// inFront counts those of the cards before p that a newcomer put there stands
// behind: those of its section, of its publisher, and with a number not above
// its own.
func (l *Layout) inFront(p Placed, newcomer *Item) int {
	if p.Section != newcomer.Section {
		return 0
	}
	for i, card := range p.Cards {
		if card.Kind != PublisherCard && card.Kind != RangeCard {
			continue
		}
		if p.Pattern.Publisher != newcomer.Pattern.Publisher {
			return i
		}
		scheme := l.keyer.schemes[newcomer.publisher]
		on := firstOf(model.ParseNumber(card.Text, scheme), scheme)
		if on.value == "" { // it says a prefix alone
			on.prefix = card.Text
		}
		if card.Kind == RangeCard && newcomer.first.value != "" && newcomer.first.compare(on) < 0 {
			return i
		}
	}
	return len(p.Cards)
}

// ownCards counts the cards that a newcomer needs where it stands behind so
// many that are there: that of its section when it is the first, or else one at
// the head of a box; and that of its publisher when the first earns one.
func (l *Layout) ownCards(newcomer *Item, atHead bool, there int) int {
	s, h := l.standingCards(), houseOf(newcomer)
	others, own := s.sections[h.section].houses, 0
	if there == 0 && (atHead || others == 0) {
		own++
	}
	if others > 0 && s.houses[h] == 0 && l.c.Shelf().Settings.PublisherCardFrom == 1 {
		own++
	}
	return own
}

// nearest is the first copy from an index on, in one direction, that stands in
// a box.
func (l *Layout) nearest(i, step int) *Item {
	for ; i >= 0 && i < len(l.row); i += step {
		if _, ok := l.c.Standing(l.row[i].Copy); ok {
			return l.row[i]
		}
	}
	return nil
}
