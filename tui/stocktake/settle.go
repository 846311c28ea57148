package stocktake

import (
	"fmt"
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/frame"
)

// nameOf tells matters apart, from one reading to the next.
func nameOf(m reading.Matter) string {
	return fmt.Sprintf("%s %d %d %s", m.What, m.Box.ID, m.Copy, m.Read)
}

// chosen is the matter that one is at; an empty one where there is none.
func (s *Screen) chosen() reading.Matter {
	if all := s.matters(); s.matter < len(all) && s.fresh() {
		return all[s.matter]
	}
	return reading.Matter{}
}

func (s *Screen) onMatterKey(msg tea.KeyMsg) tea.Cmd {
	k, m, c := s.keys, s.chosen(), s.desk.Collection()
	offered := func(b key.Binding) bool {
		return key.Matches(msg, b) && slices.ContainsFunc(s.matterKeys(), func(x key.Binding) bool { return x.Help() == b.Help() })
	}
	switch {
	case key.Matches(msg, k.boxes):
		s.stage = listing
	case key.Matches(msg, k.report):
		s.name()
	case s.settles != 0: // one after another
	case offered(k.lost):
		s.settles = s.write(&model.Stand{Missing: []model.Accession{m.Copy}})
	case offered(k.place):
		s.settles = s.write(s.taken.Place(c, m))
	case offered(k.pull):
		s.pull(m)
	case offered(k.enter):
		s.Tell(frame.Go{Room: intakeRoom})
		s.Tell(frame.Say{Text: fmt.Sprintf("box %s: %q is on no list; enter it, then it can be recorded there", m.Box.Name, m.Read)})
	case offered(k.find):
		p := c.PatternOf(m.Copy)
		s.Tell(frame.Go{Room: findRoom, Arg: c.Publisher(p.Publisher).Name + " " + p.Short()})
	case offered(k.let):
		s.leaveIt(m)
	case offered(k.again):
		s.at = max(0, slices.IndexFunc(s.boxes(), func(b model.Box) bool { return b.ID == m.Box.ID }))
		s.begin()
	default:
		s.matter += s.step(msg, len(s.matters()))
	}
	return nil
}

// pull notes that a copy is pulled. What is recorded in no box waits on the pile
// already, unless it was missing.
func (s *Screen) pull(m reading.Matter) {
	c := s.desk.Collection()
	ch := s.taken.Pull(c, m)
	switch cp := c.Copy(m.Copy); {
	case ch != nil:
		s.settles = s.write(ch)
	case cp.Missing != "" || cp.Out != nil:
		s.leaveIt(m)
		s.settles = s.write(&model.PutBack{Copy: m.Copy})
	default:
		s.leaveIt(m)
	}
}

func (s *Screen) leaveIt(m reading.Matter) { s.left[nameOf(m)], s.unkept = true, true }
