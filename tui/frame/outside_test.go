package frame

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"sync"
	"testing"

	"example.org/tuckrow/model"
	tea "github.com/charmbracelet/bubbletea"
)

// openHouse is a house that runs, and the way in from outside.
func openHouse(t *testing.T) (*house, *Outside) {
	t.Helper()
	h := &house{t: t, intake: &fake{}, find: &fake{}, store: newStore()}
	h.Root = New(options(h.intake, h.find, h.store))
	h.writes()
	p := tea.NewProgram(h.Root, tea.WithInput(nil), tea.WithoutRenderer(), tea.WithoutSignalHandler())
	over := make(chan struct{})
	go func() {
		if _, err := p.Run(); err != nil {
			t.Error(err)
		}
		close(over)
	}()
	t.Cleanup(func() {
		p.Quit()
		<-over
	})
	return h, &Outside{root: h.Root, send: p.Send, ended: over}
}

func (h *house) adds(name string) func() (model.Commit, error) {
	return func() (model.Commit, error) { return h.store.Commit(context.Background(), add(name)) }
}

func TestAChangeFromOutsideIsShown(t *testing.T) {
	h, o := openHouse(t)
	commit, err := o.Do(context.Background(), h.adds("Cape"))
	if err != nil || commit.Title != "added Cape" {
		t.Errorf("the commit is %q, %v", commit.Title, err)
	}
	// It has been told of before Do returned.
	h.wantGot(h.intake, "arrived <nil>, changed 1")
	h.wantGot(h.find, "changed 1")
}

func TestAChangeFromOutsideThatFailsIsForWhoWantedIt(t *testing.T) {
	h, o := openHouse(t)
	if _, err := o.Do(context.Background(), func() (model.Commit, error) { return model.Commit{}, errDisk }); !errors.Is(err, errDisk) {
		t.Errorf("the error is %v, want %v", err, errDisk)
	}
	if _, err := o.Do(context.Background(), h.adds("Cape")); err != nil {
		t.Error(err)
	}
	h.wantGot(h.intake, "arrived <nil>, changed 1")
	if h.notice.complaining() {
		t.Errorf("the interface complains: %q", h.notice.complaints[0].text)
	}
}

// Changes of both sides are made one after the other, and the screens hear of
// each in its order: a screen takes one along after the other and must miss
// none.
func TestChangesFromBothSidesInOneOrder(t *testing.T) {
	h, o := openHouse(t)
	var all sync.WaitGroup
	for i := range 8 {
		all.Go(func() {
			for j := range 5 {
				if _, err := o.Do(context.Background(), h.adds(fmt.Sprint("Cape ", i, j))); err != nil {
					t.Error(err)
				}
			}
		})
	}
	for range 20 {
		o.send(runes("w"))
	}
	all.Wait()
	// The last one is told of after those made before it, so all of the screens'
	// own must have been made.
	for made := uint64(0); made < 60; runtime.Gosched() {
		h.store.mu.Lock()
		made = h.store.col.Rev()
		h.store.mu.Unlock()
	}
	if _, err := o.Do(context.Background(), h.adds("the last")); err != nil {
		t.Error(err)
	}
	h.store.mu.Lock()
	defer h.store.mu.Unlock()
	if h.store.overlap {
		t.Error("two writes were under way at once")
	}
	next := uint64(1)
	for _, msg := range h.find.msgs {
		if news, ok := msg.(StoreChanged); ok {
			if rev := news.Commit.Collection.Rev(); rev != next {
				t.Fatalf("revision %d was told of after %d", rev, next-1)
			}
			next++
		}
	}
	if next-1 != h.store.col.Rev() {
		t.Errorf("%d changes were told of, and %d made", next-1, h.store.col.Rev())
	}
}

func TestAChangeFromOutsideThatIsInterrupted(t *testing.T) {
	h, o := openHouse(t)
	h.store.begun, h.store.gate = make(chan string, 9), make(chan struct{})
	o.send(runes("w"))
	<-h.store.begun
	ctx, cancel := context.WithCancel(context.Background())
	failed := make(chan error)
	go func() {
		_, err := o.Do(ctx, h.adds("never"))
		failed <- err
	}()
	for h.writer.pending() == 0 {
	}
	cancel()
	if err := <-failed; !errors.Is(err, context.Canceled) {
		t.Errorf("the error is %v, want %v", err, context.Canceled)
	}
	close(h.store.gate)
	if _, err := o.Do(context.Background(), h.adds("after")); err != nil {
		t.Error(err)
	}
	h.store.wantDone(t, "added Cape 1", "added after")
}

// When the interface has ended and its store is not closed yet, a change from
// outside is made all the same, and nobody is waited for.
func TestAChangeFromOutsideAtTheEnd(t *testing.T) {
	h, o := openHouse(t)
	o.send(tea.QuitMsg{})
	<-o.ended
	if _, err := o.Do(context.Background(), h.adds("Cape")); err != nil {
		t.Error(err)
	}
	h.store.wantDone(t, "added Cape")
	if err := h.Drain(context.Background()); err != nil {
		t.Error(err)
	}
}

// Who presses undo means what is on the screen, not what comes there in that
// moment.
func TestUndoMeansWhatIsOnTheScreen(t *testing.T) {
	h := newHouse(t)
	h.writes()
	h.press("w")
	o := &Outside{root: h.Root, send: func(tea.Msg) {}, ended: make(chan struct{})}
	ctx, cancel := context.WithCancel(context.Background())
	made := func() (model.Commit, error) {
		defer cancel() // nobody tells the screens here, so Do must not wait for it
		return h.adds("of another")()
	}
	if _, err := o.Do(ctx, made); err != nil {
		t.Fatal(err)
	}
	h.press("ctrl+z")
	h.wantView("nothing was undone: another terminal")
	h.store.wantDone(t, "added Cape 1", "added of another")
	h.press("esc", "ctrl+z")
	h.wantView("undid: added of another")
}

func TestARemarkSaysThatAnotherTerminalMadeAChange(t *testing.T) {
	h := newHouse(t)
	o := &Outside{root: h.Root, send: func(tea.Msg) {}, ended: make(chan struct{})}
	ctx, cancel := context.WithCancel(context.Background())
	if _, err := o.Do(ctx, func() (model.Commit, error) { defer cancel(); return h.adds("Cape")() }); err != nil {
		t.Fatal(err)
	}
	h.send(visited{})
	h.wantView("from another terminal: added Cape")
	h.wantGot(h.intake, "changed 1")
}

// Whoever prepares what takes long is given each change that was made, whoever made
// it, before the screens are told, and none that was not.
func TestAChangeIsPreparedBeforeTheScreensKnow(t *testing.T) {
	h := newHouse(t)
	h.writes()
	var seen []string
	known := 0
	h.Root.writer.after = func(c model.Commit) {
		seen = append(seen, c.Title)
		if h.Root.col.Rev() >= c.Collection.Rev() {
			known++
		}
	}
	h.press("w")
	h.store.fail = func(string) error { return errDisk }
	h.press("w")
	h.store.fail = nil
	h.press("u")
	j := job{outside: &visit{change: h.adds("Coat"), done: make(chan result, 1), taken: make(chan struct{})}}
	if res := h.Root.writer.visit(context.Background(), j); res.err != nil {
		t.Fatal(res.err)
	}
	if len(seen) != 3 || known != 0 {
		t.Errorf("prepared were %q, %d of them after the screens knew", seen, known)
	}
}
