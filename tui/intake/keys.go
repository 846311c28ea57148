package intake

import "github.com/charmbracelet/bubbles/key"

// keys of the room. Fields take text, so all that is not text has ctrl; the
// letters say what is meant: own pattern, yes, crossed out, earlier, tick,
// about.
type keys struct {
	next, prev, enter, home, pickDown, pickUp  key.Binding
	apart, take, aside, earlier, later         key.Binding
	throw, digits, steps, howMany              key.Binding
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
		enter:    bind("enter", "to the number, to the name; from there on the entry is done", "enter"),
		next:     bind("tab", "field below", "tab"),
		prev:     bind("shift+tab", "field above", "shift+tab"),
		home:     bind("esc", "to the number; from there back to the room before", "esc"),
		pickDown: bind("down", "next choice, or field below", "down"),
		pickUp:   bind("up", "choice or field above", "up"),
		apart:    bind("ctrl+o", "further copy / own pattern", "ctrl+o"),
		take:     bind("ctrl+y", "take the category proposed / back", "ctrl+y"),
		aside:    bind("ctrl+x", "put the entry aside / bring back what lies aside", "ctrl+x"),
		throw:    bind("ctrl+d", "throw the entry away / bring it back", "ctrl+d"),
		digits:   bind("ctrl+g", "those digits are a number / a barcode", "ctrl+g"),
		earlier:  bind("ctrl+e", "edit an earlier entry", "ctrl+e", "pgup"),
		later:    bind("pgdown", "the one after it", "pgdown"),
		steps:    bind("ctrl+t", "tick steps", "ctrl+t"),
		howMany:  bind("ctrl+a", "about how many lie in the drawer", "ctrl+a"),

		save:   bind("enter", "save", "enter"),
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
		return s.editHelp()
	}
	keys := []key.Binding{s.enterHelp(k.enter, "done"), relabel(k.next, "field below")}
	if s.begun() {
		keys = append(keys, relabel(k.aside, "put aside"), relabel(k.throw, "throw away"))
	} else {
		if s.desk.Collection().Copies().Len() > 0 {
			keys = append(keys, k.steps)
		}
		if len(s.aside) > 0 {
			keys = append(keys, relabel(k.aside, "bring back"))
		}
		if len(s.thrown) > 0 {
			keys = append(keys, relabel(k.throw, "bring back what was thrown away"))
		}
	}
	if len(s.earlier()) > 0 {
		keys = append(keys, relabel(k.earlier, "edit earlier"))
	}
	if s.focus != fNumber {
		keys = append(keys, relabel(k.home, "to the number"))
	}
	if s.fields[fBatch].text() != "" {
		keys = append(keys, relabel(k.howMany, "how many"))
	}
	return append(s.urgentHelp(), keys...)
}

// urgentHelp are the keys about what is just being asked.
func (s *Screen) urgentHelp() []key.Binding {
	k, keys := s.keys, []key.Binding(nil)
	if s.twin() != nil {
		what := "own pattern"
		if s.apart {
			what = "further copy"
		}
		keys = append(keys, relabel(k.apart, what))
	}
	if s.proposed != "" || s.before != nil {
		keys = append(keys, relabel(k.take, "category"))
	}
	if s.hasDigits() && s.codeForNumber() == "" {
		what := "a number"
		if s.plain != "" {
			what = "a barcode"
		}
		keys = append(keys, relabel(k.digits, what))
	}
	if len(s.fields[s.focus].suggestions()) > 1 {
		keys = append(keys, bind("up/down", "another choice", "up", "down"))
	}
	return keys
}

// editHelp are the keys while an earlier entry is changed.
func (s *Screen) editHelp() []key.Binding {
	k, e := s.keys, s.edit
	keys := []key.Binding{s.enterHelp(k.save, "save"), k.leave}
	if e.at+1 < len(e.list) {
		keys = append(keys, relabel(k.earlier, "one earlier"))
	}
	if e.at > 0 {
		keys = append(keys, relabel(k.later, "one later"))
	}
	switch {
	case s.texts() != e.was:
		keys = append(keys, relabel(k.aside, "as it was"))
	case e.put != nil:
		keys = append(keys, relabel(k.aside, "as typed"))
	}
	if s.codeForNumber() != "" {
		keys = append(keys, relabel(k.digits, "that is its number"))
	}
	return append(s.urgentHelp(), keys...)
}

// enterHelp says what Enter does in the field with the focus.
func (s *Screen) enterHelp(b key.Binding, last string) key.Binding {
	switch _, code := s.scan(); {
	case code != "":
		return relabel(b, "take the barcode")
	case s.focus == fPublisher:
		return relabel(b, "to the number")
	case s.focus == fNumber:
		return relabel(b, "to the name")
	case s.focus > fName && s.edit == nil && !s.begun():
		return relabel(b, "to the number")
	}
	return relabel(b, last)
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
		{k.apart, k.take, k.aside, k.throw, k.digits, k.earlier, k.later}, {k.steps, k.howMany}}
}
