package model

import (
	"fmt"
	"strconv"
	"strings"
)

// Shelf is the furniture: how the owner wants things to stand, and in what.
// Its slices are in the owner's order.
type Shelf struct {
	Settings Settings     `json:"settings" cbor:"1,keyasint"`
	Sections []Section    `json:"sections,omitempty" cbor:"2,keyasint,omitempty"`
	Boxes    []Box        `json:"boxes,omitempty" cbor:"3,keyasint,omitempty"`
	Binders  []Binder     `json:"binders,omitempty" cbor:"4,keyasint,omitempty"`
	Hooks    []HookRow    `json:"hooks,omitempty" cbor:"5,keyasint,omitempty"`
	Labels   []LabelSheet `json:"label_sheets,omitempty" cbor:"6,keyasint,omitempty"` // the owner's own
	Oversize []Box        `json:"oversize,omitempty" cbor:"7,keyasint,omitempty"`     // for what no other box takes; in none of Boxes
}

// Settings are the measures that plans go by.
type Settings struct {
	Units             string    `json:"units" cbor:"1,keyasint"`    // Millimetres or Inches, for display
	Envelope          string    `json:"envelope" cbor:"2,keyasint"` // "C5"
	Working           Space     `json:"working_space" cbor:"3,keyasint"`
	Divider           Length    `json:"divider_thickness_mm" cbor:"4,keyasint"`
	RangeCardEvery    int       `json:"range_card_every" cbor:"5,keyasint"`    // 0: none
	PublisherCardFrom int       `json:"publisher_card_from" cbor:"6,keyasint"` // 0: none
	Thickness         Thickness `json:"thickness" cbor:"7,keyasint"`
	Printing          Printing  `json:"printing,omitzero" cbor:"8,keyasint,omitzero"`
	Half              Half      `json:"hemisphere,omitempty" cbor:"9,keyasint,omitempty"` // whose seasons count
}

// Half is a half of the world, by which a season has its months.
type Half string

// The halves of the world.
const (
	North Half = ""
	South Half = "south"
)

// ParseHalf reads a half of the world; "north" is the same as nothing.
func ParseHalf(s string) (Half, error) {
	if strings.EqualFold(strings.TrimSpace(s), "north") {
		return North, nil
	}
	h, err := oneOf("hemisphere", s, spell[Half], North, South)
	if err != nil {
		err = &FieldError{Field: "hemisphere", Value: s, Problem: "is not known", Hint: `use "north" or "south"`}
	}
	return h, err
}

// String writes what ParseHalf reads.
func (h Half) String() string {
	if h == North {
		return "north"
	}
	return string(h)
}

// Thickness is what a copy in its envelope takes by state, where it is not
// measured.
type Thickness struct {
	Uncut Length `json:"uncut_mm" cbor:"1,keyasint"`
	Cut   Length `json:"cut_mm" cbor:"2,keyasint"`
	Bulky Length `json:"bulky_mm" cbor:"3,keyasint"`
}

// Space is room left free in every box: a share of its length, or a length.
type Space struct {
	Percent float64 `json:"percent,omitempty" cbor:"1,keyasint,omitempty"`
	Fixed   Length  `json:"mm,omitempty" cbor:"2,keyasint,omitempty"`
}

// DefaultSettings are the trade's figures from experience (common practice, no
// source; measure before relying on them).
func DefaultSettings() Settings {
	return Settings{
		Units: Millimetres, Envelope: "C5", Working: Space{Percent: 15}, Divider: MM(0.5),
		RangeCardEvery: 20, PublisherCardFrom: 5,
		Thickness: Thickness{Uncut: MM(5), Cut: MM(10), Bulky: MM(20)},
		Printing:  defaultPrinting(),
	}
}

// Of is the free room in a box of that length, rounded up.
func (s Space) Of(length Length) Length {
	if s.Percent == 0 {
		return s.Fixed
	}
	return Length(-int64(-float64(length) * s.Percent / 100))
}

// String writes "15%" or "60mm".
func (s Space) String() string {
	if s.Percent != 0 {
		return strconv.FormatFloat(s.Percent, 'f', -1, 64) + "%"
	}
	return s.Fixed.number() + "mm"
}

// ParseSpace reads "15%" or a length.
func ParseSpace(text string) (Space, error) {
	if num, ok := strings.CutSuffix(strings.TrimSpace(text), "%"); ok {
		p, err := strconv.ParseFloat(strings.TrimSpace(num), 64)
		if err != nil || !(p >= 0 && p < 100) {
			return Space{}, &FieldError{Field: "working_space", Value: text, Problem: "is not a share of a box", Hint: `write a percentage from 0 to 99, like "15%"`}
		}
		return Space{Percent: p}, nil
	}
	l, err := ParseLength(text)
	if err != nil {
		return Space{}, &FieldError{Field: "working_space", Value: text, Problem: "is neither a share nor a length", Hint: `write "15%" or "60mm"`}
	}
	return Space{Fixed: l}, nil
}

// Section is a stretch of the row that stands behind one divider card.
type Section struct {
	ID         SectionID     `json:"id" cbor:"1,keyasint"`
	Title      string        `json:"title" cbor:"2,keyasint"`
	Publishers []PublisherID `json:"publishers,omitempty" cbor:"3,keyasint,omitempty"`
	Others     bool          `json:"others,omitempty" cbor:"4,keyasint,omitempty"` // all publishers that no other section names
	Tags       []string      `json:"tags,omitempty" cbor:"5,keyasint,omitempty"`   // hand-picked: any pattern with one of these tags
	NewBox     bool          `json:"new_box,omitempty" cbor:"6,keyasint,omitempty"`
}

