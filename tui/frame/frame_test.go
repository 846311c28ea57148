package frame

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/theme"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

var update = flag.Bool("update", false, "write the golden files anew")

// fake is a screen that remembers what it got.
type fake struct {
	Outbox
	got   []string
	msgs  []tea.Msg
	text  bool
	w, h  int
	sizes int
	view  func(w, h int) string
	on    func(f *fake, msg tea.Msg) tea.Cmd
	init  tea.Cmd
	short []key.Binding
	full  [][]key.Binding
}

func (f *fake) Init() tea.Cmd             { return f.init }
func (f *fake) SetSize(w, h int)          { f.w, f.h, f.sizes = w, h, f.sizes+1 }
func (f *fake) CapturesText() bool        { return f.text }
func (f *fake) ShortHelp() []key.Binding  { return f.short }
func (f *fake) FullHelp() [][]key.Binding { return f.full }

func (f *fake) View() string {
	if f.view != nil {
		return f.view(f.w, f.h)
	}
	return fmt.Sprintf("body %dx%d", f.w, f.h)
}

func (f *fake) Update(msg tea.Msg) tea.Cmd {
	f.msgs = append(f.msgs, msg)
	switch msg := msg.(type) {
	case tea.KeyMsg:
		f.got = append(f.got, msg.String())
	case Written:
		f.got = append(f.got, fmt.Sprintf("written %d %v", msg.Seq, msg.Err))
	case StoreChanged:
		f.got = append(f.got, fmt.Sprintf("changed %d", msg.Commit.Collection.Rev()))
	case Arrived:
		f.got = append(f.got, fmt.Sprintf("arrived %v", msg.Arg))
	case Left, Rested: // in msgs alone: most tests ask what the room in front got
	case Pasted:
		f.got = append(f.got, fmt.Sprintf("pasted %q", msg.Text))
	case Closing:
		f.got = append(f.got, "closing")
	default:
		f.got = append(f.got, fmt.Sprint(msg))
	}
	if f.on != nil {
		return f.on(f, msg)
	}
	return nil
}

// took gives what the screen got since it was last asked.
func (f *fake) took() string {
	got := strings.Join(f.got, ", ")
	f.got = nil
	return got
}

// fakeStore commits to memory. With a gate, each commit waits for it.
type fakeStore struct {
	mu      sync.Mutex
	col     *model.Collection
	past    []*model.Collection
	titles  []string // of what can be undone
	done    []string
	inside  int
	overlap bool
	begun   chan string
	gate    chan struct{}
	fail    func(title string) error
}

func newStore() *fakeStore { return &fakeStore{col: model.NewCollection()} }

func (s *fakeStore) Collection() *model.Collection {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.col
}

// enter notes that a write begins, and waits for the gate.
func (s *fakeStore) enter(title string) func() {
	s.mu.Lock()
	s.inside++
	s.overlap = s.overlap || s.inside > 1
	s.mu.Unlock()
	if s.begun != nil {
		s.begun <- title
	}
	if s.gate != nil {
		<-s.gate
	}
	s.mu.Lock()
	return func() {
		s.inside--
		s.mu.Unlock()
	}
}

func (s *fakeStore) Commit(_ context.Context, ch model.Change) (model.Commit, error) {
	title := ch.Title(s.Collection())
	defer s.enter(title)()
	if s.fail != nil {
		if err := s.fail(title); err != nil {
			return model.Commit{}, err
		}
	}
	next, delta, err := s.col.Apply(ch, "2026-11-25")
	if err != nil {
		return model.Commit{}, err
	}
	// The revision is the store's to give.
	s.past, s.col = append(s.past, s.col), atRev(next, s.col.Rev()+1)
	s.done, s.titles = append(s.done, title), append(s.titles, title)
	return model.Commit{Collection: s.col, Delta: delta, Title: title}, nil
}

func (s *fakeStore) Undo(context.Context) (model.Commit, error) {
	defer s.enter("undo")()
	if len(s.past) == 0 {
		return model.Commit{}, model.ErrNothingToUndo
	}
	last := len(s.past) - 1
	title := "undid: " + s.titles[last]
	s.titles = s.titles[:last]
	s.col, s.past = atRev(s.past[last], s.col.Rev()+1), s.past[:last]
	s.done = append(s.done, title)
	return model.Commit{Collection: s.col, Title: title}, nil
}

