package tui_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/stocktake"
)

var stocktakeScenes = []struct {
	name string
	keys []string
}{
	{"boxes", []string{"down"}},
	{"counting", []string{"down", "enter", "space", "space", "tab", "'9999", "enter", "'harrow 4276", "enter", "space", "space"}},
	{"end", []string{"enter", "space", "space", "space", "ctrl+e"}},
	{"differs", []string{"enter", "space", "tab", "'9999", "enter", "'Q110", "enter", "ctrl+e", "enter", "tab", "end", "up"}},
	{"report", []string{"enter", "ctrl+e", "enter", "'w"}},
}

func TestGoldenStocktake(t *testing.T) {
	for _, s := range stocktakeScenes {
		p := demo(t, stocktake.ID)
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("stocktake_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// small is a cupboard of two boxes with four and three envelopes in them; K12 is
// out.
func small() []model.Change {
	add := &model.Add{}
	for _, n := range []string{"K10", "K11", "K12", "K13", "K20", "K21", "K22"} {
		add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: n, Name: "Cape", Cut: model.Uncut})
	}
	spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "A", Length: model.MM(100)}, {Name: "B", Length: model.MM(100)}, {Name: "C", Length: model.MM(100)}}}
	return []model.Change{add, &model.SetShelf{Spec: spec},
		&model.Stand{Rows: []model.NamedRow{{Box: "A", Copies: []model.Accession{1, 2, 3, 4}}, {Box: "B", Copies: []model.Accession{5, 6, 7}}}}, &model.TakeOut{Copy: 3}}
}

// A box that stands as recorded is a key an envelope, the day of the count is kept,
// and the next box is chosen.
func TestABoxAsRecordedIsAKeyAnEnvelope(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.mustShow("none is under way")
	p.keys("enter")
	p.mustShow("K10 Cape", "0 of 4 gone through")
	p.keys("space", "space")
	p.mustShow("out card for K12 Cape")
	p.keys("enter") // a scanner that sends it twice counts nothing
	p.mustShow("2 of 4 gone through")
	p.keys("space", "space")
	p.mustShow("the end of the box by the record")
	p.keys("space", "backspace", "space", "ctrl+e")
	p.mustList("A 4 " + string(p.listed().Counted(1)) + " ✓ counted")
	if on := p.listed().Counted(1); on == "" || p.listed().Counted(2) != "" {
		t.Errorf("counted on %q and %q", on, p.listed().Counted(2))
	}
	p.mustShow("nothing differs", "→ B", "1 of 2 boxes counted")
	if got, _ := p.store.Undoable(); got != "counted box A" {
		t.Errorf("undo would take back %q", got)
	}
}

// What differs is settled by a key each: what is missing, what stands in another
// box, what stands wrong in its own, and what is on no list.
func TestWhatDiffersIsSettledByAKeyEach(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	// A holds K10, K22, K13 and an out card; K11 is gone. B holds K21, K20, a stranger.
	p.keys("enter", "space", "tab", "'K22", "enter")
	p.mustShow("misplaced: belongs box B")
	p.keys("space", "space", "ctrl+e", "enter", "'21", "enter", "'K20", "enter", "'555 Doublet", "enter")
	p.mustShow("on no list")
	p.keys("ctrl+e", "tab")
	p.mustList("missing: 1")
	p.mustList("elsewhere: 1")
	p.mustList("misplaced: 1")
	p.mustList("unlisted: 1")
	p.mustShow("K11 Cape · Quillon")
	p.keys("'m")
	if p.listed().Copy(2).Missing == "" {
		t.Error("K11 is not noted as missing")
	}
	p.mustNotShow("missing: 1")
	p.mustShow("recorded in box B, found in box A")
	p.keys("'r")
	if row := p.listed().Row(1); !slices.Equal(row, []model.Accession{1, 7, 3, 4}) || len(p.listed().Row(2)) != 2 {
		t.Errorf("the boxes hold %v and %v", row, p.listed().Row(2))
	}
	p.mustNotShow("elsewhere: 1")
	p.mustList("misplaced: 1")
	pulled := p.listed().Row(2)
	p.keys("'p")
	left := p.listed().Row(2)
	if len(left) != 1 || len(pulled) != 2 {
		t.Errorf("box B holds %v, and held %v", left, pulled)
	}
	p.mustNotShow("misplaced: 1")
	p.keys("ctrl+z") // it stands there again, and is a matter again
	p.mustList("misplaced: 1")
	p.keys("'r")
	p.mustNotShow("misplaced: 1")
	p.mustShow("555 Doublet")
	p.keys("'n")
	p.mustShow("Emptying a drawer", `"555 Doublet" is on no list`)
	p.keys("shift+tab", "'Quillon", "enter", "'555", "enter", "'Doublet", "enter", "f7")
	p.mustList("elsewhere: 1")
	p.mustShow("recorded in no box, found in box B")
	p.keys("'r")
	if spot, stands := p.listed().Standing(8); !stands || spot.Box != 2 {
		t.Errorf("the doublet stands at %+v", spot)
	}
	p.mustShow("nothing differs in the boxes that are counted, or all of it is settled")
	if err := p.listed().Check(); err != nil {
		t.Error(err)
	}
}

