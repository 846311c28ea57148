// Package moving says what there is to carry when a cupboard moves house: what
// goes together, how much of it there is, and about what it weighs.
//
// The usual way in is [List] on a layout.
//
// Promised: every copy is carried once, every binder too. Weights are estimates
// by thickness, and of what nobody has a figure for there is none.
package moving

import (
	"fmt"
	"math"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Kind is what is carried.
type Kind string

// The kinds.
const (
	Box      Kind = "box"
	Oversize Kind = "oversize"
	Pile     Kind = "pile"
	Hooks    Kind = "hooks"
	Binder   Kind = "binder"
)

// What a full file box weighs, in kilograms, and how long what stands in it is:
// 380 mm less 15 % to work in (common practice, no source).
const (
	lightest, heaviest = 8.0, 14.0
	fullBox            = 323.0
)

const caution = "Local rules and qualified advice on lifting come first. A full box of 38 cm (15 in) weighs 8-14 kg (common practice, no source): none above head height."

// Caution is for who handles boxes of which the fullest holds so much.
func Caution(fullest model.Length) string {
	if low, high := Weight(fullest); high > heaviest {
		return fmt.Sprintf("%s The fullest here holds about %s: more than one should lift alone.", caution, Kilograms(low, high))
	}
	return caution
}

// ShortCaution is Caution where there is little room.
func ShortCaution(fullest model.Length) string {
	const short = "Local rules and qualified advice first. A full box is heavy: none above head height."
	if low, high := Weight(fullest); high > heaviest {
		return fmt.Sprintf("%s The fullest: about %s, not for one alone.", short, Kilograms(low, high))
	}
	return short
}

// Fullest is what stands in the fullest of some boxes.
func Fullest(boxes []ordering.Holding) model.Length {
	most := model.Length(0)
	for i := range boxes {
		most = max(most, boxes[i].Load)
	}
	return most
}

// PackCaution is for who packs a cupboard, beside Caution.
const PackCaution = "What is mouldy or was kept with moth killer is packed apart, with a dust mask and gloves; ask somebody who knows."

// Load is what is carried together.
type Load struct {
	Kind      Kind
	Name      string
	From, To  *model.Pattern // what is first and last in a box; nil where there is no order
	Items     int            // copies; of a binder its pockets in use
	Length    model.Length
	Low, High float64 // kilograms; both 0: no figure
}

// Weight is what so much of envelopes weighs, at the least and at the most, in
// kilograms: an estimate.
func Weight(length model.Length) (low, high float64) {
	return length.MM() / fullBox * lightest, length.MM() / fullBox * heaviest
}

// Heavy tells whether it may weigh more than a full file box: more than one
// should lift alone.
func (l Load) Heavy() bool { return l.High > heaviest }

// Kilograms writes weights down, rounded outwards.
func Kilograms(low, high float64) string {
	if high == 0 {
		return ""
	}
	return fmt.Sprintf("%.0f to %.0f kg", math.Floor(low), math.Ceil(high))
}

// Move is all that there is to carry.
type Move struct {
	Loads     []Load
	Copies    int
	Low, High float64
}

// Packed and Unpacked say as which one a load, by its index, is packed and unpacked,
// from 1: boxes are unpacked in their order, so that each stands at its place at
// once, and packed the other way round (common practice, no source).
func (m Move) Packed(i int) int { return len(m.Loads) - i }

// Unpacked is the other of the two.
func (m Move) Unpacked(i int) int { return i + 1 }

// Heavy tells whether any load is.
func (m Move) Heavy() bool {
	for _, l := range m.Loads {
		if l.Heavy() {
			return true
		}
	}
	return false
}

// List lists the boxes as they stand, then what is oversize, what waits to be
// filed, what hangs, and the binders. What is out or missing cannot be carried.
func List(l *ordering.Layout) Move {
	var m Move
	c := l.Collection()
	here := func(a model.Accession) bool { return c.Copy(a).Out == nil && c.Copy(a).Missing == "" }
	for _, h := range l.Standing() {
		x := Load{Kind: Box, Name: h.Box.Name, Length: h.Load}
		for _, it := range h.Items {
			switch {
			case c.Shelf().LiesApart(c.Copy(it.Copy)): // a dummy stands for it
			case !here(it.Copy):
				x.Length -= it.Thickness // an out card does
			default:
				x.Items++
			}
		}
		if n := len(h.Items); n > 0 {
			x.From, x.To = h.Items[0].Pattern, h.Items[n-1].Pattern
			m.take(x)
		}
	}
	for _, h := range l.Oversize() {
		x := Load{Kind: Oversize, Name: h.Box.Name, Length: h.Load}
		for _, thing := range h.Things {
			for _, a := range thing.Copies {
				if here(a) {
					x.Items++
				}
			}
		}
		m.take(x)
	}
	pile := Load{Kind: Pile}
	for _, it := range l.Waiting() {
		if cp := c.Copy(it.Copy); here(it.Copy) && !c.Shelf().LiesApart(cp) {
			pile.Items, pile.Length = pile.Items+1, pile.Length+it.Thickness
		}
	}
	hooks := Load{Kind: Hooks}
	for _, h := range l.Hooks() {
		for _, it := range h.Items {
			if _, boxed := c.Standing(it.Copy); !boxed && here(it.Copy) {
				hooks.Items++
			}
		}
	}
	m.take(pile)
	m.take(hooks)
	for _, b := range l.Binders() {
		if b.New { // it is to be got, and what goes into it is elsewhere yet
			continue
		}
		m.take(Load{Kind: Binder, Name: b.Title(), Items: b.Used()})
	}
	return m
}

func (m *Move) take(x Load) {
	if x.Items == 0 {
		return
	}
	x.Low, x.High = Weight(x.Length)
	m.Loads = append(m.Loads, x)
	if m.Low, m.High = m.Low+x.Low, m.High+x.High; x.Kind != Binder {
		m.Copies += x.Items
	}
}
