package model

import "slices"

// Signs is what is stuck on a box and stood in it: its label and its divider
// cards, as made last. Of a box without a record they are taken to be what the
// envelopes in it call for.
type Signs struct {
	Box   BoxID    `json:"box" cbor:"1,keyasint"`
	Label string   `json:"label,omitempty" cbor:"2,keyasint,omitempty"` // empty: the box has none
	Cards []string `json:"cards,omitempty" cbor:"3,keyasint,omitempty"` // what each says, front to back
}

// Key implements Record.
func (r *Signs) Key() (Kind, uint32) { return KindSigns, uint32(r.Box) }

// Signs gives the label and cards of a box; nil where none are on record.
func (c *Collection) Signs(b BoxID) *Signs { return c.signs.Get(uint32(b)) }

// NamedSigns are the label and cards of the box of that name.
type NamedSigns struct {
	Box   string   `json:"box"`
	Label string   `json:"label,omitempty"`
	Cards []string `json:"cards,omitempty"`
}

// SignsMade notes which label and cards boxes have now.
type SignsMade struct {
	Signs []NamedSigns `json:"signs"`
}

// Title implements Change.
func (ch *SignsMade) Title(*Collection) string {
	var names []string
	for _, s := range ch.Signs {
		names = append(names, s.Box)
	}
	return "noted label and cards of " + boxesText(names) + " as made"
}

func (ch *SignsMade) apply(e *editor) error {
	return e.sign(ch.Signs, func(was *Signs, is *Signs) bool {
		return was == nil || was.Label != is.Label || !slices.Equal(was.Cards, is.Cards)
	})
}

// found records which label and cards boxes have, where that is not on record:
// before envelopes are moved, since it could not be told afterwards.
func (e *editor) found(signs []NamedSigns) error {
	return e.sign(signs, func(was, _ *Signs) bool { return was == nil })
}

// sign records those labels and cards that are wanted.
func (e *editor) sign(signs []NamedSigns, wanted func(was, is *Signs) bool) error {
	for _, s := range signs {
		b, err := e.c.shelf.BoxNamed(s.Box)
		if err != nil {
			return err
		}
		is := &Signs{Box: b.ID, Label: s.Label, Cards: slices.Clone(s.Cards)}
		cleanAll(&is.Label)
		is.Cards = cleanEach(is.Cards)
		if wanted(e.c.Signs(b.ID), is) {
			e.put(is)
		}
	}
	return nil
}

// unsign forgets label and cards of a box that is no longer there.
func (e *editor) unsign(b BoxID) {
	if e.c.Signs(b) != nil {
		e.drop(KindSigns, uint32(b))
	}
}

// checkSigns tells whether labels and cards are of boxes that are there.
func (c *Collection) checkSigns() error {
	for id := range c.signs.All() {
		if _, ok := c.shelf.Box(BoxID(id)); !ok {
			return broken("there are labels and cards of box %d, which is not there", id)
		}
	}
	return nil
}
