package ordering

import "example.org/tuckrow/model"

// house is one publisher in one section.
type house struct {
	section   int
	publisher model.PublisherID
}

// stretch is what a row holds of one house.
type stretch struct {
	house
	items []*Item
}

// deck is the cards that a row calls for, wherever boxes begin in it.
type deck struct {
	divider  model.Length
	pieces   []stretch // of the row
	sections []heading // by index
	houses   map[house]int
	ranges   map[model.Accession]string
}

// heading is what cards say of a section or a publisher.
type heading struct {
	title, continued string
	houses           int                            // how many publishers are in a section
	own              map[model.PublisherID]*heading // those that have a card of their own there
}

// Continued is what a card at the head of a box in mid-section says behind the
// section.
const Continued = " (continued)"

// newDeck works out which cards a row calls for. Cost: one pass, and one more
// over what is long enough for range cards.
func (l *Layout) newDeck(row []*Item) *deck {
	set := l.c.Shelf().Settings
	d := &deck{divider: set.Divider, houses: map[house]int{}, ranges: map[model.Accession]string{}}
	for _, s := range l.Sections() {
		d.sections = append(d.sections, heading{title: s.Title, continued: s.Title + Continued, own: map[model.PublisherID]*heading{}})
	}
	d.pieces = stretches(row)
	for _, s := range d.pieces {
		d.houses[s.house] = len(s.items)
		d.sections[s.section].houses++
	}
	for _, s := range d.pieces {
		section := &d.sections[s.section]
		if from := set.PublisherCardFrom; from > 0 && len(s.items) >= from && section.houses > 1 {
			name := l.c.Publisher(s.publisher).Name
			section.own[s.publisher] = &heading{title: name, continued: section.title + ": " + name + Continued}
		}
		if every := set.RangeCardEvery; every > 0 && len(s.items) > every {
			d.rangeCards(s, every)
		}
	}
	return d
}

// stretches parts a row by houses, in the order in which they begin. In a row
// in filing order each is one piece of it.
func stretches(row []*Item) []stretch {
	var out []stretch
	at := map[house]int{}
	for from := 0; from < len(row); {
		h, to := houseOf(row[from]), from+1
		for to < len(row) && houseOf(row[to]) == h {
			to++
		}
		if i, ok := at[h]; ok {
			out[i].items = append(out[i].items, row[from:to]...)
		} else {
			at[h] = len(out)
			out = append(out, stretch{h, row[from:to:to]})
		}
		from = to
	}
	return out
}

func houseOf(it *Item) house { return house{it.Section, it.publisher} }

// ownOf gives the card of a publisher in a section, nil when it has none.
func (d *deck) ownOf(h house) *heading { return d.sections[h.section].own[h.publisher] }

// deal appends the cards before an item whose publisher has a card of its own or
// not, by whether it opens its section, begins its publisher there, and stands
// at a head, where a box must say what it goes on with.
func (d *deck) deal(cards []Card, it *Item, own *heading, opens, begins, atHead bool) []Card {
	put := func(kind CardKind, text string) { cards = append(cards, Card{kind, text, it.Copy, d.divider}) }
	section := &d.sections[it.Section]
	switch {
	case opens:
		put(SectionCard, section.title)
	case atHead && own != nil && !begins:
		put(ContinuedCard, own.continued)
	case atHead:
		put(ContinuedCard, section.continued)
	}
	if begins && own != nil {
		put(PublisherCard, own.title)
	}
	if text, ok := d.ranges[it.Copy]; ok {
		put(RangeCard, text)
	}
	return cards
}

// planned is the cards of the row, dealt: what stands before each item at the
// head of a box, one after another.
type planned struct {
	places []dealt // by index in the row
	cards  []Card
}

// dealt is where in a planned's cards those before an item are. Within a box all
// but a continued card stand there.
type dealt struct{ atHead, within, end int32 }

// before says which cards stand before an item of the row; atHead when it is the
// first in its box. A box that begins in mid-section has one card more than the
// row calls for, in front: it says what goes on there. So wherever boxes begin,
// the section, publisher and range cards are the same.
func (p *planned) before(i int, atHead bool) []Card {
	s := p.places[i]
	if atHead {
		return p.cards[s.atHead:s.end:s.end]
	}
	if s.within == s.end {
		return nil
	}
	return p.cards[s.within:s.end:s.end]
}

// cards gives the cards that the row calls for.
func (l *Layout) cards() *planned { return l.planned.get(l.newPlanned) }

// newPlanned deals the cards that the row calls for, the pile included.
func (l *Layout) newPlanned() *planned {
	d := l.newDeck(l.row)
	p := &planned{make([]dealt, 0, len(l.row)), make([]Card, 0, len(l.row)+len(d.ranges)+len(d.houses))}
	for n, s := range d.pieces { // which follow one another in a row in filing order
		own, opens := d.ownOf(s.house), n == 0 || d.pieces[n-1].section != s.section
		for i, it := range s.items {
			opens = opens && i == 0
			from := int32(len(p.cards))
			p.cards = d.deal(p.cards, it, own, opens, i == 0, true)
			p.places = append(p.places, dealt{from, from + int32(b2i(!opens)), int32(len(p.cards))})
		}
	}
	return p
}

// stood is the cards in the boxes as they stand.
type stood struct {
	*deck
	cards map[model.Accession][]Card
}

// standingCards gives the cards in the boxes as they stand.
func (l *Layout) standingCards() *stood { return l.present.get(l.newStood) }

// newStood works out the cards in the boxes as they stand. They go by what is in
// order there: what is not has none and ends no section.
func (l *Layout) newStood() *stood {
	boxes := l.inOrder()
	row := make([]*Item, 0, len(l.row))
	for _, items := range boxes {
		row = append(row, items...)
	}
	s := &stood{l.newDeck(row), map[model.Accession][]Card{}}
	sections, houses := make([]bool, len(s.sections)), map[house]bool{}
	for _, items := range boxes {
		for i, it := range items {
			h := houseOf(it)
			heads := i == 0 || items[i-1].Section != it.Section // a section can come again where whole boxes are out of order
			if cards := s.deal(nil, it, s.ownOf(h), !sections[it.Section], !houses[h], heads); cards != nil {
				s.cards[it.Copy] = cards
			}
			sections[it.Section], houses[h] = true, true
		}
	}
	return s
}

// inOrder gives, box by box, what stands there in order: what belongs to a
// longest run over all boxes. Where less than half of what is in order within a
// box does, because the box as a whole is out of its place, it goes by a
// longest run of its own.
func (l *Layout) inOrder() [][]*Item {
	at := l.inBoxes()
	ranks, ends := at.ranks, at.ends
	out, run, from := make([][]*Item, len(ends)), at.run, 0
	for i, to := range ends {
		n := 0
		for n < len(run) && run[n] < to {
			n++
		}
		share, first := run[:n], 0
		if own := LongestRun(ranks[from:to]); 2*n < len(own) {
			share, first = own, from
		}
		out[i] = make([]*Item, len(share))
		for k, at := range share {
			out[i][k] = l.row[ranks[first+at]]
		}
		run, from = run[n:], to
	}
	return out
}
