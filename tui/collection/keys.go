package collection

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	up, down, pageDown, pageUp, first, last key.Binding
	edit, add, look, close, find, takeIn    key.Binding
	rename, drop                            key.Binding
	nextPage, pageBefore                    key.Binding
	save, leave                             key.Binding
	moves, turns                            key.Binding // for the help
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		pageDown: bind("pgdn", "a page down", "pgdown"), pageUp: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		edit:       bind("enter", "change", "enter"),
		add:        bind("n", "new", "n"),
		look:       bind("space", "what to look at", " "),
		close:      bind("esc", "back to the list", "esc", " "),
		find:       bind("f", "show in Find", "f"),
		rename:     bind("r", "rename", "r"),
		drop:       bind("d", "drop", "d"),
		takeIn:     bind("i", "take in a spreadsheet", "i"),
		nextPage:   bind("tab", "next page", "tab"),
		pageBefore: bind("shift+tab", "page before", "shift+tab"),
		save:       bind("enter", "save", "enter"),
		leave:      bind("esc", "leave", "esc"),
		moves:      bind("up, down, pgup, pgdn, home, end", "to another", "up", "down", "pgup", "pgdown", "home", "end"),
		turns:      bind("tab, shift+tab", "supplies, worth, batches, barcodes, packing, hooks, another room", "tab", "shift+tab"),
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k, x := s.keys, s.chosen()
	switch {
	case s.takes:
		return s.taking.ShortHelp()
	case s.sheet != nil:
		return append([]key.Binding{k.save, k.leave}, s.form.Keys()...)
	}
	var keys []key.Binding
	if s.looking {
		return append(keys, k.close, k.find)
	}
	if x.sheet != nil {
		keys = append(keys, k.edit)
	}
	if x.unknown != nil {
		keys = append(keys, k.look)
	}
	if x.find != "" {
		keys = append(keys, k.find)
	}
	if x.batch != "" {
		keys = append(keys, k.rename, k.drop)
	}
	if s.page == value || s.page == batches {
		keys = append(keys, k.add)
	}
	return append(keys, k.nextPage, k.takeIn)
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	find := long(k.find, "f", "show the pattern in Find")
	take := long(k.takeIn, "i", "take in a spreadsheet (CSV), or an export of a whole cupboard (JSON Lines)")
	switch {
	case s.takes:
		return s.taking.FullHelp()
	case s.sheet != nil:
		return [][]key.Binding{append([]key.Binding{long(k.save, "enter", "save what is filled in"), long(k.leave, "esc", "leave; what is typed stays")}, form.Help()...)}
	case s.looking:
		return [][]key.Binding{{long(k.moves, "up, down, pgup, pgdn", "what is further down"), find, long(k.close, "esc or space", "back to the list")}}
	case s.page == stock:
		return [][]key.Binding{{k.moves, long(k.edit, "enter", "say how many of it lie ready"), take, k.turns}}
	case s.page == value:
		return [][]key.Binding{{k.moves, long(k.edit, "enter", "say what each copy of the group is worth"), long(k.add, "n", "value another group: a tag, a category, a publisher"), take, k.turns}}
	case s.page == batches:
		return [][]key.Binding{{k.moves, long(k.edit, "enter", "say where a batch came from; of a pattern that nobody knows, what was found out: it is filed then"),
			long(k.rename, "r", "give a batch another name"), long(k.drop, "d", "drop a batch: its copies stay listed, and belong to none"), long(k.add, "n", "note a batch before it is unpacked"),
			long(k.look, "space", "of a pattern that nobody knows: what to look at, and what that tells"), find, take, k.turns}}
	case s.page == hanging:
		return [][]key.Binding{{k.moves, long(k.find, "f", "show in Find where it is, or where its dummy stands"), take, k.turns}}
	case s.page == codes, s.page == carrying:
		return [][]key.Binding{{k.moves, take, k.turns}}
	}
	return [][]key.Binding{{k.moves, long(k.edit, "enter", "ask for other years, another growth, other boxes, the furniture of a shelf file"), take, k.turns}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	switch {
	case s.takes:
		return s.onTakingKey(msg)
	case s.sheet != nil && key.Matches(msg, k.save):
		return s.save()
	case s.sheet != nil && key.Matches(msg, k.leave):
		s.sheet = nil
		return s.forms.Keep(s.keeper)
	case s.sheet != nil:
		return s.form.Update(msg)
	case key.Matches(msg, k.find):
		if x := s.chosen(); x.find != "" {
			s.Tell(frame.Go{Room: findRoom, Arg: x.find})
		}
	case s.looking && key.Matches(msg, k.close):
		s.looking = false
	case s.looking:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	default:
		s.onListKey(msg)
	}
	return nil
}

func (s *Screen) onListKey(msg tea.KeyMsg) {
	k, x := s.keys, s.chosen()
	switch {
	case key.Matches(msg, k.nextPage):
		s.page = (s.page + 1) % pages
	case key.Matches(msg, k.pageBefore):
		s.page = (s.page + pages - 1) % pages
	case key.Matches(msg, k.takeIn):
		s.takeIn()
	case key.Matches(msg, k.look) && x.unknown != nil:
		s.looking = true
	case key.Matches(msg, k.rename) && x.batch != "":
		s.fill(renameSheet(x.batch))
	case key.Matches(msg, k.drop) && x.batch != "":
		s.fill(s.dropSheet(x.batch))
	case key.Matches(msg, k.edit) && x.sheet != nil:
		s.fill(x.sheet(s))
	case key.Matches(msg, k.add) && s.page == value:
		s.fill(s.groupSheet())
	case key.Matches(msg, k.add) && s.page == batches:
		s.fill(s.batchSheet(""))
	default:
		s.at[s.page] += s.step(msg, len(s.shown()))
	}
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int {
	k, page := s.keys, max(1, s.h/2)
	switch {
	case key.Matches(msg, k.up):
		return -1
	case key.Matches(msg, k.down):
		return +1
	case key.Matches(msg, k.pageUp):
		return -page
	case key.Matches(msg, k.pageDown):
		return +page
	case key.Matches(msg, k.first):
		return -n
	case key.Matches(msg, k.last):
		return +n
	}
	return 0
}
