package paper

import (
	"fmt"
	"math"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// What a full file box weighs, in kilograms, and how long what stands in it is:
// 380 mm less 15 % to work in (common practice, no source).
const (
	lightest, heaviest = 8.0, 14.0
	fullBox            = 323.0
)

// boxCaution stands wherever boxes are moved or stacked.
const boxCaution = "Ask for your local advice on lifting and follow it first. A full file box weighs 8 to 14 kg (common practice, no source): no heavy box above head height."

// Packing makes the list for a move: what goes into which box, and about what
// that weighs.
func Packing(src Source) (*Work, error) {
	t := &table{title: "Packing list", tick: true, columns: []column{{"box", 1, false}, {"from", 3.4, false}, {"to", 3.4, false}, {"envelopes", 1, true}, {"filled", 1, true}, {"weighs about", 1.5, true}}}
	l, c := src.Layout, src.collection()
	all, low, high, heavy, units := 0, 0.0, 0.0, false, c.Shelf().Settings.Units
	for _, h := range l.Standing() {
		if len(h.Items) == 0 {
			continue
		}
		a, b := weight(h.Load)
		all, low, high = all+len(h.Items), low+a, high+b
		heavy = heavy || b > heaviest
		t.rows = append(t.rows, row{cells: []string{h.Box.Name, src.end(h.Items[0]), src.end(h.Items[len(h.Items)-1]), fmt.Sprint(len(h.Items)), h.Load.In(units), kilograms(a, b)}})
	}
	var load model.Length
	for _, it := range l.Waiting() {
		load += it.Thickness
	}
	if n := len(l.Waiting()); n > 0 {
		a, b := weight(load)
		all, low, high = all+n, low+a, high+b
		t.rows = append(t.rows, row{cells: []string{"pile", "what waits to be filed", "", fmt.Sprint(n), load.In(units), kilograms(a, b)}})
	}
	hung := 0
	for _, cp := range c.Copies().All() {
		if cp.Hook.Row != 0 {
			hung++
		}
	}
	if hung > 0 {
		t.rows = append(t.rows, row{cells: []string{"hooks", "what hangs, to be packed flat", "", fmt.Sprint(hung), "", ""}})
	}
	if len(t.rows) == 0 {
		return nil, none("no packing list", "the boxes are empty")
	}
	t.notes = []string{boxCaution}
	if heavy {
		t.notes = append(t.notes, "A box here weighs more than one should lift alone: pack it into several, in order, and number them.")
	}
	t.notes = append(t.notes,
		fmt.Sprintf("%s, in all about %s: an estimate by thickness, so weigh one before you rely on it.", plural(all, "envelope", "envelopes"), kilograms(low, high)),
		"Keep what is mouldy or was kept with moth killer apart; wear a dust mask and gloves, and ask somebody who knows.")
	return t.work(&src), nil
}

// weight estimates what so much of envelopes weighs, at the least and at the
// most.
func weight(load model.Length) (low, high float64) {
	return load.MM() / fullBox * lightest, load.MM() / fullBox * heaviest
}

func kilograms(low, high float64) string {
	return fmt.Sprintf("%.0f to %.0f kg", math.Floor(low), math.Ceil(high))
}

func (s *Source) end(p ordering.Placed) string {
	return joined(" ", s.publisher(p.Pattern), p.Pattern.Short())
}
