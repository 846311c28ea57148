package tui_test

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/shelf"
)

// press sends keys that the player has no names for.
func (p *player) press(types ...tea.KeyType) {
	for _, k := range types {
		p.send(tea.KeyMsg{Type: k})
	}
}

// fourBoxes is a cupboard of two columns and two rows, and a box in the hall.
// Copies 1 to 3 (100, 200, 500) stand in A, 4 to 6 (1100, 1200, 1300) in B.
func fourBoxes() []model.Change {
	changes := afterABatch()
	set := changes[0].(*model.SetShelf)
	set.Spec.Boxes = []model.BoxSpec{
		{Name: "A", Length: model.MM(380), Place: "cupboard, column 1, row 1"},
		{Name: "B", Length: model.MM(380), Place: "cupboard, column 2, row 1", Locked: true},
		{Name: "C", Length: model.MM(380), Place: "cupboard, column 1, row 2"},
		{Name: "D", Length: model.MM(380), Place: "Cupboard, Column 2, Row 2"},
		{Name: "E", Length: model.MM(380), Place: "hall"},
	}
	set.Spec.Boxes[3].Place = "cupboard, Column 2, Row 2"
	for i, ch := range changes {
		if _, ok := ch.(*model.Stand); ok {
			changes[i] = &model.Stand{Rows: []model.NamedRow{{Box: "A", Copies: []model.Accession{1, 2, 3}}, {Box: "B", Copies: []model.Accession{4, 5, 6}}}}
		}
	}
	return changes
}

// chosen is the box that the cupboard has its arrow on.
func (p *player) chosen() string {
	for l := range strings.SplitSeq(p.root.View(), "\n") {
		if _, rest, ok := strings.Cut(l, "→ "); ok {
			return strings.Fields(rest)[0]
		}
	}
	return ""
}

func TestShelfArrowsGoAsTheBoxesStand(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.mustShow("5 boxes", "6 envelopes", "cupboard, column 1", "cupboard, column 2", "locked", "Quillon 100 to 500")
	p.size(120, 24)
	p.mustShow("elsewhere")
	for _, step := range []struct {
		key  tea.KeyType
		want string
	}{
		{tea.KeyUp, "A"}, {tea.KeyLeft, "A"}, {tea.KeyDown, "C"}, {tea.KeyDown, "C"}, {tea.KeyRight, "D"}, {tea.KeyUp, "B"},
		{tea.KeyRight, "E"}, {tea.KeyRight, "E"}, {tea.KeyLeft, "B"}, {tea.KeyPgDown, "D"}, {tea.KeyPgUp, "B"}, {tea.KeyHome, "A"}, {tea.KeyEnd, "E"},
	} {
		p.press(step.key)
		if got := p.chosen(); got != step.want {
			t.Fatalf("behind %v box %q is chosen, want %q\n%s", step.key, got, step.want, p.root.View())
		}
	}
}

func TestShelfInsideABox(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("enter")
	p.mustShow("Box A · cupboard, column 1, row 1 · 380 mm", "place 1 of 3", "▌Quillon", "→", "100", "Cape", "0 mm", "mm from the front", "before 200 Cape")
	p.keys("down")
	p.mustShow("place 2 of 3", "behind 100 Cape · 200 Cape, 6 mm from the front · before 500 Cape")
	p.press(tea.KeyEnd, tea.KeyDown)
	p.mustShow("place 3 of 3")
	p.press(tea.KeyHome, tea.KeyUp)
	p.mustShow("place 1 of 3")
	p.press(tea.KeyPgDown)
	p.mustShow("place 3 of 3")
	p.press(tea.KeyPgUp)
	p.mustShow("place 1 of 3")
	p.press(tea.KeyRight)
	p.mustShow("Box B", "1100", "locked")
	p.press(tea.KeyRight)
	p.mustShow("Box C", "the box is empty")
	p.keys("enter", "'f") // nothing to show in Find
	p.mustShow("the box is empty")
	p.press(tea.KeyLeft, tea.KeyLeft, tea.KeyLeft)
	p.mustShow("Box A")
	p.keys("esc")
	p.mustShow("5 boxes")
	if got := p.chosen(); got != "A" {
		t.Errorf("behind esc box %q is chosen", got)
	}
	for _, k := range []string{"enter", "'f"} {
		p = play(t, shelf.ID, fourBoxes()...)
		p.keys("enter", "down", k)
		p.mustShow("Look for", "Quillon 200", "box A", "place 2")
	}
}

func TestShelfWithNoBoxes(t *testing.T) {
	p := play(t, shelf.ID)
	p.mustShow("there is no box yet")
	p.keys("enter", "'r", "up", "down", "esc")
	p.press(tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyPgDown, tea.KeyPgUp)
	p.mustShow("there is no box yet")
}

// A box as it really is: 500 stands before 200, 1300 of box B stands at the
// end, 100 is gone.
func TestShelfReadingOfADisturbedBox(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("enter", "'r")
	p.mustShow("Reading box A", "0 read of 3 recorded", "front to back")
	p.keys("'500", "enter")
	p.mustShow("500 Cape", "in place", "skipped, maybe missing: 100, 200", "1 read of 3 recorded")
	p.keys("'#2", "enter")
	p.mustShow("200 Cape", "2 read of 3")
	p.keys("'9999", "enter")
	p.mustShow("9999", "unlisted", "1 unlisted")
	p.keys("backspace")
	p.mustNotShow("unlisted")
	p.mustShow("2 read of 3")
	p.keys("'harrow 1300", "enter")
	p.mustShow("1300 Coat", "misplaced: belongs box B, at the back, behind 1200 Coat", "3 read of 3")
	p.keys("'-", "enter", "enter") // an empty Enter is no reading
	p.mustShow("nothing is out from here", "4 read of 3")
	p.keys("backspace")
	p.press(tea.KeyCtrlS)
	p.mustShow("Record box A as it was found", "1 was not found and is noted as missing:", "100 Cape")
	p.mustStand(map[string][]model.Accession{"A": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
	p.keys("esc")
	p.mustShow("Reading box A", "3 read of 3")
	p.press(tea.KeyCtrlS)
	p.keys("enter")
	p.mustShow("box A is recorded as found", "Box A", "place 1 of 3", "1300")
	p.mustStand(map[string][]model.Accession{"A": {3, 2, 6}, "B": {4, 5}, "C": nil, "D": nil, "E": nil})
	p.keys("'r")
	p.mustShow("0 read of 3 recorded")
	p.keys("ctrl+z")
	p.mustStand(map[string][]model.Accession{"A": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
	p.keys("'100", "enter", "'200", "enter", "'500", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A stands as recorded", "place 1 of 3")
}
