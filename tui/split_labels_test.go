package tui_test

import (
	"fmt"
	"strconv"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
)

// What a split asks for is listed until each box is noted as done, whatever is
// moved meanwhile and however often tuckrow is started.
func TestLabelsStayToBeMade(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("enter", "enter")
	due := ordering.Arrange(p.listed()).Outstanding()
	boxes := due.ByBox()
	count := func(n int) string { return strconv.Itoa(n) + " boxes" }
	p.mustShow("Labels and cards to make", count(len(boxes)), "→ box 1 ", "from box ")
	p.keys("space")
	p.mustShow(count(len(boxes)-1), "→ box 2 ")
	p.keys("ctrl+z")
	p.mustShow(count(len(boxes)), "undid: noted label and cards of box 1 as made")
	p.keys("up", "space", "down", "down", "up", "up", "down")
	p.mustShow("→ box 3 ")
	p.keys("ctrl+r")
	p.refileAll()
	p.open(split.ID, plain()) // another evening
	p.mustShow("to make", " for "+count(len(boxes)-1)+";")
	p.keys("'m", "pgdown", "pgup", "home", "end", "home")
	p.mustShow("→ box 2 ")
	p.keys("'a")
	p.mustShow("every box has its label and cards")
	if left := ordering.Arrange(p.listed()).Outstanding(); len(left.ByBox()) > 0 {
		t.Errorf("there is something to make for %d boxes", len(left.ByBox()))
	}
	p.keys("space", "esc")
	p.mustNotShow("settled:")
}

// A write that fails leaves the list as it was.
func TestLabelsOnAFailingStore(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("enter", "enter")
	p.store.fail = errDisk
	p.keys("space")
	p.mustShow(errDisk.Error(), "→ box 1 ")
	p.store.fail = nil
	p.keys("esc", "space")
	p.mustShow("→ box 2 ")
}

// Once the label of a box is noted as made, no room counts it any more.
func TestLabelsMadeAreCountedNowhere(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("enter", "enter", "space")
	n := strconv.Itoa(len(ordering.Arrange(p.listed()).Outstanding().Labels))
	p.keys("esc")
	p.mustShow(n + " labels to redo")
	p.keys("ctrl+r")
	p.mustShow(n + " labels change")
}

// The labels to redo are counted by what is on record, as Split and Refile do.
func TestShelfCountsLabelsAsOtherRoomsDo(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("enter", "enter", "space", "esc")
	l := ordering.Arrange(p.listed())
	plan := l.Split(ordering.Fewest)
	n := len(l.Redo(plan).Labels)
	if n == l.Compare(plan).Labels {
		t.Fatalf("%d labels either way: nothing is tried", n)
	}
	p.mustShow(fmt.Sprintf("%d labels to redo", n))
	p.open(shelf.ID, plain())
	p.keys("'e", "enter", "tab", "tab", "'x", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow(fmt.Sprintf("labels to redo for that: %d now, %d then", n, n))
	p.open(refile.ID, plain())
	p.mustShow(fmt.Sprintf("%d labels change", n))
}

// A box that was filled before it had a label has none; it is not empty.
func TestABoxWithoutALabelIsNotCalledEmpty(t *testing.T) {
	p := play(t, refile.ID, twoBoxes(), add("Quillon", "100", "Cape", "", 0))
	p.refileAll()
	p.keys("ctrl+p", "'p")
	p.mustShow("Labels to print: 1", "it has none yet")
	p.mustNotShow("was empty")
}
