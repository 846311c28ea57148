package tui_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/shelf"
)

// A box twice as short does not hold what it held: what that comes to is shown,
// then saved, then taken back.
func TestShelfEditABoxAndUndo(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	before := p.listed().ShelfSpec()
	p.keys("'e")
	p.mustShow("Change the shelf", "as saved", "→ box", "A · 380 mm · cupboard, column 1, row 1", "working space 15 %", "none")
	p.keys("enter")
	p.mustShow("Change box", "→ name", "380 mm", "column 1, row 1")
	p.keys("tab", "ctrl+u", "'12", "tab", "ctrl+u", "'attic", "tab", "' ", "'n", "'q", "'y", "shift+tab", "up", "enter")
	p.mustShow("changed, not saved", "A · 12 mm · attic · locked")
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, before) {
		t.Fatal("it is saved before it is saved")
	}
	p.press(tea.KeyCtrlS)
	want := p.listed().ShelfSpec()
	want.Boxes[0] = model.BoxSpec{Name: "A", Length: model.MM(12), Place: "attic", Locked: true}
	next, _, err := p.listed().Apply(&model.SetShelf{Spec: want}, "")
	if err != nil {
		t.Fatal(err)
	}
	nowPlan, thenLayout := ordering.Arrange(p.listed()).Split(ordering.Fewest), ordering.Arrange(next)
	thenPlan := thenLayout.Split(ordering.Fewest)
	p.mustShow("Before it is saved", "box A is 12 mm long: is that right?", fmt.Sprintf("boxes needed: %d now, %d then", nowPlan.Used(), thenPlan.Used()),
		fmt.Sprintf("to move from box to box for that: %d now, %d then", ordering.Arrange(p.listed()).Compare(nowPlan).Moved, thenLayout.Compare(thenPlan).Moved))
	p.keys("enter")
	p.mustShow("5 boxes", "the shelf is saved")
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, want) {
		t.Errorf("saved is %+v, want %+v", got, want)
	}
	p.keys("ctrl+z")
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, before) {
		t.Errorf("undone is %+v, want %+v", got, before)
	}
}

// Every kind of furniture can be entered, changed in its order and taken away.
func TestShelfEditEveryKind(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e")
	p.press(tea.KeyHome)
	p.keys("enter", "tab", "tab", "ctrl+u", "'40 mm", "tab", "ctrl+u", "'4.5", "enter")
	p.mustShow("working space 40 mm", "uncut 4.5 mm")
	p.press(tea.KeyEnd)
	p.keys("enter", "'folios", "tab", "'320", "tab", "'the floor", "enter")
	p.mustShow("folios · 320 mm · the floor")
	p.keys("'n", "'maps", "tab", "'300", "enter", "'<")
	p.mustShow("oversize   maps · 300 mm")
	p.keys("'d")
	p.mustNotShow("maps")
	p.keys("up", "enter", "'door", "tab", "'6", "tab", "'2", "enter")
	p.mustShow("door · hooks 6 · each holds 2")
	p.keys("up", "enter", "'Capes", "tab", "'75", "tab", "'day; evening", "tab", "'p", "enter")
	p.mustShow("Capes · pockets 75 · sub-dividers day; evening · see also pocket")
	p.keys("up", "up", "enter", "tab", "'Kwillon", "tab", "'issue", "enter")
	p.mustShow("Quillon · files as Kwillon · numbers issue")
	p.keys("up", "up", "'n", "'Small", "tab", "'Mirelune; Tessarow", "tab", "'tiny", "tab", "'y", "enter", "'<")
	p.mustShow("Small · Mirelune; Tessarow · tiny · begins a box")
	p.keys("up", "up", "'n", "'F", "down", "down", "'hall", "enter", "'<", "'>", "'<")
	want := p.listed().ShelfSpec()
	want.Settings.Working, want.Settings.Thickness.Uncut = model.Space{Fixed: model.MM(40)}, model.MM(4.5)
	want.Hooks = []model.HookSpec{{Name: "door", Hooks: 6, Each: 2}}
	want.Binders = []model.BinderSpec{{Category: "Capes", Pockets: 75, SubDividers: []string{"day", "evening"}, SeeAlso: model.ByPocket}}
	want.Oversize = []model.BoxSpec{{Name: "folios", Length: model.MM(320), Place: "the floor"}}
	want.Publishers = []model.PublisherSpec{{Name: "Quillon", FilesAs: "Kwillon", Numbers: model.Issue}}
	small := model.SectionSpec{Title: "Small", Publishers: []string{"Mirelune", "Tessarow"}, Tags: []string{"tiny"}, NewBox: true}
	want.Sections = []model.SectionSpec{want.Sections[0], small, want.Sections[1]}
	e, f := want.Boxes[4], model.BoxSpec{Name: "F", Length: model.MM(380), Place: "hall"}
	want.Boxes = append(want.Boxes[:4:4], f, e)
	p.press(tea.KeyCtrlS)
	p.keys("enter")
	p.mustShow("6 boxes")
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, want) {
		t.Fatalf("saved is\n%+v, want\n%+v\n%s", got, want, p.root.View())
	}
	p.keys("'e")
	for _, k := range []tea.KeyType{tea.KeyEnd, tea.KeyPgUp, tea.KeyPgDown} {
		p.press(k)
	}
	p.keys("'d", "up", "'d", "up", "'d", "up", "up")
	p.mustShow("→ category   Capes")
	p.keys("'dn<>") // a category comes with its patterns
	p.mustShow("→ category   Capes", "changed, not saved")
	p.keys("up", "'d", "up", "'d", "up", "up", "up", "up", "'d")
	p.press(tea.KeyCtrlS)
	p.keys("enter")
	want.Oversize, want.Hooks, want.Binders, want.Publishers, want.Sections = nil, nil, nil, nil, []model.SectionSpec{want.Sections[0], want.Sections[2]}
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, want) {
		t.Errorf("saved is\n%+v, want\n%+v\n%s", got, want, p.root.View())
	}
}

