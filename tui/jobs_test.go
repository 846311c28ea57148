package tui_test

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
)

// started presses a key and gives what it starts, which has not ended by then.
func (p *player) started(k tea.KeyMsg) tea.Cmd {
	_, cmd := p.root.Update(k)
	p.clock = p.clock.Add(time.Second)
	return cmd
}

// What takes long in a room says so and can be stopped; what came of it later is
// not heard of, and everything is as it was.
func TestALongPlanCanBeStopped(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("'g", "'g", "'g", "ctrl+f", "ctrl+p")
	before := p.root.View()
	late := p.started(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{'w'}}) // nothing to work out yet
	p.run(late)
	p.keys("'6")
	late = p.started(tea.KeyMsg{Type: tea.KeyEnter})
	p.mustShow("working out the plan · 1 s   esc stop it")
	p.keys("esc")
	p.mustShow("stopped; everything is as it was", "as few boxes as can be")
	p.run(late)
	p.keys("ctrl+f", "ctrl+p")
	if after := p.root.View(); after != before {
		t.Errorf("stopped, the room is not as it was:\n%s\nbefore:\n%s", after, before)
	}
}

func TestLayingOutALongWalkCanBeStopped(t *testing.T) {
	p := demo(t, find.ID)
	late := p.started(tea.KeyMsg{Type: tea.KeyCtrlR})
	p.mustShow("laying out the walk · 1 s   esc stop it")
	p.keys("esc")
	p.mustShow("stopped")
	p.run(late)
	p.mustShow("not worked out", "enter work it out")
	p.mustNotShow("to put in")
	p.keys("esc") // back to Find
	p.mustShow("tuckrow: Find")
	p.keys("ctrl+r")
	p.mustShow("to put in") // it is worked out when it is asked for again
}

func TestAStoppedWalkIsLaidOutByEnterOrSpace(t *testing.T) {
	for _, k := range []string{"enter", "space"} {
		p := demo(t, find.ID)
		late := p.started(tea.KeyMsg{Type: tea.KeyCtrlR})
		p.keys("esc")
		p.run(late)
		p.mustShow("enter work it out")
		p.keys(k)
		p.mustShow("to put in", "enter begin")
	}
}

func TestWeighingALargeShelfCanBeStopped(t *testing.T) {
	p := onSample(t, shelf.ID, sample.Cupboard(5000))
	p.keys("'e", "enter", "tab", "tab", "'hall", "enter")
	late := p.started(tea.KeyMsg{Type: tea.KeyCtrlS})
	p.mustShow("weighing what saving comes to · 1 s   esc stop it")
	rev := p.listed().Rev()
	p.keys("esc")
	p.mustShow("stopped")
	p.run(late)
	p.mustShow("ctrl+s save") // what was changed is still there, and not saved
	if p.listed().Rev() != rev {
		t.Error("the shelf was saved")
	}
}
