package frame

import (
	"reflect"
	"testing"

	"example.org/tuckrow/model"
	tea "github.com/charmbracelet/bubbletea"
)

func TestGoing(t *testing.T) {
	h := newHouse(t)
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if k, ok := msg.(tea.KeyMsg); ok && k.String() == "g" {
			f.Tell(Go{"find", model.Accession(7)})
		}
		return nil
	}
	h.send(Say{"a remark"})
	h.press("g")
	h.wantGot(h.find, "arrived 7")
	h.wantView("Find")
	h.wantNotInView("a remark")
	h.press("x")
	h.wantGot(h.find, "x")
	h.press("ctrl+f")
	h.wantGot(h.find, "arrived <nil>") // so that the field gets the focus again
	h.send(Go{Room: "attic"})
	h.wantView(`there is no room "attic"`, "Find")
}

// A room is told when another comes in front, once, and not when it is gone to
// again.
func TestLeaving(t *testing.T) {
	h := newHouse(t)
	left := func(f *fake) (n int) {
		for _, msg := range f.msgs {
			if _, ok := msg.(Left); ok {
				n++
			}
		}
		return n
	}
	h.send(Go{Room: "intake"})
	h.press("ctrl+f")
	h.press("ctrl+f")
	if a, b := left(h.intake), left(h.find); a != 1 || b != 0 {
		t.Errorf("left were intake %d times and find %d times, want 1 and 0", a, b)
	}
	h.press("esc")
	if b := left(h.find); b != 1 {
		t.Errorf("find was left %d times, want 1", b)
	}
}

func TestTheFirstRoom(t *testing.T) {
	intake, find := &fake{init: Send("ready")}, &fake{}
	o := options(intake, find, newStore())
	o.Start = "find"
	h := &house{Root: New(o), t: t, intake: intake, find: find}
	if h.View() != "" {
		t.Errorf("before any size the view is %q, want none", h.View())
	}
	h.pump(h.Init())
	h.wantGot(find, "arrived <nil>")
	h.wantGot(intake, "ready")
}

// What comes of a screen's command is for that screen, wherever one is by then.
func TestCommandsAnswerTheirScreen(t *testing.T) {
	for name, cmd := range map[string]tea.Cmd{
		"one":      Send("tick"),
		"batch":    tea.Batch(Send("tick"), nil, func() tea.Msg { return nil }),
		"sequence": tea.Sequence(Send("tick"), func() tea.Msg { return nil }),
	} {
		h := newHouse(t)
		h.intake.on = func(_ *fake, msg tea.Msg) tea.Cmd {
			if k, ok := msg.(tea.KeyMsg); ok && k.String() == "t" {
				return cmd
			}
			return nil
		}
		_, late := h.Update(keyNamed("t"))
		h.press("ctrl+f")
		h.intake.took()
		h.find.took()
		if name == "sequence" {
			// Bubble Tea takes it apart; here it is enough that it still can.
			late = tea.Batch(asCmds(late())...)
		}
		h.pump(late)
		if got := h.intake.took(); got != "tick" {
			t.Errorf("%s: the screen that asked got %q", name, got)
		}
		if got := h.find.took(); got != "" {
			t.Errorf("%s: the screen in front got %q", name, got)
		}
	}
}

func asCmds(msg tea.Msg) []tea.Cmd {
	return reflect.ValueOf(msg).Convert(cmdsType).Interface().([]tea.Cmd)
}

func TestCommandsMayTellTheRootToo(t *testing.T) {
	h := newHouse(t)
	h.find.on = func(_ *fake, msg tea.Msg) tea.Cmd {
		if msg == "write" {
			return Send(Write{Seq: 3, Change: add("Cape")})
		}
		return nil
	}
	h.send(addressed{"find", "write"})
	h.wantGot(h.find, "write, changed 1, written 3 <nil>")
	h.wantGot(h.intake, "changed 1")
}

func TestOnlyTheLatestRequestIsAnswered(t *testing.T) {
	h := newHouse(t)
	ask := func(from string, seq uint64, answer string) tea.Cmd {
		_, cmd := h.Update(Ask{From: from, Seq: seq, Do: func() tea.Msg { return answer }})
		return cmd
	}
	first, second := ask("intake", 1, "old"), ask("intake", 2, "new")
	other := ask("find", 1, "other")
	h.pump(second)
	h.pump(first)
	h.pump(other)
	h.wantGot(h.intake, "new")
	h.wantGot(h.find, "other")
	if ask("intake", 1, "overtaken on its way") != nil {
		t.Error("a request that has been overtaken is run")
	}
	h.pump(ask("intake", 3, "newest"))
	h.wantGot(h.intake, "newest")
}

func TestNewsOfTheStoreOnce(t *testing.T) {
	h := newHouse(t)
	newer := StoreChanged{model.Commit{Collection: atRev(h.store.col, 5)}}
	for _, news := range []StoreChanged{newer, newer, {model.Commit{Collection: atRev(h.store.col, 4)}}, {}} {
		h.onStoreChanged(news)
	}
	h.wantGot(h.intake, "changed 5")
	h.wantGot(h.find, "changed 5")
}

func TestAContinuedProcessTakesTheTerminalAnew(t *testing.T) {
	h := newHouse(t)
	_, cmd := h.Update(continued{})
	if cmd == nil {
		t.Fatal("no command")
	}
	if msg := cmd(); msg == nil {
		t.Error("the command does nothing")
	}
	h.wantGot(h.intake, "")
}
