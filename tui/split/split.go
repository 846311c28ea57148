// Package split is the room for the time before relabelling: each box as it is
// filled today and as a plan would fill it, what the plan costs, and what it
// would cost on another shelf.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: whatever is tried, the store is left alone until what it comes to
// has been shown and enter pressed. Plans are worked out aside, and no key waits
// for one. What is applied is what was shown: a plan of a cupboard that has
// changed since is worked out again first.
package split

import (
	"slices"
	"strings"
	"sync/atomic"

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
const ID = "split"

// stage is what the room shows.
type stage int

const (
	planning   stage = iota
	answering        // the answers to a spill, side by side
	asking           // for a number
	confirming       // what enter would do
	listing          // labels and cards of the plan that is shown
	labelling        // those that are to be made for the boxes as they are settled
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage  stage
	want   request
	back   request            // what was wanted before the answers
	shown  *result            // what was worked out last; of another request while one waits
	known  map[string]*result // by the name of the request, all of one revision
	halted bool               // esc was pressed, and nothing is waited for

	box    string       // chosen, by its name
	way    ordering.Way // chosen among the answers
	asks   question     // what is asked for
	field  textinput.Model
	listed *result // whose labels and cards are listed
	top    int     // of what is listed, or said before applying
	most   int     // that top can be, as last drawn
	items  []listLine

	itemsOf   *result
	itemsName int // how wide the names of its boxes are

	made   *making // what was found to be to be made; of another revision while that is worked out anew
	noting uint64  // the write that notes some of it as made; 0: none

	pending string        // the request that was asked for last and has not come
	busy    *atomic.Int32 // how many are being worked out
	asked   uint64
	viewed  bool // the room was in front since something was last asked for

	seq      uint64
	applying *result // being written
	first    uint64  // the write of the shelf; 0 when it is done or not needed
}

type keys struct {
	goal, answers, length, more, lock, months, over, drop, list, apply, stop key.Binding
	up, down, page, back, first, last, moves                                 key.Binding
	choose, leave, take, confirm, toMake, made, allMade                      key.Binding
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme) *Screen {
	s := &Screen{desk: d, theme: t, want: request{goal: ordering.Fewest}, known: map[string]*result{}, busy: new(atomic.Int32), field: textinput.New()}
	s.field.Prompt, s.field.CharLimit = "", 20
	s.field.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	bind := func(shown, what string, names ...string) key.Binding {
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	s.keys = keys{
		goal: bind("g", "goal", "g"), answers: bind("a", "answers", "a"),
		length: bind("l", "length", "l"), more: bind("b", "box more", "b"), lock: bind("k", "lock", "k"),
		months: bind("w", "growth", "w"), over: bind("n", "spread", "n"), drop: bind("x", "drop what-ifs", "x"), list: bind("p", "labels", "p"),
		apply: bind("enter", "apply", "enter"), stop: bind("esc", "stop waiting", "esc"),
		up: bind("up", "one up", "up"), down: bind("down", "one down", "down"),
		page: bind("pgdn", "a page down", "pgdown"), back: bind("pgup", "a page up", "pgup"),
		first: bind("home", "first", "home"), last: bind("end", "last", "end"),
		moves:  bind("up/down", "move", "up", "down"),
		choose: bind("enter", "look at it", "enter"), leave: bind("esc", "back", "esc"),
		take: bind("enter", "try it", "enter"), confirm: bind("enter", "apply it", "enter"),
		toMake: bind("m", "to make", "m"), made: bind("space", "made for this box", " "), allMade: bind("a", "all made", "a"),
	}
	return s
}

// Init implements frame.Screen. Nothing is worked out before the room is
// entered.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen: letters are keys, but for a number.
func (s *Screen) CapturesText() bool { return s.stage == asking }

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
		if s.stage == labelling {
			s.stage = planning
		}
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		clear(s.known)
		s.want.what = s.want.what.still(msg.Commit.Collection)
		if s.stage == confirming || s.stage == answering {
			s.stage = planning // what was about to be applied is of before
		}
	case frame.Written:
		s.onWritten(msg)
	case frame.Pasted:
		if s.stage == asking {
			s.field.SetValue(s.field.Value() + strings.TrimSpace(msg.Text))
			s.field.CursorEnd()
		}
	case worked:
		s.onWorked(msg)
	case frame.Stopped:
		s.onStopped()
	}
	s.refresh()
	return cmd
}

// worked is what was worked out aside.
type worked struct {
	results []*result
	making  *making
}

// mostBusy bounds how many plans are worked out at once. A plan cannot be broken
// off: many at once would all be late; with one, a long one that is not wanted
// any more would hold up a short one. Only the latest comes back.
const mostBusy = 2