// A box with something in it gets another name and keeps what it holds; taken
// away, it says what becomes of that.
func TestShelfEditABoxThatHoldsSomething(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("enter", "'e", "enter", "'2", "enter")
	p.mustShow("A2 · 380 mm")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A: name A2, was A", "boxes needed: 2 now, 2 then")
	p.mustNotShow("to-file pile", "taken away", "new box")
	p.keys("enter")
	p.mustStand(map[string][]model.Accession{"A2": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
	p.keys("ctrl+z")
	p.mustStand(map[string][]model.Accession{"A": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})

	p.keys("'e")
	p.press(tea.KeyHome, tea.KeyDown)
	p.keys("'d")
	p.mustNotShow("A · 380 mm · cupboard, column 1, row 1")
	p.press(tea.KeyCtrlS)
	p.mustShow("3 envelopes lose their box or hook and go on the to-file pile", "box A is taken away")
	p.keys("esc", "'x")
	p.mustShow("the shelf is as it was", "5 boxes", "x bring back")
	p.keys("'x")
	p.mustShow("changed, not saved")
	p.mustNotShow("A · 380 mm · cupboard, column 1, row 1")
	p.keys("'x", "'e")
	p.mustShow("as saved", "A · 380 mm · cupboard, column 1, row 1")
	p.press(tea.KeyCtrlS)
	p.mustShow("nothing was changed")
	p.keys("esc", "'x") // another was begun
	p.mustNotShow("changed, not saved")
}

// Names are changed where they stand, of what is in the list and what comes with
// the patterns; what bears them follows. Two boxes exchange theirs.
func TestShelfEditRenames(t *testing.T) {
	p := play(t, shelf.ID, append(fourBoxes(), add("Quillon", "900", "Cape", "", 0))...)
	before := p.listed().ShelfSpec()
	p.keys("'e")
	p.press(tea.KeyEnd)
	p.keys("up", "up", "'n", "'Dr")
	p.mustShow("right: goes on with esses", "right take the name")
	p.press(tea.KeyRight)
	p.keys("tab", "'75", "enter", "up", "enter", "ctrl+u", "'Cloaks", "enter")
	p.mustShow("category   Cloaks", "Cloaks · pockets 75")
	p.keys("up", "enter", "' & Daughter", "enter")
	p.mustShow("Quillon & Daughter", "Quillon · Quillon & Daughter") // the section's title stays
	p.press(tea.KeyShiftTab, tea.KeyShiftTab)
	p.keys("enter", "' first", "enter")
	p.press(tea.KeyShiftTab)
	p.keys("enter", "ctrl+u", "'X", "enter", "down", "enter", "ctrl+u", "'A", "enter", "up", "enter", "ctrl+u", "'B", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A: name B, was A", "box B: name A, was B", "publisher Quillon: name Quillon & Daughter, was Quillon",
		"category Dresses: name Cloaks, was Dresses", "new binder Cloaks, pockets 75", "section Quillon: title Quillon first, was Quillon")
	p.mustNotShow("is taken away", "another order", "look at the spelling", "to-file pile")
	p.keys("enter")
	c := p.listed()
	p.mustStand(map[string][]model.Accession{"B": {1, 2, 3}, "A": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
	if en := p.entryOf(9); en.Publisher != "Quillon & Daughter" || en.Category != "Cloaks" || c.Publishers().Len() != 2 || c.Categories().Len() != 1 {
		t.Errorf("the entry is %+v, of %d publishers and %d categories", en, c.Publishers().Len(), c.Categories().Len())
	}
	if got := c.ShelfSpec().Sections[0]; got.Title != "Quillon first" || got.Publishers[0] != "Quillon & Daughter" {
		t.Errorf("the section is %+v", got)
	}
	p.keys("ctrl+z") // one change, one undo
	if got := p.listed().ShelfSpec(); !reflect.DeepEqual(got, before) || p.entryOf(9).Category != "Dresses" {
		t.Errorf("undone is %+v, want %+v", got, before)
	}
}

// A publisher misspelt in a section is one that nobody has patterns of: that is
// said before it is saved.
func TestShelfEditSaysThatAPublisherIsNew(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e")
	p.press(tea.KeyTab)
	p.keys("enter", "tab", "'; Harow")
	p.mustNotShow("goes on with")
	p.keys("enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("publisher Harow is new, no pattern is of it", "section Quillon: publishers Quillon; Harow, was Quillon")
}

func TestShelfEditRefusesWhatCannotBe(t *testing.T) {
	for _, x := range []struct {
		keys []string
		want string
	}{
		{[]string{"enter", "tab", "ctrl+u", "'wide", "enter"}, `length: "wide" is not a length`},
		{[]string{"'n", "'a", "enter"}, `box "A" is there already; give this one a name of its own`},
		{[]string{"'n", "tab", "tab", "'loft", "enter"}, `name: is empty`},
		{[]string{"enter", "tab", "ctrl+u", "enter"}, `length: "" is not a length`},
		{[]string{"down", "enter", "ctrl+u", "'c", "save"}, `box "C" is there already`},
		{[]string{"home", "enter", "tab", "tab", "ctrl+u", "'120 %", "enter"}, `"120 %" is not a share of the box`},
		{[]string{"home", "enter", "tab", "tab", "tab", "ctrl+u", "'0", "enter", "save"}, `every thickness must be more than 0 mm`},
		{[]string{"end", "up", "enter", "'door", "tab", "'-1", "enter"}, `"-1" is not a count`},
	} {
		p := play(t, shelf.ID, fourBoxes()...)
		before := p.listed()
		p.keys("'e")
		for _, k := range x.keys {
			if typ, ok := map[string]tea.KeyType{"home": tea.KeyHome, "end": tea.KeyEnd, "save": tea.KeyCtrlS}[k]; ok {
				p.press(typ)
				continue
			}
			p.keys(k)
		}
		if flat := strings.Join(strings.Fields(p.root.View()), " "); !strings.Contains(flat, x.want) {
			t.Errorf("%q does not lead to %q\n%s", x.keys, x.want, p.root.View())
		}
		if p.listed() != before {
			t.Errorf("%q saved something", x.keys)
		}
	}
}

// What was changed, and what is half typed, is there when one comes back; and
// a failing store takes nothing away.
func TestShelfEditIsKept(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e", "down", "enter", "tab", "tab", "'X", "esc", "esc")
	p.press(tea.KeyCtrlF, tea.KeyCtrlB)
	p.keys("down", "'e")
	p.press(tea.KeyUp)
	p.keys("enter")
	p.mustShow("row 1X")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("Y\nZ")})
	p.store.fail = errDisk
	p.press(tea.KeyCtrlS) // out of the form, at once
	p.mustShow("Before it is saved")
	p.keys("enter")
	p.mustShow("the disk is gone", "changed, not saved", "row 1XY Z")
	p.store.fail = nil
	p.keys("esc")
	p.press(tea.KeyCtrlS)
	p.keys("enter")
	if got := p.listed().Shelf().Boxes[1].Place; got != "cupboard, column 2, row 1XY Z" {
		t.Errorf("saved is %q", got)
	}
}

// What was changed and not saved is there again whatever ended the program; what
// was typed into a form, when it was ended in order.
func TestShelfEditSurvivesTheProgram(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e", "enter", "'2", "enter", "down", "'d")
	p = playOn(t, shelf.ID, p.store.Store) // as after a kill
	p.keys("'e")
	p.mustShow("A2 · 380 mm", "changed, not saved")
	p.mustNotShow("B · 380 mm")
	p.keys("enter", "tab", "ctrl+u", "'41")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	p = playOn(t, shelf.ID, p.store.Store)
	p.keys("'e")
	p.mustShow("begun; enter goes on")
	p.keys("enter", "'0 mm")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A: name A2, was A", "length 410 mm, was 380 mm", "box B is taken away")
	p.keys("enter")
	p = playOn(t, shelf.ID, p.store.Store)
	p.keys("'e")
	p.mustShow("as saved", "A2 · 380 mm", "C · 410 mm")

	// The shelf was changed meanwhile: the words stand there still.
	p.keys("enter", "tab", "tab", "'; hall", "enter")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	spec := p.listed().ShelfSpec()
	spec.Boxes[1].Place = "attic"
	if _, err := p.store.Store.Commit(t.Context(), &model.SetShelf{Spec: spec}); err != nil {
		t.Fatal(err)
	}
	p = playOn(t, shelf.ID, p.store.Store)
	p.keys("'e")
	p.mustShow("changed otherwise meanwhile")
	p.press(tea.KeyCtrlS)
	p.mustShow("the shelf was changed otherwise since this was begun", "row 1; hall, was", "cupboard, column 1, row 1")
}

// What was changed otherwise in between is not taken back unseen.
func TestShelfEditIsOutrun(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e", "'d")
	p.press(tea.KeyCtrlS)
	for range 12 {
		p.keys("ctrl+z") // until the shelf itself is taken back
	}
	before := p.listed()
	p.keys("enter")
	p.mustShow("Before it is saved", "the shelf was changed otherwise since this was begun", "box A is taken away")
	p.mustNotShow("enter save it")
	if p.listed() != before {
		t.Error("it is saved all the same")
	}
	p.keys("esc")
	p.mustShow("Change the shelf", "changed otherwise meanwhile")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A is taken away")
	p.keys("'x", "'e")
	p.mustShow("as saved")
}

// What has come with patterns meanwhile is no reason not to save.
func TestShelfEditIsNotOutrunByPatterns(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'e", "enter", "'2", "enter")
	commit, err := p.store.Store.Commit(t.Context(), add("Tessarow", "7", "Cape", "", 0))
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.keys("esc", "'e")
	p.mustShow("Tessarow")
	p.press(tea.KeyCtrlS)
	p.mustNotShow("otherwise", "Tessarow")
	p.keys("enter")
	if got := p.listed().Shelf().Boxes[0].Name; got != "A2" {
		t.Errorf("the box is called %q", got)
	}
}

var shelfEditScenes = []struct {
	name string
	keys []string
	save bool
}{
	{"edit", []string{"'e"}, false},
	{"form", []string{"'e", "down", "enter", "tab"}, false},
	{"effect", []string{"'e", "enter", "tab", "ctrl+u", "'700", "enter"}, true},
}

func TestGoldenShelfEdit(t *testing.T) {
	for _, s := range shelfEditScenes {
		p := demo(t, shelf.ID)
		p.keys(s.keys...)
		if s.save {
			p.press(tea.KeyCtrlS)
		}
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("shelf_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// What a new piece mostly has is proposed; what is typed takes its place, unless
// one goes into it first.
func TestTypingReplacesAProposal(t *testing.T) {
	p := demo(t, shelf.ID)
	p.keys("'e", "down", "'n", "'9", "tab")
	p.mustShow("950 mm▏", "typing replaces it")
	p.keys("'700 mm")
	p.mustShow("length              700 mm▏")
	p.mustNotShow("typing replaces")
	p.keys("enter")
	p.mustShow("9 · 700 mm")
	p.keys("'n", "'10", "tab", "left", "left", "left", "backspace", "'5")
	p.mustShow("955▏ mm")
}
