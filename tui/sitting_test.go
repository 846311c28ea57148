package tui_test

import (
	"io"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf8"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// A sitting is the interface as it runs: Bubble Tea's reader takes the bytes of
// keys apart, its loop runs the commands and lets them end when they do. The
// bytes come through a pipe, as they would from a terminal.
//
// It is not done with teatest, for three reasons that showed when it was tried:
// what is typed goes past the parser, byte by byte, so that "é" comes as two
// letters; a burst can never come as one read, as it does from a scanner; and
// each wait eats the output that the next one should look at.
type sitting struct {
	*testing.T
	store *storage.Store
	root  *frame.Root
	in    *io.PipeWriter
	ended chan error

	mu   sync.Mutex
	view string

	keys, minds, hands int // pressed, thought, brought to the keyboard
}

// watched is the root with somebody looking at the screen.
type watched struct {
	*frame.Root
	s *sitting
}

func (w watched) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	_, cmd := w.Root.Update(msg)
	return w, cmd
}

func (w watched) View() string {
	view := w.Root.View()
	w.s.mu.Lock()
	defer w.s.mu.Unlock()
	w.s.view = view
	return view
}

// sit opens the interface in a room, at 80x24.
func sit(t *testing.T, s *storage.Store, room string) *sitting {
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	r, w := io.Pipe()
	x := &sitting{T: t, store: s, in: w, ended: make(chan error, 1),
		root: frame.New(frame.Options{Rooms: tui.Rooms(s, th), Start: room, Store: s, Theme: th})}
	p := tea.NewProgram(watched{x.root, x}, tea.WithInput(r), tea.WithOutput(io.Discard), tea.WithAltScreen(), tea.WithoutSignalHandler())
	go func() {
		_, err := p.Run()
		x.ended <- err
	}()
	p.Send(tea.WindowSizeMsg{Width: 80, Height: 24})
	x.see("tuckrow: ")
	return x
}

// leave quits, and waits until all is written.
func (x *sitting) leave() {
	x.Helper()
	x.press("ctrl+q")
	if err := <-x.ended; err != nil {
		x.Error(err)
	}
	_ = x.in.Close()
	if err := x.root.Drain(x.Context()); err != nil {
		x.Error(err)
	}
}

// sent is what a terminal sends for keys that are not their own letter: control
// characters as in ASCII, the others as in "XTerm Control Sequences" (PC-Style
// Function Keys).
var sent = map[string]string{
	"enter": "\r", "tab": "\t", "esc": "\x1b", "backspace": "\x7f", "shift+tab": "\x1b[Z", "space": " ",
	"up": "\x1b[A", "down": "\x1b[B", "right": "\x1b[C", "left": "\x1b[D", "home": "\x1b[H", "end": "\x1b[F", "pgup": "\x1b[5~", "pgdown": "\x1b[6~",
}

// press sends the bytes of keys; what is in quotes is typed so fast that it
// comes in one read.
func (x *sitting) press(names ...string) {
	x.Helper()
	for _, name := range names {
		bytes, ok := sent[name]
		switch text, typed := strings.CutPrefix(name, "'"); {
		case typed:
			bytes = text
			x.keys += utf8.RuneCountInString(text)
		case ok:
			x.keys++
		case strings.HasPrefix(name, "ctrl+") && len(name) == len("ctrl+x"):
			bytes = string(name[len(name)-1] & 0x1f)
			x.keys++
		default:
			x.Fatalf("no key %q", name)
		}
		if _, err := io.WriteString(x.in, bytes); err != nil {
			x.Fatal(err)
		}
	}
}

// scan is a scanner: digits and Enter in one read, and no key of the user's.
func (x *sitting) scan(code string) {
	x.Helper()
	if _, err := io.WriteString(x.in, code+"\r"); err != nil {
		x.Fatal(err)
	}
}

// think counts so many decisions, and read-offs from a sleeve, before what is
// pressed next.
func (x *sitting) think(minds int) { x.minds += minds }

// reach counts that the hand came to the keyboard so many times.
func (x *sitting) reach(hands int) { x.hands += hands }

func (x *sitting) screen() string {
	x.mu.Lock()
	defer x.mu.Unlock()
	return x.view
}

// see waits until the screen shows all of some texts, as a user would before
// going on. The limit is only there so that a test that fails ends.
func (x *sitting) see(texts ...string) {
	x.Helper()
	missing := ""
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(time.Millisecond) {
		missing = ""
		view := x.screen()
		for _, text := range texts {
			if !strings.Contains(view, text) {
				missing = text
			}
		}
		if missing == "" {
			return
		}
	}
	x.Fatalf("the screen never showed %q:\n%s", missing, x.screen())
}

// estimate says what the keystroke-level model makes of what was done since the
// last estimate. What the hands do at the shelf is not in it.
func (x *sitting) estimate(what string) {
	x.Helper()
	rest := float64(x.hands)*homing + float64(x.minds)*mental
	skilled, average := rest+float64(x.keys)*keySkilled, rest+float64(x.keys)*keyAverage
	x.Logf("%-52s %3d keys, %2d decisions; by the keystroke-level model %5.1f s skilled, %5.1f s average", what+":", x.keys, x.minds, skilled, average)
	x.keys, x.minds, x.hands = 0, 0, 0
}
