package sewing

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	find, whole, close                    key.Binding
	queue, unqueue, earlier, later, order key.Binding
	made, cut, edit, add, drop            key.Binding
	nextPage, pageBefore                  key.Binding
	save, leave                           key.Binding
	moves, turns                          key.Binding // for the help
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		find:       bind("f", "show in Find", "f"),
		whole:      bind("space", "whole sleeve", " "),
		close:      bind("esc", "back to the list", "esc", " "),
		queue:      bind("q", "to sew", "q"),
		unqueue:    bind("q", "not to sew", "q"),
		earlier:    bind("<", "earlier", "<"),
		later:      bind(">", "later", ">"),
		order:      bind("< >", "order", "<", ">"),
		made:       bind("m", "made", "m"),
		cut:        bind("c", "it is cut now", "c"),
		edit:       bind("enter", "change", "enter"),
		add:        bind("n", "new", "n"),
		drop:       bind("d", "take away", "d"),
		nextPage:   bind("tab", "next page", "tab"),
		pageBefore: bind("shift+tab", "page before", "shift+tab"),
		save:       bind("enter", "save", "enter"),
		leave:      bind("esc", "leave", "esc"),
		moves:      bind("up, down, pgup, pgdn, home, end", "to another", "up", "down", "pgup", "pgdown", "home", "end"),
		turns:      bind("tab, shift+tab", "to sew, made, shares and goals, people and cloth", "tab", "shift+tab"),
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	if s.sheet != nil {
		return append([]key.Binding{k.save, k.leave}, s.form.Keys()...)
	}
	x, ok := s.thing()
	_, listed := s.pattern()
	var keys []key.Binding
	if s.cut != 0 {
		keys = append(keys, k.cut)
	}
	if s.whole {
		keys = append(keys, k.close)
	}
	if ok && !s.whole {
		switch {
		case x.kind == queued, x.kind == aMake, x.id != 0:
			keys = append(keys, k.edit)
		}
		if listed {
			keys = append(keys, k.whole)
		}
	}
	switch {
	case x.kind == queued && ok && s.page == next:
		keys = append(keys, k.unqueue)
		if listed {
			keys = append(keys, k.made)
		}
		if len(s.desk.Collection().Queue()) > 1 && !s.whole {
			keys = append(keys, k.order)
		}
	case x.kind == pick && ok:
		keys = append(keys, k.queue, k.made)
	}
	if listed {
		keys = append(keys, k.find)
	}
	if s.page >= shares {
		keys = append(keys, k.add)
	}
	if ok && x.id != 0 && !s.whole {
		keys = append(keys, k.drop)
	}
	if !s.whole {
		keys = append(keys, k.nextPage)
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
	find := long(k.find, "f", "show in Find where its envelope is")
	noteMade := long(k.made, "m", "note that it was made: for whom, view, size, cloth, what to do better")
	isCut := long(k.cut, "c", "when it was just noted as made: its copy is cut now, and so takes the room of a cut one")
	queue := long(k.queue, "q", "put it at the end of what is to be sewn, or take it out")
	switch {
	case s.sheet != nil:
		return [][]key.Binding{append([]key.Binding{long(k.save, "enter", "save what is filled in"), long(k.leave, "esc", "leave; what is typed stays")}, form.Help()...)}
	case s.whole:
		return [][]key.Binding{{long(k.moves, "up, down, pgup, pgdn", "what is further down"), find, long(k.close, "esc or space", "back to the list")}}
	case s.page == next:
		return [][]key.Binding{{k.moves, queue, long(k.order, "< >", "to be sewn earlier or later"),
			long(k.edit, "enter", "of what is to be sewn: for whom, by when, of which cloth"), noteMade, isCut,
			long(k.whole, "space", "all that is known of the sleeve: whom it fits, which cloth is enough, what was made of it"), find, k.turns}}
	case s.page == made:
		return [][]key.Binding{{k.moves, long(k.edit, "enter", "change what is noted"), long(k.drop, "d", "take the note away: it was a mistake"),
			long(k.whole, "space", "all that is known of the sleeve"), find, k.turns}}
	case s.page == shares:
		return [][]key.Binding{{k.moves, long(k.add, "n", "a new goal: at least one of each of these"), long(k.edit, "enter", "change the goal"),
			long(k.drop, "d", "give the goal up"), k.turns}}
	}
	return [][]key.Binding{{k.moves, long(k.add, "n", "somebody new, or new cloth"), long(k.edit, "enter", "change measures, or what there is of a cloth"),
		long(k.drop, "d", "take away: cloth that is used up"), k.turns}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	if s.sheet != nil {
		switch {
		case key.Matches(msg, k.save):
			s.save()
		case key.Matches(msg, k.leave):
			s.sheet = nil
			return s.forms.Keep(s.keeper)
		default:
			return s.form.Update(msg)
		}
		return nil
	}
	switch {
	case key.Matches(msg, k.find):
		s.showInFind()
	case s.cut != 0 && key.Matches(msg, k.cut):
		s.sayCut()
	case s.whole && key.Matches(msg, k.close):
		s.whole = false
	case s.page == next && key.Matches(msg, k.queue):
		s.queue()
	case s.page == next && key.Matches(msg, k.made):
		if id, ok := s.pattern(); ok {
			s.fill(s.makeSheet(model.Make{Pattern: id}))
		}
	case s.whole:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	default:
		s.onListKey(msg)
	}
	return nil
}

func (s *Screen) onListKey(msg tea.KeyMsg) {
	k := s.keys
	_, listed := s.pattern()
	switch {
	case key.Matches(msg, k.nextPage):
		s.page = (s.page + 1) % pages
	case key.Matches(msg, k.pageBefore):
		s.page = (s.page + pages - 1) % pages
	case key.Matches(msg, k.whole) && listed:
		s.whole, s.top = true, 0
	case key.Matches(msg, k.edit):
		s.edit()
	case key.Matches(msg, k.add):
		s.add()
	case key.Matches(msg, k.drop):
		s.drop()
	case key.Matches(msg, k.earlier):
		s.move(-1)
	case key.Matches(msg, k.later):
		s.move(+1)
	default:
		s.at[s.page] += s.step(msg, len(s.things()))
	}
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/2, n) }

