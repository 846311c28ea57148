package shelf

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/frame"
)

type keys struct {
	up, down, left, right, page, back, first, last key.Binding
	moves, open, read, find, out                   key.Binding
	enter, unread, record, leave, confirm, cancel  key.Binding
	other                                          key.Binding
	edit, change, add, drop, earlier, later        key.Binding
	order, save, saveIt, discard, next, before, ok key.Binding
	nextKind, kindBefore, complete, cycle, readAt  key.Binding
	strays, throw, restore                         key.Binding
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		left: bind("left", "to the left", "left"), right: bind("right", "to the right", "right"),
		page: bind("pgdn", "a page down", "pgdown"), back: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		moves:      bind("arrows", "move", "up", "down", "left", "right"),
		open:       bind("enter", "open", "enter"),
		read:       bind("r", "read the box", "r"),
		find:       bind("enter", "show in Find", "enter", "f"),
		out:        bind("esc", "cupboard", "esc"),
		enter:      bind("enter", "read", "enter"),
		unread:     bind("backspace", "take back", "backspace"),
		record:     bind("ctrl+s", "record as found", "ctrl+s"),
		readAt:     bind("up/down", "to another", "up", "down"),
		leave:      bind("esc", "leave", "esc"),
		confirm:    bind("enter", "record it", "enter"),
		cancel:     bind("esc", "read on", "esc"),
		other:      bind("up/down", "the other way", "up", "down"),
		edit:       bind("e", "change the shelf", "e"),
		change:     bind("enter", "change", "enter"),
		add:        bind("n", "new", "n"),
		drop:       bind("d", "take away", "d"),
		earlier:    bind("<", "earlier", "<"),
		later:      bind(">", "later", ">"),
		order:      bind("< >", "order", "<", ">"),
		save:       bind("ctrl+s", "save", "ctrl+s"),
		saveIt:     bind("enter", "save it", "enter"),
		discard:    bind("x", "throw away", "x"),
		next:       bind("tab", "next field", "tab", "down"),
		before:     bind("shift+tab", "field before", "shift+tab", "up"),
		ok:         bind("enter", "take over", "enter"),
		nextKind:   bind("tab", "next kind", "tab"),
		kindBefore: bind("shift+tab", "kind before", "shift+tab"),
		complete:   bind("right", "take the name", "right"),
		cycle:      bind("space", "another", " "),
		strays:     bind("v", "what was read", "v"),
		throw:      bind("x", "throw away", "x"),
		restore:    bind("x", "bring back", "x"),
	}
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/2, n) }

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case inside:
		keys := []key.Binding{k.read, k.out}
		if len(s.row()) > 0 {
			keys = append([]key.Binding{k.find}, keys...)
		}
		return append(keys, k.edit, k.moves)
	case readingIt:
		return s.readKeys()
	case recording:
		if s.walk().stopped() {
			return []key.Binding{k.confirm, k.other, k.cancel}
		}
		return []key.Binding{k.confirm, k.cancel}
	case editing:
		return s.editKeys()
	case filling:
		return s.formKeys()
	case weighing:
		return s.weighKeys()
	case straying:
		return []key.Binding{k.out, k.throw}
	}
	var keys []key.Binding
	if s.thrown != nil {
		keys = append(keys, k.restore)
	}
	if len(s.strays) > 0 {
		keys = append(keys, k.strays)
	}
	if s.box == 0 {
		return append(keys, k.edit)
	}
	return append(keys, k.open, k.read, k.edit, k.moves)
}

func (s *Screen) readKeys() []key.Binding {
	k, w := s.keys, s.walk()
	keys := []key.Binding{k.enter}
	if len(w.texts) > 0 {
		if s.field.Value() == "" && w.at > 0 {
			keys = append(keys, k.unread)
		}
		keys = append(keys, k.record)
	}
	if keys = append(keys, k.leave); len(w.texts) > 0 {
		keys = append(keys, k.readAt)
	}
	return keys
}

func (s *Screen) editKeys() []key.Binding {
	k, d := s.keys, s.draft
	now := d.now.pieces()[d.at]
	var keys []key.Binding
	if d.changed {
		keys = append(keys, k.save)
	}
	keys = append(keys, k.change)
	if now.kind != theSettings && now.kind != aCategory {
		keys = append(keys, k.add)
	}
	if d.droppable(now) {
		keys = append(keys, k.drop)
	}
	if d.now.count(now.kind) > 1 && !now.kind.given() {
		keys = append(keys, k.order)
	}
	if keys = append(keys, k.out); d.changed {
		keys = append(keys, k.discard)
	}
	return append(keys, k.nextKind)
}

func (s *Screen) formKeys() []key.Binding {
	k, f := s.keys, s.draft.form
	keys := []key.Binding{k.ok}
	if len(f.inputs) > 1 {
		keys = append(keys, k.next)
	}
	if f.choices() != nil {
		keys = append(keys, k.cycle)
	}
	if s.rest() != "" {
		keys = append(keys, k.complete)
	}
	return append(keys, k.save, k.leave)
}

