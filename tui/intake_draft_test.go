package tui_test

import (
	"context"
	"errors"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/intake"
)

func TestClosingInMidEntryAndComingBack(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("tab", "tab", "tab", "'10-16", "tab", "tab", "tab", "'hall drawer", "tab") // sizes and batch
	p.hit("tab", "'61")                                                              // the number of a sleeve just taken up
	p.hit("enter", "'Wrap dr")
	p = p.again()
	p.mustShow("you were typing this on", "Harrow & Pell", "61", "Wrap dr", "10-16", "Emptying hall drawer")
	if n := p.listed().Copies().Len(); n != 5 {
		t.Fatalf("%d copies are listed, want 5: a draft was entered by itself", n)
	}
	p.hit("'ess", "enter") // the focus is where it was, at the end of the name
	if en := p.entryOf(6); en.Number != "61" || en.Name != "Wrap dress" || en.Batch != "hall drawer" || en.SizeRange != "10-16" {
		t.Errorf("typed to the end after coming back it is %+v", en)
	}
	// What was entered is no draft any more, even if the program is killed now.
	p = playOn(t, intake.ID, p.store.Store)
	p.mustNotShow("you were typing")
}

func TestAHalfTypedChoiceComesBack(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "shift+tab", "'qui")
	p = p.again()
	p.mustShow("qui", "Quillon", "61")
	p.hit("enter", "enter", "enter")
	if en := p.entryOf(6); en.Publisher != "Quillon" || en.Number != "61" {
		t.Errorf("the entry is %+v, want 61 of Quillon, as it was begun", en)
	}
}

// A space at the end is the beginning of the next word.
func TestADraftKeepsTheSpaceBeforeTheNextWord(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap", "space")
	p = p.again()
	p.hit("'dress", "enter")
	if en := p.entryOf(6); en.Name != "Wrap dress" {
		t.Errorf("the name is %q, want Wrap dress", en.Name)
	}
}

// What was being typed stands in the fields as it stood, also when something
// was entered meanwhile from elsewhere; when it is done, work goes on from there.
func TestADraftComesBackBehindNewerEntries(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap dr")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	newer := &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "999", Category: "Coats and jackets", Batch: "attic"}}}
	if _, err := p.store.Store.Commit(context.Background(), newer); err != nil {
		t.Fatal(err)
	}
	p = playOn(t, intake.ID, p.store.Store)
	p.mustShow("you were typing this on", "entered since: 1", "Harrow & Pell", "61", "Wrap dr", "left to do", "last entered: Quillon 999")
	p.hit("'ess", "enter", "'62", "enter", "enter")
	if a, b := p.entryOf(7), p.entryOf(8); a.Number != "61" || a.Name != "Wrap dress" || b.Number != "62" || b.Publisher != "Harrow & Pell" {
		t.Errorf("they are %+v and %+v, want 61 Wrap dress and 62", a, b)
	}
	// Where nothing was begun, the newer entry says what goes on.
	p = p.again()
	if _, err := p.store.Store.Commit(context.Background(), newer); err != nil {
		t.Fatal(err)
	}
	p = playOn(t, intake.ID, p.store.Store)
	p.mustShow("Emptying attic", "Quillon")
}

func TestWhatIsPutAsideComesBack(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap dr", "ctrl+x")
	p.mustShow("aside: 61 Wrap dr; ctrl+x brings it back")
	p.hit("'62", "enter", "'Cape")
	p.hit("ctrl+x")
	p.mustShow("2 aside, the last 62 Cape")
	p = p.again() // weeks later
	p.hit("ctrl+x")
	p.mustShow("62", "Cape")
	p.hit("enter", "ctrl+x")
	p.mustShow("61", "Wrap dr")
	p.hit("'ess", "enter", "ctrl+x")
	p.mustShow("nothing is typed, and nothing lies aside")
	if a, b := p.entryOf(6), p.entryOf(7); a.Name != "Cape" || b.Name != "Wrap dress" {
		t.Errorf("entered from aside they are %+v and %+v", a, b)
	}
}

