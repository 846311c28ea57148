package buying

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model/surplus"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	up, down, page, back, first, last key.Binding
	want, find, change, clear         key.Binding
	order, arrived, amend, drop       key.Binding
	passing, gone, out                key.Binding
	save, leave                       key.Binding
	moves                             key.Binding // for the help
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		page: bind("pgdn", "a page down", "pgdown"), back: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		want:    bind("enter", "want it", "enter"),
		find:    bind("enter", "show in Find", "enter"),
		change:  bind("enter", "change", "enter"),
		clear:   bind("ctrl+u", "new question", "ctrl+u"),
		order:   bind("ctrl+o", "ordered", "ctrl+o"),
		arrived: bind("ctrl+a", "arrived", "ctrl+a"),
		amend:   bind("ctrl+e", "amend what has come", "ctrl+e"),
		drop:    bind("ctrl+d", "off the list", "ctrl+d"),
		passing: bind("tab", "copies to pass on", "tab"),
		gone:    bind("g", "has gone", "g"),
		out:     bind("esc", "back to buying", "esc", "tab"),
		save:    bind("enter", "save", "enter"),
		leave:   bind("esc", "leave", "esc"),
		moves:   bind("up, down, pgup, pgdn, home, end", "from copy to copy", "up", "down", "pgup", "pgdown", "home", "end"),
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case filling:
		return append([]key.Binding{k.save, k.leave}, s.form.Keys()...)
	case passing:
		l, ok := s.spareCopy()
		if !ok {
			return []key.Binding{k.out}
		}
		keys := []key.Binding{k.find, k.out}
		if l.Advice != surplus.Keep {
			keys = append(keys, k.gone)
		}
		if s.spareAt+1 < s.spares() {
			keys = append(keys, k.down)
		}
		if s.spareAt > 0 {
			keys = append(keys, k.up)
		}
		return keys
	}
	var keys []key.Binding
	if s.hasCome() {
		keys = append(keys, k.amend)
	}
	switch r := s.chosen(); {
	case s.at == inField:
		keys = append(keys, k.want)
	case r.pattern != 0:
		keys = append(keys, k.find)
	default:
		keys = append(keys, k.change, k.order, k.arrived, k.drop)
	}
	if s.at+1 < len(s.rows) {
		keys = append(keys, k.down)
	}
	if s.at > inField {
		keys = append(keys, k.up)
	}
	if s.query.Value() != "" {
		keys = append(keys, k.clear)
	}
	return append(keys, k.passing)
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	switch s.stage {
	case filling:
		return [][]key.Binding{append([]key.Binding{long(k.save, "enter", "save the wish"), long(k.leave, "esc", "leave; what is typed stays")}, form.Help()...)}
	case passing:
		return [][]key.Binding{{k.moves, long(k.find, "enter", "show the pattern in Find"),
			long(k.gone, "g", "the copy was passed on: it comes off the list; not one that is to be kept"), long(k.out, "esc or tab", "back to buying")}}
	}
	return [][]key.Binding{{
		long(k.want, "enter", "in the field: put what is typed on the list of what is wanted; in the list: open it"),
		long(k.down, "down, up", "into the list and back"), long(k.order, "ctrl+o", "a wish is ordered: when it is expected, and from whom"),
		long(k.arrived, "ctrl+a", "it has come: it is entered, and waits on the to-file pile"),
		long(k.amend, "ctrl+e", "open what has come in Intake: sizes, year and the rest"),
		long(k.drop, "ctrl+d", "take a wish off the list"), long(k.clear, "ctrl+u", "another question"),
		long(k.passing, "tab", "copies to pass on: of several the better one is kept, and why"),
	}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	switch s.stage {
	case filling:
		return s.onFormKey(msg)
	case passing:
		s.onSpareKey(msg)
		return nil
	}
	return s.onFieldKey(msg)
}

func (s *Screen) onFormKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.save):
		s.form.Settle()
		s.save()
	case key.Matches(msg, s.keys.leave):
		s.stage = asking
		return s.forms.Keep(s.keeper)
	default:
		return s.form.Update(msg)
	}
	return nil
}

func (s *Screen) onSpareKey(msg tea.KeyMsg) {
	k, page := s.keys, max(1, s.h/2)
	switch {
	case key.Matches(msg, k.out):
		s.stage = asking
	case key.Matches(msg, k.find):
		if l, ok := s.spareCopy(); ok {
			s.showInFind(l.pattern.ID)
		}
	case key.Matches(msg, k.gone):
		s.gone()
	case key.Matches(msg, k.up):
		s.spareAt--
	case key.Matches(msg, k.down):
		s.spareAt++
	case key.Matches(msg, k.back):
		s.spareAt -= page
	case key.Matches(msg, k.page):
		s.spareAt += page
	case key.Matches(msg, k.first):
		s.spareAt = 0
	case key.Matches(msg, k.last):
		s.spareAt = s.spares()
	}
}

func (s *Screen) onFieldKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	if !key.Matches(msg, k.arrived) {
		s.again = 0
	}
	switch {
	case key.Matches(msg, k.want):
		s.act()
		return nil
	case key.Matches(msg, k.up):
		s.at = max(inField, s.at-1)
		return nil
	case key.Matches(msg, k.down):
		s.at = min(s.at+1, len(s.rows)-1)
		return nil
	case key.Matches(msg, k.passing):
		s.stage, s.spareAt = passing, 0
		return nil
	case key.Matches(msg, k.order):
		s.order()
		return nil
	case key.Matches(msg, k.arrived):
		s.arrived()
		return nil
	case key.Matches(msg, k.amend) && s.hasCome():
		s.Tell(frame.Go{Room: intakeRoom, Arg: s.came})
		return nil
	case key.Matches(msg, k.drop) && s.at != inField:
		s.drop()
		return nil
	case msg.Type == tea.KeyEsc:
		return nil
	}
	before := s.query.Value()
	if s.old && (msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace) {
		s.query.SetValue("")
	}
	s.old = false
	var cmd tea.Cmd
	s.query, cmd = s.query.Update(msg)
	if s.query.Value() != before {
		s.look()
	}
	return cmd
}
