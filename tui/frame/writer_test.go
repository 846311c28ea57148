package frame

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	tea "github.com/charmbracelet/bubbletea"
)

// writes makes the intake tell a write for each w, with numbers 1, 2, 3...,
// and an undo for each u.
func (h *house) writes() {
	seq := uint64(0)
	h.intake.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if k, ok := msg.(tea.KeyMsg); ok && k.String() == "w" {
			seq++
			f.Tell(Write{Seq: seq, Change: add(fmt.Sprint("Cape ", seq))})
		} else if ok && k.String() == "u" {
			seq++
			f.Tell(UndoLast{Seq: seq})
		}
		return nil
	}
}

func (s *fakeStore) wantDone(t *testing.T, want ...string) {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if !slices.Equal(s.done, want) {
		t.Errorf("done: %q, want %q", s.done, want)
	}
	if s.overlap {
		t.Error("two writes were under way at once")
	}
}

func TestAWriteIsAnsweredAndAllAreTold(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.press("w")
	h.wantGot(h.intake, "w, changed 1, written 1 <nil>")
	h.wantGot(h.find, "changed 1")
	h.wantView("sleeve 1")
}

func TestAFailedWriteIsShownAndAnswered(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.store.fail = func(string) error { return errDisk }
	h.press("w")
	h.wantGot(h.intake, fmt.Sprintf("w, written 1 %v", errDisk))
	h.wantGot(h.find, "")
	h.wantView("! " + errDisk.Error())
	h.store.fail = nil
	h.press("w")
	h.clock = h.clock.Add(burst)
	h.send(beat{})
	h.wantNotInView(errDisk.Error())
	h.store.wantDone(t, "added Cape 2")
}

func TestOneWriteAtATime(t *testing.T) {
	h := newHouse(t)
	h.writes()
	_, first := h.Update(runes("www"))
	if first == nil {
		t.Fatal("no command")
	}
	if _, more := h.Update(runes("w")); more != nil {
		t.Error("a second command was begun while one was under way")
	}
	h.pump(first)
	h.wantGot(h.intake, "w, w, w, w, changed 1, written 1 <nil>, changed 2, written 2 <nil>, changed 3, written 3 <nil>, changed 4, written 4 <nil>")
	h.store.wantDone(t, "added Cape 1", "added Cape 2", "added Cape 3", "added Cape 4")
}

func TestUndo(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.press("w", "ctrl+z")
	h.wantView("undid: added Cape 1", "nothing entered yet")
	h.wantGot(h.intake, "w, changed 1, written 1 <nil>, changed 2")
	h.press("ctrl+z")
	h.wantView(model.ErrNothingToUndo.Error())
	h.wantNotInView("! ")
	h.press("w", "u")
	h.wantGot(h.intake, "w, changed 3, written 2 <nil>, u, changed 4, written 3 <nil>")
}

// Who undoes a change that is still being saved must not lose the one before
// it, should the saving fail.
func TestUndoBehindAFailedWriteUndoesNothing(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.press("w")
	h.store.fail = func(title string) error {
		if strings.HasSuffix(title, "2") {
			return errDisk
		}
		return nil
	}
	_, cmd := h.Update(runes("w"))
	h.Update(keyNamed("ctrl+z"))
	h.pump(cmd)
	h.store.wantDone(t, "added Cape 1")
	h.wantView("nothing was undone")
	h.press("esc", "esc", "ctrl+z") // now it is the one before that is meant
	h.store.wantDone(t, "added Cape 1", "undid: added Cape 1")
}

// slowHouse has a write under way and two waiting when it is left.
func slowHouse(t *testing.T) (*house, *tea.Program, chan error) {
	h := &house{t: t, intake: &fake{}, find: &fake{}, store: newStore()}
	h.store.begun, h.store.gate = make(chan string, 9), make(chan struct{})
	h.Root = New(options(h.intake, h.find, h.store))
	h.writes()
	p := tea.NewProgram(h.Root, tea.WithInput(nil), tea.WithoutRenderer(), tea.WithoutSignalHandler())
	ended := make(chan error, 1)
	go func() {
		_, err := p.Run()
		ended <- err
	}()
	p.Send(runes("www"))
	<-h.store.begun
	return h, p, ended
}