// refresh has the plan that is wanted worked out, unless it is known.
func (s *Screen) refresh() {
	if r := s.known[s.want.name()]; r != nil {
		s.show(r)
		return
	}
	if s.halted || !s.viewed || s.applying != nil || s.pending == s.want.name() || s.pending != "" && s.busy.Load() >= mostBusy {
		return
	}
	s.pending, s.viewed = s.want.name(), false
	s.asked++
	s.busy.Add(1)
	l, r, busy, made := s.desk.Layout, s.want, s.busy, s.made
	s.Tell(frame.Ask{Seq: s.asked, What: "working out the plan", Do: func() tea.Msg {
		defer busy.Add(-1)
		if made == nil || made.rev != l.Collection().Rev() {
			made = newMaking(l) // it is the same for every plan
		}
		return worked{work(l, r), made}
	}})
}

func (s *Screen) onWorked(msg worked) {
	s.pending = ""
	s.viewed = true // it was, when this was asked for
	if msg.making.rev == s.rev() {
		s.made = s.made.take(msg.making)
	}
	for _, r := range msg.results {
		switch {
		case r.rev != s.rev():
		case r.err != nil:
			s.Tell(frame.Complain{Err: r.err})
			if r.name() == s.want.name() {
				s.stage = planning
				s.giveUp()
			}
		default:
			s.keep(r)
		}
	}
}

// onStopped goes back to what was there before what was asked for. What comes of
// it is kept, should it be wanted again.
func (s *Screen) onStopped() {
	if s.stage == answering {
		s.stage, s.want = planning, s.back
	}
	s.giveUp()
}

// mostKnown bounds how many plans are kept; each holds the row once.
const mostKnown = 12

func (s *Screen) keep(r *result) {
	if len(s.known) >= mostKnown {
		clear(s.known)
	}
	s.known[r.name()] = r
}

func (s *Screen) show(r *result) {
	s.shown, s.halted = r, false
	if s.at() < 0 && len(r.boxes) > 0 {
		s.box = r.boxes[0].Name
	}
}

// giveUp goes back to what was shown last.
func (s *Screen) giveUp() {
	s.halted = true
	if s.shown != nil && s.shown.rev == s.rev() {
		s.want = s.shown.request
	}
}

func (s *Screen) rev() uint64 { return s.desk.Collection().Rev() }

// ready tells whether what is shown is what is wanted, of now.
func (s *Screen) ready() bool {
	return s.shown != nil && s.applying == nil && s.shown.rev == s.rev() && s.shown.name() == s.want.name()
}

// waiting tells whether a plan that is wanted is being worked out.
func (s *Screen) waiting() bool { return !s.ready() && !s.halted && s.applying == nil }

// at is the index of the chosen box; -1 when there is none.
func (s *Screen) at() int {
	if s.shown == nil {
		return -1
	}
	return slices.IndexFunc(s.shown.boxes, func(b box) bool { return b.Name == s.box })
}

// try asks for another plan, and says what of the one before has no say in it.
func (s *Screen) try(r request) {
	was := s.want.options()
	is := request{goal: ordering.Even, what: r.what}
	if kept := is.reckoned(); was != (ordering.Options{}) && r.options() == (ordering.Options{}) && len(kept) > 0 {
		s.Tell(frame.Say{Text: "kept for an even split: " + strings.Join(kept, ", ")})
	}
	s.want, s.halted = r, false
}

func (s *Screen) onWritten(msg frame.Written) {
	r := s.applying
	switch {
	case msg.Seq == s.noting:
		s.noting = 0
	case r == nil || msg.Seq != s.seq:
	case msg.Err != nil:
		// The root says so. If the shelf was written and the walls were not,
		// the what-ifs are the shelf now.
		if s.first == 0 && r.shelf != nil {
			s.want.what = s.want.what.lasting()
		}
		s.applying, s.first = nil, 0
	case msg.Seq == s.first:
		s.first = 0
		s.write(r.decision)
	default:
		s.applying = nil
		s.want.what = s.want.what.lasting()
		s.stage = labelling
		s.Tell(frame.Say{Text: "applied; ctrl+r: the refiling"})
	}
}

func (s *Screen) write(ch model.Change) {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
}

// begin applies what is shown: the shelf first, then the walls.
func (s *Screen) begin() {
	s.applying, s.stage = s.shown, planning
	if s.shown.shelf != nil {
		s.write(s.shown.shelf)
		s.first = s.seq
		return
	}
	s.write(s.shown.decision)
}
