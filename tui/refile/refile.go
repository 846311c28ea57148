// Package refile is the room for the walk after a batch: pull, box by box, what
// stands wrong; sort it on the table with what waits; put all of it in, each
// between two neighbours. The user stands at a cupboard with both hands busy,
// reads from a step away and presses one key.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: each tick is in the store before the next is, and nothing is
// recorded as moved that was not ticked. What is left of the walk the store says
// alone; which step one was at, what was skipped, and how much there was to do in
// all is kept besides. So whatever ends the program, the walk goes on where it
// was. That it does is due to the walls, which are settled before the first
// pull: the plan stays the same while envelopes move.
package refile

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "refile"

// stage is where in the walk one is.
type stage int

const (
	overview stage = iota
	pulling
	sorting
	putting
	ended
)

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage stage
	walk  *walk // nil until it has been worked out

	at    stage                      // the step that one was at last
	skips [2]map[model.Accession]int // how often something was skipped, in pulling and in putting in

	keeper *drafts.Keeper
	kept   *kept // what was kept of the walk, until it is laid
	unkept bool  // what is to be kept is not what was

	held   ordering.Holding // the box last drawn
	heldAt uint64           // the revision that it is of

	signs struct { // that are still to be made, in words
		rev  uint64
		text string
	}

	stale    bool // the walk is not of the collection as it is now
	asking   bool
	asked    uint64
	viewed   bool // the room has been in front since the walk was last asked for
	stopped  bool // esc has stopped it: it is asked for again with the next key
	starting bool // the walls are being settled; then the walk begins

	seq     uint64
	pending []op // written, and not known to be safe yet
}

type keys struct {
	begin, close, sorted, again   key.Binding
	pulled, in, skip, absent      key.Binding
	up, down, other, onward, back key.Binding
	outside                       key.Binding
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keeper: k, stale: true}
	bind := func(what string, names ...string) key.Binding {
		shown := names[0]
		return key.NewBinding(key.WithKeys(names...), key.WithHelp(shown, what))
	}
	s.keys = keys{
		begin:   bind("begin", "enter", " "),
		close:   bind("note it as done", "enter", " "),
		sorted:  bind("sorted, put them in", "enter", " "),
		again:   bind("to the overview", "enter", " ", "esc"),
		pulled:  bind("pulled", "enter", " "),
		in:      bind("put in", "enter", " "),
		skip:    bind("skip", "s"),
		absent:  bind("not here", "n"),
		up:      bind("one up", "up"),
		down:    bind("one down", "down"),
		other:   key.NewBinding(key.WithKeys("up", "down"), key.WithHelp("up/down", "another")),
		onward:  bind("next step", "tab"),
		back:    bind("step before", "shift+tab"),
		outside: bind("overview", "esc"),
	}
	s.forget()
	s.recall()
	return s
}

// forget begins another walk.
func (s *Screen) forget() {
	s.skips = [2]map[model.Accession]int{{}, {}}
	s.walk, s.stage, s.at, s.stale, s.unkept = nil, overview, overview, true, true
}

// Init implements frame.Screen. The walk is worked out when the room is
// entered, not when the program starts.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen: letters are keys here.
func (s *Screen) CapturesText() bool { return false }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	k := s.keys
	switch s.stage {
	case pulling, putting:
		tick := k.pulled
		if s.stage == putting {
			tick = k.in
		}
		keys := []key.Binding{tick, k.absent, k.skip}
		down, up := s.list().step(s.choosable, +1) >= 0, s.list().step(s.choosable, -1) >= 0
		switch {
		case down && up:
			keys = append(keys, k.other)
		case down:
			keys = append(keys, k.down)
		case up:
			keys = append(keys, k.up)
		}
		if s.neighbour(+1) != s.stage {
			keys = append(keys, k.onward)
		}
		return append(keys, k.outside)
	case sorting:
		return []key.Binding{k.sorted, k.back, k.outside}
	case ended:
		return []key.Binding{k.again}
	}
	switch {
	case s.stopped:
		b := k.begin
		b.SetHelp(b.Help().Key, "work it out")
		return []key.Binding{b}
	case !s.ready():
		return nil
	case s.walk.empty() && s.settled():
		return []key.Binding{k.close}
	case s.walk.empty():
		return nil
	}
	return []key.Binding{k.begin}
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	k := s.keys
	return [][]key.Binding{{
		long(k.pulled, "enter or space", "done: it is pulled, or put in; each is saved at once"),
		long(k.absent, "n", "not here: it is noted as missing, and not asked for again before it turns up"),
		long(k.skip, "s", "skip: it comes again at the end"),
		long(k.down, "up, down", "to another one; a tick works there too"),
		long(k.onward, "tab, shift+tab", "to the next step and back: pull, sort, put in"),
		long(k.outside, "esc", "to the overview; enter goes on from there"),
	}}
}

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		s.viewed, s.stopped = true, false
		s.onKey(msg)
	case frame.Arrived:
		s.onArrived()
	case frame.StoreChanged:
		s.onStoreChanged(msg)
	case frame.Written:
		s.onWritten(msg)
	case frame.Closing:
		s.onClosing()
	case laid:
		s.onLaid(msg)
	case frame.Stopped:
		s.asking, s.starting, s.stopped = false, false, true
	}
	s.refresh()
	return s.keep()
}