// Box is a box of envelopes. Where it stands among the others is its place in
// Shelf.Boxes.
type Box struct {
	ID     BoxID  `json:"id" cbor:"1,keyasint"`
	Name   string `json:"name" cbor:"2,keyasint"`
	Length Length `json:"length_mm" cbor:"3,keyasint"` // inside, front to back
	Place  string `json:"place,omitempty" cbor:"4,keyasint,omitempty"`
	Locked bool   `json:"locked,omitempty" cbor:"5,keyasint,omitempty"` // its label stays
}

// Usable is the length that may be filled.
func (b Box) Usable(s Settings) Length { return max(0, b.Length-s.Working.Of(b.Length)) }

// Binder is a catalogue binder of one category.
type Binder struct {
	ID       BinderID   `json:"id" cbor:"1,keyasint"`
	Category CategoryID `json:"category" cbor:"2,keyasint"`
	Pockets  int        `json:"pockets" cbor:"3,keyasint"`
	// SubDividers part the category, in this order: coats, jackets, cardigans.
	// Those of its binders together are those of the category.
	SubDividers []string `json:"sub_dividers,omitempty" cbor:"4,keyasint,omitempty"`
	SeeAlso     Entered  `json:"see_also,omitempty" cbor:"5,keyasint,omitempty"`
}

// Entered says how a see-also entry is made in a binder.
type Entered string

// The ways; the empty value is a line.
const (
	ByLine   Entered = ""       // on the index page
	ByPocket Entered = "pocket" // a pocket with a card that says where the sleeve is
)

// ParseEntered reads how see-also entries are made; "line" is the same as
// nothing.
func ParseEntered(s string) (Entered, error) {
	if strings.EqualFold(s, "line") {
		return ByLine, nil
	}
	return oneOf("see_also", s, spell[Entered], ByLine, ByPocket)
}

// HookRow is a row of hooks for what does not fit an envelope.
type HookRow struct {
	ID    HookRowID `json:"id" cbor:"1,keyasint"`
	Name  string    `json:"name" cbor:"2,keyasint"`
	Hooks int       `json:"hooks" cbor:"3,keyasint"`
	Each  int       `json:"each" cbor:"4,keyasint"`
}

// Box finds a box by its number.
func (s *Shelf) Box(id BoxID) (Box, bool) {
	for _, b := range s.Boxes {
		if b.ID == id {
			return b, true
		}
	}
	return Box{}, false
}

// BoxNamed finds a box by the name on it.
func (s *Shelf) BoxNamed(name string) (Box, error) {
	names := make([]string, len(s.Boxes))
	for i, b := range s.Boxes {
		if strings.EqualFold(b.Name, strings.TrimSpace(name)) {
			return b, nil
		}
		names[i] = fmt.Sprintf("%q", b.Name)
	}
	if len(names) == 0 {
		return Box{}, Inputf("there is no box %q, nor any other; add boxes with a shelf file: tuckrow shelf apply FILE", name)
	}
	return Box{}, Inputf("there is no box %q; the boxes are %s", name, strings.Join(names, ", "))
}

// HookRowNamed finds a row of hooks by its name.
func (s *Shelf) HookRowNamed(name string) (HookRow, bool) {
	for _, h := range s.Hooks {
		if strings.EqualFold(h.Name, name) {
			return h, true
		}
	}
	return HookRow{}, false
}

// ThicknessOf is how much room a copy takes, envelope and all: as measured,
// or by its state.
func (s Settings) ThicknessOf(c *Copy) Length {
	if c.Thickness > 0 {
		return c.Thickness
	}
	return s.Thickness.Of(StateOf(c))
}

// Boxed tells whether a copy stands in a box, or waits to be put into one, itself
// or a dummy for it: it does not hang, and is not missing.
func (s *Shelf) Boxed(c *Copy) bool { return c.Missing == "" && !s.Hangs(c) }

// Hangs tells whether a copy belongs on a hook. What was printed at home,
// traced or drafted hangs unless the owner says otherwise, provided there are
// hooks.
func (s *Shelf) Hangs(c *Copy) bool {
	switch c.Home {
	case HomeHook:
		return true
	case HomeBox, HomeOversize:
		return false
	}
	return len(s.Hooks) > 0 && (c.Medium == Printed || c.Medium == Traced || c.Medium == Drafted)
}

// LiesApart tells whether a copy lies among what is oversize, and a dummy stands
// for it in its place in the boxes. A magazine that is kept whole does unless the
// owner says otherwise, provided there is a box for it.
func (s *Shelf) LiesApart(c *Copy) bool {
	switch c.Home {
	case HomeOversize:
		return true
	case HomeBox, HomeHook:
		return false
	}
	return len(s.Oversize) > 0 && c.Medium == Magazine
}

// Takes is how much room a copy takes in its place in the boxes: its own, or that
// of its dummy, which is cut of the card that dividers are made of.
func (s *Shelf) Takes(c *Copy) Length {
	if s.LiesApart(c) {
		return max(1, s.Settings.Divider)
	}
	return s.Settings.ThicknessOf(c)
}
