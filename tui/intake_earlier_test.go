package tui_test

import (
	"context"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/intake"
)

func TestEditingAnEarlierEntryKeepsTheOneBeingTyped(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'6001", "enter", "'Rap dress", "enter", "'6002", "enter", "'Panelled dr")
	p.hit("ctrl+e")
	p.mustShow("Changing entry 6", "Rap dress", "still being typed: 6002 Panelled dr")
	p.mustList("→ 6 Harrow & Pell 6001 Rap dress")
	p.hit("ctrl+u", "'Wrap dress", "enter")
	if en := p.entryOf(6); en.Name != "Wrap dress" || en.Number != "6001" || en.Category != "Dresses" {
		t.Errorf("the earlier entry is %+v, want its name mended and the rest as it was", en)
	}
	p.mustShow("changed 6 6001 Wrap dress", "6002", "Panelled dr")
	p.hit("'ess", "enter")
	if en := p.entryOf(7); en.Number != "6002" || en.Name != "Panelled dress" {
		t.Errorf("the entry that was being typed became %+v", en)
	}
}

func TestGoingThroughEarlierEntries(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'1", "enter", "enter", "'2", "enter", "enter") // 6 and 7
	p.hit("pgup")
	p.mustShow("Changing entry 7")
	p.hit("ctrl+e", "ctrl+e") // from this sitting to what was there before
	p.mustShow("Changing entry 5", "Wrap dress")
	p.hit("pgdown")
	p.mustShow("Changing entry 6")
	p.hit("pgdown", "pgdown", "pgdown")
	p.mustShow("Changing entry 7")
	for range 20 {
		p.hit("pgup")
	}
	p.mustShow("Changing entry 1", "Belted coat")
	p.hit("enter", "enter") // nothing was changed, nothing is written
	p.mustShow("nothing was changed in 1")
	if rev := p.listed().Rev(); rev != 3 {
		t.Errorf("the store is at revision %d, want 3: saving nothing was written", rev)
	}
}

func TestEscLosesNeitherEntry(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'6002", "enter", "'Panelled dr", "ctrl+e", "'es", "esc")
	p.mustShow("what was typed into 5 is not saved; ctrl+e goes on with it", "6002", "Panelled dr")
	if en := p.entryOf(5); en.Name != "Wrap dress" {
		t.Errorf("esc saved %+v", en)
	}
	p = p.again() // weeks later
	p.mustShow("6002", "Panelled dr")
	p.hit("ctrl+e")
	p.mustShow("Changing entry 5", "as typed before, and not saved yet", "Wrap dresses")
	p.hit("ctrl+x")
	p.mustShow("as it is listed; ctrl+x brings back what was typed")
	p.mustNotShow("Wrap dresses")
	p.hit("ctrl+x")
	p.mustShow("Wrap dresses")
	p.hit("enter")
	if en := p.entryOf(5); en.Name != "Wrap dresses" {
		t.Errorf("saved it is %+v, want what had been typed", en)
	}
	p.mustShow("6002", "Panelled dr")
}

// What was typed into an entry weeks ago does not cover a newer change of it.
func TestAnEditGivesWayToANewerOne(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("tab", "ctrl+e", "'es", "esc")
	en := p.entryOf(5)
	en.Name = "Cross-over dress"
	if _, err := p.store.Store.Commit(context.Background(), &model.Revise{Entry: en}); err != nil {
		t.Fatal(err)
	}
	p = p.again()
	p.hit("ctrl+e")
	p.mustShow("Changing entry 5", "Cross-over dress")
	p.mustNotShow("Wrap dresses", "as typed before")
}

// Undo reaches into the entry that is being changed, but not over what was
// typed there.
func TestUndoWhileAnEarlierEntryIsChanged(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("tab", "ctrl+e", "ctrl+u", "'Cross-over dress", "enter") // the change to be undone
	p.hit("ctrl+e", "tab", "tab", "'8-14", "ctrl+z", "ctrl+z")
	p.mustShow("Changing entry 5", "Wrap dress", "8-14")
	p.hit("enter")
	if en := p.entryOf(5); en.Name != "Wrap dress" || en.SizeRange != "8-14" {
		t.Errorf("the entry is %+v, want the name as undone and the sizes as typed", en)
	}
	p = play(t, intake.ID, add("Quillon", "1", "", "", 0), add("Quillon", "2", "", "", 0))
	p.hit("tab", "ctrl+e", "'Cape", "ctrl+z", "ctrl+z", "enter") // it is not there any more
	p.mustShow("copy 2 is not listed any more; esc goes back")
	p.hit("esc", "esc")
	p.mustShow("Emptying")
}

