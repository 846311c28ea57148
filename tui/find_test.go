package tui_test

import (
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/find"
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
	p.keys("ctrl+l")
	p.mustShow("it is out already")
	p.keys("esc", "ctrl+u") // with nothing typed, what is out is listed
	p.mustShow("out, longest first:", "Hooded cape", "out: the neighbour")
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