// Two entries are on their way to the disk and a third is half typed when the
// program is closed, and the disk is gone.
func TestWhatTheDiskRefusedIsKeptAtClosing(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.store.fail = errDisk
	for _, k := range []string{"61", "\r", "Cape", "\r", "62", "\r", "Hat", "\r", "63", "\x11"} {
		msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
		if k[0] < ' ' {
			msg = tea.KeyMsg{Type: tea.KeyType(k[0])}
		}
		p.root.Update(msg) // what it starts has not ended by the next key
	}
	if err := p.root.Drain(t.Context()); !errors.Is(err, errDisk) {
		t.Errorf("closing gave %v, want to be told that the disk is gone", err)
	}
	p = playOn(t, intake.ID, p.store.Store)
	p.mustShow("63", "2 aside")
	p.hit("enter", "enter") // and by themselves, in their order
	p.mustShow("61", "Cape", "1 aside")
	p.hit("enter")
	p.mustShow("62", "Hat")
	p.mustNotShow("1 aside")
	p.hit("enter")
	if a, b, c := p.entryOf(6), p.entryOf(7), p.entryOf(8); a.Number != "63" || b.Name != "Cape" || c.Name != "Hat" {
		t.Errorf("entered again they are %+v, %+v and %+v", a, b, c)
	}
}

// Half way through an earlier entry is half way through it on coming back, with
// what was being typed before still to come.
func TestClosingWhileAnEarlierEntryIsChanged(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap dr", "ctrl+e", "ctrl+e", "'es")
	p = p.again()
	p.mustShow("you were changing this on", "Changing entry 4", "Shirt dresses", "esc leave it")
	p.hit("enter")
	if en := p.entryOf(4); en.Name != "Shirt dresses" {
		t.Errorf("saved it is %+v, want Shirt dresses", en)
	}
	p.mustShow("Emptying", "61", "Wrap dr")
	p.hit("'ess", "enter")
	if en := p.entryOf(6); en.Name != "Wrap dress" {
		t.Errorf("typed to its end it is %+v", en)
	}
}

// drafts is a keeper of drafts that can be told what to give and to fail.
type drafts struct {
	give string
	err  error
}

func (d *drafts) LoadDraft() ([]byte, error) { return []byte(d.give), d.err }
func (d *drafts) SaveDraft([]byte) error     { return d.err }
func (d *drafts) Later([]byte) tea.Cmd       { return nil }

func TestADraftThatIsNoneIsLeftAlone(t *testing.T) {
	for _, text := range []string{"", "{", "[]", `{"format":2,"typing":{"texts":["","1"]}}`, `{"format":1,"last":0,"typing":{"focus":99}}`,
		`{"format":1,"last":0,"typing":{"focus":-1}}`, `{"format":1,"last":0,"saved":"\u001b[2J"}`, `{"format":1,"last":0,"typing":{"code":"12"}}`} {
		p := openOn(t, newStore(t), &drafts{give: text}, nil)
		p.mustShow("Emptying a drawer")
		p.mustNotShow("you were typing")
		p.hit("'Quillon", "enter", "'1", "enter", "enter")
		if n := p.listed().Copies().Len(); n != 1 {
			t.Errorf("draft %q: %d copies after one entry", text, n)
		}
	}
	p := openOn(t, newStore(t), &drafts{give: `{"format":1,"last":0,"saved":"2026-03-01","typing":{"focus":2,"texts":["Qu\u001b[31millon","1\t2","\u202eCape"]}}`}, nil)
	p.mustShow("Qu[31millon", "1 2", "Cape") // without what could steer a terminal
}

func TestADraftThatCannotBeKeptIsTold(t *testing.T) {
	d := &drafts{}
	p := openOn(t, newStore(t), d, nil)
	p.hit("'Quillon", "enter", "'1")
	d.err = errors.New("the folder is gone")
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	if err := p.root.Drain(t.Context()); err == nil || !strings.Contains(err.Error(), "the folder is gone") {
		t.Errorf("closing gave %v, want to be told that what was typed could not be kept", err)
	}
	p = openOn(t, newStore(t), d, nil)
	p.mustShow("the folder is gone")
}

func TestComingBackShowsWhatIsLeftAndWhereOneWas(t *testing.T) {
	p := demo(t, intake.ID)
	p.mustShow("last entered: Brindlecote 6083 M5", "on 2025-12-06",
		"left to do                           sleeve envelope    group      box",
		"parcel from the jumble sale              23        1        ·        1",
		"second inherited drawer                   6       10       12       12",
		"printed and traced at home                ·        ·        ·        3")
	p.hit("'6")
	p.mustNotShow("left to do", "last entered")
	again := p.again() // in mid-entry
	again.mustShow("you were typing this on", "Number      6", "left to do", "last entered")
	p.hit("backspace")
	p.mustNotShow("left to do")
}
