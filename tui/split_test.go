package tui_test

import (
	"context"
	"io"
	"strconv"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/theme"
)

// planRows is what a plan wants in the boxes, by their names.
func planRows(p *ordering.Plan) map[string][]model.Accession {
	rows := map[string][]model.Accession{}
	for i := range p.Boxes {
		rows[p.Boxes[i].Box.Name] = p.Boxes[i].Contents()
	}
	return rows
}

// refileAll walks to the end of the refiling, which stands in front.
func (p *player) refileAll() {
	p.Helper()
	for range 2000 {
		if p.shows("everything stands where it belongs") {
			return
		}
		p.keys("enter")
	}
	p.Fatalf("the refiling does not end\n%s", p.root.View())
}

// What is applied is what the engine plans for the goal that is shown, and a
// refiling then gets there.
func TestSplitAppliesWhatRefileCarriesOut(t *testing.T) {
	for i, goal := range ordering.Goals() {
		p := demo(t, split.ID)
		l := ordering.Arrange(p.listed())
		plan := l.Split(goal)
		labels := l.Compare(plan).Labels
		p.keys(times(i, "'g")...)
		rev := p.listed().Rev()
		p.keys("enter")
		p.mustShow("Apply: ", "Where boxes begin is settled")
		if p.listed().Rev() != rev {
			t.Fatalf("%s: something was written before it was confirmed", goal)
		}
		p.keys("enter")
		p.mustShow("Labels and cards to make", strconv.Itoa(labels)+" label", "ctrl+r: the refiling", "f5: print")
		if got := planned(p.listed()); !same(got, planRows(&plan)) {
			t.Fatalf("%s: the refiling goes to %v, the plan was %v", goal, got, planRows(&plan))
		}
		p.keys("ctrl+r")
		p.refileAll()
		if got := p.rows(); !same(got, planRows(&plan)) {
			t.Errorf("%s: after the refiling there stand %v, the plan was %v", goal, got, planRows(&plan))
		}
	}
}

// The answers say what the engine says, and each can be applied.
func TestSplitAnswers(t *testing.T) {
	for i, way := range ordering.Ways() {
		p := demo(t, split.ID)
		a := ordering.Arrange(p.listed()).Answers()[i]
		p.keys("'a")
		p.mustShow("three answers", a.Room.Whole())
		p.keys(times(i, "down")...)
		p.keys("enter")
		p.mustShow(map[ordering.Way]string{ordering.PushOn: "push on into the next boxes", ordering.InsertBox: "a new box in between", ordering.SplitAfresh: "split all afresh"}[way])
		p.keys("enter", "enter")
		p.mustShow("Labels and cards to make")
		if got := planned(p.listed()); !same(got, planRows(&a.Plan)) {
			t.Errorf("%s: the refiling goes to %v, the answer was %v", way, got, planRows(&a.Plan))
		}
	}
	p := demo(t, split.ID)
	p.keys("'g", "'a", "down", "esc")
	p.mustShow("all boxes alike full") // as before
}

// The cards to print and to move are as many as the engine counts.
func TestSplitCountsCardsAsTheEngineDoes(t *testing.T) {
	p := demo(t, split.ID)
	answers := ordering.Arrange(p.listed()).Answers()
	p.keys("'a")
	for _, l := range strings.Split(p.root.View(), "\n") {
		f := strings.Fields(l)
		if len(f) != 4 || f[0] != "cards" {
			continue
		}
		for i, a := range answers {
			if f[i+1] != strconv.Itoa(a.Cards) {
				t.Errorf("%s: %s cards are shown, the engine counts %d", a.Way, f[i+1], a.Cards)
			}
		}
		return
	}
	t.Fatalf("no cards are counted\n%s", p.root.View())
}

