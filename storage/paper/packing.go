package paper

import (
	"fmt"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/moving"
)

// Packing makes the list for a move: what goes into which box, and about what
// that weighs, with a square to tick when it is packed and one when it has arrived.
func Packing(src Source) (*Work, error) {
	t := &table{title: "Packing list", columns: []column{{"packed", 0.8, false}, {"there", 0.7, false}, {"box", 1.2, false}, {"from", 3, false}, {"to", 3, false}, {"envelopes", 1.5, true}, {"filled", 1.2, true}, {"weighs about", 1.6, true}}}
	m, units := moving.List(src.Layout), src.collection().Shelf().Settings.Units
	for _, x := range m.Loads {
		r := []string{x.Name, "", "", fmt.Sprint(x.Items), "", moving.Kilograms(x.Low, x.High)}
		if x.Length > 0 {
			r[4] = x.Length.In(units)
		}
		switch x.Kind {
		case moving.Box:
			r[1], r[2] = src.end(x.From), src.end(x.To)
		case moving.Oversize:
			r[1] = "what is oversize"
		case moving.Pile:
			r[0], r[1] = "pile", "what waits to be filed"
		case moving.Hooks:
			r[0], r[1] = "hooks", "what hangs, to be packed flat"
		case moving.Binder:
			r[0], r[1], r[3] = "binder", x.Name, words.Count(x.Items, "pocket", "pockets")
		}
		t.rows = append(t.rows, row{cells: append([]string{square, square}, r...)})
	}
	if len(t.rows) == 0 {
		return nil, none("no packing list", "nothing is listed that could be carried")
	}
	t.notes = []string{moving.Caution(0)}
	if m.Heavy() {
		t.notes = append(t.notes, "A box here weighs more than one should lift alone: pack it into several, in order, and number them.")
	}
	t.notes = append(t.notes,
		fmt.Sprintf("%s, in all about %s: an estimate by thickness, so weigh one before you rely on it.", words.Count(m.Copies, "copy", "copies"), moving.Kilograms(m.Low, m.High)),
		"Keep what is mouldy or was kept with moth killer apart; wear a dust mask and gloves, and ask somebody who knows.")
	return t.work(&src), nil
}

func (s *Source) end(p *model.Pattern) string {
	return joined(" ", s.publisher(p), p.Short())
}
