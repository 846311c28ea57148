package shelf

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/frame"
)

// draft is the furniture as it is being changed. It is kept, like a form that
// was left half filled in, until it is saved or thrown away by its key.
type draft struct {
	spec    model.ShelfSpec
	from    *model.Shelf // what it was made of
	changed bool
	at      int // in its list
	form    *form
	version int
	effect  *effect // of the version shows, at a revision
	shows   int
	rev     uint64
}

// form is one piece of the furniture being filled in.
type form struct {
	piece
	isNew  bool
	inputs []textinput.Model
	labels []string
	was    []string
	at     int
}

// effect is what saving a draft comes to.
type effect struct {
	err         error
	now, then   outlook
	dropped     int // envelopes that lose their box or hook
	unplaceable []string
}

// outlook is what the plan with the fewest boxes comes to.
type outlook struct{ boxes, missing, moved int }

func outlookOf(l *ordering.Layout) (outlook, []string) {
	p := l.Split(ordering.Fewest)
	return outlook{p.Used(), len(p.Needs()), l.Compare(p).Moved}, p.Findings
}

// weigh works out what a spec would come to.
func weigh(l *ordering.Layout, spec model.ShelfSpec) *effect {
	c := l.Collection()
	next, _, err := c.Apply(&model.SetShelf{Spec: spec}, "")
	if err != nil {
		return &effect{err: err}
	}
	e := &effect{}
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

// copied gives a spec that changes of the draft do not touch.
func (d *draft) copied() model.ShelfSpec {
	spec := d.spec
	spec.Sections, spec.Boxes = slices.Clone(spec.Sections), slices.Clone(spec.Boxes)
	spec.Publishers, spec.Binders, spec.Hooks = slices.Clone(spec.Publishers), slices.Clone(spec.Binders), slices.Clone(spec.Hooks)
	return spec
}

func (d *draft) touch() {
	d.changed = true
	d.version++
}

// edit opens the draft, at a box if one is given.
func (s *Screen) edit(box string) {
	c := s.desk.Collection()
	if s.draft != nil && !s.draft.changed && s.draft.form == nil {
		s.draft = nil // nothing would be lost, and it may be of old
	}
	if s.draft == nil {
		s.draft = &draft{spec: c.ShelfSpec(), from: c.Shelf()}
	}
	s.stage = editing
	for i, p := range s.draft.pieces() {
		if p.kind == aBox && p.i >= 0 && box != "" && s.draft.spec.Boxes[p.i].Name == box {
			s.draft.at = i
		}
	}
}

func (s *Screen) onEditKey(msg tea.KeyMsg) {
	k, d := s.keys, s.draft
	pieces := d.pieces()
	now := pieces[d.at]
	switch {
	case key.Matches(msg, k.up):
		d.at = max(0, d.at-1)
	case key.Matches(msg, k.down):
		d.at = min(len(pieces)-1, d.at+1)
	case key.Matches(msg, k.page):
		d.at = min(len(pieces)-1, d.at+max(1, s.h/2))
	case key.Matches(msg, k.back):
		d.at = max(0, d.at-max(1, s.h/2))
	case key.Matches(msg, k.first):
		d.at = 0
	case key.Matches(msg, k.last):
		d.at = len(pieces) - 1
	case key.Matches(msg, k.change):
		s.fill(now, now.i < 0 && now.kind != theSettings)
	case key.Matches(msg, k.add) && now.kind != theSettings:
		s.fill(now, true)
	case key.Matches(msg, k.drop) && now.i >= 0:
		d.remove(now)
		d.touch()
		d.form = nil
		d.at = min(d.at, len(d.pieces())-1)
	case key.Matches(msg, k.earlier), key.Matches(msg, k.later):
		step := +1
		if key.Matches(msg, k.earlier) {
			step = -1
		}
		if d.move(now, step) {
			d.touch()
			d.form = nil
			d.at += step
		}
	case key.Matches(msg, k.save):
		s.weigh()
	case key.Matches(msg, k.discard):
		s.draft, s.stage = nil, cupboard
		s.Tell(frame.Say{Text: "the shelf is as it was"})
	case key.Matches(msg, k.out):
		s.stage = cupboard
	}
}

// fill opens the form of a piece, as it was left if it was.
func (s *Screen) fill(p piece, isNew bool) {
	d := s.draft
	s.stage = filling
	if d.form != nil && d.form.piece == p && d.form.isNew == isNew {
		return
	}
	labels, values := d.values(p, isNew)
	f := &form{piece: p, isNew: isNew, labels: labels, was: values}
	for _, v := range values {
		in := textinput.New()
		in.Prompt, in.CharLimit = "", 500
		in.Cursor.SetMode(cursor.CursorStatic)
		in.SetValue(v)
		f.inputs = append(f.inputs, in)
	}
	f.inputs[0].Focus()
	d.form = f
}

func (f *form) to(i int) {
	f.inputs[f.at].Blur()
	f.at = (i + len(f.inputs)) % len(f.inputs)
	f.inputs[f.at].Focus()
	f.inputs[f.at].CursorEnd()
}

// isFlag tells whether the field takes yes or no, and nothing else.
func (f *form) isFlag() bool {
	return f.labels[f.at] == lockedLabel || f.labels[f.at] == newBoxLabel
}

// flag sets a yes or no by its first letter; space turns it over.
func (f *form) flag(name string) {
	in := &f.inputs[f.at]
	switch name {
	case "y", "n":
		in.SetValue(yes(name == "y"))
	case " ":
		in.SetValue(yes(in.Value() != yes(true)))
	}
	in.CursorEnd()
}

func (f *form) texts() []string {
	out := make([]string, len(f.inputs))
	for i := range f.inputs {
		out[i] = words.Clean(f.inputs[i].Value())
	}
	return out
}

func (s *Screen) onFormKey(msg tea.KeyMsg) tea.Cmd {
	k, f := s.keys, s.draft.form
	switch {
	case key.Matches(msg, k.next):
		f.to(f.at + 1)
	case key.Matches(msg, k.before):
		f.to(f.at - 1)
	case key.Matches(msg, k.ok):
		s.accept()
	case key.Matches(msg, k.save):
		if s.accept() {
			s.weigh()
		}
	case key.Matches(msg, k.out):
		s.stage = editing
		if slices.Equal(f.texts(), f.was) {
			s.draft.form = nil
		}
	case f.isFlag():
		f.flag(msg.String())
	default:
		var cmd tea.Cmd
		f.inputs[f.at], cmd = f.inputs[f.at].Update(msg)
		return cmd
	}
	return nil
}

// accept takes the form over into the draft, if it can be understood.
func (s *Screen) accept() bool {
	d, f := s.draft, s.draft.form
	if err := s.keepsName(f); err != nil {
		s.Tell(frame.Complain{Err: err})
		return false
	}
	if f.isNew || !slices.Equal(f.texts(), f.was) {
		at, err := d.put(f.piece, f.isNew, f.texts())
		if err != nil {
			s.Tell(frame.Complain{Err: err})
			return false
		}
		d.touch()
		d.at = max(0, slices.Index(d.pieces(), piece{f.kind, at}))
	}
	d.form, s.stage = nil, editing
	return true
}

// keepsName refuses to rename a box that holds something: it would be another
// box, and what it holds would be on the pile.
func (s *Screen) keepsName(f *form) error {
	if f.kind != aBox || f.isNew || f.i < 0 {
		return nil
	}
	c, old := s.desk.Collection(), s.draft.spec.Boxes[f.i].Name
	b, err := c.Shelf().BoxNamed(old)
	if n := len(c.Row(b.ID)); err == nil && n > 0 && !strings.EqualFold(f.texts()[0], old) {
		return model.Inputf("box %q holds %s, recorded under its name; keep the name, or empty it first", old, counted(n, "envelope", "envelopes"))
	}
	return nil
}

// weigh shows what saving comes to.
func (s *Screen) weigh() {
	d := s.draft
	switch {
	case !d.changed:
		s.Tell(frame.Say{Text: "nothing was changed"})
	case s.outrun():
	case d.fresh(s.desk.Collection().Rev()) && d.effect.err != nil:
		s.Tell(frame.Complain{Err: d.effect.err})
	default:
		s.stage = weighing
	}
}

// outrun complains where the shelf was changed otherwise, by undo or a command,
// since the draft was made of it: saving would take that back unseen.
func (s *Screen) outrun() bool {
	if s.draft.from == s.desk.Collection().Shelf() {
		return false
	}
	s.Tell(frame.Complain{Err: model.Inputf("the shelf was changed otherwise since this was begun; throw this away with x and begin again")})
	return true
}

// weighed takes what came of it.
func (s *Screen) weighed(r result) {
	d := s.draft
	if d == nil || r.effect == nil {
		return
	}
	d.effect, d.shows, d.rev = r.effect, r.specOf, r.rev
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
		if s.outrun() {
			s.stage = editing
		} else if d.fresh(s.desk.Collection().Rev()) && d.effect.err == nil {
			s.saves = s.write(&model.SetShelf{Spec: d.copied()})
		}
	case key.Matches(msg, s.keys.out):
		s.stage = editing
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
		s.draft = nil
		if showing {
			s.stage = cupboard
		}
		s.Tell(frame.Say{Text: "the shelf is saved; ctrl+z takes it back"})
	}
}
