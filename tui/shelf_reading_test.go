package tui_test

import (
	"fmt"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/shelf"
)

// Leaving loses nothing, not what is half typed either, and what is entered in
// between counts.
func TestShelfReadingIsKept(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r", "'100", "enter", "'333", "enter", "'50", "esc", "esc")
	p.mustShow("5 boxes", "reading begun")
	p.keys("ctrl+f")
	p.press(tea.KeyCtrlB)
	p.keys("'r")
	p.mustShow("2 read of 3", "333", "unlisted", "50")
	if _, err := p.store.Commit(t.Context(), add("Quillon", "333", "Shawl", "", 0)); err != nil {
		t.Fatal(err)
	}
	p.keys("ctrl+u", "esc", "ctrl+n", "'1", "esc") // whatever is done elsewhere
	p = playOn(t, shelf.ID, p.store.Store)         // as after a kill
	p.mustShow("reading begun")
	p.keys("'r")
	p.mustShow("2 read of 3", "333 Shawl", "misplaced")
	p.keys("esc")
	p.press(tea.KeyRight)
	p.keys("'r")
	p.mustShow("Reading box B", "0 read of 3")
	p.keys("esc")
	p.press(tea.KeyLeft)
	p.keys("'r")
	p.mustShow("Reading box A", "2 read of 3")
}

func TestShelfReadingByScanner(t *testing.T) {
	changes := fourBoxes()
	coded := &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "700", Name: "Tunic", Barcode: "2000000000015", Box: "C", Position: 1},
		{Publisher: "Quillon", Number: "700", Name: "Tunic", Barcode: "2000000000015", Box: "C", Position: 2},
	}}
	p := play(t, shelf.ID, append(changes, coded)...)
	p.keys("down", "'r", "'2000000000015", "enter")
	p.mustShow("700 Tunic", "in place", "1 read of 2")
	p.keys("'2000000000015", "enter")
	p.mustShow("2 in place")
	p.keys("backspace", "'5901234123457", "enter") // a code that nothing bears
	p.mustShow("5901234123457", "unlisted")
	p.keys("backspace", "backspace", "backspace")
	p.mustShow("0 read of 2")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("2000000000015\n2000000000015\n12")})
	p.mustShow("2 read of 2", "2 in place", "12")
}

