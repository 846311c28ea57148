package tui_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/sewing"
	"example.org/tuckrow/tui/shelf"
)

// tagged are a pattern for the winter and one for the summer.
func tagged() model.Change {
	return &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "1", Name: "Quilted coat", Category: "Coats", Tags: []string{"winter"}, Cut: model.Uncut},
		{Publisher: "Quillon", Number: "2", Name: "Sun dress", Category: "Dresses", Tags: []string{"summer"}, Cut: model.Uncut},
	}}
}

// In December the season to come is winter in the north and summer in the south
// (meteorological seasons, from memory), in each room that says what to sew, and
// as soon as the shelf says otherwise.
func TestTheSeasonGoesByTheHemisphere(t *testing.T) {
	for _, x := range []struct {
		half      model.Half
		says, not string
	}{{model.North, "for winter", "for summer"}, {model.South, "for summer", "for winter"}} {
		s := model.DefaultSettings()
		s.Half = x.half
		first := map[model.Half]string{model.North: "Quilted coat", model.South: "Sun dress"}[x.half]
		changes := []model.Change{&model.SetShelf{Spec: model.ShelfSpec{Settings: s}}, tagged()}
		p := play(t, sewing.ID, changes...)
		p.size(120, 40)
		p.mustShow(first, x.says)
		p.mustNotShow(x.not)
		p = play(t, binders.ID, changes...)
		p.keys("'c", "enter")
		p.size(120, 40)
		p.mustShow("Chosen", x.says)
		p.mustNotShow(x.not)
	}
}

func TestTheHemisphereIsChangedInTheShelf(t *testing.T) {
	p := play(t, shelf.ID, append(fourBoxes(), tagged())...)
	p.keys("'e", "home", "enter", "shift+tab")
	p.mustShow("north", "whose seasons count")
	p.keys("space")
	p.press(tea.KeyCtrlS)
	p.mustShow("Before it is saved", "south")
	p.keys("enter")
	if got := p.listed().Shelf().Settings.Half; got != model.South {
		t.Fatalf("the hemisphere is %q, want %q\n%s", got, model.South, p.root.View())
	}
	p.press(tea.KeyF4)
	p.size(120, 40)
	p.mustShow("for summer")
}
