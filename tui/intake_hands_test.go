package tui_test

import (
	"io"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/theme"
)

// hit plays keys as player.keys does, and those besides that Intake has.
func (p *player) hit(names ...string) int {
	p.Helper()
	n := 0
	for _, name := range names {
		k, ok := map[string]tea.KeyType{
			"ctrl+a": tea.KeyCtrlA, "ctrl+e": tea.KeyCtrlE, "ctrl+t": tea.KeyCtrlT, "ctrl+d": tea.KeyCtrlD, "ctrl+g": tea.KeyCtrlG, "ctrl+x": tea.KeyCtrlX,
			"ctrl+y": tea.KeyCtrlY, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown,
		}[name]
		switch {
		case ok:
			p.send(tea.KeyMsg{Type: k})
			n++
		case name == "space":
			p.send(tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}})
			n++
		default:
			n += p.keys(name)
		}
	}
	return n
}

// burst is a scanner: its digits and Enter come in one read.
func (p *player) burst(code string) {
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(code)})
	p.send(tea.KeyMsg{Type: tea.KeyEnter})
}

// again closes the interface as quitting does, and opens it anew on the same
// store.
func (p *player) again() *player {
	p.Helper()
	p.send(tea.KeyMsg{Type: tea.KeyCtrlQ})
	if err := p.root.Drain(p.Context()); err != nil {
		p.Error(err)
	}
	next := playOn(p.TB, intake.ID, p.store.Store)
	return next
}

// clock is a clock that the test winds.
type clock struct{ at time.Time }

func (c *clock) now() time.Time { return c.at }

// openOn opens Intake alone, with drafts and a clock of the test's own.
func openOn(tb testing.TB, s *storage.Store, d intake.Drafts, now func() time.Time) *player {
	tb.Helper()
	f := &faulty{Store: s}
	t := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	screen := intake.New(desk.New(f.Collection()), t, intake.Options{Drafts: d, Now: now})
	p := &player{TB: tb, store: f, root: frame.New(frame.Options{Rooms: witnessed([]frame.Room{{ID: intake.ID, Title: "Intake", Screen: screen}}), Store: f, Theme: t})}
	p.run(p.root.Init())
	p.size(80, 24)
	return p
}

// newStore is an empty store in memory, with the changes given.
func newStore(tb testing.TB, changes ...model.Change) *storage.Store {
	tb.Helper()
	return play(tb, intake.ID, changes...).store.Store
}
