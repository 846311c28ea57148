package binders

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

type keys struct {
	left, right, tab, tabBefore         key.Binding
	find, whole, choose, queue, unqueue key.Binding
	made, copied, uncopied              key.Binding
	seeAlso, out, close                 key.Binding
	take, leave, empty                  key.Binding
	leafs, binders, tabs, scrolls       key.Binding // for the help
}

func newKeys() keys {
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	return keys{
		left: bind("left", "binder before", "left"), right: bind("right", "next binder", "right"),
		tab: bind("tab", "next tab", "tab"), tabBefore: bind("shift+tab", "tab before", "shift+tab"),
		find:     bind("enter", "show in Find", "enter", "f"),
		whole:    bind("space", "whole sleeve", " "),
		choose:   bind("c", "choose", "c"),
		queue:    bind("q", "to sew", "q"),
		unqueue:  bind("q", "not to sew", "q"),
		made:     bind("m", "made", "m"),
		seeAlso:  bind("s", "see also", "s"),
		copied:   bind("p", "photocopy is here", "p"),
		uncopied: bind("p", "photocopy taken out", "p"),
		out:      bind("esc", "all binders", "esc"),
		close:    bind("esc", "back to the pocket", "esc", " "),
		take:     bind("enter", "choose", "enter"),
		leave:    bind("esc", "leave", "esc"),
		empty:    bind("ctrl+x", "empty it", "ctrl+x"),
		leafs:    bind("up, down, pgup, pgdn, home, end", "from pocket to pocket", "up", "down", "pgup", "pgdown", "home", "end"),
		binders:  bind("left, right", "to the binder before or after", "left", "right"),
		tabs:     bind("tab, shift+tab", "to the next tab and back", "tab", "shift+tab"),
		scrolls:  bind("up, down, pgup, pgdn", "what is further down", "up", "down", "pgup", "pgdown"),
	}
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/2, n) }

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	if s.stage == asking {
		keys := append([]key.Binding{k.take, k.leave}, s.form.Keys()...)
		if s.form.Touched() {
			keys = append(keys, k.empty)
		}
		return keys
	}
	var keys []key.Binding
	l, ok := s.leaf()
	if ok {
		keys = append(keys, k.find)
		if s.stage == leafing {
			keys = append(keys, k.whole)
		}
	}
	switch {
	case s.stage == whole:
		keys = append(keys, k.close)
	case s.asked != nil:
		keys = append(keys, k.out, k.choose)
	default:
		if s.at+1 < len(s.binders) {
			keys = append(keys, k.right)
		}
		if s.at > 0 {
			keys = append(keys, k.left)
		}
		keys = append(keys, k.choose)
	}
	if !ok {
		return keys
	}
	if s.queued(l.pattern) {
		keys = append(keys, k.unqueue)
	} else {
		keys = append(keys, k.queue)
	}
	keys = append(keys, k.made)
	if _, leads := s.refersTo(l); leads {
		keys = append(keys, k.seeAlso)
	}
	if l.home != nil && l.copied {
		keys = append(keys, k.uncopied)
	} else if l.home != nil {
		keys = append(keys, k.copied)
	}
	if s.stage == leafing && s.open().nextTab(+1) != s.open().at {
		keys = append(keys, k.tab)
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
	find := long(k.find, "enter or f", "show in Find where its envelope is")
	queue := long(k.queue, "q", "put it at the end of what is to be sewn, or take it out there")
	made := long(k.made, "m", "note in Sewing that it was made")
	also := long(k.seeAlso, "s", "go to the sleeve that it refers to")
	copied := long(k.copied, "p", "of a see-also entry: a photocopy of the sleeve is in a pocket here, or was taken out")
	switch {
	case s.stage == asking:
		return [][]key.Binding{append([]key.Binding{
			long(k.take, "enter", "choose by what is filled in; an empty field does not matter"),
			long(k.leave, "esc", "leave; what is filled in stays"), long(k.empty, "ctrl+x", "empty all fields"),
		}, form.Help()...)}
	case s.stage == whole:
		return [][]key.Binding{{k.scrolls, long(k.left, "left, right", "to the sleeve before or after"), find, queue, made, also, copied,
			long(k.close, "esc or space", "back to the pocket")}}
	case s.asked != nil:
		return [][]key.Binding{{long(k.leafs, k.leafs.Help().Key, "from sleeve to sleeve"), find, long(k.whole, "space", "all that is known of it"), queue, made, also, copied,
			long(k.choose, "c", "choose otherwise"), long(k.out, "esc", "back to all binders")}}
	}
	return [][]key.Binding{{k.leafs, k.binders, k.tabs, find, long(k.whole, "space", "all that is known of the sleeve: whom it fits, which cloth is enough, what was made of it"),
		queue, made, also, copied, long(k.choose, "c", "choose: by garment, whom it fits, cloth, cut, years")}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	if s.stage == asking {
		switch {
		case key.Matches(msg, k.take):
			s.choose()
		case key.Matches(msg, k.leave):
			s.stage = leafing
		case key.Matches(msg, k.empty):
			s.forms.Done(formName)
			s.ask()
		default:
			return s.form.Update(msg)
		}
		return s.forms.Keep(s.keeper)
	}
	switch {
	case key.Matches(msg, k.find):
		s.showInFind()
	case key.Matches(msg, k.queue):
		s.queue()
	case key.Matches(msg, k.seeAlso):
		s.seeAlso()
	case key.Matches(msg, k.copied):
		s.photocopy()
	case key.Matches(msg, k.made):
		if l, ok := s.leaf(); ok && s.desk.Collection().Pattern(l.pattern) != nil {
			s.Tell(frame.Go{Room: sewingRoom, Arg: l.pattern})
		}
	case s.stage == whole:
		s.onWholeKey(msg)
	default:
		s.onLeafKey(msg)
	}
	return nil
}

func (s *Screen) onWholeKey(msg tea.KeyMsg) {
	k, st := s.keys, s.open()
	turn := func(step int) { st.at, s.top = max(0, min(st.at+step, len(st.leaves)-1)), 0 }
	switch {
	case key.Matches(msg, k.close):
		s.stage = leafing
	case key.Matches(msg, k.left):
		turn(-1)
	case key.Matches(msg, k.right):
		turn(+1)
	default:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	}
}

func (s *Screen) onLeafKey(msg tea.KeyMsg) {
	k, st := s.keys, s.open()
	_, ok := s.leaf()
	switch {
	case key.Matches(msg, k.choose):
		s.ask()
	case key.Matches(msg, k.out):
		s.asked, s.chosen = nil, nil
	case key.Matches(msg, k.left) && s.asked == nil:
		s.at--
	case key.Matches(msg, k.right) && s.asked == nil:
		s.at++
	case !ok:
	case key.Matches(msg, k.whole):
		s.stage, s.top = whole, 0
	case key.Matches(msg, k.tab):
		st.at = st.nextTab(+1)
	case key.Matches(msg, k.tabBefore):
		st.at = st.nextTab(-1)
	default:
		st.at = max(0, min(st.at+s.step(msg, len(st.leaves)), len(st.leaves)-1))
	}
}