// Whatever is tried, the store is left alone until it is applied; then both the
// shelf and the walls are what was shown, and two undos take them back.
func TestSplitWhatIfs(t *testing.T) {
	p := play(t, find.ID, afterABatch()...)
	p.send(tea.KeyMsg{Type: tea.KeyCtrlP})
	before := p.listed()
	p.keys("'l", "'300 mm", "enter")
	p.mustShow("What if: box 7 is 300 mm long")
	p.keys("'l", "'380", "enter")
	p.mustNotShow("What if")
	p.keys("'b")
	p.mustShow("a box 7a more, 380 mm long behind box 7", "box 8 would stay empty", "n spreads it over")
	p.keys("'n")
	p.mustShow("over how many boxes; 0: as few as can be")
	p.keys("'3", "enter")
	p.mustShow("all boxes alike full", "behind box 7 · over 3 boxes", "3 boxes (1 to get)")
	p.mustNotShow("would stay empty")
	p.keys("'gg")
	p.mustNotShow("· over 3 boxes") // only an even split looks at it
	p.mustShow("box 8 would stay empty", "kept for an even split: over 3 boxes")
	p.keys("'n", "'1", "enter")
	p.mustShow("as few boxes as asked for (1)")
	p.keys("'n", "'0", "enter")
	p.mustNotShow("over 1", "asked for")
	p.keys("'gg")
	p.keys("'k")
	p.mustShow("box 7 is locked", "locked ·")
	p.keys("'k")
	p.mustNotShow("box 7 is locked")
	p.keys("'w", "'6", "enter")
	p.mustShow("· room for 6 months of growth", "all boxes alike full")
	p.keys("'g")
	p.mustNotShow("· room for 6 months of growth") // only an even split looks at it
	p.mustShow("kept for an even split: room for 6 months of growth")
	p.keys("'gg")
	p.mustShow("· room for 6 months of growth", "all boxes alike full")
	p.keys("'x")
	p.mustNotShow("What if")
	p.keys("'gg") // as few boxes as can be
	p.keys("down", "'l", "'500", "enter", "up", "'k", "'b", "'p")
	p.mustShow("not applied")
	p.keys("esc", "'ggg", "'a", "esc", "enter", "esc")
	p.mustShow("as few boxes as can be")
	if p.listed() != before {
		t.Fatalf("the store was written by a what-if: revision %d after %d", p.listed().Rev(), before.Rev())
	}

	with, _, err := before.Apply(&model.SetShelf{Spec: model.ShelfSpec{Settings: before.Shelf().Settings, Sections: before.ShelfSpec().Sections, Boxes: []model.BoxSpec{
		{Name: "7", Length: model.MM(380), Place: "hall", Locked: true}, {Name: "7a", Length: model.MM(380)}, {Name: "8", Length: model.MM(500)},
	}}}, "")
	if err != nil {
		t.Fatal(err)
	}
	plan := ordering.Arrange(with).Split(ordering.Fewest)
	p.keys("enter")
	p.mustShow("The shelf is changed", "box 8 is 500 mm long", "box 7 is locked", "a box 7a more", "ctrl+z twice")
	p.keys("enter")
	p.mustShow("Labels and cards to make")
	boxes := p.listed().ShelfSpec().Boxes
	if len(boxes) != 3 || boxes[1].Name != "7a" || boxes[2].Length != model.MM(500) || !boxes[0].Locked || boxes[0].Place != "hall" {
		t.Errorf("the shelf has the boxes %+v", boxes)
	}
	if got := planned(p.listed()); !same(got, planRows(&plan)) {
		t.Errorf("the refiling goes to %v, the plan was %v", got, planRows(&plan))
	}
	p.keys("esc")
	p.mustNotShow("What if")
	p.keys("ctrl+z", "ctrl+z")
	if got := p.listed().ShelfSpec().Boxes; len(got) != 2 || len(p.listed().Walls().Firsts) != 0 {
		t.Errorf("two undos leave the boxes %+v and %d walls", got, len(p.listed().Walls().Firsts))
	}
}

// A length for a planned box that is not there has it got in that length.
func TestSplitAnotherLengthForANewBox(t *testing.T) {
	p := demo(t, split.ID)
	p.keys(times(9, "down")...)
	p.keys("'k")
	p.mustShow("box 4 is not there yet: it has no label to keep")
	p.keys("'l", "'600", "enter")
	p.mustShow("a box 4 more, 600 mm long")
	p.keys("'l", "'700", "enter")
	p.mustShow("a box 4 more, 700 mm long")
	p.mustNotShow("600 mm long")
	p.keys("enter", "enter")
	if b, err := p.listed().Shelf().BoxNamed("4"); err != nil || b.Length != model.MM(700) {
		t.Errorf("box 4 is %+v, %v; want one of 700 mm", b, err)
	}
}

