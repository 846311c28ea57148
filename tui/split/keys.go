package split

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
)

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case answering:
		return []key.Binding{k.choose, k.moves, k.leave}
	case asking:
		return []key.Binding{k.take, k.leave}
	case confirming:
		if s.most > 0 {
			return []key.Binding{k.confirm, k.leave, k.moves}
		}
		return []key.Binding{k.confirm, k.leave}
	case listing:
		if s.most > 0 {
			return []key.Binding{k.moves, k.leave}
		}
		return []key.Binding{k.leave}
	case labelling:
		if s.due() == nil {
			return []key.Binding{k.leave}
		}
		return []key.Binding{k.made, k.moves, k.allMade, k.leave}
	}
	switch {
	case s.applying != nil:
		return nil
	case s.waiting():
		return []key.Binding{k.stop, k.goal}
	case !s.ready():
		return []key.Binding{k.goal, k.answers}
	}
	keys := []key.Binding{k.goal, k.answers}
	if s.shown.used > 0 {
		keys = []key.Binding{k.apply, k.goal, k.answers, k.list}
	}
	if s.due() != nil {
		keys = append(keys, k.toMake)
	}
	keys = append(keys, k.length, k.more, k.lock, k.over, k.months)
	if len(s.want.says(s.theme.Units)) > 0 {
		keys = append(keys, k.drop)
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
	return [][]key.Binding{{
		long(k.goal, "g", "next goal: fewest boxes, even, least moved"),
		long(k.answers, "a", "the three answers to a spill, side by side"),
		long(k.length, "l", "what if the chosen box were of another length"),
		long(k.more, "b", "what if there were one box more, behind the chosen one"),
		long(k.lock, "k", "what if the chosen box kept its label, or did not"),
		long(k.over, "n", "spread it evenly over so many boxes"),
		long(k.months, "w", "leave room for months of growth; an even split does"),
		long(k.drop, "x", "drop all what-ifs"),
		long(k.list, "p", "labels and cards that the plan asks for"),
		long(k.toMake, "m", "labels and cards still to make; space: those of a box are made"),
		long(k.apply, "enter", "apply: says first what it will do"),
		long(k.stop, "esc", "stop waiting for a plan; back"),
		long(k.moves, "up, down, pgup, pgdn, home, end", "another box"),
	}}
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	k := s.keys
	switch s.stage {
	case asking:
		return s.onField(msg)
	case answering:
		s.onAnswers(msg)
	case confirming:
		switch {
		case key.Matches(msg, k.confirm) && s.ready():
			s.begin()
		case key.Matches(msg, k.leave):
			s.stage = planning
		default:
			s.scroll(msg)
		}
	case labelling:
		s.onMaking(msg)
	case listing:
		if key.Matches(msg, k.leave) {
			s.stage, s.listed = planning, nil
			return nil
		}
		s.scroll(msg)
	default:
		s.onPlan(msg)
	}
	return nil
}

func (s *Screen) onField(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.leave):
		s.stage = planning
	case key.Matches(msg, s.keys.take):
		s.answerNumber()
	default:
		var cmd tea.Cmd
		s.field, cmd = s.field.Update(msg)
		return cmd
	}
	return nil
}

// step is how far a key moves in a list of n.
func (s *Screen) step(msg tea.KeyMsg, n int) int { return frame.Step(msg, s.h/3, n) }

// scroll moves what is seen of lines that are too many.
func (s *Screen) scroll(msg tea.KeyMsg) { s.top = max(0, min(s.top+s.step(msg, s.most), s.most)) }

func (s *Screen) onAnswers(msg tea.KeyMsg) {
	ways := ordering.Ways()
	at := slices.Index(ways, s.way)
	switch {
	case key.Matches(msg, s.keys.leave):
		s.stage, s.halted = planning, s.waiting()
		s.want = s.back
	case key.Matches(msg, s.keys.choose):
		if r := s.answer(s.way); r != nil {
			s.try(r.request)
			s.stage = planning
		}
	default:
		s.way = ways[max(0, min(at+s.step(msg, len(ways)), len(ways)-1))]
	}
}

// answer is an answer as it was worked out; nil when it was not yet.
func (s *Screen) answer(way ordering.Way) *result {
	return s.known[request{way: way, what: s.want.what}.name()]
}

func (s *Screen) onPlan(msg tea.KeyMsg) {
	k, q := s.keys, s.want
	switch {
	case s.applying != nil:
	case key.Matches(msg, k.stop):
		if s.waiting() {
			s.giveUp()
		}
	case key.Matches(msg, k.goal):
		goals := ordering.Goals()
		if q.way == "" && (s.ready() || !s.halted) {
			q.goal = goals[(slices.Index(goals, q.goal)+1)%len(goals)]
		}
		q.way = ""
		s.try(q)
	case key.Matches(msg, k.answers):
		if s.way = q.way; s.way == "" {
			s.way = ordering.PushOn
		}
		s.back = q
		q.way = s.way
		s.stage = answering
		s.try(q)
	case key.Matches(msg, k.months):
		s.ask(growthAsked)
	case key.Matches(msg, k.over):
		s.ask(boxesAsked)
	case key.Matches(msg, k.drop):
		q.what = whatIf{}
		s.try(q)
	default:
		s.onPlanned(msg)
	}
}

// onPlanned is for keys that are about the plan that is shown.
func (s *Screen) onPlanned(msg tea.KeyMsg) {
	k, q, c, at := s.keys, s.want, s.desk.Collection(), s.at()
	switch {
	case at < 0:
	case key.Matches(msg, k.length):
		s.ask(lengthAsked)
	case key.Matches(msg, k.more):
		q.what = q.what.another(c, s.box, s.shown.boxes[at].Length)
		s.try(q)
	case key.Matches(msg, k.lock):
		what, ok := q.what.lock(c, s.box)
		if !ok {
			s.Tell(frame.Say{Text: "box " + s.box + " is not there yet: it has no label to keep"})
			return
		}
		q.what = what
		s.try(q)
	case key.Matches(msg, k.list) && s.ready():
		s.listed, s.top, s.stage = s.shown, 0, listing
	case key.Matches(msg, k.toMake) && s.due() != nil:
		s.stage = labelling
	case key.Matches(msg, k.apply) && s.ready():
		if s.shown.used == 0 {
			s.Tell(frame.Say{Text: "there is nothing to split yet; enter patterns first"})
			return
		}
		s.stage, s.top = confirming, 0
	default:
		n := len(s.shown.boxes)
		s.box = s.shown.boxes[max(0, min(at+s.step(msg, n), n-1))].Name
	}
}
