// Package collection is the room for the collection as a whole: supplies, what it
// is worth to an insurer, what came in together and what of it nobody knows yet,
// what barcodes have taught, and what it would take in another room; and for taking
// in a spreadsheet of somebody's own.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: every figure is that of the command of the same name, and is worked
// out aside. What is half written stays until it is saved. What is asked about
// another room changes nothing.
package collection

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/model/worth"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/ordering/supplies"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/takein"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "collection"

// The rooms know each other by name only.
const findRoom = "find"

// page is what the room shows.
type page int

const (
	stock    page = iota // supplies
	value                // what it is worth
	batches              // what came in together, and the unidentified bin
	codes                // what barcodes have taught
	carrying             // what there is to carry in a move
	hanging              // hooks, and what lies apart
	yearsOut             // another room, some years on
	pages
)

var pageNames = [pages]string{"supplies", "worth", "batches", "barcodes", "packing", "hooks", "another room"}

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	page    page
	at      [pages]int   // which row of each page
	rows    [pages][]row // of what was worked out
	seen    *seen        // what was worked out; nil: nothing yet
	asked   question
	answer  *answer
	working bool
	jobs    uint64
	front   bool

	looking   bool // at the checklist of what is chosen
	top, most int  // what is scrolled, and how far it can be, as last drawn

	taking *takein.Sheet // a spreadsheet being taken in, also while it was left; nil: none
	takes  bool          // it is in front

	forms  form.Forms
	sheet  *sheet // being filled in; nil: none is
	form   *form.Form
	keeper *drafts.Keeper
	sheets *drafts.Keeper // of the spreadsheet

	seq   uint64
	saves uint64 // the write of the form; 0 for none
}

// yearsAhead is how far one looks ahead before anything is asked. Our choice, no
// source.
const yearsAhead = 5

// New makes the room, with the keepers of its forms and of a spreadsheet that is not
// taken in yet.
func New(d *desk.Desk, t *theme.Theme, k, sheets *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keys: newKeys(), keeper: k, sheets: sheets, asked: question{years: yearsAhead}}
	if err := s.forms.Load(k); err != nil {
		s.Tell(frame.Complain{Err: err})
	}
	return s
}

// Init implements frame.Screen. Nothing is worked out before the room is
// entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.sheet != nil || s.takes && s.taking.CapturesText() }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) {
	s.w, s.h = w, h
	if s.taking != nil {
		s.taking.SetSize(w, h)
	}
}

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		cmd = s.onKey(msg)
	case frame.Pasted:
		switch {
		case s.takes:
			cmd = s.taking.Paste(msg.Text)
		case s.sheet != nil:
			cmd = s.form.Paste(msg.Text)
		}
	case frame.Arrived:
		s.front = true
	case frame.Left:
		s.front = false
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		if s.takes {
			s.taking.Follow()
		}
	case frame.Stopped:
		if s.takes {
			s.taking.Stopped()
		}
	case frame.Written:
		cmd = s.onWritten(msg)
	case frame.Closing:
		if err := s.forms.Save(s.keeper); err != nil {
			s.Tell(frame.Complain{Err: err})
		}
		s.saveTaking()
	case frame.Rested:
		cmd = tea.Batch(s.forms.Keep(s.keeper), s.keepTaking())
	case *seen:
		s.working, s.seen = false, msg
		s.rows = s.rowsOf(msg)
	case *answer:
		s.working, s.answer = false, msg
		if msg.err != nil {
			s.Tell(frame.Complain{Err: msg.err})
		}
	default:
		if s.taking != nil {
			s.taking.Take(msg)
		}
	}
	s.refresh()
	s.at[s.page] = max(0, min(s.at[s.page], len(s.shown())-1))
	if s.looking = s.looking && s.chosen().unknown != nil; !s.looking {
		s.top = 0
	}
	return cmd
}

// seen is what was worked out of a revision.
type seen struct {
	rev      uint64
	supplies []supplies.Line
	grows    growth.Pace
	worth    worth.Total
	copies   int
	batches  []batch
	bin      []unknown
	codes    []propose.Learned
	move     moving.Move
	hooks    []ordering.HookHolding
	apart    []apart
	c        *model.Collection
}

type batch struct {
	*model.Batch
	model.BatchCount
}

// unknown is a pattern in the unidentified bin.
type unknown struct {
	id     model.PatternID
	called string
	find   string // what leads to it in Find
	looks  []identify.Look
	dated  []string
}

func work(l *ordering.Layout, today model.Date) *seen {
	c := l.Collection()
	out := &seen{rev: c.Rev(), supplies: supplies.List(l, today), grows: growth.Of(c, today), worth: worth.Add(c), copies: c.Copies().Len(), codes: propose.New(c).Learned(),
		move: moving.List(l), hooks: l.Hooks(), apart: apartOf(l), c: c}
	for _, g := range c.Worth() { // a group that has no copy yet is shown too
		same := func(x worth.Group) bool { return !x.Own && words.Fold(x.Of) == words.Fold(g.Of) }
		if !slices.ContainsFunc(out.worth.Groups, same) {
			out.worth.Groups = append(out.worth.Groups, worth.Group{Of: g.Of, Each: g.Each})
		}
	}
	counts := c.BatchCounts()
	for _, b := range c.Batches().All() {
		out.batches = append(out.batches, batch{b, counts[b.ID]})
	}
	for _, p := range identify.Bin(c) {
		out.bin = append(out.bin, unknown{p.ID, c.Called(p.ID), c.Publisher(p.Publisher).Name + " " + p.Short(), identify.Open(c, p), identify.Dated(p)})
	}
	return out
}

// refresh has worked out aside what the room shows, one thing at a time. It is
// not done for a room that is not looked at; the other room is worked out for its
// page alone.
func (s *Screen) refresh() {
	c := s.desk.Collection()
	switch {
	case !s.front || s.working || s.takes: // of a sheet in front, the latest request counts
	case s.seen == nil || s.seen.rev != c.Rev():
		l, today := s.desk.Layout, s.desk.Today()
		s.ask(func() tea.Msg { return work(l, today) })
	case s.page == yearsOut && (s.answer == nil || s.answer.rev != c.Rev() || s.answer.to != s.asked):
		asked := s.asked
		today := s.desk.Today()
		s.ask(func() tea.Msg { return asked.put(c, today) })
	}
}

func (s *Screen) ask(do func() tea.Msg) {
	s.jobs++
	s.working = true
	s.Tell(frame.Ask{Seq: s.jobs, Do: do})
}

func (s *Screen) write(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}

// onWritten ends the form, or leaves all of it where saving has failed.
func (s *Screen) onWritten(msg frame.Written) tea.Cmd {
	if s.takes {
		s.taking.Written(msg)
	}
	if msg.Seq != s.saves {
		return nil
	}
	s.saves = 0
	if msg.Err == nil && s.sheet != nil {
		s.forms.Done(s.sheet.name)
		s.sheet = nil
	}
	return s.forms.Keep(s.keeper)
}
