package buying

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/surplus"
	"example.org/tuckrow/tui/frame"
)

// spare is what there is several of, at a revision.
type spare struct {
	rev    uint64
	lines  []spareLine
	copies []int // which of the lines are copies
	pass   int   // how many can be passed on
}

// spareLine is a pattern, or one of its copies.
type spareLine struct {
	pattern *model.Pattern
	surplus.Judged
}

// spareOf lists the patterns of which there is a copy to pass on or to look at,
// those first of which one can be passed on.
func spareOf(c *model.Collection) *spare {
	groups := surplus.Groups(c)
	passes := func(g surplus.Group) bool {
		return slices.ContainsFunc(g.Copies, func(j surplus.Judged) bool { return j.Advice == surplus.PassOn })
	}
	slices.SortStableFunc(groups, func(a, b surplus.Group) int {
		switch x, y := passes(a), passes(b); {
		case x == y:
			return 0
		case x:
			return -1
		}
		return +1
	})
	out := &spare{rev: c.Rev()}
	for _, g := range groups {
		out.lines = append(out.lines, spareLine{pattern: g.Pattern})
		for _, j := range g.Copies {
			if j.Advice == surplus.PassOn {
				out.pass++
			}
			out.copies = append(out.copies, len(out.lines))
			out.lines = append(out.lines, spareLine{g.Pattern, j})
		}
	}
	return out
}

// instant is up to how many copies things are worked out while one waits.
const instant = 4000

// refresh has worked out what can be passed on, where that is looked at: at
// once, or aside where that takes longer than a key may.
func (s *Screen) refresh() {
	c := s.desk.Collection()
	if s.stage != passing || !s.front || s.working || s.spare != nil && s.spare.rev == c.Rev() {
		return
	}
	if c.Copies().Len() <= instant {
		s.spare = spareOf(c)
		return
	}
	s.jobs++
	s.working = true
	s.Tell(frame.Ask{Seq: s.jobs, What: "comparing copies", Do: func() tea.Msg { return spareOf(c) }})
}

func (s *Screen) spares() int {
	if s.spare == nil {
		return 0
	}
	return len(s.spare.copies)
}

// spareCopy is the copy that is chosen among those of which there are several.
func (s *Screen) spareCopy() (spareLine, bool) {
	if s.spare == nil || s.spareAt >= len(s.spare.copies) {
		return spareLine{}, false
	}
	l := s.spare.lines[s.spare.copies[s.spareAt]]
	return l, s.desk.Collection().Copy(l.Copy.Accession) != nil
}

// gone notes that the chosen copy was passed on. One that is to be kept is not
// taken off the list by a slip.
func (s *Screen) gone() {
	l, ok := s.spareCopy()
	if !ok || l.Advice == surplus.Keep || s.spare.rev != s.desk.Collection().Rev() {
		return
	}
	s.write(&model.Remove{Copies: []model.Accession{l.Copy.Accession}})
	s.Tell(frame.Say{Text: fmt.Sprintf("copy %d of %s is off the list; ctrl+z brings it back", l.Copy.Accession, l.pattern.Heading())})
}
