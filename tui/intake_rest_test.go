package tui_test

import (
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/intake"
)

// killed opens the interface anew on what a kill leaves: nothing is told to the
// screens before.
func (p *player) killed() *player {
	p.Helper()
	return playOn(p.TB, intake.ID, p.store.Store)
}

func TestWhatIsTypedIsThereAfterAKill(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'61", "enter", "'Wrap dr")
	q := p.killed()
	q.mustNotShow("you were typing") // it is not kept at each key
	p.send(frame.Rested{})
	q = p.killed()
	q.mustShow("you were typing this on", "61", "Wrap dr")
	// What was entered then is no draft any more.
	p.hit("'ess", "enter")
	q = p.killed()
	q.mustNotShow("you were typing")
	if en := q.entryOf(6); en.Name != "Wrap dress" {
		t.Errorf("the entry is %+v", en)
	}
}

func TestWhatIsTypedIntoAnEarlierEntryIsThereAfterAKill(t *testing.T) {
	p := play(t, intake.ID, wardrobe())
	p.hit("'70", "ctrl+e")
	p.hit("enter", "' or so")
	screen := p.root.View()
	p.send(frame.Rested{})
	if now := p.root.View(); now != screen {
		t.Errorf("a rest alters the screen from\n%s\nto\n%s", screen, now)
	}
	q := p.killed()
	q.mustShow("you were changing this on", " or so")
	q.hit("esc")
	q.mustShow("Number      70")
}

// counted is a store that counts what is kept in it.
type counted struct {
	*storage.Store
	kept int
}

func (c *counted) LoadDraft() ([]byte, error) { return c.Store.LoadDraft("draft") }

func (c *counted) SaveDraft(b []byte) error {
	c.kept++
	return c.Store.SaveDraft("draft", b)
}

func (c *counted) Later(b []byte) tea.Cmd {
	return func() tea.Msg { _ = c.SaveDraft(b); return nil }
}

// A key writes nothing, and a rest only what is not written already.
func TestARestWritesOnlyWhatIsNew(t *testing.T) {
	s := newStore(t)
	c := &counted{Store: s}
	p := openOn(t, s, c, nil)
	p.send(frame.Rested{})
	p.hit("'Quillon", "enter", "'61")
	if c.kept != 0 {
		t.Errorf("keys have kept %d drafts", c.kept)
	}
	for range 3 {
		p.send(frame.Rested{})
	}
	if c.kept != 1 {
		t.Errorf("%d drafts were kept, want 1", c.kept)
	}
	p.hit("'2")
	p.send(frame.Rested{})
	if c.kept != 2 {
		t.Errorf("%d drafts were kept, want 2", c.kept)
	}
}
