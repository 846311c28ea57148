package frame

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestTheFooterNamesWhatUndoTakesBack(t *testing.T) {
	h := newHouse(t)
	h.wantNotInView("ctrl+z")
	h.send(Write{Change: add("Cape")}, Write{Change: add("Coat")})
	h.wantView("ctrl+z undo: added Coat")
	h.press("ctrl+f")
	h.wantView("ctrl+z undo: added Coat")
	h.press("f1")
	h.wantView("undo: added Coat")
	h.press("esc", "ctrl+z")
	h.wantView("ctrl+z undo: added Cape", "undid: added Coat")
	h.press("ctrl+z")
	h.wantNotInView("ctrl+z")
	h.wantView("undid: added Cape", "nothing entered yet")
	long := strings.Repeat("Wadded ", 40)
	h.send(Write{Change: add(long)})
	h.wantView("undo: added Wadded", "…")
}

func TestWhatWasDoneBeforeIsNamedToo(t *testing.T) {
	h := newHouse(t)
	h.send(Write{Change: add("Cape")})
	again := &house{t: t, store: h.store, Root: New(options(&fake{}, &fake{}, h.store))}
	again.pump(again.Init())
	again.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	again.wantView("ctrl+z undo: added Cape")
}

// Where there is no room for the name, it is said before anything is undone.
func TestALowScreenSaysFirstWhatUndoTakesBack(t *testing.T) {
	h := newHouse(t)
	h.send(tea.WindowSizeMsg{Width: 40, Height: 12}, Write{Change: add("Cape")})
	h.send(Complain{errDisk})
	h.press("ctrl+z")
	h.wantView("ctrl+z again undoes: added Cape", "1 to do")
	h.press("a")
	h.wantNotInView("again undoes")
	h.press("ctrl+z")
	h.wantView("again undoes", "1 to do") // another key came between
	h.press("ctrl+z")
	h.wantNotInView("again undoes")
	h.wantView("nothing entered yet")
	h.press("esc", "ctrl+z")
	h.wantView("nothing left to undo")
}

// Who presses undo while a change is being saved means that one.
func TestUndoOfWhatIsBeingSavedIsNamed(t *testing.T) {
	h := newHouse(t)
	h.send(Write{Change: add("Cape")})
	_, late := h.Update(Write{Change: add("Coat")})
	h.wantView("ctrl+z undo: added Coat")
	h.Update(keyNamed("ctrl+z"))
	h.wantNotInView("ctrl+z undo") // what comes next is not known yet
	h.pump(late)
	h.wantView("ctrl+z undo: added Cape", "undid: added Coat")
}
