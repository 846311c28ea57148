package tui_test

import (
	"slices"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
)

func shelved(t *testing.T) *player {
	return play(t, find.ID,
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "7", Length: model.MM(380), Place: "hall"}}, Hooks: []model.HookSpec{{Name: "door", Hooks: 4, Each: 3}}}},
		add("Quillon", "K-100", "Hooded cape", "", 0), add("Quillon", "300", "Winter coat", "", 0), add("Harrow & Pell", "300", "Apron", "", 0),
		&model.Add{Entries: []model.Entry{{Publisher: "Home", Name: "Traced bodice", Medium: model.Traced, Hook: "door 3"}}},
		&model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{1, 2}}}})
}

func TestFindShowsTheSlot(t *testing.T) {
	p := shelved(t)
	p.keys("'k100")
	p.mustShow("1 pattern:", "box 7 (hall), place 1", "1 mm from the front", "before 300 Winter coat")
	p.keys("ctrl+u", "'quil 300")
	p.mustShow("box 7 (hall), place 2", "behind K-100 Hooded cape")
	p.keys("ctrl+u", "'apron")
	p.mustShow("on the to-file pile, next step sleeve")
	p.keys("ctrl+u", "'bodice")
	p.mustShow("hook door 3")
	p.keys("ctrl+u", "'hoodde")
	p.mustShow("not exactly that, but 1 pattern like it", "Hooded cape")
	p.keys("ctrl+u", "'umbrella")
	p.mustShow("nothing found")
}

// The copy that is shown is the one that is amended, also half changed and after
// a break; what was being typed in Intake stays.
func TestFindAmendsTheCopyShown(t *testing.T) {
	p := shelved(t)
	p.keys("ctrl+n", "'99", "ctrl+f", "'winter", "ctrl+e")
	p.mustShow("tuckrow: Intake", "Winter coat")
	p.keys("tab", "' , lined", "ctrl+f", "ctrl+u", "'apron", "ctrl+e")
	p.mustShow("Apron")
	p = p.again()
	p.mustShow("you were changing this", "Apron")
	p.keys("tab", "' long", "enter")
	p.mustShow("99▏")
	c := p.listed()
	if got := []string{c.PatternOf(1).Name, c.PatternOf(2).Name, c.PatternOf(3).Name}; !slices.Equal(got, []string{"Hooded cape", "Winter coat", "Apron long"}) {
		t.Errorf("listed: %q", got)
	}
	p.keys("ctrl+e") // what was left half changed
	p.mustShow("Winter coat , lined")
	p.keys("esc", "ctrl+f", "ctrl+u", "'nothing like it", "ctrl+e")
	p.mustShow("tuckrow: Find")
}

func TestOutAndBackWithOneKey(t *testing.T) {
	p := shelved(t)
	p.keys("'300", "down", "up", "ctrl+o")
	if p.listed().Copy(2).Out == nil {
		t.Fatalf("copy 2 is not out\n%s", p.root.View())
	}
	p.mustShow("out since")
	p.keys("ctrl+o")
	if p.listed().Copy(2).Out != nil {
		t.Error("copy 2 is not back")
	}
	p.keys("ctrl+o", "ctrl+z")
	if p.listed().Copy(2).Out != nil {
		t.Error("undo did not bring copy 2 back")
	}
	p.mustShow("undid: took out 300 Winter coat")
}

func TestTabGoesDownTheResults(t *testing.T) {
	p := shelved(t)
	p.keys("'300", "tab", "ctrl+o")
	if p.listed().Copy(2).Out != nil || p.listed().Copy(3).Out == nil {
		t.Errorf("not the second one is out\n%s", p.root.View())
	}
}

func TestLending(t *testing.T) {
	p := shelved(t)
	p.keys("'cape", "ctrl+l", "'the neighbour", "esc")
	if p.listed().Copy(1).Out != nil {
		t.Fatal("esc lent it")
	}
	p.keys("ctrl+l", "'the neighbour", "enter")
	if out := p.listed().Copy(1).Out; out == nil || out.To != "the neighbour" {
		t.Fatalf("lent: %+v", out)
	}
	p.keys("ctrl+l", "enter")
	p.mustShow("is out already")
	p.keys("ctrl+l", "ctrl+u", "'the choir", "tab", "'a concert", "enter") // who hands it on
	if out := p.listed().Copy(1).Out; out == nil || out.To != "the choir" || out.For != "a concert" {
		t.Fatalf("handed on: %+v", out)
	}
	p.keys("ctrl+u") // with nothing typed, what is out is listed
	p.mustShow("out, late and longest first:", "Hooded cape", "out: the choir")
}

// Who lends can say what for and until when, too.
func TestLendingForSomethingUntilADay(t *testing.T) {
	p := shelved(t)
	p.keys("'cape", "ctrl+l", "'Nan", "tab", "'harvest play", "down", "'soon", "enter")
	p.mustShow(`"soon"`, "until when?  soon▏")
	if p.listed().Copy(1).Out != nil {
		t.Fatal("it is lent until soon")
	}
	p.keys("esc", "ctrl+u", "'2025-12-24", "tab")
	p.mustShow("who gets it? Nan▏")
	p.keys("enter")
	out := p.listed().Copy(1).Out
	if out == nil || out.To != "Nan" || out.For != "harvest play" || out.Due != "2025-12-24" {
		t.Fatalf("lent: %+v", out)
	}
	p.mustShow(", with Nan, for harvest play", "due on\n  2025-12-24")
	p.keys("ctrl+o", "ctrl+l")
	p.mustShow("who gets it? ▏") // the next is asked afresh
}

