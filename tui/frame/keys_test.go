package frame

import (
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

func runes(s string) tea.KeyMsg { return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)} }

func paste(s string) tea.KeyMsg {
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s), Paste: true}
}

func TestKeysReachTheScreenInFront(t *testing.T) {
	h := newHouse(t)
	h.press("j", "enter", "up", "esc")
	h.wantGot(h.intake, "j, enter, up, esc")
	h.wantGot(h.find, "")
}

func TestManyRunesInOneMessageAreManyKeys(t *testing.T) {
	h := newHouse(t)
	h.send(runes("jj"), runes("6291041500213"))
	h.wantGot(h.intake, "j, j, 6, 2, 9, 1, 0, 4, 1, 5, 0, 0, 2, 1, 3")
	h.send(runes("a b"))
	if k, ok := h.intake.msgs[len(h.intake.msgs)-2].(tea.KeyMsg); !ok || k.Type != tea.KeySpace {
		t.Errorf("the space came as %#v, want a space key", k)
	}
}

// The first rune opens a field, the next one turns text off again: each goes
// where the route leads by then.
func TestEachRuneIsRoutedAfresh(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if k, ok := msg.(tea.KeyMsg); ok && k.String() == "x" {
			f.text = false
		}
		return nil
	}
	h.send(runes("?x?y"))
	h.wantGot(h.intake, "?, x") // the second ? opened the help, which took the y
	if !h.help.open {
		t.Error("the help is closed, want it opened by the second ?")
	}
	h.send(runes("??a"))
	h.wantGot(h.intake, "") // closed and opened again; the a was not for the screen
}

func TestATextTakingScreenGetsLettersFirst(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.press("?", "n", "q")
	h.wantGot(h.intake, "?, n, q")
	h.intake.text = false
	h.press("n")
	h.wantGot(h.intake, "arrived <nil>")
	h.press("?")
	h.wantGot(h.intake, "")
	h.wantView("Everywhere")
}

func TestKeysWithCtrlWorkWhileTextIsTaken(t *testing.T) {
	for _, c := range []struct{ key, sees string }{
		{"ctrl+f", "Find"}, {"f1", "Everywhere"}, {"ctrl+k", "Everywhere"}, {"ctrl+z", "nothing left to undo"},
	} {
		t.Run(c.key, func(t *testing.T) {
			h := newHouse(t)
			h.intake.text = true
			h.press(c.key)
			h.wantGot(h.intake, "")
			h.wantView(c.sees)
		})
	}
}

func TestTheHelpTakesAllKeysUntilItIsClosed(t *testing.T) {
	for _, closer := range []string{"esc", "f1", "ctrl+k", "?"} {
		h := newHouse(t)
		h.intake.text = true
		h.press("f1", "a", "enter", "ctrl+f", "ctrl+z")
		h.wantGot(h.intake, "")
		h.wantGot(h.find, "")
		h.press("down", "down", closer)
		h.wantNotInView("Everywhere")
		h.press("a")
		h.wantGot(h.intake, "a")
	}
}

func TestQuitKeys(t *testing.T) {
	for _, name := range []string{"ctrl+c", "ctrl+q"} {
		for _, state := range []string{"plain", "text", "help", "error"} {
			h := newHouse(t)
			switch state {
			case "text":
				h.intake.text = true
			case "help":
				h.press("f1")
			case "error":
				h.send(Complain{errDisk})
			}
			_, cmd := h.Update(keyNamed(name))
			if cmd == nil {
				t.Fatalf("%s, %s: no command", name, state)
			}
			if _, ok := cmd().(tea.QuitMsg); !ok {
				t.Errorf("%s, %s: the command does not quit", name, state)
			}
			h.wantGot(h.intake, "closing")
			h.wantGot(h.find, "closing")
			h.press("a", name)
			h.wantGot(h.intake, "") // what was typed behind it
		}
	}
}

func TestWhatTerminalsMakeOfKeys(t *testing.T) {
	h := newHouse(t)
	h.press("ctrl+j", "alt+esc", "alt+x", "ctrl+_")
	h.wantGot(h.intake, "enter, esc, alt+x, ctrl+_")
}

func TestPaste(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.send(paste("6123\tWrap dress\r\n6131\rShift\x1b[2J\x00"))
	h.wantGot(h.intake, `pasted "6123\tWrap dress\n6131\nShift[2J"`)
	h.send(paste(""))
	h.wantGot(h.intake, "")
	h.send(paste("?")) // one rune pasted is no key either
	h.wantGot(h.intake, `pasted "?"`)

	h.intake.text = false
	h.send(paste("n\x03"))
	h.wantGot(h.intake, "")
	h.wantView("nothing here takes text")

	h = newHouse(t)
	h.intake.text = true
	h.press("f1")
	h.send(paste("abc"))
	h.wantGot(h.intake, "")
	h.wantView("nothing here takes text")
}

