package model

import (
	"cmp"
	"fmt"

	"example.org/tuckrow/model/words"
)

// Wish is a pattern that the owner would like to have, and once it is ordered,
// one that is on the way.
type Wish struct {
	ID        WishID `json:"id" cbor:"1,keyasint"`
	Publisher string `json:"publisher,omitempty" cbor:"2,keyasint,omitempty"` // by name: it may be new
	Number    string `json:"number,omitempty" cbor:"3,keyasint,omitempty"`
	Name      string `json:"name,omitempty" cbor:"4,keyasint,omitempty"`
	SizeRange string `json:"size_range,omitempty" cbor:"5,keyasint,omitempty"`
	Category  string `json:"category,omitempty" cbor:"6,keyasint,omitempty"`
	Since     Date   `json:"since,omitempty" cbor:"7,keyasint,omitempty"`
	Ordered   Date   `json:"ordered,omitempty" cbor:"8,keyasint,omitempty"`  // empty: only wanted
	Expected  Date   `json:"expected,omitempty" cbor:"9,keyasint,omitempty"` // empty: not known
	From      string `json:"from,omitempty" cbor:"10,keyasint,omitempty"`    // who sends it
	Notes     string `json:"notes,omitempty" cbor:"11,keyasint,omitempty"`
}

// Key implements Record.
func (w *Wish) Key() (Kind, uint32) { return KindWish, uint32(w.ID) }

// Wishes gives what is wanted and what is on the way, in the order in which it
// was noted.
func (c *Collection) Wishes() *Table[Wish] { return &c.wishes }

// OnTheWay tells whether it is ordered.
func (w *Wish) OnTheWay() bool { return w.Ordered != "" }

// Heading names the wish: publisher, number and name, as far as they are known.
func (w *Wish) Heading() string {
	return words.Clean(w.Publisher + " " + (&Pattern{Number: w.Number, Name: w.Name}).Heading())
}

// Entry is what is entered when it has come.
func (w *Wish) Entry() Entry {
	return Entry{Publisher: w.Publisher, Number: w.Number, Name: w.Name, SizeRange: w.SizeRange, Category: w.Category, Notes: w.Notes}
}

// fault says what of a wish cannot be.
func (w *Wish) fault() error {
	if w.Number == "" && w.Name == "" {
		return fmt.Errorf("a wish has no number and no name")
	}
	for _, d := range []Date{w.Since, w.Ordered, w.Expected} {
		if _, err := ParseDate("wish", string(d)); err != nil {
			return err
		}
	}
	return nil
}

// Want notes that a pattern is wanted, or is on the way; with the number of a
// wish it is that one, said anew.
type Want struct {
	Wish Wish `json:"wish"`
}

// Title implements Change.
func (ch *Want) Title(*Collection) string {
	if ch.Wish.OnTheWay() || ch.Wish.Expected != "" {
		return "noted as on the way " + ch.Wish.Heading()
	}
	return "noted as wanted " + ch.Wish.Heading()
}

func (ch *Want) apply(e *editor) error {
	w := ch.Wish
	cleanAll(&w.Publisher, &w.Number, &w.Name, &w.SizeRange, &w.Category, &w.From, &w.Notes)
	w.Since = cmp.Or(w.Since, e.at)
	if w.Expected != "" { // what is expected has been ordered
		w.Ordered = cmp.Or(w.Ordered, e.at)
	}
	if err := w.fault(); err != nil {
		return Inputf("%v; give one of them, like number=6123, and days like %q", err, "2026-11-25")
	}
	if w.ID == 0 {
		w.ID = e.c.counters.Wish + 1
	} else if _, err := e.wishOrErr(w.ID); err != nil {
		return err
	}
	e.put(&w)
	return nil
}

func (e *editor) wishOrErr(id WishID) (*Wish, error) {
	if w := e.c.wishes.Get(uint32(id)); w != nil {
		return w, nil
	}
	return nil, Inputf("there is no wish %d; tuckrow want lists what is wanted", id)
}

// Arrive enters what has come and takes it off the list of wishes.
type Arrive struct {
	Wish  WishID `json:"wish"`
	Entry Entry  `json:"entry"`
}

// Title implements Change.
func (ch *Arrive) Title(*Collection) string {
	return "arrived: " + (&Pattern{Number: ch.Entry.Number, Name: ch.Entry.Name}).Heading()
}

func (ch *Arrive) apply(e *editor) error {
	if _, err := e.wishOrErr(ch.Wish); err != nil {
		return err
	}
	e.drop(KindWish, uint32(ch.Wish))
	return (&Add{Entries: []Entry{ch.Entry}}).apply(e)
}
