package tui_test

import (
	"testing"

	"example.org/tuckrow/tui/intake"
)

// A mistake is thrown away with one key, and comes back with the same.
func TestThrowingAnEntryAway(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap dr", "ctrl+d")
	p.mustShow("thrown away: 61 Wrap dr; ctrl+d brings it back")
	p.mustNotShow("aside")
	p = p.again() // also weeks later
	p.hit("ctrl+d")
	p.mustShow("61", "Wrap dr")
	p.hit("'ess", "enter")
	if en := p.entryOf(6); en.Number != "61" || en.Name != "Wrap dress" {
		t.Errorf("brought back and typed to its end it is %+v", en)
	}
	p.hit("ctrl+d")
	p.mustShow("nothing is typed, and nothing was thrown away")
}

// What lies aside is thrown away by bringing it back first: so nobody throws
// away what he does not see.
func TestThrowingAnAsideAway(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "ctrl+x", "'62", "ctrl+x", "'63", "ctrl+x")
	p.mustShow("3 aside, the last 63")
	p.hit("ctrl+x", "ctrl+d")
	p.mustShow("thrown away: 63", "2 aside")
	p.hit("ctrl+x", "ctrl+x", "ctrl+x") // look at one, leave it, look at the next
	p.mustShow("Number      61", "1 aside")
	p.hit("ctrl+d", "ctrl+x")
	p.mustShow("Number      62")
	p.mustNotShow("aside ·")
	p.hit("enter", "enter", "ctrl+d")
	p.mustShow("Number      61")
	p.hit("ctrl+d", "ctrl+d", "ctrl+d")
	p.mustShow("thrown away: 61")
	if n := p.listed().Copies().Len(); n != 6 {
		t.Errorf("%d copies are listed, want 6: 62 alone was entered", n)
	}
}

// Nothing that was put aside is lost however often one looks through it.
func TestLookingThroughWhatLiesAside(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "ctrl+x", "'62", "ctrl+x", "'63", "ctrl+x")
	for _, want := range []string{"63", "62", "61", "63", "62", "61"} {
		p.hit("ctrl+x")
		p.mustShow("Number      " + want)
		p.hit("ctrl+x")
	}
	p.hit("ctrl+x", "'5", "ctrl+x", "ctrl+x") // changed, it is the last again
	p.mustShow("Number      635")
}
