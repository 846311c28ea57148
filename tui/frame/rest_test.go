package frame

import (
	"slices"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
)

// When no key has come for a moment all rooms are told, once; while one types
// on, now and then; and a key asks for one look at that at the most.
func TestTheScreensAreToldOfARest(t *testing.T) {
	h := newHouse(t)
	var looks []time.Duration
	h.stirred.later = func(d time.Duration, _ tea.Msg) { looks = append(looks, d) }
	rests := func() (n int) {
		for _, msg := range h.find.msgs { // which is not in front
			if _, ok := msg.(Rested); ok {
				n++
			}
		}
		return n
	}
	h.send(look{})
	h.press("a", "b", "c")
	if !slices.Equal(looks, []time.Duration{moment}) {
		t.Fatalf("looks after %v, want one after %v", looks, moment)
	}
	h.clock = h.clock.Add(moment / 5)
	h.send(look{}) // too early: it looks again when a moment will have passed
	if rests() != 0 || len(looks) != 2 || looks[1] != moment-moment/5 {
		t.Fatalf("%d rests, looks after %v", rests(), looks)
	}
	h.clock = h.clock.Add(looks[1])
	h.send(look{})
	h.send(look{})
	if rests() != 1 || len(looks) != 2 {
		t.Fatalf("%d rests, want 1; looks after %v", rests(), looks)
	}
	for begun := h.clock; h.clock.Sub(begun) < 3*mostTime; {
		h.press("d")
		if len(looks) > 0 {
			h.send(look{})
		}
	}
	if n := rests(); n < 3 || n > 4 {
		t.Errorf("%d rests while typing for %v without one, want one in %v", n-1, 3*mostTime, mostTime)
	}
}

// With no program around it nobody is told.
func TestNoRestWithoutAProgram(t *testing.T) {
	h := newHouse(t)
	h.press("a")
	h.wantGot(h.intake, "a")
}
