package tui_test

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/intake"
)

// drawer is a batch of n copies.
func drawer(batch string, n int) model.Change {
	ch := &model.Add{}
	for i := range n {
		ch.Entries = append(ch.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(100 + i), Batch: batch})
	}
	return ch
}

// at is how many copies are at a step.
func (p *player) at(s model.Step) int { return p.listed().Steps()[s] }

func TestTheseThirtyEnvelopesAreLabelled(t *testing.T) {
	all := make([]model.Accession, 40)
	for i := range all {
		all[i] = model.Accession(i + 1)
	}
	p := play(t, intake.ID, drawer("hall drawer", 40), &model.Tick{Copies: all, Step: model.StepSleeve}, drawer("attic", 5))
	p.hit("'61", "ctrl+t")
	p.mustShow("Ticking steps: attic", "[sleeve 5]", "envelope 0")
	p.hit("'b") // all batches
	p.mustShow("all batches", "[sleeve 5]", "envelope 40")
	p.hit("'b", "tab")
	p.mustShow("hall drawer", "sleeve 0", "[envelope 40]", "enter: the one at the arrow in a labelled envelope")
	if n := p.hit("'30", "space", "enter"); n != 4 {
		t.Errorf("30 copies took %d keys", n)
	}
	if got := p.at(model.StepEnvelope); got != 10 {
		t.Errorf("%d copies wait for their envelopes, want 10", got)
	}
	if !p.listed().Copy(1).Enveloped || !p.listed().Copy(30).Enveloped || p.listed().Copy(31).Enveloped {
		t.Error("not the first thirty, in the order of arrival, were ticked")
	}
	p.mustShow("30 copies: in their labelled envelopes; ctrl+z takes it back", "[envelope 10]", "group 30")
	p.mustList("31 Quillon 130")
	p.hit("ctrl+z") // one key takes back all of it
	if got := p.at(model.StepEnvelope); got != 40 {
		t.Errorf("after undo %d copies wait for their envelopes, want 40", got)
	}
	p.hit("esc")
	p.mustShow("Emptying attic", "61") // what was being typed
}

func TestMarkingOneARangeOrAll(t *testing.T) {
	p := play(t, intake.ID, drawer("hall drawer", 9))
	p.hit("ctrl+t", "enter") // one, at the arrow
	p.mustShow("1 copy: sleeves in their binders")
	p.hit("down", "space", "down", "down", "'r", "enter") // copies 3 to 6
	for a := model.Accession(1); a <= 9; a++ {
		want := model.SleeveWaiting
		if a == 1 || a >= 3 && a <= 6 {
			want = model.SleeveInBinder
		}
		if got := p.listed().Copy(a).Sleeve; got != want {
			t.Errorf("copy %d has its sleeve %q, want %q", a, got, want)
		}
	}
	p.hit("'a")
	p.mustShow("4 marked")
	p.hit("up", "up", "up", "up", "space") // not the first of them
	p.mustShow("3 marked", "sleeve of these 3")
	p.hit("esc", "'5", "ctrl+t") // marks stay while something else is done
	p.mustShow("3 marked")
	p.hit("tab", "'a", "shift+tab") // and while another step is looked at
	p.mustShow("3 marked")
	p.hit("tab")
	p.mustShow("5 marked")
	p.hit("shift+tab", "'a", "'a")
	p.mustNotShow("marked:", "3 marked", "4 marked")
	p.hit("right", "right")
	p.mustShow("[group 0]")
	p.hit("left")
	p.mustShow("[envelope 5]")
}

func TestWhereTheSleeveIs(t *testing.T) {
	p := play(t, intake.ID, drawer("hall drawer", 4))
	p.hit("ctrl+t", "'c", "'t", "'m", "enter")
	for i, want := range []model.Sleeve{model.SleevePhotocopy, model.SleeveWithTissue, model.SleeveMissing, model.SleeveInBinder} {
		if got := p.listed().Copy(model.Accession(i + 1)).Sleeve; got != want {
			t.Errorf("copy %d has its sleeve %q, want %q", i+1, got, want)
		}
	}
	p.mustShow("nothing waits here")
	p.hit("tab", "'m") // at another step that letter means nothing
	if got := p.at(model.StepEnvelope); got != 4 {
		t.Errorf("%d copies wait for their envelopes, want 4", got)
	}
	p.hit("'a", "enter", "tab", "'a", "enter", "tab", "enter")
	p.mustShow("[box 4]", "ctrl+r")
	if got := p.at(model.StepBox); got != 4 {
		t.Errorf("%d copies wait for their boxes, want 4: only what stands in a box is in it", got)
	}
}

func TestTheListOfStepsIsSafeWhenEmpty(t *testing.T) {
	p := play(t, intake.ID)
	p.hit("ctrl+t", "space", "'r", "'a", "enter", "'c", "up", "down", "pgup", "pgdown", "tab", "shift+tab", "'b", "'12", "space")
	p.mustShow("nothing waits here")
	p.hit("ctrl+t", "'Quillon")
	p.mustShow("new: Quillon")
}

// Sleeves that are ticked as in their binders and for which there is no pocket are
// told.
func TestSleevesWithoutAPocketAreTold(t *testing.T) {
	p := demo(t, intake.ID)
	l := ordering.Arrange(p.listed())
	var waiting []model.Accession
	for _, cp := range p.listed().Copies().All() {
		if p.listed().StepOf(cp) == model.StepSleeve {
			waiting = append(waiting, cp.Accession)
		}
	}
	none := l.Pocketless(waiting)
	if none == 0 || none == len(waiting) {
		t.Fatalf("%d of %d have no pocket", none, len(waiting))
	}
	p.keys("ctrl+t", "'b", "'a", "enter")
	p.mustShow(fmt.Sprintf("%d copies: in binders; %d with no pocket yet (f2); ctrl+z takes it back", len(waiting), none))
}

// Another batch is named only where there is one, as in the last line.
func TestNoOtherBatchIsNamedWhereThereIsNone(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "100", "Cape", "", 0))
	p.keys("ctrl+t", "'a", "enter")
	p.mustShow("nothing waits here; tab: next step")
	p.mustNotShow("another batch", "other batch")
}

// What tells two styles of a magazine apart stands at the end of the number.
func TestALongNumberIsReadableInTheLists(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "03/1987 135", "Overalls", "", 0), add("Quillon", "03/1987 136", "Cape", "", 0))
	p.keys("ctrl+t")
	p.mustShow("03/1987 135 Overalls", "03/1987 136 Cape")
}
