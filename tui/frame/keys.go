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
	back, stop                key.Binding
	suspend                   key.Binding // ctrl+z, as elsewhere, is taken by undo
	rooms                     []key.Binding
	owners                    map[string][]owner // of keys with ctrl that work in some rooms only
}

// owner is a room with a key, what the key does there, and how one gets there.
type owner struct{ id, title, does, way string }

// editing are keys that change a line of text wherever one is typed. No room
// owns them.
var editing = []string{"ctrl+u", "ctrl+w", "ctrl+h", "ctrl+d", "ctrl+v"}

// ownedBy notes which keys with ctrl the rooms have for themselves. None may be
// the root's: it would never reach the room.
func (g *globals) ownedBy(rooms []Room) {
	g.owners = map[string][]owner{}
	roots := slices.Concat(g.quit.Keys(), g.keys.Keys(), g.undo.Keys(), g.suspend.Keys())
	for i, room := range rooms {
		for _, b := range slices.Concat(room.Screen.FullHelp()...) {
			for _, k := range b.Keys() {
				if slices.Contains(roots, k) {
					panic(fmt.Sprintf("frame: room %q has the key %q, which is the root's", room.ID, k))
				}
				if strings.HasPrefix(k, "ctrl+") && !slices.Contains(editing, k) {
					g.owners[k] = append(g.owners[k], owner{room.ID, room.Title, b.Help().Desc, g.rooms[i].Help().Key})
				}
			}
		}
	}
}

// reserved are the keys that are another key to a terminal, or that a screen
// cannot do without.
var reserved = []string{"enter", "esc", "tab", "shift+tab", "backspace", "up", "down", "left", "right", " ",
	"ctrl+h", "ctrl+i", "ctrl+j", "ctrl+m", "ctrl+[", "ctrl+@"}

func newGlobals(rooms []Room, suspends bool) globals {
	g := globals{
		quit:    key.NewBinding(key.WithKeys("ctrl+q", "ctrl+c"), key.WithHelp("ctrl+q", "quit")),
		keys:    key.NewBinding(key.WithKeys("f1", "ctrl+k"), key.WithHelp("f1", "keys")),
		letters: key.NewBinding(key.WithKeys("?"), key.WithHelp("?", "keys")),
		undo:    key.NewBinding(key.WithKeys("ctrl+z"), key.WithHelp("ctrl+z", "undo")),
		putAway: key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "put message away")),
		back:    key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "back")),
		stop:    key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "stop it")),
		suspend: key.NewBinding(key.WithKeys("ctrl+\\"), key.WithHelp("ctrl+\\", "go to the shell; fg there comes back")),
	}
	g.suspend.SetEnabled(suspends)
	taken := map[string]string{}
	for _, k := range slices.Concat(reserved, g.quit.Keys(), g.keys.Keys(), g.letters.Keys(), g.undo.Keys(), g.suspend.Keys()) {
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
	r.stir()
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
	r.hands.press(r.now())
	r.settleNotice()
	again := r.notice.again != ""
	r.notice.again = ""
	text := r.room().Screen.CapturesText()
	switch {
	case r.closing:
		// What was typed behind the key that quits.
	case key.Matches(k, r.keys.quit):
		r.quit()
	case r.help.open:
		r.onHelpKey(k)
	case k.Type == tea.KeyEsc:
		r.onEsc(k)
	case key.Matches(k, r.keys.undo):
		r.onUndo(again)
	case (always(k) || !text) && r.onGlobal(k):
	case r.elsewhere(k):
	default:
		r.given(r.room().ID, k.String(), k)
	}
}

// onEsc leaves what has the focus, the innermost first: a message, a job that
// one waits for, what the room has to be left, the room.
func (r *Root) onEsc(k tea.KeyMsg) {
	_, stoppable, _ := r.long()
	switch {
	case r.notice.complaining():
		r.notice.putAway(r.hands.pressed)
	case stoppable:
		r.stopJob()
	case r.leaves():
		last := len(r.path) - 1
		r.onGo(Go{Room: r.rooms[r.path[last]].ID})
		r.path = r.path[:last]
	default:
		r.given(r.room().ID, k.String(), k)
	}
}

// leaves tells whether esc leaves the room: the room has nothing to be left, and
// one came from another.
func (r *Root) leaves() bool {
	return len(r.path) > 0 && !slices.ContainsFunc(r.room().Screen.ShortHelp(), func(b key.Binding) bool {
		return b.Enabled() && slices.Contains(b.Keys(), "esc")
	})
}

// given delivers a message that can put right what it led to an error with.
func (r *Root) given(id, cause string, msg tea.Msg) {
	made, told := r.notice.made, r.writer.told()
	r.cause = cause
	r.deliver(id, msg)
	r.cause = ""
	if r.notice.made == made && r.writer.told() == told {
		r.mended(id, cause)
	}
}

// mended notes that what led to errors works now. Whether the key just pressed
// was a hand's, shows when a moment has passed.
func (r *Root) mended(from, cause string) {
	r.notice.mended(from, cause)
	r.settleNotice()
	if r.notice.complaining() {
		r.watch(burst)
	}
}

func (r *Root) settleNotice() { r.notice.settle(r.hands.single(r.now()), r.hands.pressed) }

// elsewhere says of a key that does nothing here in which room it works, and
// tells whether it was such a key.
func (r *Root) elsewhere(k tea.KeyMsg) bool {
	name := k.String()
	owners := r.keys.owners[name]
	here := func(b key.Binding) bool { return slices.Contains(b.Keys(), name) }
	s := r.room().Screen
	switch {
	case len(owners) == 0, slices.ContainsFunc(owners, func(o owner) bool { return o.id == r.room().ID }),
		slices.ContainsFunc(s.ShortHelp(), here), slices.ContainsFunc(slices.Concat(s.FullHelp()...), here):
		return false
	}
	o := owners[0]
	r.notice.say(fmt.Sprintf("%s works in %s: %s; %s goes there", name, o.title, o.does, o.way))
	return true
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
	if key.Matches(k, r.keys.suspend) {
		r.suspend()
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
	_, stoppable, _ := r.long()
	for _, name := range b.Keys() {
		byRoot := slices.Contains(r.keys.quit.Keys(), name) || name == "esc" && (stoppable || r.notice.complaining())
		for _, g := range append([]key.Binding{r.keys.keys, r.keys.letters, r.keys.undo, r.keys.suspend}, r.keys.rooms...) {
			plain := !strings.HasPrefix(name, "ctrl+") && len(name) == 1
			byRoot = byRoot || slices.Contains(g.Keys(), name) && !(text && plain)
		}
		if !byRoot {
			return false
		}
	}
	return true
}
