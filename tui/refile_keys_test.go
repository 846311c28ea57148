package tui_test

import (
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/refile"
)

// A thumb finds the space bar without looking: it does what enter does.
func TestRefileBySpaceAlone(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	want := planned(p.listed())
	p.keys("space", "down") // the other one is at hand first
	p.mustShow("0 of 2 pulled", "1300 Coat")
	p.keys(times(2, "space")...)
	p.mustShow("0 of 4 put in")
	p.keys("down", "down")
	third := p.root.View()
	p.mustShow("up/down another")
	p.keys("down")
	if p.root.View() == third {
		t.Error("down shows no other to put in")
	}
	p.keys("up", "up", "up")
	p.keys(times(4, "space")...)
	p.mustStand(want)
	p.mustShow("Refiled")
	p.keys("space")
	p.mustShow("there is nothing to refile")
	p = play(t, refile.ID, afterABatch()...)
	p.keys("enter")
	p.keys(times(7, "'n")...)
	p.mustShow("not found: 4") // what could not be pulled cannot be put in either
	p.keys("esc")
	p.mustShow("Overview")
}

// What was decided can have been carried out without a tick, as a reading of the
// shelf finds it; then one key notes that.
func TestRefileThatIsDoneAlready(t *testing.T) {
	for _, k := range []string{"enter", "space"} {
		p := play(t, refile.ID, afterABatch()...)
		p.keys("enter", "esc")
		want, stand := planned(p.listed()), &model.Stand{}
		for box, row := range want {
			stand.Rows = append(stand.Rows, model.NamedRow{Box: box, Copies: row})
		}
		commit, err := p.store.Commit(t.Context(), stand)
		if err != nil {
			t.Fatal(err)
		}
		p.send(frame.StoreChanged{Commit: commit})
		p.mustShow("was decided and is carried out", "enter note it as done")
		p.keys(k)
		p.mustNotShow("note it as done")
		p.mustStand(want)
		if n := len(p.listed().Walls().Firsts); n != 0 {
			t.Errorf("%s: %d walls are still decided", k, n)
		}
	}
}

// On the table there is a way back and a way on.
func TestRefileSorting(t *testing.T) {
	p := demo(t, refile.ID)
	p.keys("enter", "tab")
	p.mustShow("On the table", "enter sorted, put them in   shift+tab step before")
	p.keys("shift+tab")
	p.mustShow("Pull · 0 of ")
	p.keys("tab", "space")
	p.mustShow("Put in · 0 of ")
}