func (s *Screen) weighKeys() []key.Binding {
	k, d := s.keys, s.draft
	var keys []key.Binding
	if !s.outrun() && d.fresh(s.desk.Collection().Rev()) && s.saves == 0 {
		keys = append(keys, k.saveIt)
	}
	keys = append(keys, k.leave, k.discard)
	if s.most > 0 {
		keys = append(keys, k.readAt)
	}
	return keys
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	switch s.stage {
	case readingIt, recording:
		return [][]key.Binding{{
			long(k.enter, "enter", "take what is typed or scanned: a number, #accession, a name, or - for a gap"),
			long(k.unread, "backspace", "with nothing typed: take back the reading that the arrow is at"),
			long(k.readAt, "up, down, pgup, pgdn", "to an earlier reading and back: what is typed goes in behind it"),
			long(k.record, "ctrl+s", "record the box as it was found; what that comes to is shown first"),
			long(k.leave, "esc", "leave; what was read stays until it is recorded"),
		}}
	case editing, filling, weighing:
		return [][]key.Binding{{
			long(k.change, "enter", "open the form; in the form: take it over"), long(k.add, "n", "a new one of the same kind behind this"),
			long(k.drop, "d", "take it away; a publisher files as any does again"), long(k.order, "< >", "change its place in the order"),
			long(k.moves, "up, down, pgup, pgdn, home, end", "to another one"),
			long(k.nextKind, "tab, shift+tab", "to the next kind and back; in the form: from field to field"),
			long(k.cycle, "space or a letter", "in the form: choose, where there is a choice"),
			long(k.complete, "right", "in the form: take over the name that is proposed"),
			long(k.save, "ctrl+s", "show what it comes to; enter then saves it"), long(k.discard, "x", "throw all changes away"),
			long(k.leave, "esc", "leave; what was changed stays until it is saved"),
		}}
	case inside:
		return [][]key.Binding{{
			long(k.up, "up, down, pgup, pgdn", "along the row"), long(k.first, "home, end", "to the front, to the back"),
			long(k.left, "left, right", "to the box before or after"),
			long(k.find, "enter or f", "show the envelope in Find"), long(k.read, "r", "compare the box with what stands in it"), k.edit, k.out,
		}}
	case straying:
		return [][]key.Binding{{
			long(k.moves, "up, down, pgup, pgdn", "to what is not seen"),
			long(k.throw, "x", "throw the readings away"), long(k.out, "esc", "back; they stay"),
		}}
	}
	return [][]key.Binding{{
		long(k.moves, "arrows", "from box to box, as they stand"), long(k.first, "home, end", "to the first box, to the last"),
		long(k.page, "pgup, pgdn", "several boxes up or down"),
		long(k.open, "enter", "look into the box"), long(k.read, "r", "compare the box with what stands in it"),
		long(k.edit, "e", "change boxes, sections, publishers, binders, hooks and settings"),
		long(k.strays, "v", "what was read in boxes that are no longer there"),
		long(k.restore, "x", "bring back the changes of the shelf that were thrown away"),
	}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	switch s.stage {
	case inside:
		s.onInsideKey(msg)
	case readingIt:
		return s.onReadKey(msg)
	case recording:
		switch {
		case s.records != 0: // being written
		case key.Matches(msg, s.keys.confirm):
			s.record()
		case key.Matches(msg, s.keys.cancel):
			s.stage = readingIt
		case key.Matches(msg, s.keys.other) && s.walk().stopped():
			s.toEnd = msg.Type == tea.KeyDown
		}
	case editing:
		s.onEditKey(msg)
	case filling:
		return s.onFormKey(msg)
	case weighing:
		s.onWeighKey(msg)
	case straying:
		s.onStrayKey(msg)
	default:
		s.onCupboardKey(msg)
	}
	return nil
}

func (s *Screen) onStrayKey(msg tea.KeyMsg) {
	switch {
	case key.Matches(msg, s.keys.out):
		s.stage = cupboard
	case key.Matches(msg, s.keys.throw):
		s.strays, s.stage, s.unkept = nil, cupboard, true
	default:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	}
}

func (s *Screen) onCupboardKey(msg tea.KeyMsg) {
	k, g := s.keys, s.grid
	switch {
	case key.Matches(msg, k.edit):
		s.edit(s.boxName())
		return
	case key.Matches(msg, k.restore) && s.thrown != nil:
		s.restore()
		return
	case key.Matches(msg, k.strays) && len(s.strays) > 0:
		s.stage, s.top = straying, 0
		return
	case g == nil || s.box == 0:
		return
	}
	switch {
	case key.Matches(msg, k.up):
		s.box = g.step(s.box, 0, -1)
	case key.Matches(msg, k.down):
		s.box = g.step(s.box, 0, +1)
	case key.Matches(msg, k.left):
		s.box = g.step(s.box, -1, 0)
	case key.Matches(msg, k.right):
		s.box = g.step(s.box, +1, 0)
	case key.Matches(msg, k.page), key.Matches(msg, k.back):
		step := +1
		if key.Matches(msg, k.back) {
			step = -1
		}
		for range max(1, s.h/cellHeight-2) {
			s.box = g.step(s.box, 0, step)
		}
	case key.Matches(msg, k.first):
		s.box = g.first()
	case key.Matches(msg, k.last):
		s.box = g.last()
	case key.Matches(msg, k.open):
		s.stage, s.at = inside, 0
	case key.Matches(msg, k.read):
		s.at = 0
		s.startReading()
	}
}

func (s *Screen) onInsideKey(msg tea.KeyMsg) {
	k := s.keys
	switch {
	case key.Matches(msg, k.left):
		s.neighbour(-1)
	case key.Matches(msg, k.right):
		s.neighbour(+1)
	case key.Matches(msg, k.find):
		s.showInFind()
	case key.Matches(msg, k.read):
		s.startReading()
	case key.Matches(msg, k.edit):
		s.edit(s.boxName())
	case key.Matches(msg, k.out):
		s.stage = cupboard
	default:
		s.at += s.step(msg, len(s.row()))
	}
}
