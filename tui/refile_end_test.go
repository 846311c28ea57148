package tui_test

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/refile"
	tea "github.com/charmbracelet/bubbletea"
)

// What another process does is taken in, and a decision that was made for a
// split is carried out.
func TestRefileCarriesOutASplit(t *testing.T) {
	p := play(t, refile.ID, append(afterABatch(), &model.Decide{Firsts: []model.NamedWall{{Box: "7", First: 1}, {Box: "8", First: 4}}})...)
	p.mustShow("decided already")
	rev := p.listed().Rev()
	p.keys("enter")
	p.mustShow("0 of 2 pulled")
	if p.listed().Rev() != rev {
		t.Error("the same walls were decided again")
	}
	m := ordering.Arrange(p.listed()).Refile()
	c, err := p.store.Store.Commit(t.Context(), m.Done())
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: c})
	p.mustNotShow("0 of 2 pulled")
}

// What a refiling leaves to be done is said at its end: labels and cards, what is put
// in and not yet filed, and that hooks were no part of it.
func TestTheEndOfARefilingSaysWhatIsLeft(t *testing.T) {
	p := demo(t, refile.ID)
	filed := p.listed().Steps()[model.Filed]
	p.size(40, 12) // boxes first, and the caution whole
	p.mustShow("box 1 ", "boxes more", "a new box 4 is needed", "not for one alone.")
	p.size(80, 24)
	p.keys("enter")
	p.refileAll()
	left := ordering.Arrange(p.listed()).Outstanding()
	p.mustShow(left.Text()+": ctrl+p, then m, lists them", "hooks are not part of it: 2 out of order")
	if len(left.Labels) == 0 || left.ToPrint() == 0 {
		t.Errorf("nothing is to be made: %+v", left)
	}
	in, now := 0, p.listed().Steps()
	for _, cp := range p.listed().Copies().All() {
		if _, stands := p.listed().Standing(cp.Accession); stands && p.listed().StepOf(cp) == model.StepSleeve {
			in++
		}
	}
	p.mustShow(fmt.Sprintf("%d of those put in count as done when their sleeves are in their binders", in))
	if now[model.Filed] <= filed || in == 0 {
		t.Errorf("filed went from %d to %d, %d wait for their sleeves", filed, now[model.Filed], in)
	}
	p.send(tea.KeyMsg{Type: tea.KeyCtrlP})
	p.mustShow("no fewer boxes than now")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlR})
	p.mustShow("there is nothing to refile", left.Text())
}