func TestAnEarlierEntryThatCannotBeSaved(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("tab", "ctrl+e", "tab", "tab", "tab", "'soon", "enter")
	p.mustShow("is not a year", "Changing entry 5")
	p.hit("esc", "ctrl+u", "'1974")
	p.store.fail = errDisk
	p.hit("enter")
	p.mustShow("the disk is gone", "Emptying")
	p.store.fail = nil
	p.hit("ctrl+e")
	p.mustShow("1974")
	p.hit("enter", "enter", "enter")
	if en := p.entryOf(5); en.Year != 1974 {
		t.Errorf("after the disk came back the entry is %+v, want the year as typed", en)
	}
}

// What stands in a box, or hangs on a hook, stays there when its text is
// mended.
func TestMendingAnEntryMovesNothing(t *testing.T) {
	p := play(t, intake.ID,
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "7", Length: model.MM(380)}}}},
		add("Quillon", "100", "Cap", "", 0), &model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{1}}}})
	p.hit("tab", "ctrl+e", "'e", "enter")
	if en := p.entryOf(1); en.Name != "Cape" || en.Box != "7" || en.Position != 1 {
		t.Errorf("mended it is %+v, want Cape in box 7, place 1", en)
	}
}

// What the sleeve in hand says and the listed pattern does not is kept: it is no
// further copy, of which it would be lost.
func TestWhatTheListDoesNotSayIsNotLost(t *testing.T) {
	p := play(t, intake.ID, add("Quillon", "220", "Cape", "", 0))
	p.hit("'220", "enter", "tab", "tab", "'8-14", "tab", "'1974")
	p.mustShow("enter: a pattern of its own: size range 8-14, there none; year 1974, there no")
	p.hit("enter")
	if en := p.entryOf(2); en.Pattern == 1 || en.SizeRange != "8-14" || en.Year != 1974 {
		t.Errorf("it is stored as %+v", en)
	}
	p.hit("'220", "enter", "enter") // of the list nothing but the number is said twice
	if en := p.entryOf(3); en.Pattern == 1 || en.Pattern == 2 {
		t.Errorf("it could be either, and is a copy of %d", en.Pattern)
	}
}

func TestWhatToDoAboutADuplicateIsSaid(t *testing.T) {
	have := []model.Change{add("Quillon", "220", "Cape", "8-14", 1974)}
	for _, x := range []struct {
		keys []string
		says []string
	}{
		{[]string{"'220"}, []string{"used again? give the year", "enter twice: a further copy; ctrl+o: a pattern of its own; ctrl+d: a mistake"}},
		{[]string{"'220", "tab", "tab", "tab", "'8-14", "tab", "'1974"}, []string{"a second copy?", "enter: a further copy; ctrl+o"}},
		{[]string{"'220", "tab", "tab", "tab", "'16-22"}, []string{"another size range  · a pattern of its own", "enter: a pattern of its own"}},
		{[]string{"'220", "tab", "tab", "tab", "'8-14", "tab", "'1999"}, []string{"used again  · a pattern of its own", "ctrl+d: a mistake, throw away"}},
		{[]string{"'220", "enter", "'Apron"}, []string{"enter: a pattern of its own: name Apron, there Cape"}},
		{[]string{"'999", "enter", "'Caep"}, []string{"a name like it  · the same, or a reissue?"}},
	} {
		p := play(t, intake.ID, have...)
		p.hit(x.keys...)
		p.mustShow(x.says...)
		p.hit("ctrl+d") // a mistake
		if n := p.listed().Copies().Len(); n != 1 {
			t.Errorf("%v: %d copies are listed, want 1", x.keys, n)
		}
		p.hit("ctrl+d") // no mistake
		p.mustShow(x.says...)
	}
}