func TestQuittingFinishesWhatWasTold(t *testing.T) {
	for _, how := range []string{"key", "quit", "kill"} {
		t.Run(how, func(t *testing.T) {
			h, p, ended := slowHouse(t)
			switch how {
			case "key":
				p.Send(tea.KeyMsg{Type: tea.KeyCtrlQ})
			case "quit":
				p.Quit()
			case "kill":
				p.Kill()
			}
			<-ended
			h.store.wantDone(t) // Run has returned, and the first is still under way
			go close(h.store.gate)
			if err := h.Drain(context.Background()); err != nil {
				t.Errorf("Drain: %v", err)
			}
			h.store.wantDone(t, "added Cape 1", "added Cape 2", "added Cape 3")
			got := h.intake.took()
			if want := "changed 1, written 1 <nil>, changed 2, written 2 <nil>, changed 3, written 3 <nil>"; !strings.HasSuffix(got, want) {
				t.Errorf("the screen got %q, want %q at the end", got, want)
			}
			if n := strings.Count(got, "closing"); n != 1 {
				t.Errorf("the screen was told %d times that the program closes, want once: %q", n, got)
			}
			if err := h.Drain(context.Background()); err != nil {
				t.Errorf("draining again: %v", err)
			}
			h.store.wantDone(t, "added Cape 1", "added Cape 2", "added Cape 3")
		})
	}
}

// enter and ctrl+c in one burst: the write was told before the quit.
func TestAWriteToldRightBeforeQuitting(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.Update(runes("w"))
	h.Update(keyNamed("ctrl+c")) // the command of the write has not even begun
	if err := h.Drain(context.Background()); err != nil {
		t.Errorf("Drain: %v", err)
	}
	h.store.wantDone(t, "added Cape 1")
}

func TestWhatIsToldAtClosingIsWritten(t *testing.T) {
	h := newHouse(t)
	h.find.on = func(f *fake, msg tea.Msg) tea.Cmd {
		if _, ok := msg.(Closing); ok {
			f.Tell(Write{Seq: 1, Change: add("Cape")})
		}
		return nil
	}
	h.press("ctrl+q")
	if err := h.Drain(context.Background()); err != nil {
		t.Errorf("Drain: %v", err)
	}
	h.store.wantDone(t, "added Cape")
}

// A screen may have something more to write when a write has ended, the last
// tick of a walk for instance.
func TestAWriteToldWhileTheLastOneEndsIsWritten(t *testing.T) {
	h := newHouse(t)
	h.find.on = func(f *fake, msg tea.Msg) tea.Cmd {
		switch msg := msg.(type) {
		case Closing:
			f.Tell(Write{Seq: 1, Change: add("Cape")})
		case Written:
			if msg.Seq < 3 {
				f.Tell(Write{Seq: msg.Seq + 1, Change: add(fmt.Sprint("Cape ", msg.Seq))})
			}
		}
		return nil
	}
	h.press("ctrl+q")
	if err := h.Drain(context.Background()); err != nil {
		t.Errorf("Drain: %v", err)
	}
	h.store.wantDone(t, "added Cape", "added Cape 1", "added Cape 2")
}

func TestAWriteThatFailsAtTheEndIsKeptAsADraft(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.store.fail = func(string) error { return errDisk }
	h.Update(runes("w"))
	h.Update(keyNamed("ctrl+q"))
	if err := h.Drain(context.Background()); !errors.Is(err, errDisk) {
		t.Errorf("Drain: %v, want %v", err, errDisk)
	}
	h.wantGot(h.intake, fmt.Sprintf("w, closing, written 1 %v, closing", errDisk))
}

func TestDrainGivesUpWhenTold(t *testing.T) {
	h, p, ended := slowHouse(t)
	p.Quit()
	<-ended
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := h.Drain(ctx)
	if !errors.Is(err, context.Canceled) || !strings.Contains(err.Error(), "2 of the changes made were not saved") {
		t.Errorf("Drain: %v, want it to say that 2 were not saved", err)
	}
	close(h.store.gate)
	if err := h.Drain(context.Background()); err != nil { // leave nothing behind
		t.Errorf("draining again: %v", err)
	}
}

func TestAScreenThatBreaksAtClosingDoesNotStopTheOthers(t *testing.T) {
	h := newHouse(t)
	h.intake.on = func(_ *fake, msg tea.Msg) tea.Cmd {
		if _, ok := msg.(Closing); ok {
			panic("torn tissue")
		}
		return nil
	}
	h.press("ctrl+q")
	h.wantGot(h.find, "closing")
	if err := h.Drain(context.Background()); err == nil || !strings.Contains(err.Error(), `room "intake" broke while closing`) {
		t.Errorf("Drain: %v, want it to name the room", err)
	}
}

func TestAStoreThatBreaksIsWrittenToNoMore(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.store.fail = func(string) error { panic("torn store") }
	_, cmd := h.Update(runes("ww"))
	func() {
		defer func() {
			if recover() == nil {
				t.Error("the panic was swallowed")
			}
		}()
		cmd()
	}()
	h.store.fail = nil
	if err := h.Drain(context.Background()); !errors.Is(err, errBrokeOff) {
		t.Errorf("Drain: %v, want %v", err, errBrokeOff)
	}
	h.store.wantDone(t)
	h.wantGot(h.intake, fmt.Sprintf("w, w, closing, written 1 %v, written 2 %v, closing", errBrokeOff, errBrokeOff))
}