func TestEscPutsAnErrorAwayAndNothingElse(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.send(Complain{errDisk}, Say{"a remark"})
	h.press("6", "enter")
	h.wantView("free 64 MiB", "esc put message away")
	h.wantGot(h.intake, "6, enter")
	h.press("esc")
	h.wantNotInView("free 64 MiB")
	h.wantView("a remark")
	h.wantGot(h.intake, "")
	h.press("esc")
	h.wantGot(h.intake, "esc")
	h.wantView("a remark")
}

// An arrow that is split over two reads comes as esc and text.
func TestASplitArrowLosesNothing(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.press("6", "esc")
	h.send(runes("[A"))
	h.wantGot(h.intake, "6, esc, [, A")
	if h.closing || h.help.open {
		t.Error("the root did something of its own")
	}
}

func TestClashingKeysAreAMistakeInTheProgram(t *testing.T) {
	for name, spoil := range map[string]func(*Options){
		"a key of the root": func(o *Options) { o.Rooms[0].Key = key.NewBinding(key.WithKeys("ctrl+z")) },
		"a key of the root for a room": func(o *Options) {
			o.Rooms[0].Screen = &fake{full: [][]key.Binding{{bind("ctrl+\\", "press together")}}}
		},
		"a key of another room": func(o *Options) { o.Rooms[1].Key = key.NewBinding(key.WithKeys("ctrl+n")) },
		"enter by another name": func(o *Options) { o.Rooms[1].Key = key.NewBinding(key.WithKeys("ctrl+m")) },
		"one ID twice":          func(o *Options) { o.Rooms[1].ID = "intake" },
		"no rooms":              func(o *Options) { o.Rooms = nil },
		"no room to start in":   func(o *Options) { o.Start = "attic" },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if p := recover(); p == nil || !strings.Contains(p.(string), "frame: ") {
					t.Errorf("panic %v, want one that says what is wrong", p)
				}
			}()
			o := options(&fake{}, &fake{}, newStore())
			spoil(&o)
			New(o)
		})
	}
}

// Esc leaves what has the focus; where the room has nothing to be left, it
// leaves the room, back along the way one came.
func TestEscLeavesTheRoomForTheOneBefore(t *testing.T) {
	h := newHouse(t)
	h.intake.text, h.find.text = true, true
	h.press("esc")
	h.wantGot(h.intake, "esc") // the first room leads nowhere
	h.wantNotInView("back to")
	h.press("ctrl+f")
	h.wantView("tuckrow: Find", "esc back to Intake")
	h.find.short = []key.Binding{bind("esc", "not lent")}
	h.find.took()
	h.wantNotInView("esc back to Intake")
	h.press("esc")
	h.wantGot(h.find, "esc")
	h.find.short = nil
	h.press("esc")
	h.wantGot(h.find, "")
	h.wantView("tuckrow: Intake")
	h.wantNotInView("back to")
	h.press("ctrl+f", "ctrl+n", "ctrl+f") // however often, one way back
	h.wantView("esc back to Intake")
	h.send(Complain{errDisk})
	h.press("esc") // the message first
	h.wantView("tuckrow: Find")
	h.press("esc")
	h.wantView("tuckrow: Intake")
	h.wantNotInView("back to")
}

func TestAKeyOfAnotherRoomSaysWhereItWorks(t *testing.T) {
	h := newHouse(t)
	h.intake.full = [][]key.Binding{{bind("ctrl+t", "tick steps"), bind("ctrl+d", "throw away"), bind("x", "mark")}}
	h.Root = New(Options{Rooms: h.rooms, Store: h.store, Theme: h.theme})
	h.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	h.press("ctrl+t")
	h.wantGot(h.intake, "ctrl+t")
	h.press("ctrl+f")
	h.find.took()
	h.press("ctrl+t")
	h.wantGot(h.find, "")
	h.wantView("ctrl+t works in Intake: tick steps; ctrl+n goes there")
	h.press("x", "ctrl+d", "ctrl+x") // a letter, a key that edits text, a key of nobody
	h.wantGot(h.find, "x, ctrl+d, ctrl+x")
	h.find.short = []key.Binding{bind("ctrl+t", "now it works here")}
	h.press("ctrl+t")
	h.wantGot(h.find, "ctrl+t")
}

// ctrl+\ leads to the shell only where there is one to come back from.
func TestSuspending(t *testing.T) {
	h := newHouse(t)
	h.press("ctrl+\\", "f1")
	h.wantGot(h.intake, "ctrl+\\")
	h.wantNotInView("ctrl+\\")

	asked := 0
	o := options(&fake{text: true}, &fake{}, newStore())
	o.Suspend = func() { asked++ }
	h = &house{t: t, Root: New(o)}
	h.send(tea.WindowSizeMsg{Width: 80, Height: 40})
	h.press("ctrl+\\", "f1")
	if asked != 1 {
		t.Errorf("it was asked %d times to suspend, want once", asked)
	}
	h.wantView("ctrl+\\", "fg there comes back")
	_, cmd := h.Update(suspended{})
	if cmd == nil {
		t.Error("nothing is done when it is suspended")
	}
}
