package tui_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/tui/intake"
)

func add(publisher, number, name, size string, year int) model.Change {
	return &model.Add{Entries: []model.Entry{{Publisher: publisher, Number: number, Name: name, SizeRange: size, Year: year, Category: "Dresses"}}}
}

func TestAnEntryIsNumberEnterNameEnter(t *testing.T) {
	p := play(t, intake.ID)
	p.keys("'Harrow & Pell", "enter", "'4107", "enter", "'Tea gown", "tab", "'Dresses", "enter")
	p.keys("'6123", "enter", "'Wrap dress", "enter")
	p.keys("'6131", "enter", "enter") // a number alone will do
	if n := p.listed().Copies().Len(); n != 3 {
		t.Fatalf("%d copies are listed, want 3\n%s", n, p.root.View())
	}
	if en := p.entryOf(2); en.Publisher != "Harrow & Pell" || en.Number != "6123" || en.Name != "Wrap dress" || en.Category != "Dresses" {
		t.Errorf("the second entry is %+v; publisher and category must stay from the first", en)
	}
	p.mustShow("3 entered", "to sleeve 3")
	p.mustList("3 Harrow & Pell 6131")
}

// In a new cupboard the first letter of a category leads to what is usual; where
// nothing is, the letter alone is asked about once.
func TestACategoryByItsFirstLetterInANewCupboard(t *testing.T) {
	p := play(t, intake.ID)
	p.keys("'Quillon", "enter", "'1", "enter", "'Wrap blouse", "tab", "'b")
	p.mustShow("[Blouses]", "new: b")
	p.keys("enter", "'2", "enter", "'Bag", "tab", "'Ba")
	p.mustShow("[new: Ba]")
	p.keys("'gs", "enter")
	p.keys("'3", "enter", "'Quilt", "tab", "'q", "enter")
	p.mustShow(`"q" would be a new category: type its whole name, or enter takes it as it is`, "→ Category")
	if n := p.listed().Copies().Len(); n != 2 {
		t.Fatalf("%d copies are listed, want 2", n)
	}
	p.keys("'quilts", "enter", "'4", "enter", "'Vest", "tab", "'v", "enter", "enter") // it is called so
	p.keys("'5", "enter", "'Vest", "tab", "'v", "enter")                              // and listed now
	for a, want := range map[model.Accession]string{1: "Blouses", 2: "Bags", 3: "quilts", 4: "v", 5: "v"} {
		if got := p.entryOf(a).Category; got != want {
			t.Errorf("copy %d is in category %q, want %q", a, got, want)
		}
	}
}

// A field that is chosen in can be emptied; cut is chosen by its first letters, and
// takes nothing else; Enter behind a choice goes to the number while nothing is
// typed.
func TestChoosingAndEmptyingAField(t *testing.T) {
	p := play(t, intake.ID, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "1", Name: "Cape", Category: "Coats", Batch: "hall drawer"}}})
	p.keys("up", "up") // round to the batch
	p.mustShow("→ Batch       ▏hall drawer  stays; first letters: another, backspace: none")
	p.keys("backspace", "enter")
	p.mustShow("→ Number      ▏", "Emptying a drawer")
	p.mustNotShow("is missing", "hall drawer  stays")
	p.keys("'2", "enter", "'Coat", "tab", "ctrl+u", "tab", "tab", "tab", "'un", "enter")
	if en := p.entryOf(2); en.Batch != "" || en.Category != "" || en.Cut != model.Uncut {
		t.Errorf("entered is %+v", en)
	}
	p.keys("'3", "enter", "'Vest", "tab", "tab", "tab", "tab", "'p", "enter", "'4", "enter", "'Hat", "tab", "tab", "tab", "tab", "'zz", "enter")
	if en := p.entryOf(3); en.Cut != model.PartlyCut {
		t.Errorf("entered is %+v", en)
	}
	p.mustShow(`cut "zz" is not known`, "Hat")
	if n := p.listed().Copies().Len(); n != 3 {
		t.Errorf("%d copies are listed", n)
	}
	p.keys("backspace", "backspace", "backspace", "enter")
	if en := p.entryOf(4); en.Cut != "" || en.Name != "Hat" {
		t.Errorf("entered is %+v", en)
	}
}

// What is proposed is seen with the focus in the field too, at any width.
func TestTheProposalIsSeenInTheField(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'6123", "enter", "'Hooded coat", "tab")
	for _, w := range []int{80, 60} {
		p.size(w, 24)
		p.mustShow("Dresses  stays", "ctrl+y: Coats and jackets")
	}
}

// Whom nobody knows is a publisher of that name: it puts the pattern into the
// unidentified bin, and knowing better takes it out.
func TestWhatNobodyKnowsGoesIntoTheBin(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0))
	p.keys("shift+tab", "'not")
	p.mustShow("[not known]", "into the unidentified bin")
	p.keys("enter", "enter", "'Long gown", "enter")
	bin := identify.Bin(p.listed())
	if len(bin) != 1 || bin[0].Name != "Long gown" {
		t.Fatalf("in the bin: %+v", bin)
	}
	p.keys("ctrl+e", "shift+tab", "'q", "enter", "enter", "enter")
	if en := p.entryOf(2); en.Publisher != "Quillon" || len(en.Tags) != 0 || len(identify.Bin(p.listed())) != 0 {
		t.Errorf("known it is %+v", en)
	}
}