func TestSplitRefusesWhatIsNoNumber(t *testing.T) {
	p := demo(t, split.ID)
	for _, x := range [][3]string{{"'l", "'long", "long"}, {"'l", "'0", `a box of "0" is none`}, {"'w", "'-1", "is not a number of months"}, {"'w", "'1201", "give 0 to 1200"},
		{"'n", "'many", `"many" is not a number of boxes`}, {"'n", "'10000", "give 0 to 9999"}} {
		p.keys(x[0], x[1], "enter")
		p.mustShow(x[2])
		p.keys("esc", "esc") // the message, then the field
		p.mustNotShow("What if", x[2])
	}
}

// A store that fails changes nothing, and what was to be applied can be again.
func TestSplitOnAFailingStore(t *testing.T) {
	p := demo(t, split.ID)
	before := p.listed()
	p.store.fail = errDisk
	p.keys("'k", "enter", "enter")
	p.mustShow(errDisk.Error(), "box 1 is locked")
	p.mustNotShow("Labels and cards to make")
	if p.listed() != before {
		t.Fatal("a store that failed has changed")
	}
	p.store.fail = nil
	p.keys("esc", "enter", "enter")
	p.mustShow("Labels and cards to make")
	if len(p.listed().Walls().Firsts) == 0 {
		t.Error("no walls are settled")
	}
}

// noWalls is a store that takes a shelf, and no decision.
type noWalls struct{ *faulty }

func (f noWalls) Commit(ctx context.Context, ch model.Change) (model.Commit, error) {
	if _, ok := ch.(*model.Decide); ok && f.fail != nil {
		return model.Commit{}, f.fail
	}
	return f.Store.Commit(ctx, ch)
}

// Where the shelf is written and the walls are not, that is what is shown: the
// what-ifs are the shelf now, and the walls can be settled by applying again.
func TestSplitWhereOnlyTheShelfIsWritten(t *testing.T) {
	p := demo(t, split.ID)
	f := noWalls{p.store}
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	p.root = frame.New(frame.Options{Rooms: tui.Rooms(f, th), Start: split.ID, Store: f, Theme: th})
	p.run(p.root.Init())
	p.size(80, 24)
	p.store.fail = errDisk
	p.keys("'k", "enter", "enter")
	p.mustShow(errDisk.Error(), "locked ·")
	p.mustNotShow("Labels and cards to make", "What if")
	if !p.listed().Shelf().Boxes[0].Locked || len(p.listed().Walls().Firsts) != 0 {
		t.Errorf("box 1 is %+v, and %d walls are settled", p.listed().Shelf().Boxes[0], len(p.listed().Walls().Firsts))
	}
	p.store.fail = nil
	p.keys("esc", "enter")
	p.mustNotShow("The shelf is changed")
	p.keys("enter")
	p.mustShow("Labels and cards to make")
}

// While a plan is worked out keys work, esc stops waiting, and what comes late
// is not shown in place of what is wanted.
func TestSplitEscStopsWaiting(t *testing.T) {
	p := demo(t, split.ID)
	g := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'g'}}
	_, late := p.root.Update(g)
	p.mustShow("all boxes alike full", "working it out", "Below, still: as few boxes as can be")
	p.keys("enter")
	p.mustNotShow("Apply: ") // what is shown is not what is wanted
	p.keys("esc")
	p.mustShow("Split: as few boxes as can be")
	p.mustNotShow("working it out", "alike full")
	p.run(late)
	p.mustShow("Split: as few boxes as can be")
	_, none := p.root.Update(g)
	if none != nil {
		t.Error("a plan that has come in the meantime is worked out again")
	}
	p.mustShow("Split: all boxes alike full")
	p.mustNotShow("working it out")

	// One that is not wanted any more does not hold up the next, but there are
	// never more than two.
	k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'k'}}
	_, first := p.root.Update(g) // least moved
	_, second := p.root.Update(k)
	_, third := p.root.Update(tea.KeyMsg{Type: tea.KeyDown})
	p.send(k)
	p.mustShow("box 1 is locked", "box 2 is locked", "working it out")
	if first == nil || second == nil || third != nil {
		t.Errorf("of three plans these are worked out at once: %t, %t, %t", first != nil, second != nil, third != nil)
	}
	p.run(first)
	p.mustShow("working it out")
	p.run(second)
	p.mustShow("box 2 is locked", "as few moved as can be")
	p.mustNotShow("working it out")
}

