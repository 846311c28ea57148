package frame

import (
	"errors"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

var errPrinter = errors.New("the label printer is out")

func TestErrorsWaitToBeRead(t *testing.T) {
	h := newHouse(t)
	h.send(Complain{errDisk}, Complain{errPrinter}, Complain{errDisk}, Complain{nil})
	h.wantView("free 64 MiB", "(and 1 more)")
	h.press("esc")
	h.wantView("the label printer is out")
	h.wantNotInView("more)")
	h.press("ctrl+f")
	h.wantView("the label printer is out")
	h.press("esc")
	h.wantNotInView("the label printer is out")
}

// Whatever works meanwhile: an error that nobody can have read stays, be it that
// no key was pressed since, or only by a scanner.
func TestNoErrorGoesUnread(t *testing.T) {
	scan := func(h *house) {
		h.clock = h.clock.Add(step)
		h.send(runes("6"))
		h.send(runes("291041500213"), keyNamed("enter"))
	}
	for name, meanwhile := range map[string]func(h *house){
		"nothing":     func(*house) {},
		"a scan":      scan,
		"three scans": func(h *house) { scan(h); scan(h); scan(h) },
		"one key that may be the first of a scan": func(h *house) {
			h.press("6")
		},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHouse(t)
			h.intake.text = true
			h.send(Complain{errPrinter})
			meanwhile(h)
			h.send(Write{Change: add("Cape")})
			h.wantView("the label printer is out", "to sleeve 1")
		})
	}
}

func TestAnErrorThatWasReadGoesWhenAWriteWorks(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	h.send(Complain{errDisk}, Complain{errPrinter})
	h.press("6", "1")
	h.wantView("the label printer is out")
	h.send(Write{Change: add("Cape")})
	h.wantNotInView("the label printer is out")
	h.wantView("free 64 MiB") // it was behind the other and could not be read
	h.press("2", "3")         // a write has worked since
	h.wantNotInView("free 64 MiB")
	h.store.fail = func(string) error { return errDisk }
	h.send(Write{Change: add("Hat")})
	h.press("4", "5")
	h.send(Write{Change: add("Hat")}) // fails again
	h.press("6", "7")
	h.wantView("free 64 MiB")
	h.store.fail = nil
	h.send(Write{Change: add("Hat")})
	h.wantNotInView("free 64 MiB")
}

// What is typed into a field can be put right without anything being written.
func TestAnErrorGoesWhenTheKeyThatLedToItWorks(t *testing.T) {
	h := newHouse(t)
	h.intake.text = true
	bad := true
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if k, ok := msg.(tea.KeyMsg); ok && k.String() == "enter" && bad {
			f.Tell(Complain{errPrinter})
		}
		return nil
	}
	h.press("6", "enter")
	h.wantView("the label printer is out")
	h.press("7", "8", "tab", "enter") // still wrong
	h.wantView("the label printer is out")
	h.press("ctrl+f", "x", "enter") // another room, which it is not of
	h.wantNotInView("the label printer is out")
	h.press("ctrl+n")
	h.wantView("the label printer is out")
	bad = false
	h.press("ctrl+n", "7", "tab")
	h.wantView("the label printer is out")
	h.press("enter")
	h.wantNotInView("the label printer is out")
}

// An error stands in the room that it is of, and waits there; esc in another leaves
// that one. Of a write that has failed, and of a room that was left before, it is
// said wherever one is.
func TestAnErrorStandsInItsRoom(t *testing.T) {
	complains := func(h *house) {
		h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
			if k, ok := msg.(tea.KeyMsg); ok && k.String() == "x" || msg == "no plan" {
				f.Tell(Complain{errPrinter})
			}
			return nil
		}
	}
	t.Run("of a key", func(t *testing.T) {
		h := newHouse(t)
		complains(h)
		h.press("x", "ctrl+f")
		h.wantNotInView("the label printer is out")
		h.press("esc")
		h.wantView("the label printer is out", "tuckrow: Intake")
		h.press("ctrl+f", "ctrl+n", "esc")
		h.wantNotInView("the label printer is out")
	})
	t.Run("behind another", func(t *testing.T) {
		h := newHouse(t)
		complains(h)
		h.press("x", "ctrl+f")
		h.send(Complain{errDisk})
		h.wantView("free 64 MiB")
		h.wantNotInView("more)")
		h.press("ctrl+n")
		h.wantView("free 64 MiB", "(and 1 more)")
	})
	t.Run("put right meanwhile", func(t *testing.T) {
		h := newHouse(t)
		complains(h)
		h.press("x", "ctrl+f")
		h.send(Write{Change: add("Cape")})
		h.press("ctrl+n")
		h.wantNotInView("the label printer is out")
	})
	t.Run("of a room that was left", func(t *testing.T) {
		h := newHouse(t)
		complains(h)
		h.press("ctrl+f")
		h.send(Ask{From: "intake", Seq: 1, Do: func() tea.Msg { return "no plan" }})
		h.wantView("the label printer is out", "tuckrow: Find")
	})
	t.Run("of a write", func(t *testing.T) {
		h := newHouse(t)
		h.store.fail = func(string) error { return errDisk }
		h.send(Write{From: "intake", Change: add("Hat")})
		h.press("ctrl+f")
		h.wantView("free 64 MiB", "tuckrow: Find")
	})
}

// What is worked out aside can fail, and then work.
func TestAnErrorGoesWhenARequestWorks(t *testing.T) {
	h := newHouse(t)
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if msg == "no plan" {
			f.Tell(Complain{errPrinter})
		}
		return nil
	}
	h.send(Ask{From: "intake", Seq: 1, Do: func() tea.Msg { return "no plan" }})
	h.press("g", "h")
	h.wantView("the label printer is out")
	h.send(Ask{From: "intake", Seq: 2, Do: func() tea.Msg { return "a plan" }})
	h.wantNotInView("the label printer is out")
}

func TestARemarkGivesWayToTheNextThingDone(t *testing.T) {
	h := newHouse(t)
	h.send(Write{Change: add("Cape")})
	h.press("ctrl+z")
	h.wantView("undid: ")
	h.press("a", "b")
	h.wantView("undid: ") // nothing was done yet
	h.send(Write{Change: add("Coat")})
	h.wantNotInView("undid: ")
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if _, ok := msg.(Written); ok {
			f.Tell(Say{"it is in box 2"})
		}
		return nil
	}
	h.send(Write{From: "intake", Change: add("Hat")})
	h.wantView("it is in box 2") // that is said of this one
}