func (s *Screen) onArrived() {
	if s.stage == ended {
		s.forget()
	}
	s.viewed, s.stopped = true, false
}

// laid is what was worked out aside: the walk, if it had to be, and a box as it
// stands, to be drawn.
type laid struct {
	rev  uint64
	walk *walk
	box  model.BoxID
	held ordering.Holding
}

// refresh has worked out aside what is not known of the cupboard as it is now:
// for a large one that takes longer than a key may. It is not done for a room
// that is not looked at: Intake would have it done for every entry. A tick needs
// no new walk, see follow, but a new picture.
func (s *Screen) refresh() {
	box := s.drawn()
	if s.asking || s.stopped || !s.viewed || !s.stale && (box == 0 || s.fresh(box)) {
		return
	}
	s.asked++
	s.asking, s.viewed = true, false
	l, stale := s.desk.Layout, s.stale
	what := ""
	if stale {
		what = "laying out the walk"
	}
	s.Tell(frame.Ask{Seq: s.asked, What: what, Do: func() tea.Msg {
		m := laid{rev: l.Collection().Rev(), box: box}
		if stale {
			m.walk = lay(l)
		}
		if box != 0 {
			m.held = l.StandingIn(box)
		}
		return m
	}})
}

func (s *Screen) onLaid(msg laid) {
	if s.asking = false; s.stopped {
		return
	}
	if msg.box != 0 {
		s.held, s.heldAt = msg.held, msg.rev
	}
	switch {
	case msg.walk == nil:
		return
	case msg.rev != s.desk.Collection().Rev():
		s.viewed = true // it was, when this was asked for
		return
	}
	s.stale = false
	s.take(msg.walk)
	switch {
	case s.starting && len(s.pending) == 0:
		s.starting = false
		s.enter(s.resumed())
	case s.stage == overview || s.stage == ended:
		// Nothing is being walked.
	case len(s.desk.Collection().Walls().Firsts) == 0 || len(s.walk.moves.Plan.Needs()) > 0:
		// The decision was undone, or something came in that needs a box more:
		// that is to be seen before the walk goes on.
		s.stage = overview
	default:
		s.land()
	}
}

// ready tells whether what is shown is of now.
func (s *Screen) ready() bool { return s.walk != nil && !s.stale && !s.starting }

// settled tells whether there is a decision on the walls.
func (s *Screen) settled() bool { return len(s.desk.Collection().Walls().Firsts) > 0 }

func (s *Screen) onKey(msg tea.KeyMsg) {
	k := s.keys
	switch s.stage {
	case overview:
		if key.Matches(msg, k.begin) && s.ready() {
			s.begin()
		}
	case sorting:
		switch {
		case key.Matches(msg, k.sorted, k.onward):
			s.enter(putting)
		case key.Matches(msg, k.back):
			s.enter(s.neighbour(-1))
		case key.Matches(msg, k.outside):
			s.stage = overview
		}
	case ended:
		if key.Matches(msg, k.again) {
			s.forget()
		}
	default:
		s.onWalkKey(msg)
	}
}

func (s *Screen) onWalkKey(msg tea.KeyMsg) {
	k, l := s.keys, s.list()
	switch {
	case key.Matches(msg, k.pulled):
		s.tick()
	case key.Matches(msg, k.absent):
		s.notHere()
	case key.Matches(msg, k.skip):
		s.skip()
	case key.Matches(msg, k.down), key.Matches(msg, k.up):
		step := +1
		if key.Matches(msg, k.up) {
			step = -1
		}
		if i := l.step(s.choosable, step); i >= 0 {
			l.at = i
		}
	case key.Matches(msg, k.onward):
		s.enter(s.neighbour(+1))
	case key.Matches(msg, k.back):
		s.enter(s.neighbour(-1))
	case key.Matches(msg, k.outside):
		s.stage = overview
	}
}

// begin settles the walls, unless they are settled just so, and starts the
// walk. Where nothing is left to do it closes what was decided.
func (s *Screen) begin() {
	switch {
	case s.walk.empty() && s.settled():
		s.finish()
	case s.walk.empty():
	case s.decided():
		s.enter(s.resumed())
	default:
		s.starting = true
		s.write(op{kind: decide, change: s.walk.moves.Plan.Decision()})
	}
}

// decided tells whether the walls are settled as the plan has them.
func (s *Screen) decided() bool {
	c := s.desk.Collection()
	var firsts []model.NamedWall
	for _, w := range c.Walls().Firsts {
		b, _ := c.Shelf().Box(w.Box)
		firsts = append(firsts, model.NamedWall{Box: b.Name, First: w.First})
	}
	d := s.walk.moves.Plan.Decision()
	return len(d.Boxes) == 0 && slices.Equal(d.Firsts, firsts)
}