// What is of one sleeve or copy is not entered unseen for the next, whether the
// last one was entered, put aside or thrown away; what is put aside keeps it.
func TestWhatIsOfOneSleeveDoesNotStay(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0))
	sleeve := []string{"'2", "enter", "'Coat", "tab", "tab", "'S-L", "tab", "'1998", "tab", "'uncut"}
	next := func(accession model.Accession) {
		t.Helper()
		p.keys("'7", "enter", "'Apron", "enter")
		if en := p.entryOf(accession); en.SizeRange != "" || en.Year != 0 || en.Cut != "" || en.Publisher != "Quillon" || en.Category != "Dresses" {
			t.Errorf("entered behind it is %+v", en)
		}
	}
	p.keys(append(sleeve, "enter")...)
	if en := p.entryOf(2); en.SizeRange != "S-L" || en.Year != 1998 || en.Cut != model.Uncut {
		t.Errorf("entered is %+v", en)
	}
	next(3)
	p.keys(append(sleeve, "ctrl+x")...)
	next(4)
	p.keys("ctrl+x", "enter")
	if en := p.entryOf(5); en.SizeRange != "S-L" || en.Year != 1998 || en.Cut != model.Uncut {
		t.Errorf("entered from aside is %+v", en)
	}
	p.keys(append(sleeve, "ctrl+d")...)
	next(6)
}

func TestPublisherIsChosenByFirstLetters(t *testing.T) {
	p := play(t, intake.ID, add("Harrow & Pell", "1", "", "", 0), add("Quillon", "2", "", "", 0), add("Quarry Lane", "3", "", "", 0))
	p.keys("shift+tab", "'qu")
	p.mustShow("Quarry Lane", "Quillon", "new: qu")
	p.keys("ctrl+u", "'Quillon")
	p.mustShow("[Quillon]")
	p.mustNotShow("new:") // it is listed
	p.keys("ctrl+u", "'qu", "down", "enter", "'77", "enter", "enter")
	if en := p.entryOf(4); en.Publisher != "Quillon" || en.Number != "77" {
		t.Errorf("the entry is %+v, want 77 of Quillon", en)
	}
	p.keys("shift+tab", "'qu", "up", "enter", "'1", "enter", "enter")
	if en := p.entryOf(5); en.Publisher != "qu" {
		t.Errorf("the entry is %+v, want the new publisher as typed", en)
	}
}

func TestIntakeSaysWhatIsOwned(t *testing.T) {
	have := []model.Change{
		add("Quillon", "220", "Cape", "8-14", 1974),
		add("Quillon", "6123 H5", "Wrap dress", "", 0),
	}
	for _, x := range []struct {
		keys []string
		says string
	}{
		{[]string{"'0220"}, "year not known: look at the sleeve"},
		{[]string{"'220", "tab", "tab", "tab", "'16-22"}, "same number in another size range"},
		{[]string{"'220", "tab", "tab", "tab", "'8-14", "tab", "'1999"}, "the number was used again"},
		{[]string{"'220", "tab", "tab", "tab", "'8-14", "tab", "'1974"}, "owned already: same number"},
		{[]string{"'6123 A6"}, "same number in another size range"},
		{[]string{"'999", "enter", "'Wrap drses"}, "a name like it"},
	} {
		p := play(t, intake.ID, have...)
		p.keys(x.keys...)
		p.mustShow(x.says)
		if n := p.listed().Copies().Len(); n != 2 {
			t.Errorf("%v: something was entered before Enter", x.keys)
		}
	}
}

func TestAFurtherCopyOrAPatternOfItsOwn(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "220", "Cape", "", 0))
	p.keys("'220", "enter")
	p.mustShow("enter takes: Cape", "enter: a further copy;")
	p.keys("enter")
	if a, b := p.listed().Copy(1).Pattern, p.listed().Copy(2).Pattern; a != b {
		t.Errorf("copy 2 is of pattern %d, want %d: a further copy", b, a)
	}
	p.keys("'220", "ctrl+o")
	p.mustShow("a pattern of its own", "ctrl+o further copy")
	p.keys("ctrl+o")
	p.mustShow("enter twice: a further copy;", "ctrl+o own pattern")
	p.keys("ctrl+o")
	p.keys("enter", "'Cape", "enter")
	if a, b := p.listed().Copy(1).Pattern, p.listed().Copy(3).Pattern; a == b {
		t.Error("copy 3 was merged with pattern 1 though it was said to be one of its own")
	}
	p.keys("'220", "enter", "'Another name", "enter")
	if a, b := p.listed().Copy(1).Pattern, p.listed().Copy(4).Pattern; a == b {
		t.Error("copy 4 has another name and was merged all the same")
	}
}

