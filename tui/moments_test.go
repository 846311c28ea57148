package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
)

// demoStore is a store in memory with the demo cupboard in it.
func demoStore(t *testing.T) *storage.Store {
	t.Helper()
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	return onSample(t, find.ID, c).store.Store
}

// The first of the four moments: a drawer is emptied, from nothing on. The owner
// names it and says about how many lie in it; publisher and category stay, then
// change; there is a duplicate and a sleeve with a code; in the middle of an
// entry the program is closed.
func TestMomentEmptyingADrawer(t *testing.T) {
	s := newStore(t)
	x := sit(t, s, intake.ID)
	x.see("nothing entered yet", "→ Publisher")

	x.reach(1)
	x.think(5)
	x.press("'Harrow & Pell", "enter", "'4107", "enter", "'Tea dress", "tab", "'Dresses", "tab", "tab", "tab", "tab", "'hall drawer", "enter")
	x.see("1 entered", "Emptying hall drawer", "→ Number")
	x.estimate("the first, with the drawer's name")
	x.think(1)
	x.press("ctrl+a", "'120", "enter")
	x.see("1 of about 120 listed")
	x.estimate("about how many lie in it")

	x.reach(1)
	x.think(2)
	x.press("'4108", "enter", "'Shirt dress", "enter")
	x.see("2 entered")
	x.estimate("nothing changes")
	x.reach(1)
	x.think(3)
	x.press("'6123", "enter", "'Hooded coat", "tab", "'Coats", "enter")
	x.see("3 entered")
	x.estimate("a new category")
	x.reach(1)
	x.think(3)
	x.press("shift+tab", "'Quillon", "enter", "'K-100", "enter", "'Swagger coat", "enter")
	x.see("4 entered")
	x.estimate("a new publisher")
	x.reach(1)
	x.think(2)
	x.press("'k100")
	x.see("same number, year not known: look at the sleeve", "K-100 Swagger coat", "enter twice: a further copy")
	x.press("enter", "enter")
	x.see("5 entered")
	x.estimate("a second copy of one that is owned")
	x.reach(1)
	x.scan("6291041500213") // GTIN-13 from the GS1 General Specifications
	x.see("the code 6291041500213 is new and kept", "6 entered")
	x.think(2)
	x.press("ctrl+e", "'K-210", "enter", "'Größenkleid", "enter")
	x.see("changed 6 K-210 Größenkleid")
	x.estimate("a sleeve whose code is new")
	x.press("'6200", "enter", "'Pleated sk")
	x.see("Pleated sk")
	x.leave()

	mustHoldTheDrawer(t, s.Collection())
	again := sit(t, s, intake.ID)
	again.see("6200", "Pleated sk", "you were typing this on ", "to sleeve 6", "hall drawer")
	again.leave()
}

// mustHoldTheDrawer checks what was entered.
func mustHoldTheDrawer(t *testing.T, c *model.Collection) {
	t.Helper()
	want := []model.Entry{
		{Publisher: "Harrow & Pell", Number: "4107", Name: "Tea dress", Category: "Dresses"},
		{Publisher: "Harrow & Pell", Number: "4108", Name: "Shirt dress", Category: "Dresses"},
		{Publisher: "Harrow & Pell", Number: "6123", Name: "Hooded coat", Category: "Coats"},
		{Publisher: "Quillon", Number: "K-100", Name: "Swagger coat", Category: "Coats"},
		{Publisher: "Quillon", Number: "K-100", Name: "Swagger coat", Category: "Coats"},
		{Publisher: "Quillon", Number: "K-210", Name: "Größenkleid", Category: "Coats", Barcode: "6291041500213"},
	}
	if n := c.Copies().Len(); n != len(want) {
		t.Fatalf("%d copies are listed, want %d", n, len(want))
	}
	for i, w := range want {
		en := c.EntryOf(c.Copy(model.Accession(i + 1)))
		if en.Publisher != w.Publisher || en.Number != w.Number || en.Name != w.Name || en.Category != w.Category || en.Barcode != w.Barcode || en.Batch != "hall drawer" {
			t.Errorf("entry %d is %+v, want %+v of the hall drawer", i+1, en, w)
		}
	}
	if a, b := c.Copy(4).Pattern, c.Copy(5).Pattern; a != b {
		t.Error("the second copy is of a pattern of its own")
	}
	if b := c.BatchNamed("hall drawer"); b == nil || b.Expected != 120 {
		t.Errorf("the drawer is %+v, want about 120 in it", b)
	}
}

