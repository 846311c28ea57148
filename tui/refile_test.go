package tui_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/refile"
)

// afterABatch is a cupboard of two boxes in which 500 stands before 100 and
// 1300 in the wrong box, while 250 and 1150 wait. Accession numbers are 1 to 6
// for 100, 200, 500, 1100, 1200, 1300, then 7 for 250 and 8 for 1150.
func afterABatch() []model.Change {
	changes := []model.Change{twoBoxes()}
	for _, n := range []int{100, 200, 500} {
		changes = append(changes, add("Quillon", fmt.Sprint(n), "Cape", "", 0))
	}
	for _, n := range []int{1100, 1200, 1300} {
		changes = append(changes, add("Harrow & Pell", fmt.Sprint(n), "Coat", "", 0))
	}
	return append(changes,
		&model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{3, 1, 2, 6}}, {Box: "8", Copies: []model.Accession{4, 5}}}},
		add("Quillon", "250", "Hood", "", 0), add("Harrow & Pell", "1150", "Hat", "", 0))
}

func twoBoxes(hooks ...model.HookSpec) *model.SetShelf {
	return &model.SetShelf{Spec: model.ShelfSpec{
		Settings: model.DefaultSettings(),
		Sections: []model.SectionSpec{{Title: "Quillon", Publishers: []string{"Quillon"}}, {Title: "Rest", Publishers: []string{"*"}, NewBox: true}},
		Boxes:    []model.BoxSpec{{Name: "7", Length: model.MM(380), Place: "hall"}, {Name: "8", Length: model.MM(380)}},
		Hooks:    hooks,
	}}
}

// rows is what stands in the boxes, by their names.
func (p *player) rows() map[string][]model.Accession {
	rows := map[string][]model.Accession{}
	for _, b := range p.listed().Shelf().Boxes {
		rows[b.Name] = p.listed().Row(b.ID)
	}
	return rows
}

func planned(c *model.Collection) map[string][]model.Accession {
	rows := map[string][]model.Accession{}
	m := ordering.Arrange(c).Refile()
	for i := range m.Plan.Boxes {
		rows[m.Plan.Boxes[i].Box.Name] = m.Plan.Boxes[i].Contents()
	}
	return rows
}

func same(a, b map[string][]model.Accession) bool {
	return maps.EqualFunc(a, b, slices.Equal[[]model.Accession])
}

func (p *player) mustStand(want map[string][]model.Accession) {
	p.Helper()
	if got := p.rows(); !same(got, want) {
		p.Fatalf("there stand %v, want %v\n%s", got, want, p.root.View())
	}
}

func TestRefileWalkIsCarriedToItsEnd(t *testing.T) {
	p := play(t, find.ID, afterABatch()...)
	want := planned(p.listed())
	p.keys("ctrl+r")
	p.mustShow("2 labels change", "to pull", "to put in", "box 7", "pull 2", "put in 2")
	p.keys("enter")
	if n := len(p.listed().Walls().Firsts); n != 2 {
		t.Fatalf("%d walls are decided, want 2\n%s", n, p.root.View())
	}
	p.mustShow("Pull · 0 of 2 pulled", "Box 7 · place 1 of 4 · hall", "500 Cape · Quillon", "2 left in this box", "then put 4 in")
	p.keys("enter")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 6}, "8": {4, 5}})
	p.mustShow("1 of 2 pulled", "place 3 of 3", "1300 Coat")
	p.keys("' ")
	p.mustStand(map[string][]model.Accession{"7": {1, 2}, "8": {4, 5}})
	p.mustShow("Put in · 0 of 4 put in", "behind", "before", "250 Hood", "needs its envelope first", "behind 200 Cape", "the end of the row")
	p.keys("enter")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7}, "8": {4, 5}})
	p.mustShow("500 Cape", "behind 250 Hood")
	p.keys("enter")
	if !p.listed().Copy(7).Enveloped {
		t.Error("what was put in is not noted as being in its envelope")
	}
	p.mustShow("Box 8", "1150 Hat", "2 go into this box")
	p.keys("enter", "enter")
	p.mustShow("Refiled", "pulled", "put in", "everything stands where it belongs")
	p.mustNotShow("in part", "not found", "skipped")
	p.mustStand(want)
	if n := len(p.listed().Walls().Firsts); n != 0 {
		t.Errorf("%d walls are still decided when all is done", n)
	}
	p.keys("enter")
	p.mustShow("there is nothing to refile")
}

