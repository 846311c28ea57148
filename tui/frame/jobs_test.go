package frame

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// asked is a house in which the room in front waits for something.
func asked(t *testing.T) (*house, tea.Cmd, *[]time.Duration) {
	h := newHouse(t)
	var beats []time.Duration
	h.jobs.later = func(d time.Duration) { beats = append(beats, d) }
	_, late := h.Update(Ask{From: "intake", Seq: 1, What: "working out the split", Do: func() tea.Msg { return "a plan" }})
	return h, late, &beats
}

func TestALongJobIsSpokenOf(t *testing.T) {
	h, late, beats := asked(t)
	h.wantNotInView("working out") // it may be done at once
	if len(*beats) != 1 || (*beats)[0] != patience {
		t.Fatalf("beats after %v, want one after %v", *beats, patience)
	}
	h.clock = h.clock.Add(patience)
	h.send(beat{})
	h.wantView("working out the split · 0 s   esc stop it")
	h.clock = h.clock.Add(3 * time.Second)
	h.send(beat{})
	h.wantView("working out the split · 3 s")
	if n := len(*beats); n != 3 || (*beats)[2] != often {
		t.Errorf("beats after %v, want one more after each", *beats)
	}
	h.press("ctrl+f")
	h.wantNotInView("working out") // another room waits for nothing
	h.press("ctrl+n")
	h.pump(late)
	h.wantNotInView("working out")
	h.send(beat{})
	if n := len(*beats); n != 3 {
		t.Errorf("%d beats, want none once nothing runs", n)
	}
	h.wantGot(h.intake, "arrived <nil>, a plan")
}

func TestEscStopsALongJob(t *testing.T) {
	h, late, _ := asked(t)
	h.press("esc") // by now it is long
	h.wantGot(h.intake, "{1}")
	if _, ok := h.intake.msgs[len(h.intake.msgs)-1].(Stopped); !ok {
		t.Errorf("the screen got %#v, want to be told that it was stopped", h.intake.msgs[len(h.intake.msgs)-1])
	}
	h.wantView("stopped; everything is as it was")
	h.wantNotInView("esc stop it")
	h.press("esc")
	h.wantGot(h.intake, "esc") // there is nothing to be stopped any more
	h.clock = h.clock.Add(time.Hour)
	h.wantNotInView("working out")
	h.send(Ask{From: "intake", Seq: 2, Do: func() tea.Msg { return "another" }})
	h.wantGot(h.intake, "another")
	h.pump(late)
	h.wantGot(h.intake, "") // overtaken
}

func TestEscPutsAMessageAwayBeforeItStopsAJob(t *testing.T) {
	h, late, _ := asked(t)
	h.send(Complain{errDisk})
	h.press("esc")
	h.wantGot(h.intake, "")
	h.pump(late)
	h.wantGot(h.intake, "a plan")
}

// What a room has worked out for itself, and nobody waits for, is not spoken of.
func TestAJobWithoutANameIsNotSpokenOf(t *testing.T) {
	h := newHouse(t)
	_, late := h.Update(Ask{From: "intake", Seq: 1, Do: func() tea.Msg { return "a picture" }})
	h.press("esc")
	h.wantGot(h.intake, "esc")
	h.wantNotInView("stop it")
	h.pump(late)
	h.wantGot(h.intake, "a picture")
}

func TestSavingIsSpokenOfAndNotStopped(t *testing.T) {
	h := newHouse(t)
	_, late := h.Update(Write{Change: add("Cape")})
	h.clock = h.clock.Add(2 * time.Second)
	h.wantView("saving · 2 s")
	h.wantNotInView("esc stop it")
	h.press("esc")
	h.wantGot(h.intake, "esc")
	h.pump(late)
	h.wantNotInView("saving")
	h.wantView("to sleeve 1")
}
