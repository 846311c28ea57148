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
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/desk"
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

	draft *draft // the furniture being changed; nil when it is not
	saves uint64 // the write that saves it; 0 for none

	asking bool
	asked  uint64
	viewed bool // the room was in front since something was last asked for

	seq      uint64
	records  uint64 // the write that records a box; 0 for none
	recorded model.Box
}

type keys struct {
	up, down, left, right, page, back, first, last key.Binding
	moves, open, read, find, out                   key.Binding
	enter, unread, record, leave, confirm, cancel  key.Binding
	edit, change, add, drop, earlier, later        key.Binding
	order, save, saveIt, discard, next, before, ok key.Binding
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme) *Screen {
	s := &Screen{desk: d, theme: t, walks: map[model.BoxID]*walk{}, field: textinput.New()}
	s.field.Prompt, s.field.CharLimit = "", 200
	s.field.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	s.keys = keys{
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		left: bind("left", "to the left", "left"), right: bind("right", "to the right", "right"),
		page: bind("pgdn", "a page down", "pgdown"), back: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		moves:   bind("arrows", "move", "up", "down", "left", "right"),
		open:    bind("enter", "open", "enter"),
		read:    bind("r", "read the box", "r"),
		find:    bind("enter", "show in Find", "enter", "f"),
		out:     bind("esc", "cupboard", "esc"),
		enter:   bind("enter", "read", "enter"),
		unread:  bind("backspace", "take back", "backspace"),
		record:  bind("ctrl+s", "record as found", "ctrl+s"),
		leave:   bind("esc", "leave", "esc"),
		confirm: bind("enter", "record it", "enter"),
		cancel:  bind("esc", "read on", "esc"),
		edit:    bind("e", "change the shelf", "e"),
		change:  bind("enter", "change", "enter"),
		add:     bind("n", "new", "n"),
		drop:    bind("d", "take away", "d"),
		earlier: bind("<", "earlier", "<"),
		later:   bind(">", "later", ">"),
		order:   bind("< >", "order", "<", ">"),
		save:    bind("ctrl+s", "save", "ctrl+s"),
		saveIt:  bind("enter", "save it", "enter"),
		discard: bind("x", "throw away", "x"),
		next:    bind("tab", "next field", "tab", "down"),
		before:  bind("shift+tab", "field before", "shift+tab", "up"),
		ok:      bind("enter", "take over", "enter"),
	}
	return s
}

// Init implements frame.Screen. Nothing is worked out before the room is
// entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.stage == readingIt || s.stage == filling }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case inside:
		keys := []key.Binding{k.read, k.out}
		if len(s.row()) > 0 {
			keys = append([]key.Binding{k.find}, keys...)
		}
		return append(keys, k.edit, k.moves)
	case readingIt:
		keys := []key.Binding{k.enter}
		if len(s.walk().texts) > 0 {
			if s.field.Value() == "" {
				keys = append(keys, k.unread)
			}
			keys = append(keys, k.record)
		}
		return append(keys, k.leave)
	case recording:
		return []key.Binding{k.confirm, k.cancel}
	case editing:
		keys := []key.Binding{k.change, k.add, k.drop, k.order, k.out}
		if s.draft.changed {
			keys = append([]key.Binding{k.save}, append(keys, k.discard)...)
		}
		return keys
	case filling:
		return []key.Binding{k.ok, k.next, k.save, k.leave}
	case weighing:
		return []key.Binding{k.saveIt, k.leave}
	}
	if s.box == 0 {
		return []key.Binding{k.edit}
	}
	return []key.Binding{k.open, k.read, k.edit, k.moves}
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	switch s.stage {
	case readingIt, recording:
		return [][]key.Binding{{
			long(k.enter, "enter", "take what is typed or scanned: a number, #accession, a name, or - for a gap"),
			long(k.unread, "backspace", "with nothing typed: take the last reading back"),
			long(k.record, "ctrl+s", "record the box as it was found; what that comes to is shown first"),
			long(k.leave, "esc", "leave; what was read stays until it is recorded"),
		}}
	case editing, filling, weighing:
		return [][]key.Binding{{
			long(k.change, "enter", "open the form; in the form: take it over"), long(k.add, "n", "a new one of the same kind behind this"),
			long(k.drop, "d", "take it away"), long(k.order, "< >", "change its place in the order"),
			long(k.next, "tab, shift+tab", "in the form: from field to field"),
			long(k.save, "ctrl+s", "show what it comes to, then save"), long(k.discard, "x", "throw all changes away"),
			long(k.leave, "esc", "leave; what was changed stays until it is saved"),
		}}
	case inside:
		return [][]key.Binding{{
			long(k.up, "up, down, pgup, pgdn", "along the row"), long(k.first, "home, end", "to the front, to the back"),
			long(k.left, "left, right", "to the box before or after"),
			long(k.find, "enter or f", "show the envelope in Find"), long(k.read, "r", "compare the box with what stands in it"), k.edit, k.out,
		}}
	}
	return [][]key.Binding{{
		long(k.moves, "arrows", "from box to box, as they stand"), long(k.first, "home, end", "to the first box, to the last"),
		long(k.page, "pgup, pgdn", "several boxes up or down"),
		long(k.open, "enter", "look into the box"), long(k.read, "r", "compare the box with what stands in it"),
		long(k.edit, "e", "change boxes, sections, publishers, binders, hooks and settings"),
	}}
}

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.viewed = true
		cmd = s.onKey(msg)
	case frame.Pasted:
		s.onPasted(msg.Text)
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
	return cmd
}

