package intake

import "github.com/charmbracelet/bubbles/key"

// keys of the room. Fields take text, so all that is not text has ctrl; the
// letters say what is meant: own pattern, yes, crossed out, earlier, tick,
// about.
type keys struct {
	next, prev, enter, home, pickDown, pickUp  key.Binding
	apart, take, aside, earlier, later         key.Binding
	steps, howMany                             key.Binding
	save, leave, say, cancel                   key.Binding
	mark, stretch, all, step, stepBack, drawer key.Binding
	done, photocopy, tissue, missing, back     key.Binding
	up, down, pageUp, pageDown                 key.Binding
}

func bind(help, desc string, names ...string) key.Binding {
	return key.NewBinding(key.WithKeys(names...), key.WithHelp(help, desc))
}

func newKeys() keys {
	return keys{
		enter:    bind("enter", "next / done", "enter"),
		next:     bind("tab", "field below", "tab"),
		prev:     bind("shift+tab", "field above", "shift+tab"),
		home:     bind("esc", "to the number", "esc"),
		pickDown: bind("down", "next choice, or field below", "down"),
		pickUp:   bind("up", "choice or field above", "up"),
		apart:    bind("ctrl+o", "further copy / own pattern", "ctrl+o"),
		take:     bind("ctrl+y", "take the category proposed / back", "ctrl+y"),
		aside:    bind("ctrl+x", "put the entry aside / bring it back", "ctrl+x"),
		earlier:  bind("ctrl+e", "edit an earlier entry", "ctrl+e", "pgup"),
		later:    bind("pgdown", "the one after it", "pgdown"),
		steps:    bind("ctrl+t", "tick steps", "ctrl+t"),
		howMany:  bind("ctrl+a", "about how many lie in the drawer", "ctrl+a"),

		save:   bind("enter", "next / save", "enter"),
		leave:  bind("esc", "leave it", "esc"),
		say:    bind("enter", "so many", "enter"),
		cancel: bind("esc", "not now", "esc"),

		mark:      bind("space", "mark", " "),
		stretch:   bind("r", "mark up to here", "r"),
		all:       bind("a", "mark all / none", "a"),
		step:      bind("tab", "next step", "tab", "right"),
		stepBack:  bind("shift+tab", "step before", "shift+tab", "left"),
		drawer:    bind("b", "other batch", "b"),
		done:      bind("enter", "done", "enter"),
		photocopy: bind("c", "photocopy in the binder", "c"),
		tissue:    bind("t", "stays with the tissue", "t"),
		missing:   bind("m", "missing", "m"),
		back:      bind("esc", "back", "esc", "ctrl+t"),
		up:        bind("up", "one up", "up"),
		down:      bind("down", "one down", "down"),
		pageUp:    bind("pgup", "a page up", "pgup"),
		pageDown:  bind("pgdown", "a page down", "pgdown"),
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch {
	case s.ticks.open:
		return s.tickHelp()
	case s.about != nil:
		return []key.Binding{k.say, k.cancel}
	case s.edit != nil:
		return []key.Binding{k.save, k.leave, relabel(k.earlier, "one earlier"), relabel(k.aside, "as it was / as typed")}
	}
	keys := []key.Binding{k.enter, k.steps, k.earlier, k.next}
	if s.desk.Collection().Copies().Len() == 0 {
		keys = []key.Binding{k.enter, k.next, k.prev}
	}
	if s.begun() {
		keys = []key.Binding{k.enter, k.next, relabel(k.aside, "put aside"), k.earlier}
	}
	if s.proposed != "" || s.before != nil {
		keys = append([]key.Binding{relabel(k.take, "category")}, keys...)
	}
	if s.twin() != nil {
		keys = append([]key.Binding{k.apart}, keys...)
	}
	return keys
}

func relabel(b key.Binding, desc string) key.Binding {
	b.SetHelp(b.Help().Key, desc)
	return b
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	k := s.keys
	if s.ticks.open {
		return [][]key.Binding{{k.done, k.photocopy, k.tissue, k.missing, k.back},
			{k.mark, bind("30 space", "mark 30 from here"), k.stretch, k.all}, {k.step, k.stepBack, k.drawer, k.up, k.down, k.pageUp, k.pageDown}}
	}
	return [][]key.Binding{{k.enter, k.next, k.prev, k.home, k.pickDown, k.pickUp},
		{k.apart, k.take, k.aside, k.earlier, k.later}, {k.steps, k.howMany}}
}
