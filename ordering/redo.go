package ordering

import (
	"bytes"
	"cmp"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Redo is what a plan asks to be made anew, and what it leaves over.
type Redo struct {
	Labels []NewLabel // in the order of the boxes
	Cards  []NewCard  // in the order in which they are to stand
	Spare  []OldCard  // in the order in which they stand
	boxes  []model.Box
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

// Redo says what a plan asks to be made anew against the labels and cards that
// there are: those on record, else those that what stands calls for. A card
// stays in its box as long as one of its text belongs there: what is filed goes
// before or behind it. A card of the same text that is left over in another box
// is moved and not printed.
func (l *Layout) Redo(p Plan) Redo {
	var r Redo
	left := map[model.BoxID]map[string]int{} // cards that no place was found for yet
	var there []model.NamedSigns
	for _, b := range l.c.Shelf().Boxes {
		s := l.signs(b)
		there, left[b.ID] = append(there, s), map[string]int{}
		for _, text := range s.Cards {
			left[b.ID][text]++
		}
	}
	for i := range p.Boxes {
		h := &p.Boxes[i]
		r.boxes = append(r.boxes, h.Box)
		if is, was := l.Label(h), l.labelled(h.Box); was != is {
			r.Labels = append(r.Labels, NewLabel{h, was, is})
		}
		for _, it := range h.Items {
			for _, c := range it.Cards {
				if in := left[h.Box.ID]; !h.New && in[c.Text] > 0 {
					in[c.Text]--
					continue
				}
				r.Cards = append(r.Cards, NewCard{Card: c, Box: h.Box, Before: it.Item})
			}
		}
	}
	for _, b := range l.c.Shelf().Boxes {
		if !slices.ContainsFunc(p.Boxes, func(h Holding) bool { return h.Box.ID == b.ID }) {
			r.boxes = append(r.boxes, b)
		}
	}
	from := map[string][]int{} // of a text, which of the spare cards bear it
	for i, b := range l.c.Shelf().Boxes {
		for _, text := range there[i].Cards {
			if left[b.ID][text] > 0 {
				left[b.ID][text]--
				from[text] = append(from[text], len(r.Spare))
				r.Spare = append(r.Spare, OldCard{b.Name, text})
			}
		}
	}
	moved := map[int]bool{}
	for i := range r.Cards {
		c := &r.Cards[i]
		if spare := from[c.Text]; len(spare) > 0 {
			c.From, from[c.Text] = r.Spare[spare[0]].Box, spare[1:]
			moved[spare[0]] = true
		}
	}
	r.Spare = without(r.Spare, moved)
	return r
}

// ToPrint counts the cards that are to be made; the others are there, in another box.
func (r Redo) ToPrint() int {
	n := 0
	for _, c := range r.Cards {
		if c.From == "" {
			n++
		}
	}
	return n
}

// Text counts what is to be made and what is to be moved, like "2 labels and 14 cards
// to make, 1 to move"; where it is neither, what is to be taken out; empty where
// nothing is to be done.
func (r Redo) Text() string {
	count := func(n int, what string) string {
		if n != 1 {
			what += "s"
		}
		return strconv.Itoa(n) + " " + what
	}
	var made, parts []string
	if n := len(r.Labels); n > 0 {
		made = append(made, count(n, "label"))
	}
	if n := r.ToPrint(); n > 0 {
		made = append(made, count(n, "card"))
	}
	if len(made) > 0 {
		parts = append(parts, strings.Join(made, " and ")+" to make")
	}
	switch n := len(r.Cards) - r.ToPrint(); {
	case n > 0 && r.ToPrint() > 0:
		parts = append(parts, strconv.Itoa(n)+" to move")
	case n > 0:
		parts = append(parts, count(n, "card")+" to move")
	}
	if n := len(r.Spare); n > 0 && len(parts) == 0 {
		parts = append(parts, count(n, "card")+" to take out")
	}
	return strings.Join(parts, ", ")
}

func without(cards []OldCard, gone map[int]bool) []OldCard {
	var out []OldCard
	for i, c := range cards {
		if !gone[i] {
			out = append(out, c)
		}
	}
	return out
}

// signs are the label and cards of a box: on record, else as what stands in it
// calls for.
func (l *Layout) signs(b model.Box) model.NamedSigns {
	if s := l.c.Signs(b.ID); s != nil {
		return model.NamedSigns{Box: b.Name, Label: s.Label, Cards: s.Cards}
	}
	h := l.holdStanding(b)
	return l.calledFor(&h)
}

// calledFor are the label and cards that what is in a box calls for.
func (l *Layout) calledFor(h *Holding) model.NamedSigns {
	s := model.NamedSigns{Box: h.Box.Name}
	if len(h.Items) > 0 {
		s.Label = l.Label(h)
	}
	for _, c := range h.Cards() {
		s.Cards = append(s.Cards, c.Text)
	}
	return s
}

// labelled is the label that a box has, or NoLabel.
func (l *Layout) labelled(b model.Box) string {
	if s := l.c.Signs(b.ID); s != nil {
		return cmp.Or(s.Label, NoLabel)
	}
	return l.standingLabel(b.ID)
}

// Found are the labels and cards of those boxes of which none are on record. A
// change that moves envelopes brings them along, since afterwards it could not
// be told what the labels say.
func (l *Layout) Found() []model.NamedSigns {
	var out []model.NamedSigns
	for _, b := range l.c.Shelf().Boxes {
		if l.c.Signs(b.ID) == nil {
			out = append(out, l.signs(b))
		}
	}
	return out
}

// Outstanding is what is to be made for the boxes as planned, which may stand so
// already.
func (l *Layout) Outstanding() Redo { return l.Redo(l.Target()) }

// SignsMade is the change that notes label and cards of boxes as made, as they are
// planned: of those named, or of all.
func (l *Layout) SignsMade(boxes ...string) *model.SignsMade {
	p := l.Target()
	ch := &model.SignsMade{}
	for i := range p.Boxes {
		if h := &p.Boxes[i]; !h.New && (len(boxes) == 0 || slices.Contains(boxes, h.Box.Name)) {
			ch.Signs = append(ch.Signs, l.calledFor(h))
		}
	}
	return ch
}

// BoxRedo is what is to be made for one box, and what of its cards is needed
// nowhere any more.
type BoxRedo struct {
	Box   model.Box
	Label *NewLabel // nil: the one it has is right
	Cards []NewCard
	Spare []string
}

// ByBox sorts what is to be made by boxes, as one goes along them. A card that
// is moved is with the box it goes into.
func (r Redo) ByBox() []BoxRedo {
	out, at := make([]BoxRedo, len(r.boxes)), map[string]*BoxRedo{}
	for i, b := range r.boxes {
		out[i].Box, at[b.Name] = b, &out[i]
	}
	for i := range r.Labels {
		at[r.Labels[i].Holding.Box.Name].Label = &r.Labels[i]
	}
	for _, c := range r.Cards {
		at[c.Box.Name].Cards = append(at[c.Box.Name].Cards, c)
	}
	for _, c := range r.Spare {
		at[c.Box].Spare = append(at[c.Box].Spare, c.Text)
	}
	return slices.DeleteFunc(out, func(b BoxRedo) bool { return b.Label == nil && len(b.Cards)+len(b.Spare) == 0 })
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

// Bought is a pattern that is owned, or a wish for one.
type Bought struct {
	Publisher string
	Pattern   *model.Pattern // what is known of it
	Wish      *model.Wish    // nil: it is owned
}

// ToCarry lists what is owned by publisher and number, and among it what is
// wanted or on the way and not owned yet: what one has to know in a shop.
func (l *Layout) ToCarry() []Bought {
	type filed struct {
		head, key []byte
		Bought
	}
	var all []filed
	owned := map[string]bool{}
	put := func(x Bought, r rank, scheme model.Scheme) {
		f := filed{head: appendHead(nil, 0, r), Bought: x}
		f.key, _ = appendTitle(nil, x.Pattern, scheme)
		sized, any := *x.Pattern, *x.Pattern // a wish says no year, and maybe no sizes
		sized.Year, any.Year, any.SizeRange = 0, 0, ""
		called := func(p *model.Pattern) string {
			key, _ := appendTitle([]byte(words.Fold(x.Publisher)+"\x00"), p, scheme)
			return string(key)
		}
		if x.Wish == nil {
			owned[called(&sized)], owned[called(&any)] = true, true
		} else if owned[called(&sized)] {
			return
		}
		all = append(all, f)
	}
	for _, p := range l.ByNumber() {
		put(Bought{Publisher: l.c.Publisher(p.Publisher).Name, Pattern: p}, l.keyer.ranks[p.Publisher], l.keyer.schemes[p.Publisher])
	}
	for _, w := range l.c.Wishes().All() {
		x := Bought{Publisher: w.Publisher, Wish: w, Pattern: &model.Pattern{Number: w.Number, Name: w.Name, SizeRange: w.SizeRange}}
		r, scheme := l.keyer.newcomer(w.Publisher), model.Scheme("")
		if p := l.c.PublisherNamed(w.Publisher); p != nil {
			x.Publisher, r, scheme = p.Name, l.keyer.ranks[p.ID], l.keyer.schemes[p.ID]
		}
		put(x, r, scheme)
	}
	slices.SortStableFunc(all, func(a, b filed) int {
		return cmp.Or(bytes.Compare(a.head, b.head), strings.Compare(a.Publisher, b.Publisher), bytes.Compare(a.key, b.key))
	})
	out := make([]Bought, len(all))
	for i, f := range all {
		out[i] = f.Bought
	}
	return out
}
