package frame

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// globals are the keys of the root.
type globals struct {
	quit, keys, undo, putAway key.Binding
	letters                   key.Binding // opens the help where no text is taken
	rooms                     []key.Binding
}

// reserved are the keys that are another key to a terminal, or that a screen
// cannot do without.
var reserved = []string{"enter", "esc", "tab", "shift+tab", "backspace", "up", "down", "left", "right", " ",
	"ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m", "ctrl+[", "ctrl+@"}

func newGlobals(rooms []Room) globals {
	g := globals{
		quit:    key.NewBinding(key.WithKeys("ctrl+q", "ctrl+c"), key.WithHelp("ctrl+q", "quit")),
		keys:    key.NewBinding(key.WithKeys("f1", "ctrl+k"), key.WithHelp("f1", "keys")),
		letters: key.NewBinding(key.WithKeys("?"), key.WithHelp("?", "keys")),
		undo:    key.NewBinding(key.WithKeys("ctrl+z"), key.WithHelp("ctrl+z", "undo")),
		putAway: key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "put message away")),
	}
	taken := map[string]string{}
	for _, k := range slices.Concat(reserved, g.quit.Keys(), g.keys.Keys(), g.letters.Keys(), g.undo.Keys()) {
		taken[k] = "the root"
	}
	ids := map[string]bool{}
	for _, room := range rooms {
		if ids[room.ID] || room.ID == "" || room.Screen == nil {
			panic(fmt.Sprintf("frame: the room %q is there twice, or has no ID or no screen", room.ID))
		}
		ids[room.ID] = true
		for _, k := range room.Key.Keys() {
			if by := taken[k]; by != "" {
				panic(fmt.Sprintf("frame: room %q claims the key %q of %s", room.ID, k, by))
			}
			taken[k] = "room " + room.ID
		}
		b := room.Key
		if b.Help().Desc == "" && len(b.Keys()) > 0 {
			b.SetHelp(b.Keys()[0], strings.ToLower(room.Title))
		}
		g.rooms = append(g.rooms, b)
	}
	return g
}

// onKey takes one key message apart. One read of the terminal can bring many
// runes as one message: each is routed afresh, since where it goes may change
// with the one before it.
func (r *Root) onKey(k tea.KeyMsg) {
	switch {
	case k.Paste:
		r.onPaste(string(k.Runes))
	case k.Type == tea.KeyRunes && len(k.Runes) > 1:
		for _, c := range k.Runes {
			one := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{c}, Alt: k.Alt}
			if c == ' ' {
				one.Type = tea.KeySpace
			}
			r.route(one)
		}
	default:
		r.route(k)
	}
}

// route sends one key to where it belongs.
func (r *Root) route(k tea.KeyMsg) {
	k = asPressed(k)
	text := r.room().Screen.CapturesText()
	switch {
	case r.closing:
		// What was typed behind the key that quits.
	case key.Matches(k, r.keys.quit):
		r.quit()
	case r.help.open:
		r.onHelpKey(k)
	case key.Matches(k, r.keys.putAway) && r.notice.complaining():
		r.notice.putAway()
	case (always(k) || !text) && r.onGlobal(k):
	default:
		r.deliver(r.room().ID, k)
	}
}

// asPressed undoes what terminals make of keys.
func asPressed(k tea.KeyMsg) tea.KeyMsg {
	switch {
	case k.Type == tea.KeyCtrlJ:
		// Enter, where the terminal was left in its own mode by a stop.
		return tea.KeyMsg{Type: tea.KeyEnter, Alt: k.Alt}
	case k.Type == tea.KeyEsc && k.Alt:
		// Esc twice in one read.
		return tea.KeyMsg{Type: tea.KeyEsc}
	}
	return k
}

// always tells whether a global key works while text is taken too.
func always(k tea.KeyMsg) bool {
	name := k.String()
	return strings.HasPrefix(name, "ctrl+") || len(name) > 1 && name[0] == 'f' && unicode.IsDigit(rune(name[1]))
}

// onGlobal does what a global key does, and tells whether it was one.
func (r *Root) onGlobal(k tea.KeyMsg) bool {
	if key.Matches(k, r.keys.keys, r.keys.letters) {
		r.help = overlay{open: true}
		return true
	}
	if key.Matches(k, r.keys.undo) {
		r.onJob(job{})
		return true
	}
	for i, b := range r.keys.rooms {
		if key.Matches(k, b) {
			r.onGo(Go{Room: r.rooms[i].ID})
			return true
		}
	}
	return false
}

// onPaste gives pasted text to the screen as one piece, so that a line break in
// it does not press enter.
func (r *Root) onPaste(text string) {
	if r.closing || text == "" {
		return
	}
	if r.help.open || !r.room().Screen.CapturesText() {
		r.notice.say("nothing here takes text, so what was pasted was left out")
		return
	}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	text = strings.Map(func(c rune) rune {
		if unicode.IsControl(c) && c != '\n' && c != '\t' {
			return -1
		}
		return c
	}, text)
	r.deliver(r.room().ID, Pasted{text})
}

// claimed tells whether none of a binding's keys would reach the screen.
func (r *Root) claimed(b key.Binding) bool {
	text := r.room().Screen.CapturesText()
	for _, name := range b.Keys() {
		byRoot := slices.Contains(r.keys.quit.Keys(), name) || name == "esc" && r.notice.complaining()
		for _, g := range append([]key.Binding{r.keys.keys, r.keys.letters, r.keys.undo}, r.keys.rooms...) {
			plain := !strings.HasPrefix(name, "ctrl+") && len(name) == 1
			byRoot = byRoot || slices.Contains(g.Keys(), name) && !(text && plain)
		}
		if !byRoot {
			return false
		}
	}
	return true
}
