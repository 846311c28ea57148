package frame

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/theme"
	tea "github.com/charmbracelet/bubbletea"
)

// Options say what the frame is to hold.
type Options struct {
	Rooms []Room
	Start string // the room to begin in, else the first
	Store Store
	Theme *theme.Theme
	Title string // the cupboard's name, else "tuckrow"
	// Standing is a word that stands beside each room's name, as long as the
	// interface is open; it may be empty.
	Standing string

	// Prepare, if set, is given each change aside before the screens are told of
	// it: what takes long of a large one can be worked out there, while keys come.
	// Nothing else is written meanwhile.
	Prepare func(model.Commit)
	// Started, if set, is given a way to change the store from outside while
	// the interface is open.
	Started func(*Outside)
	// PID is told in the help, for a terminal that takes no keys any more.
	PID int
	// Now is the clock, time.Now if not given.
	Now func() time.Time
	// Suspend, if set, asks whoever has started the program to suspend it; the
	// shell it was started from goes on then. SIGTSTP has to come of it, or
	// nothing where there is no such shell.
	Suspend func()
	// BeforeSleep, if set, is what is done aside before the program is suspended,
	// by its key or by SIGTSTP from outside. It is waited for no longer than
	// Patience, when its context ends.
	BeforeSleep func(context.Context)
	// Patience is how long the program waits for itself to end after a signal,
	// or for what comes before it is suspended; 2 s if not given.
	Patience time.Duration
}

// Root is the only tea.Model of the program.
type Root struct {
	title    string
	standing string
	rooms    []Room
	at       int   // the room in front
	path     []int // the rooms that one came through, to be gone back to with esc
	now      func() time.Time
	hands    hands
	keys     globals
	suspend  func()
	theme    *theme.Theme
	pid      int
	w, h     int
	bodyW    int
	bodyH    int
	help     overlay
	notice   notice
	header   header
	col      *model.Collection
	writer   *writer
	writing  bool // a command for the writer is under way
	visits   int  // how many changes from outside the screens know of
	latest   map[string]uint64
	jobs     jobs
	stirred  stirred
	undoable string    // the name of the change that undo would take back
	hearing  string    // the room whose messages are being taken
	cause    string    // what that room was given
	cmds     []tea.Cmd // what this Update returns
	closing  bool
	closeErr error
	wake     func() // has Update called soon; set by Run, and panics are caught then
	broke    *Panic
}

// New makes the root. It panics when two rooms have the same ID or claim the
// same key, or a room claims a key of the root: that is a mistake in the
// program and shows at the first start.
func New(o Options) *Root {
	if len(o.Rooms) == 0 || o.Store == nil || o.Theme == nil {
		panic("frame: rooms, store and theme are needed")
	}
	r := &Root{
		title:    o.Title,
		standing: o.Standing,
		rooms:    o.Rooms,
		theme:    o.Theme,
		pid:      o.PID,
		keys:     newGlobals(o.Rooms, o.Suspend != nil),
		suspend:  o.Suspend,
		col:      o.Store.Collection(),
		writer:   newWriter(o.Store, o.Prepare),
		latest:   map[string]uint64{},
		jobs:     jobs{asked: map[string]running{}},
		now:      o.Now,
	}
	if r.now == nil {
		r.now = time.Now
	}
	r.undoable, _ = o.Store.Undoable()
	r.theme.Units = r.col.Shelf().Settings.Units
	if r.title == "" {
		r.title = "tuckrow"
	}
	if o.Start != "" {
		r.at = r.find(o.Start)
		if r.at < 0 {
			panic(fmt.Sprintf("frame: there is no room %q to start in", o.Start))
		}
	}
	r.keys.ownedBy(o.Rooms)
	r.notice.room = r.room().ID
	return r
}

// Init implements tea.Model.
func (r *Root) Init() tea.Cmd {
	for _, room := range r.rooms {
		r.run(room.ID, room.Screen.Init())
		r.collect(room)
	}
	r.deliver(r.rooms[r.at].ID, Arrived{})
	return r.takeCmds()
}

// Update implements tea.Model.
func (r *Root) Update(msg tea.Msg) (model tea.Model, cmd tea.Cmd) {
	defer r.catch(func() {
		r.quit()
		model, cmd = r, r.takeCmds()
	})
	r.handle(msg)
	r.layOut()
	return r, r.takeCmds()
}

func (r *Root) takeCmds() tea.Cmd {
	cmds := r.cmds
	r.cmds = nil
	return tea.Batch(cmds...)
}

func (r *Root) handle(msg tea.Msg) {
	switch msg := msg.(type) {
	case nil:
	case tea.WindowSizeMsg:
		r.onSize(msg)
	case tea.KeyMsg:
		r.onKey(msg)
	case Go:
		r.onGo(msg)
	case Write:
		r.onJob(job{from: msg.From, seq: msg.Seq, change: msg.Change})
	case UndoLast:
		r.onJob(job{from: msg.From, seq: msg.Seq})
	case landed:
		r.onLanded()
	case visited:
		_ = r.settle()
	case Ask:
		r.onAsk(msg)
	case reply:
		r.onReply(msg)
	case beat:
		r.onBeat()
	case look:
		r.onLook()
	case Say:
		r.notice.say(msg.Text)
	case Complain:
		r.notice.complain(msg.Err, r.hearing, r.cause, r.hands.pressed)
		if r.closing { // nobody will see the notice any more
			r.closeErr = errors.Join(r.closeErr, msg.Err)
		}
	case addressed:
		r.deliver(msg.to, msg.msg)
	case stop:
		r.quit()
	case suspended:
		r.cmds = append(r.cmds, tea.Exec(asleep{}, nil))
	case continued:
		r.onContinued()
	case broken:
		r.broke = msg.by
		r.quit()
	default:
		r.deliver(r.room().ID, msg)
	}
}

