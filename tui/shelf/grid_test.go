package shelf

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

func TestPlacesAreRead(t *testing.T) {
	for text, want := range map[string]place{
		"cupboard, column 1, row 2":   {"cupboard", 1, 2},
		"Row 3, Column 12, by window": {"by window", 12, 3},
		"col. 4 row. 5":               {"", 4, 5},
		"cupboard, top drawer":        {"cupboard, top drawer", -1, -1},
		"brow 3, columns":             {"brow 3, columns", -1, -1},
		"attic, row 7":                {"attic", -1, 7},
		"column 123456":               {"column 123456", -1, -1},
		"":                            {"", -1, -1},
	} {
		if got := parsePlace(text); got != want {
			t.Errorf("%q is read as %+v, want %+v", text, got, want)
		}
	}
}

// Every box stands in one place of its own, equal rows of two columns are side
// by side where each holds one, and the keys lead to every box.
func TestGridHoldsEveryBoxOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shelf := &model.Shelf{}
		for i := range rapid.IntRange(1, 30).Draw(t, "boxes") {
			in := rapid.SampledFrom([]string{"cupboard, ", "attic, ", ""}).Draw(t, "in")
			col, row := rapid.IntRange(0, 3).Draw(t, "column"), rapid.IntRange(0, 4).Draw(t, "row")
			text := in
			if col > 0 {
				text += fmt.Sprintf("column %d, ", col)
			}
			if row > 0 {
				text += fmt.Sprintf("row %d", row)
			}
			shelf.Boxes = append(shelf.Boxes, model.Box{ID: model.BoxID(i + 1), Place: text})
		}
		g := newGrid(shelf)
		seen, spots := map[model.BoxID]bool{}, map[[2]int]bool{}
		for c, col := range g.cols {
			last := math.MinInt
			for _, st := range col.boxes {
				if seen[st.box.ID] || spots[[2]int{c, st.y}] || st.y <= last || st.y >= g.rows {
					t.Fatalf("box %d stands at column %d, line %d, of %+v", st.box.ID, c, st.y, g)
				}
				seen[st.box.ID], spots[[2]int{c, st.y}], last = true, true, st.y
			}
		}
		reached, todo := map[model.BoxID]bool{}, []model.BoxID{g.first()}
		for len(todo) > 0 {
			id := todo[0]
			todo = todo[1:]
			if reached[id] {
				continue
			}
			reached[id] = true
			for _, d := range [][2]int{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
				todo = append(todo, g.step(id, d[0], d[1]))
			}
		}
		if len(seen) != len(shelf.Boxes) || len(reached) != len(shelf.Boxes) || !reached[g.last()] {
			t.Fatalf("%d boxes: %d stand somewhere, %d are reached", len(shelf.Boxes), len(seen), len(reached))
		}
	})
}

func TestRowsStandSideBySide(t *testing.T) {
	box := func(id model.BoxID, place string) model.Box { return model.Box{ID: id, Place: place} }
	g := newGrid(&model.Shelf{Boxes: []model.Box{box(1, "column 2, row 3"), box(2, "column 1, row 1"), box(3, "column 1, row 3"), box(4, "column 1, row 1")}})
	for id, want := range map[model.BoxID][2]int{2: {0, 0}, 4: {0, 1}, 3: {0, 2}, 1: {1, 2}} {
		col, i := g.find(id)
		if got := [2]int{col, g.cols[col].boxes[i].y}; got != want {
			t.Errorf("box %d stands at %v, want %v", id, got, want)
		}
	}
}
