package same

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	up, down                             key.Binding
	do, take, merge, believe, swap, goes key.Binding
	differs, split, leave                key.Binding
	moves, lines                         key.Binding // for the help
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),

		do:      bind("enter", "do it", "enter"),
		take:    bind("enter", "this one", "enter"),
		merge:   bind("enter", "merge", "enter"),
		believe: bind("space", "the other is right", " "),
		swap:    bind("x", "keep the other record", "x"),
		goes:    bind("space", "to the other design", " "),
		differs: bind("enter", "what its sleeve says", "enter"),
		split:   bind("enter", "part them", "enter"),
		leave:   bind("esc", "back", "esc"),
		moves:   bind("up, down, pgup, pgdn, home, end", "to another line", "up", "down", "pgup", "pgdown", "home", "end"),
		lines:   bind("up, down", "to another line", "up", "down"),
	}
}

// ShortHelp gives the keys that work now.
func (s *Sheet) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case picking:
		keys := []key.Binding{k.leave}
		if len(s.found) > 0 {
			take := k.take
			if s.wish != "" {
				take.SetHelp("enter", "link it")
			}
			keys = []key.Binding{take, k.leave}
		}
		return append(keys, s.moving(len(s.found))...)
	case joining:
		keys := []key.Binding{k.merge, k.leave}
		if at := s.at[joining]; at < len(s.joint.Said) && !settled(s.joint.Said[at]) {
			believe := k.believe
			if slices.Contains(s.merge.Take, s.joint.Said[at].Field) {
				believe.SetHelp("space", "the one kept is right")
			}
			keys = append(keys, believe)
		}
		return append(append(keys, k.swap), s.moving(len(s.joint.Said)+len(s.alongs()))...)
	case parting:
		goes := k.goes
		if all := s.things(); s.at[parting] < len(all) && s.going[all[s.at[parting]].name] {
			goes.SetHelp("space", "stays")
		}
		return append([]key.Binding{goes, k.differs, k.leave}, s.moving(len(s.things()))...)
	case saying:
		return append([]key.Binding{k.split, k.leave}, s.form.Keys()...)
	}
	return append([]key.Binding{k.do, k.leave}, s.moving(len(s.deeds()))...)
}

// moving are the keys that lead somewhere in n lines.
func (s *Sheet) moving(n int) (keys []key.Binding) {
	if s.at[s.stage]+1 < n {
		keys = append(keys, s.keys.down)
	}
	if s.at[s.stage] > 0 {
		keys = append(keys, s.keys.up)
	}
	return keys
}

// FullHelp gives the keys of the stage at length.
func (s *Sheet) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	switch s.stage {
	case picking:
		return [][]key.Binding{{long(k.take, "enter", "it is the one that is chosen"), k.lines, long(k.leave, "esc", "back to what is the matter")}}
	case joining:
		return [][]key.Binding{{long(k.merge, "enter", "merge the two, as one step for undo"), long(k.believe, "space", "in this field the other record is right, or is not after all"),
			long(k.swap, "x", "keep the other record instead of this one"), k.moves, long(k.leave, "esc", "back; nothing is merged")}}
	case parting:
		return [][]key.Binding{{long(k.goes, "space", "it belongs to the other design, or stays"), long(k.differs, "enter", "on to what the sleeve of the other design says"),
			k.moves, long(k.leave, "esc", "back; nothing is parted")}}
	case saying:
		return [][]key.Binding{append([]key.Binding{long(k.split, "enter", "make it a pattern of its own, as one step for undo"), long(k.leave, "esc", "back; what is typed stays")}, form.Help()...)}
	}
	return [][]key.Binding{{long(k.do, "enter", "go on with it; what takes away a link, or takes apart, is done at once"), k.moves, long(k.leave, "esc", "back to Find")}}
}

func (s *Sheet) onDeedKey(msg tea.KeyMsg) {
	all := s.deeds()
	at := &s.at[choosing]
	switch {
	case key.Matches(msg, s.keys.leave):
		s.left = true
	case key.Matches(msg, s.keys.do) && s.saves == 0 && *at < len(all):
		all[*at].do()
	default:
		*at = max(0, min(*at+s.step(msg, len(all)), len(all)-1))
	}
}

// step is how far a key moves in a list of n.
func (s *Sheet) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/2, n) }
