// Package press is the room for everything that gets stuck on, stood in or
// carried along: what there is to print, each sheet as it will come out, and the
// file it is written to.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: what is shown is what is written, of the cupboard as it is now. No
// key waits for sheets to be laid out. A file that is there is not replaced
// before that was said and enter pressed again.
package press

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/paper"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "press"

// question is what is asked for.
type question int

const (
	nothing    question = iota
	startAsked          // the first label that is left on the sheet
	spineAsked          // how wide spine labels are
	tapeAsked           // how high the tape is
	fileAsked           // where it is written to
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys
	today func() model.Date

	at     int // of paper.Kinds
	orders map[paper.Kind]*order
	large  bool // the sheet has the whole screen
	page   int
	top    int // first line of the sheet that is seen
	most   int // that top can be, as last drawn

	asks  question
	field textinput.Model
	over  string // the file that enter would replace

	shown   *proof // what was laid out last
	pending string // the name of what is being laid out
	halted  bool   // esc was pressed, and nothing is waited for
	asked   uint64
	writing uint64 // the write to a file that is under way; 0: none
	viewed  bool   // the room was in front since something was last asked for
}

// Options are for tests.
type Options struct {
	Today func() model.Date // the day that is printed; that of the clock when nil
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, o Options) *Screen {
	s := &Screen{desk: d, theme: t, keys: newKeys(), today: o.Today, field: textinput.New(), orders: map[paper.Kind]*order{}}
	if s.today == nil {
		s.today = func() model.Date { return model.Date(time.Now().Format(time.DateOnly)) }
	}
	s.field.Prompt, s.field.CharLimit = "", 1000
	s.field.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	for _, k := range paper.Kinds() {
		s.orders[k] = newOrder(k)
	}
	return s
}

// Init implements frame.Screen. Nothing is laid out before the room is entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen: letters are keys, but where something
// is asked for.
func (s *Screen) CapturesText() bool { return s.asks != nothing }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.viewed = true
		cmd = s.onKey(msg)
	case frame.Arrived:
		s.viewed = true
		if k, ok := msg.Arg.(paper.Kind); ok {
			s.turnTo(max(0, slices.Index(paper.Kinds(), k)))
		}
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
	case frame.Pasted:
		if s.asks != nothing {
			s.over = ""
			s.field.SetValue(s.field.Value() + words.Clean(msg.Text))
			s.field.CursorEnd()
		}
	case laid:
		s.onLaid(msg)
	case written:
		s.onWritten(msg)
	case frame.Stopped:
		s.halted, s.pending, s.writing = true, "", 0
	}
	s.refresh()
	return cmd
}

// order is what is wanted of one kind.
type order struct {
	paper.Order
	form    form
	onlyNew bool
	paper   string  // the name of a paper; empty: as preset
	tape    float64 // its height in mm
}

// newOrder is a kind as it is mostly wanted: of what gets stuck on, what is new.
func newOrder(k paper.Kind) *order {
	o := &order{Order: paper.Order{Kind: k, Start: 1}, form: asPDF, tape: paper.TapeHeight}
	o.onlyNew = o.changes()
	o.Binders.Spine = paper.SpineWidth
	return o
}

// changes tells whether there is an old and a new of it.
func (o *order) changes() bool {
	return slices.Contains([]paper.Kind{paper.EnvelopesKind, paper.DividersKind, paper.BoxesKind}, o.Kind)
}

// labelled tells whether it goes onto tape, too.
func (o *order) labelled() bool { return o.changes() || o.Kind == paper.BindersKind }

// name is the same for orders that come to the same.
func (o *order) name() string { return fmt.Sprintf("%+v", *o) }

// form is what is written: sheets, or text.
type form string

const (
	asPDF  form = "pdf"
	asText form = "text"
	asTape form = "tape"
)

// forms are those that a kind can be written in.
func (o *order) forms() []form {
	if o.labelled() {
		return []form{asPDF, asText, asTape}
	}
	return []form{asPDF, asText}
}

func (s *Screen) kind() paper.Kind { return paper.Kinds()[s.at] }
func (s *Screen) order() *order    { return s.orders[s.kind()] }

// turnTo chooses a kind.
func (s *Screen) turnTo(i int) {
	s.at, s.page, s.top, s.large, s.asks, s.over = i, 0, 0, false, nothing, ""
	s.halted = false
}

// ready tells whether what is shown is what is wanted, of now.
func (s *Screen) ready() bool {
	return s.shown != nil && s.shown.name == s.wanted()
}

// wanted is the name of what is to be shown: of one revision and one day.
func (s *Screen) wanted() string {
	return fmt.Sprintf("%d %s %s", s.desk.Collection().Rev(), s.today(), s.order().name())
}

// waiting tells whether sheets that are wanted are being laid out.
func (s *Screen) waiting() bool { return !s.ready() && !s.halted }

// titles are the kinds in words.
var titles = map[paper.Kind]string{
	paper.EnvelopesKind: "envelope labels", paper.DividersKind: "divider cards", paper.BoxesKind: "box labels", paper.BindersKind: "for binders",
	paper.OutCardsKind: "out cards", paper.DummiesKind: "dummies", paper.CarryKind: "carry list", paper.ShelfListKind: "shelf list", paper.PackingKind: "packing list",
	paper.InsuranceKind: "insurance list", paper.WalkKind: "refiling walk",
}

// answer takes what was typed.
func (s *Screen) answer() {
	text := strings.TrimSpace(s.field.Value())
	switch s.asks {
	case startAsked:
		var n int
		if _, err := fmt.Sscanf(text+"\n", "%d\n", &n); err != nil || n < 1 {
			s.Tell(frame.Complain{Err: model.Inputf("%q is no place on the sheet; count the labels in lines from the top left, from 1", text)})
			return
		}
		s.order().Start = n
	case spineAsked, tapeAsked:
		l, err := model.ParseLength(text)
		if err != nil {
			s.Tell(frame.Complain{Err: err})
			return
		}
		if s.asks == tapeAsked {
			s.order().tape = l.MM()
		} else {
			s.order().Binders.Spine = l.MM()
		}
	case fileAsked:
		s.write(text)
		return
	}
	s.asks = nothing
}