// Whatever ends the program, the walk goes on where it was.
func TestRefileGoesOnWhereItWas(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	want := planned(p.listed())
	for _, x := range []struct {
		keys []string
		says string
	}{
		{[]string{"enter", "enter"}, "under way: 1 of 2 pulled, 0 of 4 put in; enter goes on"},
		{[]string{"enter", "enter"}, "under way: 2 of 2 pulled, 0 of 4 put in"},
		{[]string{"enter", "enter"}, "under way: 2 of 2 pulled, 1 of 4 put in"},
		{[]string{"enter", "enter", "enter"}, "under way: 2 of 2 pulled, 3 of 4 put in"},
	} {
		p.keys(x.keys...)
		p = playOn(t, refile.ID, p.store.Store)
		p.mustShow(x.says)
	}
	p.keys("enter")
	p.mustShow("3 of 4 put in", "1300 Coat")
	p.keys("enter")
	p.mustStand(want)
	if n := len(p.listed().Walls().Firsts); n != 0 {
		t.Errorf("%d walls are still decided when all is done", n)
	}
}

// One who has begun to put in before all was pulled goes on with that, skipped
// is what was skipped, and a decision made otherwise begins another walk.
func TestRefileGoesOnInTheStepThatItWasIn(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter", "'s", "tab", "enter", "'s")
	p.mustShow("Put in · 1 of 4 put in", "1150 Hat", "1 still to be pulled")
	p.keys("esc", "enter")
	p.mustShow("Put in · 1 of 4 put in", "1150 Hat")
	p = playOn(t, refile.ID, p.store.Store) // as after a kill
	p.mustShow("under way: 1 of 2 pulled, 1 of 4 put in; enter goes on")
	p.keys("enter")
	p.mustShow("Put in · 1 of 4 put in", "1150 Hat", "1 still to be pulled")
	p.keys("enter")
	p.mustShow("2 of 4 put in", "500 Cape", "skipped before")
	p.keys("shift+tab")
	p.mustShow("Pull · 1 of 2 pulled", "1300 Coat", "skipped before")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	if _, err := p.store.Store.Commit(t.Context(), &model.Decide{Firsts: []model.NamedWall{{Box: "7", First: 1}}}); err != nil {
		t.Fatal(err)
	}
	p = playOn(t, refile.ID, p.store.Store)
	p.mustShow("decided already")
	p.mustNotShow("under way")
}

func TestRefileStaysWhereItIsWhileOneIsElsewhere(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter")
	p.mustShow("1 of 2 pulled")
	p.keys("ctrl+f", "'cape", "ctrl+r")
	p.mustShow("1 of 2 pulled", "1300 Coat")
	p.keys("esc")
	p.mustShow("under way: 1 of 2 pulled, 0 of 4 put in")
	p.keys("enter")
	p.mustShow("1 of 2 pulled", "1300 Coat")
}

// What is entered in the middle comes up in the walk, and the cursor stays at
// its envelope.
func TestRefileTakesInWhatIsEntered(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter", "enter", "enter", "down")
	p.mustShow("1 of 4 put in", "1150 Hat")
	c, err := p.store.Store.Commit(t.Context(), add("Quillon", "150", "Muff", "", 0))
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: c})
	p.mustShow("1 of 5 put in", "1150 Hat")
	p.keys("up", "up", "up")
	p.mustShow("1 of 5 put in", "150 Muff", "behind 100 Cape", "before 200 Cape")
	p.keys("enter", "enter", "enter", "enter")
	p.mustShow("Refiled", "everything stands")
	p.mustStand(map[string][]model.Accession{"7": {1, 9, 2, 7, 3}, "8": {4, 8, 5, 6}})
}

