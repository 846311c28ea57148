package tui_test

import (
	"context"
	"errors"
	"flag"
	"io"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

var update = flag.Bool("update", false, "write the golden files anew")

// player plays keys to the whole interface, on a store in memory, and runs the
// commands that come back at once.
type player struct {
	testing.TB
	root  *frame.Root
	store *faulty
	theme *theme.Theme
	clock time.Time // of the frame; each key takes a moment
}

// faulty is a store that can be told to fail.
type faulty struct {
	*storage.Store
	fail error
}

func (f *faulty) Commit(ctx context.Context, ch model.Change) (model.Commit, error) {
	if f.fail != nil {
		return model.Commit{}, f.fail
	}
	return f.Store.Commit(ctx, ch)
}

// Today is one day for all tests: what is late, and what season comes, is shown.
func (f *faulty) Today() model.Date { return "2025-12-08" }

var errDisk = errors.New("the disk is gone")

// play opens the interface in a room, at 80x24, after the changes given.
func play(tb testing.TB, room string, changes ...model.Change) *player {
	tb.Helper()
	s, err := storage.Open("", storage.Options{InMemory: true})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		if err := s.Close(); err != nil {
			tb.Error(err)
		}
	})
	for _, ch := range changes {
		if _, err := s.Commit(context.Background(), ch); err != nil {
			tb.Fatal(err)
		}
	}
	return playOn(tb, room, s)
}

func playOn(tb testing.TB, room string, s *storage.Store) *player {
	p := &player{TB: tb, store: &faulty{Store: s}, clock: time.Date(2026, 3, 1, 20, 0, 0, 0, time.UTC)}
	p.open(room, plain())
	return p
}

// open opens the interface anew on the player's store, in a room.
func (p *player) open(room string, t *theme.Theme) {
	p.theme = t
	d := desk.New(p.store.Collection())
	p.root = frame.New(frame.Options{Rooms: witnessed(tui.RoomsOn(d, p.store, t)), Prepare: d.Prepare, Start: room, Store: p.store, Theme: t, Now: func() time.Time { return p.clock }})
	p.run(p.root.Init())
	p.size(80, 24)
}

// plain is a theme without colours.
func plain() *theme.Theme {
	return theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
}

func (p *player) size(w, h int) { p.send(tea.WindowSizeMsg{Width: w, Height: h}) }

// betweenKeys is how long a hand takes from one key to the next.
const betweenKeys = 200 * time.Millisecond

func (p *player) send(msg tea.Msg) {
	if _, ok := msg.(tea.KeyMsg); ok {
		p.clock = p.clock.Add(betweenKeys)
	}
	_, cmd := p.root.Update(msg)
	p.run(cmd)
}

func (p *player) run(cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			p.run(c)
		}
	default:
		p.send(msg)
	}
}

// named are all keys that have a name.
var named = func() map[string]tea.KeyMsg {
	all := map[string]tea.KeyMsg{"space": {Type: tea.KeySpace, Runes: []rune{' '}}}
	for k := tea.KeyType(-100); k <= 127; k++ {
		msg := tea.KeyMsg{Type: k}
		all[msg.String()] = msg
	}
	delete(all, "") // no key
	return all
}()

// messages are keys by their names; what is in quotes is typed letter by letter.
func messages(tb testing.TB, names ...string) []tea.KeyMsg {
	tb.Helper()
	var all []tea.KeyMsg
	for _, name := range names {
		if text, ok := strings.CutPrefix(name, "'"); ok {
			for _, r := range text {
				k := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
				if r == ' ' {
					k.Type = tea.KeySpace // as Bubble Tea has it
				}
				all = append(all, k)
			}
			continue
		}
		k, ok := named[name]
		if !ok {
			tb.Fatalf("no key %q", name)
		}
		all = append(all, k)
	}
	return all
}

// keys plays keys, and gives how many they were.
func (p *player) keys(names ...string) int {
	p.Helper()
	all := messages(p, names...)
	for _, k := range all {
		p.send(k)
	}
	return len(all)
}

// shows tells whether the screen shows a text.
func (p *player) shows(text string) bool { return strings.Contains(p.root.View(), text) }

func (p *player) mustShow(texts ...string) {
	p.Helper()
	for _, text := range texts {
		if !p.shows(text) {
			p.Errorf("the screen does not show %q:\n%s", text, p.root.View())
		}
	}
}

func (p *player) mustNotShow(texts ...string) {
	p.Helper()
	for _, text := range texts {
		if p.shows(text) {
			p.Errorf("the screen shows %q:\n%s", text, p.root.View())
		}
	}
}

func (p *player) listed() *model.Collection { return p.store.Collection() }

// entryOf writes a copy down as an entry.
func (p *player) entryOf(a model.Accession) model.Entry {
	p.Helper()
	cp := p.listed().Copy(a)
	if cp == nil {
		p.Fatalf("there is no copy %d", a)
	}
	return p.listed().EntryOf(cp)
}

// mustList checks that the screen has a line with these words behind each other,
// however far apart their columns are.
func (p *player) mustList(words string) {
	p.Helper()
	for line := range strings.SplitSeq(p.root.View(), "\n") {
		if strings.Contains(strings.Join(strings.Fields(line), " "), words) {
			return
		}
	}
	p.Errorf("no line of the screen has %q:\n%s", words, p.root.View())
}