func (s *fakeStore) Undoable() (string, time.Time) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.titles) == 0 {
		return "", time.Time{}
	}
	return s.titles[len(s.titles)-1], time.Time{}
}

func atRev(c *model.Collection, rev uint64) *model.Collection {
	at, err := model.Build(rev, c.Counters(), c.Records())
	if err != nil {
		panic(err)
	}
	return at
}

func add(name string) model.Change {
	return &model.Add{Entries: []model.Entry{{Publisher: "Harrow & Pell", Name: name}}}
}

// house is a root with two screens, intake in front.
type house struct {
	*Root
	t            *testing.T
	intake, find *fake
	store        *fakeStore
	clock        time.Time
}

// step is the time between two keys that a hand presses.
const step = 200 * time.Millisecond

func noColour() *theme.Theme {
	return theme.New(theme.Renderer(&strings.Builder{}, func(k string) string { return map[string]string{"NO_COLOR": "1"}[k] }, true))
}

func options(intake, find *fake, store Store) Options {
	return Options{
		Rooms: []Room{
			{ID: "intake", Title: "Intake", Key: key.NewBinding(key.WithKeys("ctrl+n", "n")), Screen: intake},
			{ID: "find", Title: "Find", Key: key.NewBinding(key.WithKeys("ctrl+f")), Screen: find},
		},
		Store: store,
		Theme: noColour(),
	}
}

func newHouse(t *testing.T) *house {
	t.Helper()
	h := &house{t: t, intake: &fake{}, find: &fake{}, store: newStore()}
	h.clock = time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)
	o := options(h.intake, h.find, h.store)
	o.Now = func() time.Time { return h.clock }
	h.Root = New(o)
	h.pump(h.Init())
	h.send(tea.WindowSizeMsg{Width: 80, Height: 24})
	h.intake.took()
	h.find.took()
	return h
}

// send gives messages to the root, and what comes of its commands too.
func (h *house) send(msgs ...tea.Msg) {
	for _, msg := range msgs {
		_, cmd := h.Update(msg)
		h.pump(cmd)
	}
}

func (h *house) pump(cmd tea.Cmd) {
	for _, msg := range results(cmd) {
		h.send(msg)
	}
}

// results runs a command, one of several after the other.
func results(cmd tea.Cmd) []tea.Msg {
	if cmd == nil {
		return nil
	}
	switch msg := cmd().(type) {
	case nil:
		return nil
	case tea.BatchMsg:
		var all []tea.Msg
		for _, c := range msg {
			all = append(all, results(c)...)
		}
		return all
	default:
		return []tea.Msg{msg}
	}
}

// press gives keys by name, as a hand presses them: "a", "enter", "ctrl+f".
func (h *house) press(names ...string) {
	for _, name := range names {
		h.clock = h.clock.Add(step)
		h.send(keyNamed(name))
	}
}

func keyNamed(name string) tea.KeyMsg {
	alt := strings.HasPrefix(name, "alt+")
	bare := strings.TrimPrefix(name, "alt+")
	for t := tea.KeyType(-150); t < 128; t++ {
		if t.String() == bare && bare != "" && t != tea.KeyRunes {
			k := tea.KeyMsg{Type: t, Alt: alt}
			if t == tea.KeySpace {
				k.Runes = []rune{' '}
			}
			return k
		}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(bare), Alt: alt}
}

func (h *house) wantGot(f *fake, want string) {
	h.t.Helper()
	if got := f.took(); got != want {
		h.t.Errorf("the screen got %q, want %q", got, want)
	}
}

func (h *house) wantView(parts ...string) {
	h.t.Helper()
	for _, part := range parts {
		if !strings.Contains(h.View(), part) {
			h.t.Errorf("%q is not in the view:\n%s", part, h.View())
		}
	}
}

func (h *house) wantNotInView(parts ...string) {
	h.t.Helper()
	for _, part := range parts {
		if strings.Contains(h.View(), part) {
			h.t.Errorf("%q is in the view:\n%s", part, h.View())
		}
	}
}

var errDisk = errors.New("writing the store: no room; free 64 MiB and press enter again")