// The list of what is out says who has it, what for and when it is due; what
// should be back by now is marked.
func TestWhatIsOutSaysForWhatAndUntilWhen(t *testing.T) {
	p := shelved(t)
	for _, ch := range []model.Change{
		&model.TakeOut{Copy: 1, To: "Nan", For: "the harvest play", Due: "2025-12-07"}, // a day before the day of all tests
		&model.TakeOut{Copy: 2, To: "Ilse", For: "for fitting", Due: "2025-12-08"},
	} {
		if _, err := p.store.Store.Commit(t.Context(), ch); err != nil {
			t.Fatal(err)
		}
	}
	p = p.again()
	p.size(120, 40)
	p.keys("ctrl+f")
	p.mustList("Hooded cape ! late: Nan")
	p.mustList("Winter coat out: Ilse")
	p.mustShow(", with Nan, for the harvest play", "! overdue: it was due on 2025-12-07")
	p.keys("down")
	p.mustShow(", with Ilse, for fitting", "due on 2025-12-08")
	p.mustNotShow("overdue")
}

func TestASlotIsOneKeyAway(t *testing.T) {
	p := shelved(t)
	p.keys("ctrl+n", "'55", "ctrl+f", "'k100")
	p.mustShow("box 7 (hall), place 1")
	p.keys("ctrl+n")
	p.mustShow("55") // what was being typed at intake is still there
}

func TestFindStaysOnTheChosenCopy(t *testing.T) {
	p := shelved(t)
	p.keys("'300", "down")
	if _, err := p.store.Store.Commit(t.Context(), add("Quillon", "3000", "Another", "", 0)); err != nil {
		t.Fatal(err)
	}
	p.keys("ctrl+o")
	if p.listed().Copy(3).Out == nil {
		t.Errorf("the copy that was chosen is not out\n%s", p.root.View())
	}
}

// Esc leads back to where one came from, with what was typed there and here.
func TestEscInFindLeadsBackToWork(t *testing.T) {
	p := shelved(t)
	p.keys("esc")
	p.mustShow("tuckrow: Find") // it began here
	p.keys("ctrl+n", "'55", "ctrl+f", "'k100")
	p.mustShow("esc back to Intake")
	p.keys("ctrl+l", "'the neighbour", "esc") // the innermost first
	p.mustShow("tuckrow: Find", "k100")
	p.keys("esc")
	p.mustShow("tuckrow: Intake", "Number      55")
	p.keys("ctrl+f")
	p.mustShow("k100", "box 7 (hall), place 1")
}

// From anywhere a slot is one key and its number away, also when something was
// looked for before. What was looked for stays until then.
func TestTypingOnArrivalLooksForSomethingElse(t *testing.T) {
	p := shelved(t)
	p.keys("'hooded", "ctrl+n", "ctrl+f")
	p.mustShow("hooded", "1 pattern; typing looks for something else")
	p.keys("ctrl+o") // what stands there can be used
	if p.listed().Copy(1).Out == nil {
		t.Error("it is not out")
	}
	p.keys("'apron")
	p.mustShow("Look for  apron")
	p.keys("ctrl+n", "ctrl+f", "backspace", "'n") // or mended
	p.mustShow("Look for  apron")
	p.keys("ctrl+f", "'k100") // once more the same key: a new search
	p.mustShow("Look for  k100")
	p.keys("enter", "' 7") // Enter alone begins none
	p.mustShow("Look for  k100 7")
}

// A sleeve in hand is looked up by its code, one after another.
func TestFindByBarcode(t *testing.T) {
	p := play(t, find.ID, sleeves(4107, 4222), add("Quillon", "1", "Coat", "", 0))
	p.burst(codeOf(4222))
	p.mustShow("1 pattern; typing looks for something else", "4222 Cape 4222")
	p.burst(codeOf(4107))
	p.mustShow("4107 Cape 4107")
	p.burst(codeOf(4500))
	p.mustShow("this barcode is on no sleeve that is listed")
	p.keys("'coat")
	p.mustShow("Look for  coat", "1 Coat")
}

func TestTheRoomToBeginIn(t *testing.T) {
	p := play(t, intake.ID)
	begins := func(want string) {
		t.Helper()
		p = p.again()
		if got := tui.Start(tui.Rooms(p.store, plain()), p.listed()); got != want {
			t.Errorf("it begins in %s, want %s", got, want)
		}
	}
	begins(intake.ID) // nothing is listed
	p.hit("'Quillon", "enter", "'1", "enter", "'Cape", "enter")
	begins(find.ID)
	p.hit("'22")
	begins(intake.ID) // a number is half typed
	p.hit("ctrl+u", "enter", "'Coa")
	begins(intake.ID)
	p.hit("ctrl+x")
	begins(find.ID) // it was put aside on purpose
	p.hit("ctrl+e", "tab", "'x")
	begins(intake.ID)
	p.hit("esc")
	begins(find.ID)
}

// On a low screen, too, one sees between which two it stands.
func TestASlotOnALowScreen(t *testing.T) {
	p := demo(t, find.ID)
	p.size(40, 12)
	p.keys("'wrap dress")
	p.mustShow("6123", "box 1 (cupboard, top drawer), place 38", "235 mm from the front", "behind 6118 Wrap skirt", "before 6131 Shift dress")
	p.keys("ctrl+u", "'dress", "down", "down")
	p.mustShow("95 patterns", "4173", "24 mm from the front", "behind 4173", "before 4276")
}