func TestShelfRecordingFails(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r")
	p.press(tea.KeyCtrlS) // nothing is read
	p.mustShow("0 read of 3")
	p.keys("'100", "enter")
	p.press(tea.KeyCtrlS)
	p.keys("down")
	p.mustShow("2 were not found and are noted as missing:", "200 Cape", "500 Cape")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "Reading box A", "1 read of 3")
	p.mustStand(map[string][]model.Accession{"A": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
	p.store.fail = nil
	p.keys("esc")
	p.press(tea.KeyCtrlS)
	p.keys("down", "enter")
	p.mustStand(map[string][]model.Accession{"A": {1}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
}

// A reading that stops before the end of the box makes nothing missing behind it,
// unless one says so, and can be gone on with.
func TestShelfReadingThatStops(t *testing.T) {
	asIs := map[string][]model.Accession{"A": {1, 2, 3}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil}
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r", "'100", "enter", "ctrl+s")
	p.mustShow("the reading stops before the end of the box: 2 recorded behind it", "→ record what was read so far; the rest counts as not looked at")
	p.mustNotShow("missing:")
	p.keys("down")
	p.mustShow("→ that was all of the box; note the rest as missing", "2 were not found and are noted as missing:")
	p.keys("up", "enter")
	p.mustShow("box A stands as recorded so far")
	p.mustStand(asIs)
	if p.listed().Counted(1) != "" {
		t.Error("a box of which a part was read counts as gone through")
	}
	p.keys("'r", "backspace", "'200", "enter", "'1300", "enter", "ctrl+s")
	p.mustShow("1 was not found and is noted as missing:", "100 Cape", "1 recorded behind it was not")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "2 read of 3")
	p.mustStand(asIs)
	p.store.fail = nil
	p.keys("esc", "ctrl+s", "enter")
	p.mustShow("box A is recorded as far as it was read")
	p.mustStand(map[string][]model.Accession{"A": {2, 6, 3}, "B": {4, 5}, "C": nil, "D": nil, "E": nil})
	c := p.listed()
	if c.Copy(1).Missing == "" || c.Copy(3).Missing != "" || c.Counted(1) != "" {
		t.Errorf("missing since %q and %q, counted %q", c.Copy(1).Missing, c.Copy(3).Missing, c.Counted(1))
	}
	p.keys("'r")
	p.mustShow("2 read of 3", "2 in place")
	p.mustNotShow("recorded otherwise")
	p.keys("'500", "enter", "ctrl+s")
	p.mustShow("box A stands as recorded")
}

// What could be several copies is recorded only when somebody has looked.
func TestShelfAmbiguousReading(t *testing.T) {
	p := play(t, shelf.ID, append(fourBoxes(), add("Quillon", "1300", "Scarf", "", 0))...)
	p.keys("'r", "'1300", "enter")
	p.mustShow("can be #6 1300 or #9 1300")
	p.keys("'100", "enter", "'200", "enter")
	p.press(tea.KeyCtrlS)
	p.mustShow("look at the envelope and give the accession", "Reading box A", "behind reading 1: what is read now goes in here")
	p.keys("esc", "backspace", "'#9", "enter")
	p.mustShow("1300 Scarf", "3 read of 3")
	p.press(tea.KeyPgUp)
	p.mustNotShow("goes in here")
	p.press(tea.KeyCtrlS)
	p.keys("down", "enter") // there is nothing behind it
	p.mustStand(map[string][]model.Accession{"A": {9, 1, 2}, "B": {4, 5, 6}, "C": nil, "D": nil, "E": nil})
}

// One can go back to where one was left out, or read wrongly, and put that right
// with all that was read since as it was.
func TestShelfReadingIsMendedInTheMiddle(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r", "'100", "enter", "'500", "enter")
	p.mustShow("skipped, maybe missing: 200")
	p.keys("down", "'200", "enter")
	p.mustShow("behind reading 2", "200 Cape · in place", "3 in place")
	p.keys("down", "down", "down", "down")
	p.mustShow("at the front: what is read now goes in before all")
	p.keys("backspace", "'999", "enter")
	p.mustShow("4 read of 3", "1 unlisted", "behind reading 1")
	p.keys("backspace", "up", "up", "up")
	p.mustShow("3 read of 3", "500 Cape · in place")
	p.mustNotShow("goes in")
	p.keys("'7")
	p.press(tea.KeyCtrlS)
	p.mustShow(`"7" is typed and not read yet`)
	p.keys("esc", "backspace")
	p.press(tea.KeyCtrlS)
	p.mustShow("box A stands as recorded")
}

// A box that is taken off the shelf while it is read takes its reading along.
func TestShelfBoxGoesWhileItIsRead(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r", "'100", "enter")
	spec := p.listed().ShelfSpec()
	spec.Boxes = spec.Boxes[1:]
	commit, err := p.store.Commit(t.Context(), &model.SetShelf{Spec: spec})
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.mustShow("4 boxes", "v: what was read in 1 box that is gone")
	if got := p.chosen(); got != "C" {
		t.Errorf("box %q is chosen", got)
	}
	p = playOn(t, shelf.ID, p.store.Store)
	p.keys("'v")
	p.mustShow("box A, 1 reading", "1  100", "esc cupboard", "x throw away")
	p.keys("esc", "ctrl+z") // the box is there again
	p.mustShow("5 boxes", "reading begun")
	p.mustNotShow("that is gone")
}

// What was read in a box that is gone can be read in full, and thrown away.
func TestShelfStrayReadings(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.keys("'r")
	for n := range 20 {
		p.keys(fmt.Sprintf("'%d", 3000+n), "enter")
	}
	p.keys("pgdown") // the latest stands on top
	p.mustShow("behind reading ")
	p.keys("pgup", "'77", "enter")
	spec := p.listed().ShelfSpec()
	spec.Boxes = spec.Boxes[1:]
	commit, err := p.store.Commit(t.Context(), &model.SetShelf{Spec: spec})
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.size(80, 12)
	p.keys("'v")
	p.mustShow("box A, 21 readings", "3000")
	p.mustNotShow("3019", " 77")
	p.keys("down", "down", "up", "pgdown", "pgup", "pgdown", "pgdown", "pgdown")
	p.mustShow("3019", " 77")
	p.keys("'x")
	p.mustShow("4 boxes")
	p.mustNotShow("that is gone")
}

// A reading is there again whatever ended the program, with what was typed when
// it was ended in order, and where one was. What was recorded otherwise in
// between is said.
func TestShelfReadingSurvivesTheProgram(t *testing.T) {
	p := play(t, shelf.ID, fourBoxes()...)
	p.press(tea.KeyRight)
	p.keys("'r", "'1100", "enter", "'1300", "enter", "down", "'12")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	p = playOn(t, shelf.ID, p.store.Store)
	if got := p.chosen(); got != "B" {
		t.Errorf("box %q is chosen, want the one that was read", got)
	}
	p.keys("'r")
	p.mustShow("2 read of 3", "behind reading 1", "On it is  12")
	p.keys("'00", "enter")
	p.mustShow("1200 Coat · in place")
	p = playOn(t, shelf.ID, p.store.Store) // as after a kill
	p.keys("'r", "up")
	p.mustShow("3 read of 3", "3 in place")
	commit, err := p.store.Store.Commit(t.Context(), &model.Stand{Rows: []model.NamedRow{{Box: "C", Copies: []model.Accession{6}}}})
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.mustShow("recorded otherwise since this was begun", "3 read of 2")
	p.press(tea.KeyCtrlS)
	p.keys("enter")
	p = playOn(t, shelf.ID, p.store.Store)
	p.mustNotShow("reading begun") // it was recorded
}

// A draft that is none, or of another version, is left alone.
func TestShelfLeavesADraftAloneThatIsNone(t *testing.T) {
	for _, text := range []string{"{", "[]", `{"format":2,"readings":[{"box":1,"texts":["9"]}]}`, `{"format":1,"box":77}`,
		`{"format":1,"readings":[{"box":1,"at":-3,"texts":["\u001b[2J9"]}]}`, `{"format":1,"draft":{"at":-5,"form":{"kind":"box","i":9,"texts":["x"],"was":[]}}}`,
		`{"format":1,"draft":{"now":{"boxes":[{"name":"Z","length_mm":10}]},"at":99,"form":{"kind":"castle","i":0}}}`} {
		p := play(t, shelf.ID, fourBoxes()...)
		if err := p.store.SaveDraft("draft-shelf", []byte(text)); err != nil {
			t.Fatal(err)
		}
		p = playOn(t, shelf.ID, p.store.Store)
		p.mustShow("5 boxes")
		p.keys("'r")
		p.mustNotShow("\x1b[2J")
		p.keys("esc", "esc", "'e", "enter", "esc", "esc")
		p.fitsEverySize(text)
	}
}

// Readings that come faster than they are compared are all compared, and what
// was taken back while that went on is not among them.
func TestShelfReadingsThatQueueUp(t *testing.T) {
	p := onSample(t, shelf.ID, sample.Cupboard(5000))
	row := p.listed().Row(p.listed().Shelf().Boxes[0].ID)
	p.keys("'r")
	var held []tea.Cmd
	hold := func(msg tea.KeyMsg) {
		_, cmd := p.root.Update(msg)
		held = append(held, cmd)
	}
	read := func(i int) {
		for _, r := range fmt.Sprintf("#%d", row[i]) {
			hold(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
		}
		hold(tea.KeyMsg{Type: tea.KeyEnter})
	}
	read(0)
	read(1)
	hold(tea.KeyMsg{Type: tea.KeyBackspace})
	read(2)
	p.press(tea.KeyCtrlS)
	p.mustShow("still being compared")
	p.release(held)
	p.mustShow("2 read of", "2 in place", "skipped, maybe", "missing: ")
}
