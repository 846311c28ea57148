// Package shelf is the room that shows the cupboard as it stands: its boxes in
// columns and rows, what is in each, envelope by envelope, and how well that is
// what is recorded. Shelf reading is done here, and boxes, sections and the
// other furniture are changed here.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: nothing is recorded before what it comes to was shown. Readings
// are kept, box by box, until they are recorded or the program ends, whatever
// else is done in between. What takes long in a large cupboard is worked out
// aside, and no key waits for it.
package shelf

import (
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "shelf"

// stage is what the room shows.
type stage int

const (
	cupboard  stage = iota
	inside          // of a box
	readingIt       // a box is being read
	recording       // what was read is about to be recorded
	editing         // the furniture as a list
	filling         // a piece of it in a form
	weighing        // what saving comes to
	straying        // what was read in boxes that are no longer there
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage stage
	grid  *grid
	box   model.BoxID // chosen in the cupboard, or open
	at    int         // envelope in the open box

	field textinput.Model
	walks map[model.BoxID]*walk // readings begun and not recorded

	// What was worked out, and of which revision.
	sums   map[model.BoxID]sum
	sumsAt uint64
	held   ordering.Holding
	heldAt uint64
	lines  []line // of the box held

	draft  *draft // the furniture being changed; nil when it is not
	thrown *draft // the one that was thrown away last
	saves  uint64 // the write that saves it; 0 for none

	keeper *drafts.Keeper
	unkept bool          // what is in the making is not what was kept
	strays []keptReading // of boxes that are no longer there

	top, most int // what is scrolled, and how far it can be, as last drawn

	asking bool
	asked  uint64
	viewed bool // the room was in front since something was last asked for

	seq      uint64
	records  uint64 // the write that records a box; 0 for none
	recorded model.Box
	partly   *model.Stand // what is written is of a reading that goes on; nil when it is of a whole box
	toEnd    bool         // what was read is taken to be all of the box, though more is recorded behind it
	// unchanged: it stands as recorded, and all that is written is that it was read
	unchanged bool
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keeper: k, keys: newKeys(), walks: map[model.BoxID]*walk{}, field: textinput.New()}
	s.field.Prompt, s.field.CharLimit = "", 200
	s.field.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	s.recall()
	return s
}

// Init implements frame.Screen. Nothing is worked out before the room is
// entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.stage == readingIt || s.stage == filling }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.viewed = true
		cmd = s.onKey(msg)
	case frame.Pasted:
		s.onPasted(msg.Text)
	case frame.Closing:
		s.onClosing()
	case frame.Arrived:
		s.viewed = true
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
	case frame.Written:
		s.onWritten(msg)
	case result:
		s.asking = false
		s.take(msg)
	case frame.Stopped:
		if s.asking = false; s.stage == weighing {
			s.stage = editing
		}
	}
	s.settle()
	s.refresh()
	return tea.Batch(cmd, s.keep())
}

// settle keeps what is chosen within what there is.
func (s *Screen) settle() {
	shelf := s.desk.Collection().Shelf()
	if s.grid == nil || s.grid.shelf != shelf {
		s.grid = newGrid(shelf)
		s.regroup()
	}
	if _, there := shelf.Box(s.box); !there {
		if s.box, s.at = 0, 0; s.stage < editing {
			s.stage = cupboard
		}
		if len(s.grid.boxes) > 0 {
			s.box = s.grid.first()
		}
	}
	s.at = max(0, min(s.at, len(s.row())-1))
}

// row is what stands in the chosen box.
func (s *Screen) row() []model.Accession { return s.desk.Collection().Row(s.box) }

func (s *Screen) boxName() string {
	b, _ := s.desk.Collection().Shelf().Box(s.box)
	return b.Name
}

// neighbour goes into the box before or after, in the order of the shelf.
func (s *Screen) neighbour(step int) {
	boxes := s.desk.Collection().Shelf().Boxes
	i := slices.IndexFunc(boxes, func(b model.Box) bool { return b.ID == s.box }) + step
	if i >= 0 && i < len(boxes) {
		s.box, s.at = boxes[i].ID, 0
	}
}

// findRoom is where an envelope is shown with all that can be done to it. The
// rooms know each other by name only.
const findRoom = "find"

func (s *Screen) showInFind() {
	row, c := s.row(), s.desk.Collection()
	if s.at >= len(row) {
		return
	}
	p := c.PatternOf(row[s.at])
	what := p.Number
	if what == "" {
		what = p.Name
	}
	s.Tell(frame.Go{Room: findRoom, Arg: c.Publisher(p.Publisher).Name + " " + what})
}

func (s *Screen) write(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}