func TestRefileNotHere(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "'n") // 500 does not stand there
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 6}, "8": {4, 5}})
	p.keys("enter")
	p.mustShow("0 of 4 put in", "250 Hood", "1 not found")
	p.keys("'n") // nor is 250 on the table
	p.mustStand(map[string][]model.Accession{"7": {1, 2}, "8": {4, 5}})
	p.keys("enter", "enter")
	p.mustShow("Refiled", "not found: 2", "noted as missing", "500", "250")
	p.mustStand(map[string][]model.Accession{"7": {1, 2}, "8": {4, 8, 5, 6}})
	if n := len(p.listed().Walls().Firsts); n != 0 {
		t.Errorf("%d walls are still decided when the walk is done", n)
	}
	p.keys("enter") // they are not asked for again before they turn up
	p.mustShow("there is nothing to refile")
	p.keys("ctrl+f")
	p.mustShow("then what was not found", "500", "250")
	p.keys("ctrl+o", "ctrl+o", "ctrl+r")
	p.mustShow("to put in", "put in 2")
	p.keys("enter", "enter", "enter")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7, 3}, "8": {4, 8, 5, 6}})
}

func TestRefileWhatTurnsUp(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "'n", "up")
	p.mustShow("500 Cape", "noted as not found; tick it if it has turned up")
	p.keys("enter", "enter")
	p.mustShow("0 of 4 put in", "250 Hood")
	p.keys("'n", "up", "enter")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7}, "8": {4, 5}})
	p.mustShow("1 of 4 put in", "500 Cape")
}

func TestRefileSkip(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "'s")
	p.mustShow("0 of 2 pulled", "1300 Coat")
	p.keys("enter")
	p.mustShow("1 of 2 pulled", "500 Cape", "skipped before")
	p.keys("'s") // what is skipped again stays where it is, and cannot be put in
	p.mustShow("0 of 4 put in", "250 Hood", "behind 200 Cape", "1 still to be pulled")
	p.keys("enter", "enter", "enter")
	p.mustShow("Refiled in part", "skipped: 1", "500")
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 7}, "8": {4, 8, 5, 6}})
	if len(p.listed().Walls().Firsts) == 0 {
		t.Error("the walls are not decided any more though something is left")
	}
	p.keys("enter", "enter", "enter", "enter")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7, 3}, "8": {4, 8, 5, 6}})
	p.mustShow("everything stands where it belongs")
}

func TestRefileUndo(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter", "ctrl+z")
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.mustShow("0 of 2 pulled", "500 Cape", "undid: pulled 500 Cape from box 7")
	p.keys("enter", "enter", "enter", "ctrl+z")
	p.mustShow("0 of 4 put in", "250 Hood", "undid: put 250 Hood into box 7")
	p.keys("ctrl+z")
	p.mustShow("1 of 2 pulled", "1300 Coat", "undid: pulled 1300 Coat from box 7")
	p.keys("enter", "enter", "enter", "enter", "enter")
	p.mustShow("Refiled")
	p.keys("ctrl+z") // the last tick closed the refiling; both are taken back
	p.mustShow("3 of 4 put in", "1300 Coat", "undid: put 1300 Coat into box 8")
	if n := len(p.listed().Walls().Firsts); n != 2 {
		t.Errorf("%d walls are decided after the last tick was undone, want 2", n)
	}
	p.keys("enter")
	p.mustShow("Refiled")
	for range 7 {
		p.keys("ctrl+z")
		_ = p.root.View() // as after every key
	}
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.mustShow("Overview", "boxes begin where they do now") // with the decision undone, one is to see it again
}

// An answer that something is not here is taken back as a tick is, with the walk
// where it was.
func TestRefileUndoNotHere(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "'n")
	p.mustShow("Pull · 0 of 2 pulled", "1 not found", "1300 Coat")
	p.keys("ctrl+z")
	p.mustShow("Pull · 0 of 2 pulled", "500 Cape · Quillon", "undid: noted 500 Cape as not found")
	p.mustNotShow("not found ·", "1 not found")
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.keys("enter", "enter", "'n")
	p.mustShow("Put in · 0 of 4 put in", "500 Cape", "1 not found")
	p.keys("ctrl+z")
	p.mustShow("Put in · 0 of 4 put in", "250 Hood · Quillon", "undid: noted 250 Hood as not found")
	p.mustNotShow("1 not found")
	p.keys("'nnnn") // the last answer closes the walk
	p.mustShow("Refiled", "not found: 4")
	if n := len(p.listed().Walls().Firsts); n != 0 {
		t.Errorf("%d walls are still decided", n)
	}
	p.keys("ctrl+z")
	p.mustShow("0 of 4 put in", "1300 Coat", "3 not found")
	if n := len(p.listed().Walls().Firsts); n != 2 {
		t.Errorf("%d walls are decided after the answer was taken back, want 2", n)
	}
}