// queue puts what is chosen at the end of the queue, or takes it out.
func (s *Screen) queue() {
	switch x, ok := s.thing(); {
	case !ok:
	case x.kind == queued:
		s.write(&model.Dequeue{Pattern: x.pattern})
	default:
		s.write(&model.Enqueue{Item: model.Queued{Pattern: x.pattern}})
		s.Tell(frame.Say{Text: "to be sewn: " + s.desk.Collection().Called(x.pattern)})
	}
}

// move puts what is chosen to be sewn earlier or later.
func (s *Screen) move(step int) {
	x, ok := s.thing()
	q := s.desk.Collection().Queue()
	if to := x.i + step; ok && s.page == next && x.kind == queued && to >= 0 && to < len(q) && s.desk.Collection().Pattern(x.pattern) != nil {
		s.write(&model.Enqueue{Item: q[x.i], At: to + 1})
	}
}

// edit opens the form of what is chosen; of what is not there, a new one.
func (s *Screen) edit() {
	c := s.desk.Collection()
	x, ok := s.thing()
	switch {
	case !ok || x.kind == aShare || x.kind == pick:
	case x.kind == queued:
		if c.Pattern(x.pattern) != nil {
			s.fill(s.queueSheet(c.Queue()[x.i]))
		}
	case x.kind == aMake:
		s.fill(s.makeSheet(*c.Makes().Get(x.id)))
	case x.i < 0:
		s.add()
	case x.kind == aGoal:
		s.fill(s.goalSheet(*c.Goals().Get(x.id)))
	case x.kind == aPerson:
		s.fill(s.personSheet(*c.People().Get(x.id)))
	case x.kind == aCloth:
		s.fill(s.clothSheet(*c.Cloths().Get(x.id)))
	}
}

// add opens the form of something new, of the kind that one is at.
func (s *Screen) add() {
	x, _ := s.thing()
	switch {
	case s.page == shares:
		s.fill(s.goalSheet(model.Goal{}))
	case s.page == closet && x.kind == aPerson:
		s.fill(s.personSheet(model.Person{}))
	case s.page == closet:
		s.fill(s.clothSheet(model.Cloth{}))
	}
}

// drop takes what is chosen off its list.
func (s *Screen) drop() {
	kinds := map[kind]model.Kind{aMake: model.KindMake, aGoal: model.KindGoal, aPerson: model.KindPerson, aCloth: model.KindCloth}
	if x, ok := s.thing(); ok && x.id != 0 {
		s.write(&model.Strike{Kind: kinds[x.kind].String(), ID: x.id})
	}
}
