package ordering

import (
	"bytes"
	"slices"

	"example.org/tuckrow/model"
)

// Redo is what a plan asks to be made anew, and what it leaves over.
type Redo struct {
	Labels []NewLabel // in the order of the boxes
	Cards  []NewCard  // in the order in which they are to stand
	Spare  []OldCard  // in the order in which they stand
}

// NewLabel is a box that needs another label than it has. A box that holds
// nothing has none, which is said as "empty".
type NewLabel struct {
	Holding *Holding // as planned
	Was, Is string
}

// NewCard is a card that must stand where none of that text does.
type NewCard struct {
	Card
	Box    model.Box
	Before *Item
	From   string // the box in which one of that text is left over; empty: to be printed
}

// OldCard is a card that stands and is not needed any more.
type OldCard struct{ Box, Text string }

// Redo says what a plan asks to be made anew against what stands. A card of
// the same text that is left over elsewhere is moved and not printed.
func (l *Layout) Redo(p Plan) Redo {
	var r Redo
	for i := range p.Boxes {
		if was, is := l.relabel(&p.Boxes[i]); was != is {
			r.Labels = append(r.Labels, NewLabel{&p.Boxes[i], was, is})
		}
	}
	type spot struct {
		box    model.BoxID
		text   string
		before model.Accession
	}
	stands, left := map[spot]bool{}, map[string][]string{}
	for _, h := range l.Standing() {
		for _, c := range h.Cards() {
			stands[spot{h.Box.ID, c.Text, c.Before}] = true
		}
	}
	for i := range p.Boxes {
		h := &p.Boxes[i]
		for _, it := range h.Items {
			for _, c := range it.Cards {
				if at := (spot{h.Box.ID, c.Text, c.Before}); stands[at] && !h.New {
					delete(stands, at)
					continue
				}
				r.Cards = append(r.Cards, NewCard{Card: c, Box: h.Box, Before: it.Item})
			}
		}
	}
	for _, h := range l.Standing() {
		for _, c := range h.Cards() {
			if at := (spot{h.Box.ID, c.Text, c.Before}); stands[at] {
				left[c.Text] = append(left[c.Text], h.Box.Name)
				delete(stands, at)
				r.Spare = append(r.Spare, OldCard{h.Box.Name, c.Text})
			}
		}
	}
	for i := range r.Cards {
		c := &r.Cards[i]
		if from := left[c.Text]; len(from) > 0 {
			c.From, left[c.Text] = from[0], from[1:]
			moved := slices.Index(r.Spare, OldCard{c.From, c.Text})
			r.Spare = slices.Delete(r.Spare, moved, moved+1)
		}
	}
	return r
}

// relabel gives the label that a box has and the one that a plan gives it.
func (l *Layout) relabel(h *Holding) (was, is string) {
	now := Holding{}
	if !h.New {
		now.Items = l.bare(h.Box.ID)
	}
	return l.Label(&now), l.Label(h)
}

// ByNumber lists every pattern of which there is a copy, by publisher and
// number, whatever section it is filed in and whether in a box or not: as one
// looks it up.
func (l *Layout) ByNumber() []*model.Pattern {
	type filed struct {
		key     []byte
		pattern *model.Pattern
	}
	var all []filed
	seen := map[model.PatternID]bool{}
	for _, cp := range l.c.Copies().All() {
		if seen[cp.Pattern] {
			continue
		}
		seen[cp.Pattern] = true
		p := l.c.Pattern(cp.Pattern)
		all = append(all, filed{l.keyer.key(nil, 0, p, cp.Accession), p})
	}
	slices.SortFunc(all, func(a, b filed) int { return bytes.Compare(a.key, b.key) })
	out := make([]*model.Pattern, len(all))
	for i, f := range all {
		out[i] = f.pattern
	}
	return out
}
