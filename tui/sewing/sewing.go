// Package sewing is the room for what the patterns are there for: what to sew
// next and why, what was made, how much of what is owned was made, goals, and
// the people and the cloth that one sews with.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: what is half written stays until it is saved. What takes long in a
// large cupboard is worked out aside, and no key waits for it.
package sewing

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/sewing"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/sleeve"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "sewing"

// The rooms know each other by name only.
const findRoom = "find"

// page is what the room shows.
type page int

const (
	next   page = iota // what to sew next
	made               // what was made
	shares             // owned against made, and goals
	closet             // people and cloth
	pages
)

var pageNames = [pages]string{"to sew", "made", "shares and goals", "people and cloth"}

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	page    page
	at      [pages]int // which of the things on each page
	lists   lists      // as they were when these were chosen
	whole   bool       // the sleeve of what is chosen, all of it
	seen    *seen      // what was worked out; nil: nothing yet
	working bool
	jobs    uint64
	front   bool

	forms  form.Forms
	sheet  *sheet // being filled in; nil: none is
	form   *form.Form
	keeper *drafts.Keeper

	card   *sleeve.Sleeve // of cardOf
	cardOf cardKey

	top, most int // what is scrolled, and how far it can be, as last drawn

	seq   uint64
	saves uint64 // the write of the form; 0 for none

	cut model.Accession // copy of what was just made, that may be cut now; 0: none
}

// cardKey says of what a sleeve was put together.
type cardKey struct {
	pattern model.PatternID
	rev     uint64
	units   string
}

// New makes the room.
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
func (s *Screen) CapturesText() bool { return s.sheet != nil }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		cmd = s.onKey(msg)
	case frame.Pasted:
		if s.sheet != nil {
			cmd = s.form.Paste(msg.Text)
		}
	case frame.Arrived:
		s.front = true
		if id, ok := msg.Arg.(model.PatternID); ok {
			s.page, s.whole = next, false
			s.fill(s.makeSheet(model.Make{Pattern: id}))
		}
	case frame.Left:
		s.front, s.cut = false, 0
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
	case frame.Written:
		cmd = s.onWritten(msg)
	case frame.Closing:
		if err := s.forms.Save(s.keeper); err != nil {
			s.Tell(frame.Complain{Err: err})
		}
	case frame.Rested:
		cmd = s.forms.Keep(s.keeper)
	case *seen:
		s.working = false
		s.seen = msg
	case frame.Stopped:
		s.working = false
	}
	s.refresh()
	s.stay()
	s.at[s.page] = max(0, min(s.at[s.page], len(s.things())-1))
	if _, ok := s.pattern(); !ok {
		s.whole = false
	}
	return cmd
}

// seen is what was worked out of a revision.
type seen struct {
	rev    uint64
	picks  []sewing.Pick
	more   int // so many could be sewn besides
	shares []sewing.Share
	goals  [][]sewing.Step // in the order of the goals
}

// mostPicks is how many are proposed; who wants others chooses in Binders.
const mostPicks = 100

func work(c *model.Collection, on model.Date) *seen {
	out := &seen{rev: c.Rev(), picks: sewing.Suggest(c, sewing.Asked{On: on, South: c.Shelf().Settings.Half == model.South}), shares: sewing.Shares(c)}
	if out.more = len(out.picks) - mostPicks; out.more > 0 {
		out.picks = out.picks[:mostPicks:mostPicks]
	}
	for _, g := range c.Goals().All() {
		out.goals = append(out.goals, sewing.Progress(c, g))
	}
	return out
}

// instant is up to how many copies things are worked out while one waits.
const instant = 4000

// refresh has worked out what the room shows: at once, or aside where that takes
// longer than a key may. It is not done for a room that is not looked at.
func (s *Screen) refresh() {
	c, today := s.desk.Collection(), s.desk.Today()
	if !s.front || s.working || s.seen != nil && s.seen.rev == c.Rev() {
		return
	}
	if c.Copies().Len() <= instant {
		s.seen = work(c, today)
		return
	}
	s.jobs++
	s.working = true
	s.Tell(frame.Ask{Seq: s.jobs, Do: func() tea.Msg { return work(c, today) }})
}

// pattern is the pattern of what is chosen, if it is listed.
func (s *Screen) pattern() (model.PatternID, bool) {
	x, ok := s.thing()
	return x.pattern, ok && s.desk.Collection().Pattern(x.pattern) != nil
}

func (s *Screen) write(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}

// onWritten ends the form, or leaves all of it where saving has failed.
func (s *Screen) onWritten(msg frame.Written) tea.Cmd {
	if msg.Seq != s.saves {
		return nil
	}
	s.saves = 0
	if msg.Err == nil && s.sheet != nil {
		if s.forms.Done(s.sheet.name); s.sheet.makes != 0 {
			s.noted(s.sheet.makes)
		}
		s.sheet = nil
	}
	return s.forms.Keep(s.keeper)
}

// noted says that something made is noted, and offers to say that its copy is cut
// now.
func (s *Screen) noted(of model.PatternID) {
	text := "noted; tab shows all that was made"
	if s.cut = sewing.Uncut(s.desk.Collection(), of); s.cut != 0 {
		text = fmt.Sprintf("noted; copy %d is not listed as cut: c if it is now", s.cut)
	}
	s.Tell(frame.Say{Text: text})
}

// sayCut says that the copy offered is cut.
func (s *Screen) sayCut() {
	c := s.desk.Collection()
	if cp := c.Copy(s.cut); cp != nil {
		en := c.EntryOf(cp)
		en.Cut = model.FullyCut
		s.write(&model.Revise{Entry: en})
	}
	s.cut = 0
}

// showInFind shows where the envelope of what is chosen is.
func (s *Screen) showInFind() {
	id, ok := s.pattern()
	if !ok {
		return
	}
	c := s.desk.Collection()
	p := c.Pattern(id)
	s.Tell(frame.Go{Room: findRoom, Arg: c.Publisher(p.Publisher).Name + " " + p.Short()})
}
