package tui_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/shelf"
)

// Where a new box stands is said before it is saved, and then the arrow is on it.
func TestShelfSaysWhereANewBoxStands(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.press(tea.KeyRight)
	p.keys("'e", "'n")
	p.mustShow("New box, behind box B")
	p.keys("'F", "tab", "tab", "'hall", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("new box F, behind box B, length 380 mm, place hall")
	p.mustNotShow("another order", "box C,", "box C:") // what follows it is pushed on, not moved
	p.keys("enter")
	p.mustShow("the shelf is saved")
	if got := p.chosen(); got != "F" {
		t.Errorf("the arrow is on box %s\n%s", got, p.root.View())
	}

	// It can be the first, and a kind of which there was none is in no order.
	p.press(tea.KeyHome)
	p.keys("'e", "'n", "'G", "enter", "'<")
	p.press(tea.KeyEnd)
	p.keys("enter", "'folios", "tab", "'320", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("new box G, before box A, length 380 mm", "new oversize folios, length 320 mm")
	p.keys("enter")
	if got := p.chosen(); got != "A" { // the arrow was on no box
		t.Errorf("the arrow is on box %s\n%s", got, p.root.View())
	}
}

// Of boxes in another order those are named that have to be moved for it.
func TestShelfSaysWhichBoxesChangeTheirOrder(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e", "'>>>", "down", "'n", "'F", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A stands behind box D, was before box B", "new box F, behind box E")
	p.mustNotShow("box B stands", "box C stands", "box D stands", "box E stands")
	p.keys("esc")
	p.press(tea.KeyHome)
	p.keys("down", "down", "down", "'<<", "enter", "'2", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("box D2 stands before box B, was behind box C", "box A stands behind box C, was before box B")
}