// What is not worked out when esc is pressed can be asked for again.
func TestSplitStoppedAtTheFirst(t *testing.T) {
	p := demo(t, find.ID)
	_, late := p.root.Update(tea.KeyMsg{Type: tea.KeyCtrlP})
	p.mustShow("working it out", "each box as it is and as it would be comes here")
	p.keys("esc")
	p.mustShow("not worked out; g: work it out")
	p.keys("down", "enter", "'l", "'p", "'k", "'b")
	p.mustShow("not worked out; g: work it out")
	p.keys("'g")
	p.mustShow("working it out")
	p.run(late)
	p.mustShow("envelopes change box")
}

// A plan of a cupboard that has changed since is worked out again.
func TestSplitFollowsTheCupboard(t *testing.T) {
	p := play(t, split.ID, afterABatch()...)
	p.keys("enter")
	p.mustShow("Apply: ")
	commit, err := p.store.Commit(t.Context(), add("Quillon", "300", "Late", "", 0))
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.mustNotShow("Apply: ")
	p.mustShow("3 from the pile go in")
	plan := ordering.Arrange(p.listed()).Split(ordering.Fewest)
	p.keys("enter", "enter")
	if got := planned(p.listed()); !same(got, planRows(&plan)) {
		t.Errorf("the refiling goes to %v, the plan was %v", got, planRows(&plan))
	}
}

// What to do about a locked box is readable on the smallest screen that shows a plan,
// whatever the box is called.
func TestWhatToDoAboutALockedBoxIsReadable(t *testing.T) {
	for _, name := range []string{"7", "attic, second from the left"} {
		changes := afterABatch()
		furniture := twoBoxes()
		for i, b := range furniture.Spec.Boxes {
			b.Locked = true
			if i == 0 {
				b.Name = name
			}
			furniture.Spec.Boxes[i] = b
		}
		furniture.Renames = []model.Rename{{Kind: model.NamedBox, Old: "7", New: name}}
		if name == "7" {
			furniture.Renames = nil
		}
		p := play(t, split.ID, append(changes, furniture)...)
		p.size(40, 12)
		p.mustShow("unlock box", "or give it more room")
	}
}

// What is tried out of a box ends with the box.
func TestSplitForgetsABoxThatIsGone(t *testing.T) {
	p := play(t, split.ID, afterABatch()...)
	p.size(120, 40)
	p.keys("'k", "down", "'l", "'500", "enter", "'k")
	p.mustShow("box 8 is 500 mm long", "box 8 is locked", "box 7 is locked")
	gone := twoBoxes()
	gone.Spec.Boxes = gone.Spec.Boxes[:1]
	commit, err := p.store.Commit(t.Context(), gone)
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.mustShow("box 7 is locked", "from the pile go in")
	p.mustNotShow("box 8 is")
}

func TestSplitOfNothing(t *testing.T) {
	p := play(t, split.ID)
	p.keys("enter", "'g", "'a", "esc", "'l", "'b", "'k", "'p", "down")
	p.keys("esc")
	p.mustShow("Split: ")
	p = play(t, split.ID, twoBoxes())
	p.keys("enter")
	p.mustShow("there is nothing to split yet")
}

// After the refiling the plan is what stands.
func TestSplitStandsAfterRefiling(t *testing.T) {
	p := play(t, split.ID, afterABatch()...)
	p.keys("enter", "enter", "ctrl+r")
	p.refileAll()
	p.send(tea.KeyMsg{Type: tea.KeyCtrlP})
	p.mustShow("it stands so", "0 envelopes change box", "as it is", "to make for")
	p.keys("'m", "'a", "esc")
	p.mustShow("it stands so", "0 labels to redo")
	p.mustNotShow("to make for")

}