// What was settled stays settled when the envelope is put into its box again, and
// when tuckrow is opened anew; undo brings it back.
func TestWhatWasSettledStaysSoWhenItIsFiled(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	// A holds K10, K22, out card, K13; K11 is gone. B holds K21 before K20.
	p.keys("enter", "space", "tab", "'K22", "enter", "space", "space", "ctrl+e", "enter", "'K21", "enter", "'K20", "enter", "ctrl+e", "tab")
	for _, kind := range []string{"missing: 1", "elsewhere: 1", "misplaced: 1"} {
		p.mustList(kind)
	}
	p.keys("'m", "'p", "'p")
	p.mustShow("nothing differs in the boxes that are counted, or all of it is settled")
	// K11 turns up, and all three are put where they belong.
	for _, ch := range []model.Change{&model.PutBack{Copy: 2}, &model.Stand{Rows: []model.NamedRow{{Box: "A", Copies: []model.Accession{1, 2, 3, 4}}, {Box: "B", Copies: []model.Accession{5, 6, 7}}}}} {
		commit, err := p.store.Store.Commit(t.Context(), ch)
		if err != nil {
			t.Fatal(err)
		}
		p.send(frame.StoreChanged{Commit: commit})
	}
	p.mustShow("nothing differs in the boxes that are counted, or all of it is settled")
	p = p.again()
	p.keys("f7", "tab")
	p.mustShow("nothing differs in the boxes that are counted, or all of it is settled")
	p.keys("ctrl+z", "ctrl+z")
	p.mustShow("nothing differs in the boxes that are counted, or all of it is settled")
	p.keys("ctrl+z")
	p.mustList("misplaced: 1")
	p.keys("ctrl+z")
	p.mustList("elsewhere: 1")
	p.keys("ctrl+z")
	p.mustList("missing: 1")
}

// A stocktake can be left at any moment, and is there again: half a box, and what
// was typed.
func TestAStocktakeIsThereAgain(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "tab", "'K2")
	p.send(frame.Rested{}) // and then it is killed
	p = p.again()
	p.keys("f7")
	p.mustShow("2 gone through", "0 of 2 boxes counted")
	p.keys("enter")
	p.mustShow("K2", "out card for K12", "K11 Cape · not here")
	p.keys("ctrl+u", "space", "space", "ctrl+e", "tab", "'x") // it is to stay as it is
	p.mustShow("all of it is settled")
	p.send(frame.Rested{})
	p = p.again()
	p.keys("f7", "tab")
	p.mustShow("all of it is settled")
	p.keys("esc", "up", "down", "pgup", "pgdown", "end", "home", "enter")
	p.mustShow("the end of the box")
	p.keys("esc", "'c")
	p.mustShow("none is under way")
	p.send(frame.Rested{})
	p = p.again()
	p.keys("f7")
	p.mustShow("none is under way")
}

// What was moved after it was counted is not held against the record.
func TestWhatIsMovedLaterIsNoMatter(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "space", "space", "space", "ctrl+e")
	if _, err := p.store.Commit(t.Context(), &model.Stand{Rows: []model.NamedRow{{Box: "A", Copies: []model.Accession{5, 1, 3, 4}}, {Box: "B", Copies: []model.Accession{2, 6, 7}}}}); err != nil {
		t.Fatal(err)
	}
	p = p.again()
	p.keys("f7", "enter", "space", "space", "space", "ctrl+e")
	p.mustShow("nothing differs")
	if p.listed().Counted(2) == "" {
		t.Error("box B is not counted")
	}
}

// Where a reading can be several, or was read before, it is not taken.
func TestAReadingThatCanBeSeveral(t *testing.T) {
	twin := &model.Add{Entries: []model.Entry{{Publisher: "Sorrelade", Number: "K13", Name: "Hood"}}}
	p := play(t, stocktake.ID, append(small(), twin)...)
	p.keys("down", "enter", "'K13", "enter")
	p.mustShow(`"K13" can be`, "0 of 3 gone through", "K13▏")
	p.keys("esc", "ctrl+u", "'#5", "enter", "'#5", "enter")
	p.mustShow(`"#5" was read in this box before`)
	p.keys("esc", "ctrl+u", "'-", "enter")
	p.mustShow("a gap where nothing is out")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("K21\nK22\n77")})
	p.mustShow("3 of 3 gone through", "77▏")
	p.keys("esc", "up", "enter", "'#5", "enter", "ctrl+e", "enter", "tab", "end", "up")
	p.mustShow("missing") // A is closed with nothing else in it
	p.keys("home", "'f")
	p.mustShow("tuckrow: Find")
}