func TestIntakeShowsWhereItWillStand(t *testing.T) {
	p := play(t, intake.ID,
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "7", Length: model.MM(380)}}}},
		add("Quillon", "100", "Cape", "", 0), add("Quillon", "300", "Coat", "", 0),
		&model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{1, 2}}}})
	p.keys("'200")
	// The section card takes 0.5 mm and the first envelope 5 mm.
	p.mustShow("box 7", "6 mm from the front", "behind 100 Cape", "before 300 Coat")
}

// A scanner types its digits and Enter in one burst, which one read may bring
// as one message.
func TestAScannerBurstIsOneEntry(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	scan := func() {
		p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("6291041500213")})
		p.send(tea.KeyMsg{Type: tea.KeyEnter})
	}
	scan()
	if n := p.listed().Copies().Len(); n != 2 {
		t.Fatalf("%d copies are listed after one scan, want 2\n%s", n, p.root.View())
	}
	if en := p.entryOf(2); en.Barcode != "6291041500213" {
		t.Errorf("the entry is %+v, want its barcode kept", en)
	}
	// Once the code is known by number and name, a scan is a further copy.
	en := p.entryOf(2)
	en.Number, en.Name = "4107", "Tea gown"
	if _, err := p.store.Store.Commit(t.Context(), &model.Revise{Entry: en}); err != nil {
		t.Fatal(err)
	}
	p = playOn(t, intake.ID, p.store.Store)
	scan()
	if got := p.entryOf(3); got.Number != "4107" || got.Pattern != en.Pattern {
		t.Errorf("the known code was entered as %+v, want a further copy of 4107", got)
	}
}

func TestAPasteIsOneLineAndEntersNothing(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("22\t33\n44"), Paste: true})
	p.mustShow("22 33 44")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Errorf("pasting entered something: %d copies", n)
	}
}

func TestUndoAtIntake(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	p.keys("'2", "enter", "'Coat", "enter", "'3")
	p.keys("ctrl+z") // it could be meant for what is typed
	p.mustShow("ctrl+z again undoes: added 2 Coat")
	if n := p.listed().Copies().Len(); n != 2 {
		t.Errorf("%d copies are listed after the first press, want 2", n)
	}
	p.keys("ctrl+z")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Errorf("%d copies are listed after undo, want 1", n)
	}
	p.mustShow("undid: added 2 Coat")
	p.keys("enter", "'Hat", "enter")
	if en := p.entryOf(3); en.Number != "3" || en.Name != "Hat" {
		t.Errorf("what was being typed during undo became %+v", en)
	}
}

func TestWhatWasTypedIsNotLostByAnError(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "", "", 0))
	p.keys("tab", "'Coat", "tab", "tab", "tab", "'soon", "enter")
	p.mustShow("is not a year", "Coat", "soon")
	p.keys("esc", "esc")
	p.mustShow("Coat", "soon")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Fatalf("a year that is none was stored")
	}

	p = play(t, intake.ID, add("Quillon", "1", "", "", 0))
	p.store.fail = errDisk
	p.keys("'220", "enter", "'Cape", "enter")
	p.mustShow("the disk is gone", "220", "Cape", "0 entered")
	p.store.fail = nil
	p.keys("enter", "enter")
	if en := p.entryOf(2); en.Number != "220" || en.Name != "Cape" {
		t.Errorf("entered again after the error it is %+v", en)
	}
}

func TestWorkGoesOnWhereItWasLeft(t *testing.T) {
	p := play(t, intake.ID, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "1", Category: "Coats", Batch: "hall drawer"}}})
	p.keys("'2", "enter", "enter")
	if en := p.entryOf(2); en.Publisher != "Quillon" || en.Category != "Coats" || en.Batch != "hall drawer" {
		t.Errorf("the first entry after opening is %+v, want publisher, category and batch of the last", en)
	}
}

func TestTheFocusGoesToTheFault(t *testing.T) {
	p := play(t, intake.ID)
	p.keys("esc", "'4512", "enter", "'Wrap dress", "enter") // without a publisher
	p.mustShow(`publisher "" is missing`)
	p.keys("'Quillon", "enter", "enter", "enter")
	if en := p.entryOf(1); en.Publisher != "Quillon" || en.Number != "4512" || en.Name != "Wrap dress" {
		t.Errorf("mended where the focus was, it is %+v", en)
	}
}

// After a scan of an unknown code the screen asks for its number and name with
// ctrl+e: that must be the sleeve just scanned, whatever else was left half
// changed.
func TestWhatTheScreenAsksForIsWhatCtrlEOpens(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "1", "Cape", "", 0), add("Quillon", "2", "Coat", "", 0))
	p.keys("ctrl+e", "'X", "esc")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("6291041500213")})
	p.send(tea.KeyMsg{Type: tea.KeyEnter})
	p.keys("ctrl+e", "'55", "enter", "'Hat", "enter")
	if en := p.entryOf(3); en.Number != "55" || en.Name != "Hat" || en.Barcode != "6291041500213" {
		t.Errorf("the scanned sleeve is %+v, want it to be 55 Hat with its code", en)
	}
	if en := p.entryOf(2); en.Name != "Coat" || en.Number != "2" {
		t.Errorf("the entry left half changed became %+v", en)
	}
}