// The second: a batch has come, and the boxes are put in order. All of it is
// found, and each key is a tick.
func TestMomentReorderingAfterABatch(t *testing.T) {
	s := demoStore(t)
	want := planned(s.Collection())
	m := ordering.Arrange(s.Collection()).Refile()
	x := sit(t, s, find.ID)

	x.reach(1)
	x.think(1)
	x.press("ctrl+r")
	x.see("to pull", "to put in", "begin")
	x.press("enter")
	x.see("Pull · 0 of ")
	for range m.Pull {
		x.reach(1)
		x.press("enter")
	}
	x.see("On the table", "then put ")
	x.estimate("the walk that pulls")
	x.reach(1)
	x.press("enter")
	x.see("Put in · 0 of ", "behind", "before")
	for range m.Insert {
		x.reach(1)
		x.press("enter")
	}
	x.see("Refiled", "everything stands where it belongs", "done ")
	x.estimate("the walk that puts in")
	x.leave()

	p := playOn(t, find.ID, s)
	p.mustStand(want)
	if left := ordering.Arrange(s.Collection()).Refile(); len(left.Pull)+len(left.Insert) > 0 {
		t.Errorf("%d to pull and %d to put in are left", len(left.Pull), len(left.Insert))
	}
	if n := len(s.Collection().Walls().Firsts); n != 0 {
		t.Errorf("%d walls are still to be carried out", n)
	}
}

// The third: before new labels are printed it is seen where the boxes could
// begin, what else could be done, and what a longer box would help.
func TestMomentPlanningASplit(t *testing.T) {
	s := demoStore(t)
	before := s.Collection()
	l := ordering.Arrange(before)
	fewest, least := l.Split(ordering.Fewest), l.Split(ordering.LeastMoved)
	costs := func(p ordering.Plan) string { return fmt.Sprintf(" %d envelopes change box", l.Compare(p).Moved) }
	x := sit(t, s, find.ID)

	x.reach(1)
	x.think(1)
	x.press("ctrl+p")
	x.see("as few boxes as can be", costs(fewest), "not there yet")
	x.think(1)
	x.press("'a")
	x.see("three answers", "boxes to get", "then fit, likely")
	x.press("esc")
	x.see("as few boxes as can be", costs(fewest))
	x.estimate("a look at the plan, and at the three answers")
	x.think(2)
	x.press("down", "down", "'l", "'1200", "enter")
	x.see("What if: box 3 is 1200 mm long", " 3 boxes ·")
	x.think(1)
	x.press("'x")
	x.see(costs(fewest))
	x.estimate("what if box 3 were longer")
	x.think(1)
	x.press("'gg")
	x.see("as few moved as can be", costs(least))
	x.think(1)
	x.press("enter")
	x.see("Apply: as few moved as can be", "Where boxes begin is settled")
	if s.Collection() != before {
		t.Fatal("something was written before it was confirmed")
	}
	x.think(1)
	x.press("enter")
	x.see("Labels and cards to make", fmt.Sprintf("%d label", l.Compare(least).Labels), "f5: print")
	x.estimate("choosing the goal and applying it")
	x.press("ctrl+r")
	x.see("where the boxes begin is decided already", "box 4 ")
	x.leave()

	if got := planned(s.Collection()); !same(got, planRows(&least)) {
		t.Errorf("the refiling goes to %v, the plan was %v", got, planRows(&least))
	}
}

// The fourth: a needle in one hand, and in the middle of an entry at that. Where
// does the wrap dress stand? It is taken, and brought back later.
func TestMomentLookingUpASlot(t *testing.T) {
	s := demoStore(t)
	i := slices.Index(s.Collection().Row(s.Collection().Shelf().Boxes[0].ID), find6123(t, s.Collection()))
	if i < 0 {
		t.Fatal("the wrap dress does not stand in box 1")
	}
	a := find6123(t, s.Collection())
	x := sit(t, s, intake.ID)
	x.press("'7200", "enter", "'Swagger co")
	x.estimate("half an entry")

	x.reach(1)
	x.think(1)
	x.press("ctrl+f", "'6123")
	x.see("Look for  6123", "6123 Wrap dress", "box 1 (cupboard, top drawer), place 38", "mm from the front", "behind", "before")
	x.estimate("where it stands, by its number")
	x.think(1)
	x.press("ctrl+o")
	x.see("out since")
	x.estimate("taking it out")
	x.press("ctrl+n")
	x.see("7200", "Swagger co")
	if s.Collection().Copy(a).Out == nil {
		t.Error("it is not noted as out")
	}

	x.reach(1)
	x.think(1)
	x.press("ctrl+f", "ctrl+u")
	x.see("out, late and longest first", "6123")
	x.press("'wrap dress", "ctrl+o")
	x.see("box 1, place 38")
	x.estimate("bringing it back")
	x.press("ctrl+n")
	x.see("→ Name        Swagger co", "7200", "Emptying")
	x.leave()
	if s.Collection().Copy(a).Out != nil {
		t.Error("it is not noted as back")
	}
	if spot, _ := s.Collection().Standing(a); spot.Index != i {
		t.Errorf("it stands at place %d, want %d", spot.Index+1, i+1)
	}
}

// find6123 is the wrap dress of the demo.
func find6123(t *testing.T, c *model.Collection) model.Accession {
	t.Helper()
	for a := range c.Copies().All() {
		if p := c.PatternOf(model.Accession(a)); p.Number == "6123" && strings.HasPrefix(p.Name, "Wrap") {
			return model.Accession(a)
		}
	}
	t.Fatal("the demo has no wrap dress 6123")
	return 0
}
