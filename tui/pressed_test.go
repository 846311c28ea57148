package tui_test

import (
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/press"
	"example.org/tuckrow/tui/split"
)

// TestMain fails when there is a key that a screen offers, in its footer or in
// its help, and that no test has pressed while it did. That is looked at when all
// tests have run.
func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	if missing := ledger.missing(); code == 0 && allRan() && len(missing) > 0 {
		fmt.Fprintf(os.Stderr, "no test presses:\n\t%s\n", strings.Join(missing, "\n\t"))
		code = 1
	}
	os.Exit(code)
}

func allRan() bool {
	for _, name := range []string{"test.run", "test.skip", "test.list"} {
		if flag.Lookup(name).Value.String() != "" {
			return false
		}
	}
	return !testing.Short()
}

// ledger is what all tests together were offered and have pressed.
var ledger = &book{pressed: map[offer]map[string]bool{}}

// offer is a binding as a screen shows it: what the same key does in another
// state is another offer.
type offer struct{ room, keys, does string }

// takenByRoot are offers that no key leads to: the root takes it before. What is
// under way it stops itself, and its footer says so in place of the screen's.
var takenByRoot = map[offer]bool{{split.ID, "esc", "stop waiting"}: true, {press.ID, "esc", "stop waiting"}: true}

type book struct {
	pressed map[offer]map[string]bool // of an offer the keys, and whether one was pressed
	closed  bool                      // keys that come by chance do not count
}

// byChance keeps what a test presses out of the ledger until it ends: keys of
// which nobody looks at what each does.
func byChance(t *testing.T) {
	ledger.closed = true
	t.Cleanup(func() { ledger.closed = false })
}

// witness is a screen with somebody beside it who keeps the ledger.
type witness struct {
	frame.Screen
	room string
}

// witnessed puts a witness beside each room.
func witnessed(rooms []frame.Room) []frame.Room {
	for i, r := range rooms {
		rooms[i].Screen = witness{r.Screen, r.ID}
	}
	return rooms
}

func (w witness) TakeTold() []tea.Msg {
	return w.Screen.(interface{ TakeTold() []tea.Msg }).TakeTold()
}

func (w witness) Halfway() bool {
	half, can := w.Screen.(frame.Halfway)
	return can && half.Halfway()
}

func (w witness) Update(msg tea.Msg) tea.Cmd {
	if k, ok := msg.(tea.KeyMsg); ok {
		w.note(k)
	}
	cmd := w.Screen.Update(msg)
	w.note(tea.KeyMsg{})
	return cmd
}

// note writes down what is offered now, and the key that is about to be pressed.
// A letter that goes into a field is no key.
func (w witness) note(k tea.KeyMsg) {
	if ledger.closed {
		return
	}
	name := k.String()
	if w.CapturesText() && k.Type == tea.KeyRunes {
		name = ""
	}
	for _, b := range slices.Concat(append(w.FullHelp(), w.ShortHelp())...) {
		o := offer{w.room, b.Help().Key, b.Help().Desc}
		if ledger.pressed[o] == nil {
			ledger.pressed[o] = map[string]bool{}
		}
		for _, n := range keysOf(b) {
			ledger.pressed[o][n] = ledger.pressed[o][n] || n == name
		}
	}
}

// keysOf are the keys of a binding: those that its help names, which is what the
// user goes by, and besides a key that is named so itself those that do the same.
func keysOf(b key.Binding) []string {
	shown := b.Help().Key
	if slices.Contains(b.Keys(), shown) {
		return b.Keys()
	}
	var all []string
	for _, word := range strings.FieldsFunc(strings.ReplaceAll(shown, "a letter", ""), func(r rune) bool { return r == ' ' || r == ',' || r == '/' }) {
		switch word {
		case "arrows":
			all = append(all, "up", "down", "left", "right")
		case "space":
			all = append(all, " ")
		case "pgdn":
			all = append(all, "pgdown")
		default:
			if _, known := named[word]; known || len(word) == 1 {
				all = append(all, word)
			}
		}
	}
	return all
}

// missing lists what was offered and not pressed.
func (l *book) missing() []string {
	var out []string
	for o, keys := range l.pressed {
		for _, k := range slices.Sorted(maps.Keys(keys)) {
			if !keys[k] && !takenByRoot[o] {
				out = append(out, fmt.Sprintf("%s: %q (%s: %s)", o.room, k, o.keys, o.does))
			}
		}
	}
	slices.Sort(out)
	return out
}
