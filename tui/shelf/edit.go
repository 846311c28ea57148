package shelf

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
)

// effect is what saving a draft comes to.
type effect struct {
	err         error
	now, then   outlook
	dropped     int      // envelopes that lose their box or hook
	strangers   []string // publishers that no pattern is of, and that are new
	unplaceable []string
}

// outlook is what the plan with the fewest boxes comes to.
type outlook struct {
	boxes, missing int
	moved, labels  int // labels of those on record
}

func outlookOf(l *ordering.Layout) (outlook, []string) {
	p := l.Split(ordering.Fewest)
	return outlook{p.Used(), len(p.Needs()), l.Compare(p).Moved, len(l.Redo(p).Labels)}, p.Findings
}

// weigh works out what a change of the shelf would come to.
func weigh(l *ordering.Layout, ch *model.SetShelf) *effect {
	c := l.Collection()
	next, delta, err := c.Apply(ch, "")
	if err != nil {
		return &effect{err: err}
	}
	e := &effect{}
	for _, x := range delta {
		if p, ok := x.After.(*model.Publisher); ok && x.Before == nil {
			e.strangers = append(e.strangers, p.Name)
		}
	}
	e.now, _ = outlookOf(l)
	e.then, e.unplaceable = outlookOf(ordering.Arrange(next))
	for _, cp := range c.Copies().All() {
		_, stood := c.Standing(cp.Accession)
		_, stands := next.Standing(cp.Accession)
		hung, hangs := cp.Hook.Row != 0, next.Copy(cp.Accession).Hook.Row != 0
		if stood && !stands || hung && !hangs {
			e.dropped++
		}
	}
	return e
}

// edit opens the draft, at a box if one is given.
func (s *Screen) edit(box string) {
	c := s.desk.Collection()
	if s.draft != nil && !s.draft.changed && s.draft.form == nil {
		s.draft = nil // nothing would be lost, and it may be of old
	}
	if s.draft == nil {
		s.draft, s.thrown = newDraft(c), nil
	}
	s.draft.meet(c)
	s.stage = editing
	for i, p := range s.draft.now.pieces() {
		if p.kind == aBox && p.i >= 0 && box != "" && s.draft.now.Boxes[p.i].Name == box {
			s.draft.at = i
		}
	}
}

func (s *Screen) onEditKey(msg tea.KeyMsg) {
	k, d := s.keys, s.draft
	pieces := d.now.pieces()
	now := pieces[d.at]
	switch {
	case key.Matches(msg, k.nextKind):
		d.at = kindAfter(pieces, d.at)
	case key.Matches(msg, k.kindBefore):
		d.at = kindBefore(pieces, d.at)
	case key.Matches(msg, k.change):
		s.fill(now, now.i < 0)
	case key.Matches(msg, k.add) && now.kind != theSettings && now.kind != aCategory:
		s.fill(now, true)
	case key.Matches(msg, k.drop):
		if d.drop(now) {
			d.touch()
			d.form, s.unkept = nil, true
			d.at = min(d.at, len(d.now.pieces())-1)
		}
	case key.Matches(msg, k.earlier), key.Matches(msg, k.later):
		step := +1
		if key.Matches(msg, k.earlier) {
			step = -1
		}
		if d.now.move(now, step) {
			d.touch()
			d.form, s.unkept = nil, true
			d.at += step
		}
	case key.Matches(msg, k.save):
		s.weigh()
	case key.Matches(msg, k.discard) && d.changed:
		s.discard()
	case key.Matches(msg, k.out):
		s.stage = cupboard
	default:
		d.at = max(0, min(d.at+s.step(msg, len(pieces)), len(pieces)-1))
	}
}

// kindAfter is the first piece of the kind behind that of a piece.
func kindAfter(pieces []piece, at int) int {
	for i := at + 1; i < len(pieces); i++ {
		if pieces[i].kind != pieces[at].kind {
			return i
		}
	}
	return 0
}

// kindBefore is the first piece of a kind, or where that is the one given, of
// the kind before.
func kindBefore(pieces []piece, at int) int {
	first := func(i int) int {
		return slices.IndexFunc(pieces, func(p piece) bool { return p.kind == pieces[i].kind })
	}
	if i := first(at); i < at {
		return i
	}
	return first((at - 1 + len(pieces)) % len(pieces))
}

// discard throws the draft away. Until another is begun it can be brought back.
func (s *Screen) discard() {
	s.thrown, s.draft, s.stage, s.unkept = s.draft, nil, cupboard, true
	s.Tell(frame.Say{Text: "the shelf is as it was; x brings back what was thrown away"})
}

// restore brings back the draft that was thrown away last.
func (s *Screen) restore() {
	s.draft, s.thrown, s.stage, s.unkept = s.thrown, nil, editing, true
}

// weigh shows what saving comes to.
func (s *Screen) weigh() {
	d := s.draft
	switch {
	case !d.changed:
		s.Tell(frame.Say{Text: "nothing was changed"})
	case d.fresh(s.desk.Collection().Rev()) && d.effect.err != nil:
		s.Tell(frame.Complain{Err: d.effect.err})
	default:
		s.stage, s.top = weighing, 0
	}
}

// outrun tells whether the shelf was changed otherwise, by undo or a command,
// since the draft was made of it: saving would take that back unseen.
func (s *Screen) outrun() bool {
	d, c := s.draft, s.desk.Collection()
	if d.checked != c.Shelf() {
		d.checked, d.outrun = c.Shelf(), !d.fits(c)
	}
	return d.outrun
}

// weighed takes what came of it.
func (s *Screen) weighed(r result) {
	d := s.draft
	if d == nil || r.effect == nil {
		return
	}
	d.effect, d.shows, d.rev = r.effect, r.effectOf, r.rev
	if d.shows != d.version {
		s.viewed = true
		return
	}
	if s.stage == weighing && d.effect.err != nil {
		s.stage = editing
		s.Tell(frame.Complain{Err: d.effect.err})
	}
}

func (d *draft) fresh(rev uint64) bool {
	return d.effect != nil && d.shows == d.version && d.rev == rev
}

func (s *Screen) onWeighKey(msg tea.KeyMsg) {
	d := s.draft
	switch {
	case s.saves != 0: // being written
	case key.Matches(msg, s.keys.saveIt):
		if !s.outrun() && d.fresh(s.desk.Collection().Rev()) && d.effect.err == nil {
			s.saves = s.write(d.change())
		}
	case key.Matches(msg, s.keys.discard):
		s.discard()
	case key.Matches(msg, s.keys.out):
		s.stage = editing
	default:
		s.top = max(0, min(s.top+s.step(msg, s.most), s.most))
	}
}

// stayOn has the cupboard choose the box that the draft had its arrow on.
func (s *Screen) stayOn(d *draft) {
	p := d.now.pieces()[d.at]
	if p.kind != aBox || p.i < 0 {
		return
	}
	if b, err := s.desk.Collection().Shelf().BoxNamed(d.now.name(p)); err == nil {
		s.box, s.at = b.ID, 0
	}
}

// onSaved ends the draft, or leaves all of it where saving has failed.
func (s *Screen) onSaved(err error) {
	s.saves = 0
	showing := s.stage == weighing
	switch {
	case err != nil && showing:
		s.stage = editing
	case err != nil:
	default:
		if showing {
			s.stage = cupboard
			s.stayOn(s.draft)
		}
		s.draft, s.unkept = nil, true
		s.Tell(frame.Say{Text: "the shelf is saved; ctrl+z takes it back"})
	}
}