// settle keeps what is chosen within what there is.
func (s *Screen) settle() {
	shelf := s.desk.Collection().Shelf()
	if s.grid == nil || s.grid.shelf != shelf {
		s.grid = newGrid(shelf)
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

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	switch s.stage {
	case inside:
		s.onInsideKey(msg)
	case readingIt:
		return s.onReadKey(msg)
	case recording:
		switch {
		case s.records != 0: // being written
		case key.Matches(msg, s.keys.confirm):
			s.record()
		case key.Matches(msg, s.keys.cancel):
			s.stage = readingIt
		}
	case editing:
		s.onEditKey(msg)
	case filling:
		return s.onFormKey(msg)
	case weighing:
		s.onWeighKey(msg)
	default:
		s.onCupboardKey(msg)
	}
	return nil
}

func (s *Screen) onCupboardKey(msg tea.KeyMsg) {
	k, g := s.keys, s.grid
	if key.Matches(msg, k.edit) {
		s.edit(s.boxName())
		return
	}
	if g == nil || s.box == 0 {
		return
	}
	switch {
	case key.Matches(msg, k.up):
		s.box = g.step(s.box, 0, -1)
	case key.Matches(msg, k.down):
		s.box = g.step(s.box, 0, +1)
	case key.Matches(msg, k.left):
		s.box = g.step(s.box, -1, 0)
	case key.Matches(msg, k.right):
		s.box = g.step(s.box, +1, 0)
	case key.Matches(msg, k.page), key.Matches(msg, k.back):
		step := +1
		if key.Matches(msg, k.back) {
			step = -1
		}
		for range max(1, s.h/cellHeight-2) {
			s.box = g.step(s.box, 0, step)
		}
	case key.Matches(msg, k.first):
		s.box = g.first()
	case key.Matches(msg, k.last):
		s.box = g.last()
	case key.Matches(msg, k.open):
		s.stage, s.at = inside, 0
	case key.Matches(msg, k.read):
		s.at = 0
		s.startReading()
	}
}

func (s *Screen) onInsideKey(msg tea.KeyMsg) {
	k, last := s.keys, len(s.row())-1
	page := max(1, s.h/2)
	switch {
	case key.Matches(msg, k.up):
		s.at--
	case key.Matches(msg, k.down):
		s.at++
	case key.Matches(msg, k.page):
		s.at += page
	case key.Matches(msg, k.back):
		s.at -= page
	case key.Matches(msg, k.first):
		s.at = 0
	case key.Matches(msg, k.last):
		s.at = last
	case key.Matches(msg, k.left):
		s.neighbour(-1)
	case key.Matches(msg, k.right):
		s.neighbour(+1)
	case key.Matches(msg, k.find):
		s.showInFind()
	case key.Matches(msg, k.read):
		s.startReading()
	case key.Matches(msg, k.edit):
		s.edit(s.boxName())
	case key.Matches(msg, k.out):
		s.stage = cupboard
	}
}

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
