package same

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/sleeve"
)

// compare finds out what the merge comes to.
func (s *Sheet) compare() (err error) {
	s.joint, err = s.merge.Look(s.desk.Collection())
	return err
}

// settled tells whether there is nothing to choose in a field: both say the same,
// one says nothing, or what both say is kept.
func settled(x model.Said) bool {
	return x.Kept == x.Gone || x.Kept == "" || x.Gone == "" || !slices.Contains(model.Takes(), x.Field)
}

func (s *Sheet) onJoinKey(msg tea.KeyMsg) {
	k := s.keys
	n := len(s.joint.Said) + len(s.alongs())
	switch {
	case key.Matches(msg, k.leave):
		s.stage = picking
	case key.Matches(msg, k.believe):
		s.believe()
	case key.Matches(msg, k.swap):
		s.merge = model.Merge{Keep: s.merge.Gone, Gone: s.merge.Keep}
		s.recompare()
	case key.Matches(msg, k.merge):
		ch := s.merge
		s.make(&ch)
	default:
		s.at[joining] = max(0, min(s.at[joining]+s.step(msg, n), n-1))
	}
}

// believe takes the other's word in the field that one is at, or takes that back.
func (s *Sheet) believe() {
	at := s.at[joining]
	if at >= len(s.joint.Said) || settled(s.joint.Said[at]) {
		return
	}
	name := s.joint.Said[at].Field
	if i := slices.Index(s.merge.Take, name); i >= 0 {
		s.merge.Take = slices.Delete(slices.Clone(s.merge.Take), i, i+1)
	} else {
		s.merge.Take = append(slices.Clone(s.merge.Take), name)
	}
	s.recompare()
}

func (s *Sheet) recompare() {
	if err := s.compare(); err != nil {
		s.host.Tell(frame.Complain{Err: err})
	}
	s.at[joining] = max(0, min(s.at[joining], len(s.joint.Said)+len(s.alongs())-1))
}

// along is something that goes over to the one that is kept: what it is, and what
// there is to say of it.
type along struct{ what, says string }

// alongs lists what goes over.
func (s *Sheet) alongs() (out []along) {
	c, dot := s.desk.Collection(), " "+s.theme.Glyphs.Dot+" "
	for _, a := range s.joint.Copies {
		out = append(out, along{copyName(a), s.copyText(a)})
	}
	for _, id := range s.joint.Makes {
		if m := c.Makes().Get(uint32(id)); m != nil {
			out = append(out, along{"made", s.theme.Dots(string(m.On), sleeve.Make(m, dot))})
		}
	}
	if q := s.joint.Queued; q != nil {
		says := sleeve.Queued(q, dot)
		if q.Pattern == s.joint.Gone.ID {
			says = s.theme.Dots("put aside, the one kept is to be sewn already", sleeve.Queued(q, dot))
		}
		out = append(out, along{"to sew", says})
	}
	for _, l := range s.joint.Gone.Links {
		if l.To != s.merge.Keep {
			out = append(out, along{string(l.Kind), c.Called(l.To)})
		}
	}
	return out
}

// copyText says of a copy where it is, in what state, and what is noted on it.
func (s *Sheet) copyText(a model.Accession) string {
	c := s.desk.Collection()
	cp := c.Copy(a)
	if cp == nil {
		return ""
	}
	en := c.EntryOf(cp)
	return s.theme.Dots(sleeve.Where(c, a), string(cp.Cut), en.Batch, cp.Notes)
}
