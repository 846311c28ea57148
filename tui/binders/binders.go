// Package binders is the room for leafing through the catalogue: binder by
// binder and pocket by pocket, as one does at the shelf, one sleeve shown with
// all that is known of it; and for choosing from it what to sew, by garment, by
// whom it fits and by the cloth at hand.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: where the envelope of a sleeve is, is one key away. What takes long
// in a large cupboard is worked out aside, and no key waits for it.
package binders

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/sleeve"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "binders"

// The rooms know each other by name only.
const (
	findRoom   = "find"
	sewingRoom = "sewing"
)

// stage is what the room shows.
type stage int

const (
	leafing stage = iota
	whole         // one sleeve, all of it
	asking        // what is to be chosen
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage   stage
	binders []*stack // as they stand on the shelf
	laidAt  uint64   // the revision that they are of
	at      int      // the binder that is open
	lost    model.PatternID

	forms  form.Forms
	form   *form.Form
	keeper *drafts.Keeper
	asked  *asked // what is chosen by; nil: nothing is
	chosen *stack // what was chosen; nil: not worked out yet

	card   *sleeve.Sleeve // of cardOf
	cardOf cardKey

	top, most int // what is scrolled, and how far it can be, as last drawn

	working bool
	jobs    uint64
	front   bool // whether the room is in front
	seq     uint64
}

// cardKey says of what a sleeve was put together.
type cardKey struct {
	stack *stack
	at    int
	rev   uint64
	units string
}

// New makes the room. What sleeves were chosen by is in the form again, also when
// the program was closed.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keys: newKeys(), keeper: k}
	if err := s.forms.Load(k); err != nil {
		s.Tell(frame.Complain{Err: err})
	}
	return s
}

// Init implements frame.Screen. Nothing is worked out before the room is
// entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.stage == asking }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		cmd = s.onKey(msg)
	case frame.Pasted:
		if s.stage == asking {
			cmd = s.form.Paste(msg.Text)
		}
	case frame.Left:
		s.front = false
	case frame.Closing:
		if err := s.forms.Save(s.keeper); err != nil {
			s.Tell(frame.Complain{Err: err})
		}
	case frame.Rested:
		cmd = s.forms.Keep(s.keeper)
	case frame.Arrived:
		s.front = true
		if id, ok := msg.Arg.(model.PatternID); ok {
			s.stage, s.asked, s.chosen, s.lost = leafing, nil, nil, id
		}
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
	case result:
		s.working = false
		s.take(msg)
	case frame.Stopped:
		if s.working = false; s.asked != nil && s.chosen == nil {
			s.asked, s.stage = nil, asking
		}
	}
	s.refresh()
	s.settle()
	return cmd
}

// open is what is leafed through: what was chosen, else a binder; nil where
// there is none.
func (s *Screen) open() *stack {
	switch {
	case s.asked != nil:
		return s.chosen
	case s.at < len(s.binders):
		return s.binders[s.at]
	}
	return nil
}

// leaf is the sleeve that is looked at.
func (s *Screen) leaf() (leaf, bool) {
	if st := s.open(); st != nil && st.at < len(st.leaves) {
		return st.leaves[st.at], true
	}
	return leaf{}, false
}

// settle keeps what is open within what there is, and goes to the sleeve that is
// looked for.
func (s *Screen) settle() {
	s.at = max(0, min(s.at, len(s.binders)-1))
	if s.lost != 0 && s.binders != nil {
		s.goTo(s.lost)
		s.lost = 0
	}
	if _, ok := s.leaf(); !ok && s.stage == whole {
		s.stage = leafing
	}
}

// goTo opens the binder at a sleeve.
func (s *Screen) goTo(id model.PatternID) {
	for i, b := range s.binders {
		if k := slices.IndexFunc(b.leaves, func(l leaf) bool { return l.pattern == id && l.home == nil }); k >= 0 {
			s.asked, s.chosen = nil, nil
			s.at, b.at = i, k
			return
		}
	}
	s.Tell(frame.Say{Text: fmt.Sprintf("the sleeve of %s is in no binder", s.desk.Collection().Called(id))})
}

// refersTo is the sleeve that a leaf leads to: of a see-also entry its own, else
// the first that it is linked with.
func (s *Screen) refersTo(l leaf) (model.PatternID, bool) {
	p := s.desk.Collection().Pattern(l.pattern)
	switch {
	case p == nil:
		return 0, false
	case l.home != nil && l.home.N > 0:
		return p.ID, true
	case len(p.Links) > 0:
		return p.Links[0].To, true
	}
	return 0, false
}

func (s *Screen) seeAlso() {
	l, _ := s.leaf()
	if to, ok := s.refersTo(l); ok {
		s.goTo(to)
	}
}

// showInFind shows where the envelope is.
func (s *Screen) showInFind() {
	l, ok := s.leaf()
	c := s.desk.Collection()
	if p := c.Pattern(l.pattern); ok && p != nil {
		s.Tell(frame.Go{Room: findRoom, Arg: c.Publisher(p.Publisher).Name + " " + p.Short()})
	}
}

// queue puts the pattern at the end of what is to be sewn, or takes it out.
func (s *Screen) queue() {
	l, ok := s.leaf()
	if !ok || s.desk.Collection().Pattern(l.pattern) == nil {
		return
	}
	s.seq++
	if s.queued(l.pattern) {
		s.Tell(frame.Write{Seq: s.seq, Change: &model.Dequeue{Pattern: l.pattern}})
		return
	}
	s.Tell(frame.Write{Seq: s.seq, Change: &model.Enqueue{Item: model.Queued{Pattern: l.pattern}}})
}

// photocopy notes that a photocopy of the sleeve is where the see-also entry is,
// or no longer.
func (s *Screen) photocopy() {
	if l, ok := s.leaf(); ok && l.home != nil {
		s.seq++
		s.Tell(frame.Write{Seq: s.seq, Change: &model.Photocopy{Pattern: l.pattern, Category: l.also, Out: l.copied}})
	}
}

func (s *Screen) queued(id model.PatternID) bool {
	return slices.ContainsFunc(s.desk.Collection().Queue(), func(q model.Queued) bool { return q.Pattern == id })
}
