// Package stocktake is the room where all boxes are gone through, one after
// another, against what is recorded in them: a key for each envelope that stands
// where it is expected, its number where another does.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: what was counted stays, box by box, until another stocktake is begun,
// whatever ends the program. Counting alters nothing but the day of the count; what
// differs is settled one by one, each by a change of its own. What was moved since
// it was read is not held against the record.
package stocktake

import (
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "stocktake"

// The rooms know each other by name only.
const (
	intakeRoom = "intake"
	findRoom   = "find"
)

// stage is what the room shows.
type stage int

const (
	listing  stage = iota // the boxes, and how far each is
	counting              // a box
	ending                // is the rest of the box not there?
	settling              // what differs
	naming                // the file of the report
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage  stage
	begun  model.Date // the stocktake; empty: none is under way
	counts map[model.BoxID]*count
	left   map[string]bool // matters that are to stay as they are
	at     int             // which box of the list
	matter int             // which matter

	field  textinput.Model
	reader reader

	taken  *taken // what the boxes counted so far come to; nil: not worked out yet
	asking bool
	jobs   uint64
	front  bool

	file   *form.Form // the name of the report
	keeper *drafts.Keeper
	unkept bool

	seq     uint64
	closes  uint64 // the write that notes a box as counted; 0 for none
	closing model.BoxID
	settles uint64 // the write that settles a matter; 0 for none
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keeper: k, keys: newKeys(), field: textinput.New()}
	s.field.Prompt, s.field.CharLimit = "", 200
	s.field.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	s.restart("")
	s.recall()
	return s
}

// restart begins another stocktake.
func (s *Screen) restart(on model.Date) {
	s.begun, s.counts, s.left, s.taken, s.unkept = on, map[model.BoxID]*count{}, map[string]bool{}, nil, true
}

// Init implements frame.Screen.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.stage == counting || s.stage == naming }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		cmd = s.onKey(msg)
	case frame.Pasted:
		s.onPasted(msg.Text)
	case frame.Arrived:
		s.front = true
	case frame.Left:
		s.front = false
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		s.reopen(msg.Commit)
		s.noteMoves(msg.Commit)
	case frame.Written:
		s.onWritten(msg)
	case frame.Rested:
		cmd = s.keep()
	case frame.Closing:
		s.save()
	case *taken:
		s.asking, s.taken = false, msg
	case frame.Stopped:
		s.asking = false
	case told:
		s.onTold(msg)
	}
	s.settle()
	s.refresh()
	return cmd
}

// settle keeps what is chosen within what there is.
func (s *Screen) settle() {
	boxes := s.boxes()
	s.at = max(0, min(s.at, len(boxes)-1))
	if s.inBox() && len(boxes) == 0 {
		s.stage = listing
	}
	s.matter = max(0, min(s.matter, len(s.matters())-1))
}

// boxes are those of the shelf in walking order: as they stand.
func (s *Screen) boxes() []model.Box { return s.desk.Collection().Shelf().Boxes }

// box is the one that is chosen, or being counted.
func (s *Screen) box() model.Box {
	if all := s.boxes(); s.at < len(all) {
		return all[s.at]
	}
	return model.Box{}
}

// taken is what the boxes that were counted come to.
type taken struct {
	rev     uint64
	counted int // boxes
	*reading.Stocktake
	matters []reading.Matter
}

// refresh has worked out aside what the counted boxes come to, where it is shown.
func (s *Screen) refresh() {
	if !s.front || s.asking || s.inBox() || s.fresh() {
		return
	}
	l, walks, lost, n := s.desk.Layout, s.walks(), s.lost(), s.done()
	s.jobs++
	s.asking = true
	s.Tell(frame.Ask{Seq: s.jobs, Do: func() tea.Msg {
		t := &taken{rev: l.Collection().Rev(), counted: n, Stocktake: reading.TakeStock(l, walks)}
		t.Missing = slices.DeleteFunc(t.Missing, func(a model.Accession) bool { return !lost[a] })
		t.matters = t.Matters(l.Collection())
		return t
	}})
}

// fresh tells whether what was worked out is of what there is now.
func (s *Screen) fresh() bool {
	return s.taken != nil && s.taken.rev == s.desk.Collection().Rev() && s.taken.counted == s.done()
}

// matters are those that are not settled, nor left.
func (s *Screen) matters() []reading.Matter {
	if s.taken == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(s.taken.matters), func(m reading.Matter) bool { return s.left[nameOf(m)] })
}

func (s *Screen) write(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}