func (r *Root) room() Room { return r.rooms[r.at] }

func (r *Root) find(id string) int {
	return slices.IndexFunc(r.rooms, func(room Room) bool { return room.ID == id })
}

// deliver gives a message to a screen and takes what the screen has to tell.
func (r *Root) deliver(id string, msg tea.Msg) {
	i := r.find(id)
	if i < 0 {
		return
	}
	r.run(id, r.rooms[i].Screen.Update(msg))
	r.collect(r.rooms[i])
}

func (r *Root) deliverAll(msg tea.Msg) {
	for _, room := range r.rooms {
		r.deliver(room.ID, msg)
	}
}

// collect takes what a screen has told the root.
func (r *Root) collect(room Room) {
	box, ok := room.Screen.(interface{ TakeTold() []tea.Msg })
	if !ok {
		return
	}
	before := r.hearing
	for _, msg := range box.TakeTold() {
		r.hearing = room.ID
		r.handle(sentBy(room.ID, msg))
	}
	r.hearing = before
}

// sentBy writes the sender onto a message to the root.
func sentBy(id string, msg tea.Msg) tea.Msg {
	switch msg := msg.(type) {
	case Write:
		if msg.From == "" {
			msg.From = id
		}
		return msg
	case UndoLast:
		if msg.From == "" {
			msg.From = id
		}
		return msg
	case Ask:
		if msg.From == "" {
			msg.From = id
		}
		return msg
	}
	return msg
}

// run has a screen's command run, with what comes of it addressed to the
// screen, which may be in front no longer by then.
func (r *Root) run(id string, cmd tea.Cmd) {
	if cmd != nil {
		r.cmds = append(r.cmds, r.own(id, cmd))
	}
}

// own writes a screen's address onto what comes of its command.
func (r *Root) own(id string, cmd tea.Cmd) tea.Cmd {
	if cmd == nil {
		return nil
	}
	return r.guard(func() tea.Msg {
		msg := cmd()
		switch msg := msg.(type) {
		case nil:
			return nil
		case tea.BatchMsg:
			return tea.BatchMsg(r.ownAll(id, msg))
		case Go, Write, UndoLast, Ask, Say, Complain:
			return sentBy(id, msg)
		}
		t := reflect.TypeOf(msg)
		switch {
		case t.PkgPath() != teaPath:
			return addressed{id, msg}
		case t.ConvertibleTo(cmdsType):
			// What tea.Sequence makes is not exported.
			return tea.Sequence(r.ownAll(id, reflect.ValueOf(msg).Convert(cmdsType).Interface().([]tea.Cmd))...)()
		}
		return msg // for Bubble Tea itself
	})
}

var (
	cmdsType = reflect.TypeFor[[]tea.Cmd]()
	teaPath  = reflect.TypeFor[tea.QuitMsg]().PkgPath()
)

func (r *Root) ownAll(id string, cmds []tea.Cmd) []tea.Cmd {
	owned := make([]tea.Cmd, len(cmds))
	for i, c := range cmds {
		owned[i] = r.own(id, c)
	}
	return owned
}

// onGo leads to another room. The path back leads through each of the others
// once, the latest first.
func (r *Root) onGo(msg Go) {
	i := r.find(msg.Room)
	if i < 0 {
		r.notice.complain(fmt.Errorf("there is no room %q; press f1 to see which there are", msg.Room), "", "", r.hands.pressed)
		return
	}
	if i != r.at {
		r.notice.say("")
		r.path = append(slices.DeleteFunc(r.path, func(at int) bool { return at == i }), r.at)
		r.deliver(r.room().ID, Left{})
	}
	r.at = i
	r.notice.enter(msg.Room, r.hands.pressed)
	r.deliver(msg.Room, Arrived{msg.Arg})
}

// onStoreChanged passes a new collection on to all. News of what is known
// already, or older, is dropped.
func (r *Root) onStoreChanged(msg StoreChanged) {
	c := msg.Commit.Collection
	if c == nil || c.Rev() <= r.col.Rev() {
		return
	}
	r.col = c
	r.theme.Units = c.Shelf().Settings.Units
	r.deliverAll(msg)
}

// onContinued takes the terminal anew: whoever let the process go on, a shell
// for instance, has set it up for itself.
func (r *Root) onContinued() {
	r.cmds = append(r.cmds, tea.Exec(nothing{}, nil))
}

// quit lets the screens keep what is typed, then ends the program. What is
// told until then is written by Drain.
func (r *Root) quit() {
	if r.closing {
		return
	}
	r.tellClosing()
	r.cmds = []tea.Cmd{tea.Quit}
}

// tellClosing lets every screen keep what is typed, also when one breaks: it
// may be the one that broke the program.
func (r *Root) tellClosing() {
	r.closing = true
	for _, room := range r.rooms {
		func() {
			defer func() {
				if p := recover(); p != nil {
					r.closeErr = errors.Join(r.closeErr, fmt.Errorf("room %q broke while closing, and what was typed there may be lost: %v", room.ID, p))
				}
			}()
			r.deliver(room.ID, Closing{})
		}()
	}
}
