package model

import (
	"cmp"
	"fmt"

	"example.org/tuckrow/model/words"
)

// The numbers of what is noted beside the patterns themselves.
type (
	PersonID uint32
	ClothID  uint32
	WishID   uint32
	MakeID   uint32
	GoalID   uint32
)

// Person is somebody that is sewn for. A measure that was not taken is 0.
type Person struct {
	ID     PersonID `json:"id" cbor:"1,keyasint"`
	Name   string   `json:"name" cbor:"2,keyasint"`
	Bust   Length   `json:"bust_mm,omitempty" cbor:"3,keyasint,omitempty"`
	Waist  Length   `json:"waist_mm,omitempty" cbor:"4,keyasint,omitempty"`
	Hip    Length   `json:"hip_mm,omitempty" cbor:"5,keyasint,omitempty"`
	Height Length   `json:"height_mm,omitempty" cbor:"6,keyasint,omitempty"`
	On     Date     `json:"on,omitempty" cbor:"7,keyasint,omitempty"` // the day they were taken
	Notes  string   `json:"notes,omitempty" cbor:"8,keyasint,omitempty"`
}

// Cloth is a length of fabric in the owner's cupboard.
type Cloth struct {
	ID     ClothID `json:"id" cbor:"1,keyasint"`
	Name   string  `json:"name" cbor:"2,keyasint"`
	Width  Length  `json:"width_mm" cbor:"3,keyasint"`
	Length Length  `json:"length_mm" cbor:"4,keyasint"`
	OneWay bool    `json:"one_way,omitempty" cbor:"5,keyasint,omitempty"` // pile or print that runs one way
	Notes  string  `json:"notes,omitempty" cbor:"6,keyasint,omitempty"`
}

// Key implements Record.
func (p *Person) Key() (Kind, uint32) { return KindPerson, uint32(p.ID) }

// Key implements Record.
func (c *Cloth) Key() (Kind, uint32) { return KindCloth, uint32(c.ID) }

// People gives the persons that are sewn for.
func (c *Collection) People() *Table[Person] { return &c.people }

// Cloths gives the fabric in the cupboard.
func (c *Collection) Cloths() *Table[Cloth] { return &c.cloths }

// PersonNamed finds a person by name, however it is written, or gives nil.
func (c *Collection) PersonNamed(name string) *Person {
	return named(&c.people, name, func(p *Person) string { return p.Name })
}

// ClothNamed finds a cloth by name, however it is written, or gives nil.
func (c *Collection) ClothNamed(name string) *Cloth {
	return named(&c.cloths, name, func(p *Cloth) string { return p.Name })
}

// named goes through a table of which there are few.
func named[T any](t *Table[T], name string, nameOf func(*T) string) *T {
	key := nameKey(words.Clean(name))
	for _, r := range t.All() {
		if nameKey(nameOf(r)) == key {
			return r
		}
	}
	return nil
}

// fault says what of a person cannot be.
func (p *Person) fault() error {
	for _, l := range []Length{p.Bust, p.Waist, p.Hip, p.Height} {
		if !sane(l.MM()) {
			return fmt.Errorf("%q has a measure that no body has", p.Name)
		}
	}
	_, err := ParseDate("on", string(p.On))
	if p.Name == "" {
		err = fmt.Errorf("a person has no name")
	}
	return err
}

// fault says what of a cloth cannot be.
func (c *Cloth) fault() error {
	switch {
	case c.Name == "":
		return fmt.Errorf("a cloth has no name")
	case c.Width == 0 || c.Length == 0 || !sane(c.Width.MM()) || !sane(c.Length.MM()):
		return fmt.Errorf("%q has no width or no length", c.Name)
	}
	return nil
}

// checkNotes tells whether what is noted beside the patterns can be.
func (c *Collection) checkNotes() error {
	for _, p := range c.people.All() {
		if err := p.fault(); err != nil {
			return broken("person %d: %v", p.ID, err)
		}
	}
	for _, x := range c.cloths.All() {
		if err := x.fault(); err != nil {
			return broken("cloth %d: %v", x.ID, err)
		}
	}
	for _, w := range c.wishes.All() {
		if err := w.fault(); err != nil {
			return broken("wish %d: %v", w.ID, err)
		}
	}
	if err := cmp.Or(c.worth.fault(), c.stock.fault()); err != nil {
		return broken("%v", err)
	}
	return c.checkSewing()
}