// What was not gone through is missing only where that is said, and the day of the
// count and its end are one step.
func TestTheRestOfABoxIsAskedFor(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "ctrl+e")
	p.mustShow("The end of box A?", "2 envelopes recorded in it are not counted", "K11 Cape", "K13 Cape")
	p.mustNotShow("    K12 Cape") // is out
	p.fitsEverySize("the end of a box")
	p.size(80, 24)
	p.keys("esc")
	p.mustShow("1 of 4 gone through")
	p.keys("ctrl+e", "'K11", "enter") // a scanner does not wait
	p.mustShow("2 of 4 gone through")
	p.keys("ctrl+e")
	p.mustShow("1 envelope recorded in it is not counted")
	p.keys("enter")
	p.mustList("A 4 " + string(p.listed().Counted(1)) + " ✓ counted, 1 short")
	p.mustShow("1 of 2 boxes counted", "empty")
	p.keys("ctrl+z")
	p.mustList("A 4 2 gone through")
	p.mustShow("0 of 2 boxes counted")
	p.mustNotShow("missing")
	if on := p.listed().Counted(1); on != "" {
		t.Errorf("counted on %s", on)
	}
	p.keys("up", "enter")
	p.mustShow("2 of 4 gone through")
	p.keys("space", "space", "ctrl+e", "enter", "space", "space", "space", "ctrl+e")
	p.mustShow("all boxes that hold something are counted", "2 of 2 boxes counted")
}

// Two that stand the wrong way round are told while the second is in the hand.
func TestTwoTheWrongWayRound(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "'K13", "enter")
	p.mustShow("K13 Cape · here; not found before it: K11 Cape")
	p.keys("'K11", "enter")
	p.mustShow("K11 Cape · out of order", "belongs in this box, behind K10 Cape, before K13 Cape", "! K11 Cape · out of order")
}

// A box that cannot be noted as counted is not closed.
func TestACountThatIsNotWritten(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space")
	p.store.fail = errDisk
	p.keys("ctrl+e", "enter")
	p.mustShow("the disk is gone", "1 of 4 gone through")
	p.store.fail = nil
	p.keys("esc", "ctrl+e", "enter", "tab", "'m")
	if p.listed().Copy(2).Missing == "" {
		t.Error("K11 is not missing")
	}
}

// The report says which boxes were counted and what differs, also what was left.
func TestTheReportOfAStocktake(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "tab", "'K22", "enter", "space", "space", "'555", "enter", "'"+strings.Repeat("very ", 20)+"old", "enter", "ctrl+e", "tab", "'x", "tab", "'w")
	name := filepath.Join(t.TempDir(), "report.txt")
	p.keys("ctrl+u", "'"+name, "enter")
	p.mustShow("written: ")
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"box A            counted " + string(p.listed().Counted(1)) + "   5 read, 4 recorded", "box B            not counted in this one, never counted   3 recorded",
		"missing: 1\n[ ] Quillon  K11 Cape\n      #2; recorded in box A, found in none", "elsewhere: 1\n[ ] Quillon  K22 Cape\n      recorded in box B, found in box A", "unlisted: 2\n[ ] 555\n      box A, item 5"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("the report lacks %q:\n%s", want, b)
		}
	}
	for line := range strings.Lines(string(b)) {
		if cells.Width(line) > 81 { // with its end
			t.Errorf("the report has a line of %d cells: %q", cells.Width(line), line)
		}
	}
	p.keys("tab", "'w", "ctrl+u", "'"+name, "enter")
	p.mustShow("is there already;")
	p.keys("esc", "ctrl+u", "enter")
	p.mustShow("name the file")
	p.keys("esc", "right", "space", "down", "up", "tab", "shift+tab", "ctrl+u", "'"+filepath.Join(name, "'x", "y.txt"), "enter")
	p.mustShow("was not written")
	p.keys("esc", "esc")
}

// All kinds of matter have their keys; twice read is none of those that are moved.
func TestACopyReadInTwoBoxes(t *testing.T) {
	p := play(t, stocktake.ID, small()...)
	p.keys("enter", "space", "space", "space", "space", "ctrl+e", "enter", "space", "space", "space", "'#1", "enter", "ctrl+e", "tab")
	p.mustList(reading.ReadTwice + ": 2")
	p.keys("down", "enter")
	p.mustShow("Counting box B")
	p.keys("backspace", "ctrl+e", "tab")
	p.mustShow("nothing differs")
}