// What turns up while one is elsewhere is asked for again.
func TestRefileWhatTurnsUpElsewhere(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.keys("enter", "enter", "enter", "'n", "ctrl+f", "ctrl+o", "ctrl+r")
	p.mustShow("0 of 4 put in", "500 Cape · Quillon")
	p.mustNotShow("not found")
	p.keys("enter", "enter", "enter", "enter")
	p.mustShow("everything stands where it belongs")
	p.mustStand(map[string][]model.Accession{"7": {1, 2, 7, 3}, "8": {4, 8, 5, 6}})
}

func TestRefileKeysAndHelp(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	p.mustShow("enter begin")
	p.mustNotShow("n not here")
	p.keys("enter")
	p.mustShow("enter pulled   n not here   s skip   down one down   tab next step")
	p.keys("down")
	p.mustShow("up one up")
	p.keys("up", "tab") // so few are not sorted on a table
	p.mustShow("0 of 4 put in", "2 still to be pulled", "enter put in")
	p.keys("shift+tab")
	p.mustShow("0 of 2 pulled", "500 Cape")
	p.mustStand(map[string][]model.Accession{"7": {3, 1, 2, 6}, "8": {4, 5}})
	p.keys("f1")
	for _, says := range []string{"enter or space", "done: it is pulled", "not here: it is noted", "skip: it comes again", "up, down", "tab, shift+tab", "to the overview", "ctrl+r"} {
		p.mustShow(says)
	}
	p.keys("esc", "esc")
	p.mustShow("Overview")
	p.keys("' ")
	p.mustShow("0 of 2 pulled")
}

func TestRefileNotesOnWhatIsMoved(t *testing.T) {
	changes := append(afterABatch(), &model.TakeOut{Copy: 3, To: "Nan"}, &model.TakeOut{Copy: 8}, twoBoxes(model.HookSpec{Name: "door", Hooks: 3, Each: 3}),
		&model.Add{Entries: []model.Entry{{Publisher: "Home", Name: "Traced bodice", Medium: model.Traced}}},
		&model.Stand{Rows: []model.NamedRow{{Box: "8", Copies: []model.Accession{4, 5, 9}}}})
	p := play(t, refile.ID, changes...)
	p.keys("enter")
	seen := ""
	for range 12 {
		seen += p.root.View()
		p.keys("enter")
	}
	for _, says := range []string{"it is out, with Nan: move its out card", "it is out: move its out card", "it does not go back into a box: hang it on its hook", "Traced bodice"} {
		if !strings.Contains(seen, says) {
			t.Errorf("the walk never says %q\n%s", says, seen)
		}
	}
}

// A new box is added by the decision, and the user is told where to put it.
func TestRefileNewBox(t *testing.T) {
	p := demo(t, refile.ID)
	p.mustShow("a new box 4 is needed", "8-14 kg", "none above head")
	p.keys("enter", "tab", "tab")
	for range 100 {
		if p.shows("box 4 is empty so far") {
			break
		}
		p.keys("enter")
	}
	p.mustShow("Box 4", "put it in its place now, not above head height", "the front of the box")
	p.keys("enter")
	if b, err := p.listed().Shelf().BoxNamed("4"); err != nil || len(p.listed().Row(b.ID)) != 1 {
		t.Errorf("box 4: %v, %v", b, err)
	}
}

func TestRefileCardsAreNamed(t *testing.T) {
	p := play(t, refile.ID,
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "7", Length: model.MM(380)}},
			Sections: []model.SectionSpec{{Title: "Capes", Publishers: []string{"Quillon"}}, {Title: "Hats", Publishers: []string{"Harrow & Pell"}}}}},
		add("Quillon", "300", "Cape", "", 0), &model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{1}}}},
		add("Quillon", "100", "Hood", "", 0), add("Harrow & Pell", "9", "Bonnet", "", 0))
	p.keys("enter")
	p.mustShow("0 of 2 put in", "it stands behind the card Capes")
	p.keys("enter")
	p.mustShow("a card goes in before it: Hats")
}
