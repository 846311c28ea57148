package drafts_test

import (
	"errors"
	"fmt"
	"sync"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/frame"
)

// memory is a store that notes all that it is given.
type memory struct {
	mu   sync.Mutex
	kept map[string][]string
	fail error
	gate chan struct{} // if set, each writing waits for one of it
}

func (m *memory) LoadDraft(name string) ([]byte, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if all := m.kept[name]; len(all) > 0 {
		return []byte(all[len(all)-1]), m.fail
	}
	return nil, m.fail
}

func (m *memory) SaveDraft(name string, draft []byte) error {
	if m.gate != nil {
		<-m.gate
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.fail != nil {
		return m.fail
	}
	if m.kept == nil {
		m.kept = map[string][]string{}
	}
	m.kept[name] = append(m.kept[name], string(draft))
	return nil
}

func run(cmd tea.Cmd) tea.Msg {
	if cmd == nil {
		return nil
	}
	return cmd()
}

func TestCommandsThatLandOutOfOrderKeepTheLatest(t *testing.T) {
	m := &memory{}
	k := drafts.New(m, "room")
	first, second := k.Later([]byte("1")), k.Later([]byte("2"))
	if msg := run(second); msg != nil {
		t.Errorf("keeping it gave %v", msg)
	}
	run(first)
	if got := fmt.Sprint(m.kept["room"]); got != "[2]" {
		t.Errorf("written was %s, want the latest, once", got)
	}
	third := k.Later([]byte("3"))
	if err := k.SaveDraft(nil); err != nil { // closing
		t.Fatal(err)
	}
	run(third) // it runs all the same
	if got := fmt.Sprintf("%q", m.kept["room"]); got != `["2" ""]` {
		t.Errorf("written was %s, want nothing behind what closing has kept", got)
	}
	if got, err := k.LoadDraft(); err != nil || len(got) > 0 {
		t.Errorf("loaded %q, %v; want nothing: it was forgotten", got, err)
	}
}

// Closing waits for what is being written, and comes after it.
func TestClosingComesAfterWhatIsBeingWritten(t *testing.T) {
	m := &memory{gate: make(chan struct{})}
	k := drafts.New(m, "room")
	var all sync.WaitGroup
	begun := k.Later([]byte("old"))
	all.Go(func() { run(begun) })
	m.gate <- struct{}{} // "old" is under way, or done
	all.Go(func() {
		if err := k.SaveDraft([]byte("new")); err != nil {
			t.Error(err)
		}
	})
	close(m.gate)
	all.Wait()
	if got := fmt.Sprint(m.kept["room"]); got != "[old new]" {
		t.Errorf("written was %s, want old, then new", got)
	}
}

func TestWhatCouldNotBeKeptIsToldAndTriedAgain(t *testing.T) {
	m := &memory{fail: errors.New("the folder is gone")}
	k := drafts.New(m, "room")
	msg, ok := run(k.Later([]byte("x"))).(frame.Complain)
	if !ok || !errors.Is(msg.Err, m.fail) {
		t.Errorf("it says %v, want the error", msg)
	}
	m.fail = nil
	run(k.Later([]byte("y")))
	if got, err := k.LoadDraft(); err != nil || string(got) != "y" {
		t.Errorf("loaded %q, %v; want y", got, err)
	}
}

func TestWithoutAStoreNothingIsKept(t *testing.T) {
	k := drafts.New(nil, "room")
	if got, err := k.LoadDraft(); got != nil || err != nil || k.Later([]byte("x")) != nil || k.SaveDraft([]byte("x")) != nil {
		t.Errorf("loaded %q, %v", got, err)
	}
}
