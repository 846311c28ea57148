package takein

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/files"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	read, leave, back, columns key.Binding
	turn, all, group, mended   key.Binding
	store, done                key.Binding
	up, down                   key.Binding
	moves                      key.Binding
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		read:    bind("enter", "read it", "enter"),
		leave:   bind("esc", "leave", "esc"),
		back:    bind("esc", "back", "esc"),
		columns: bind("enter", "look it through", "enter"),
		turn:    bind("space", "take / leave", " "),
		all:     bind("a", "all / none", "a"),
		group:   bind("tab", "next group", "tab"),
		mended:  bind("enter", "go on", "enter"),
		store:   bind("enter", "store it", "enter"),
		done:    bind("enter", "done", "enter", "esc"),
		up:      bind("up", "one up", "up"), down: bind("down", "one down", "down"),

		moves: bind("up, down, pgup, pgdn, home, end", "to another line", "up", "down", "pgup", "pgdown", "home", "end"),
	}
}

// can tells whether there is something to store.
func (s *Sheet) can() bool { return s.whole != nil || s.plan != nil && len(s.plan.change.Entries) > 0 }

// ShortHelp gives the keys that work now.
func (s *Sheet) ShortHelp() []key.Binding {
	k := s.keys
	if s.doing != "" || s.saves != 0 {
		return nil
	}
	switch s.stage {
	case naming:
		return append([]key.Binding{k.read, k.leave}, s.picker.Keys()...)
	case mapping:
		return append([]key.Binding{k.columns, k.back}, s.form.Keys()...)
	case cleaning:
		return []key.Binding{k.mended, k.turn, k.group, k.all, k.back}
	case told:
		return append([]key.Binding{k.done}, s.scrolls()...)
	}
	var keys []key.Binding
	if s.can() {
		keys = append(keys, k.store)
	}
	return append(append(keys, k.back), s.scrolls()...)
}

// scrolls are the keys for what does not fit.
func (s *Sheet) scrolls() (keys []key.Binding) {
	if s.top < s.most {
		keys = append(keys, s.keys.down)
	}
	if s.top > 0 {
		keys = append(keys, s.keys.up)
	}
	return keys
}

// FullHelp gives the keys of the page at length.
func (s *Sheet) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	switch s.stage {
	case naming:
		return [][]key.Binding{append([]key.Binding{long(k.read, "enter", "read the file; in the list: the one that is chosen, a folder is opened"), long(k.leave, "esc", "leave; what is typed stays")}, files.Help()...)}
	case mapping:
		return [][]key.Binding{append([]key.Binding{long(k.columns, "enter", "look for what could be mended; nothing is stored yet"), long(k.back, "esc", "back to the file")}, form.Help()...)}
	case cleaning:
		return [][]key.Binding{{long(k.turn, "space", "take the proposal, or leave it; on the head of a group, all of it"), long(k.all, "a", "take every proposal, or none"),
			long(k.group, "tab", "to the next group"), k.moves, long(k.mended, "enter", "on to what would be stored, mended where it was taken"), long(k.back, "esc", "back to the columns")}}
	case told:
		return [][]key.Binding{{long(k.done, "enter or esc", "back to the collection"), k.moves}}
	}
	return [][]key.Binding{{long(k.store, "enter", "store it all, as one step for undo"), k.moves, long(k.back, "esc", "back; nothing is stored")}}
}

func (s *Sheet) onJudgeKey(msg tea.KeyMsg) {
	k := s.keys
	switch {
	case s.stage == told && key.Matches(msg, k.done):
		s.left = true
	case s.stage == judging && key.Matches(msg, k.store):
		s.store()
	case key.Matches(msg, k.back):
		switch {
		case s.whole != nil:
			s.stage = naming
		case len(s.proposals) > 0:
			s.stage = cleaning
		default:
			s.stage = mapping
		}
	default:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	}
}

// step is how far a key moves in a list of n.
func (s *Sheet) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/2, n) }
