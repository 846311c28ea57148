package frame

import (
	"context"
	"time"

	"example.org/tuckrow/model"
	"github.com/charmbracelet/bubbles/help"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// Screen is what fills the body. The root alone calls it, from one goroutine.
//
// ShortHelp is for the footer: only keys that work now, the most useful first.
// Esc is among them while there is something in the room to be left; where it is
// not, esc leaves the room. FullHelp is for the help, in groups; pressed in
// another room, its keys with ctrl are told to be of this one. CapturesText
// tells whether letters are being typed into something; the keys with ctrl that
// the root has go to the root all the same. View may use at most the size last
// set.
type Screen interface {
	help.KeyMap
	Init() tea.Cmd
	Update(tea.Msg) tea.Cmd
	View() string
	SetSize(w, h int)
	CapturesText() bool
}

// Halfway is a screen that tells whether something is half typed in it. Who undoes
// then could mean that.
type Halfway interface {
	Halfway() bool
}

// Room is a screen with its name and the keys that lead to it. A key without
// ctrl works only where no text is taken.
type Room struct {
	ID     string
	Title  string
	Key    key.Binding
	Screen Screen
}

// Store is what the frame needs of the store. It is called from one goroutine
// at a time once the program runs, except Collection.
type Store interface {
	Collection() *model.Collection
	Commit(ctx context.Context, ch model.Change) (model.Commit, error)
	Undo(ctx context.Context) (model.Commit, error)
	// Undoable names the change that Undo would take back, and when it was
	// made; empty when there is none.
	Undoable() (title string, at time.Time)
}

// Messages to the root. From is the room that asks; a screen leaves it empty.
type (
	// Go leads to another room, which gets Arrived. It leads to the room one is
	// in, too.
	Go struct {
		Room string
		Arg  any
	}
	// Write asks for a change. The screen gets Written with the same Seq.
	Write struct {
		From   string
		Seq    uint64
		Change model.Change
	}
	// UndoLast takes back the last change, as ctrl+z does. The screen gets
	// Written with the same Seq.
	UndoLast struct {
		From string
		Seq  uint64
	}
	// Ask has something worked out aside. What Do gives is delivered to the
	// screen if this is still the screen's latest request, that is the one with
	// the highest Seq. Do must not touch the screen. With What, which says what
	// is being done ("working out the split"), it is shown when it takes long,
	// and esc stops it: the screen gets Stopped then. Do cannot be broken off.
	Ask struct {
		From string
		Seq  uint64
		What string
		Do   func() tea.Msg
	}
	// Say shows a remark until the next one, the next change, or until the room
	// is left.
	Say struct{ Text string }
	// Complain shows an error until it is put away with esc or, once it can have
	// been read, put right: a write works, or the key that led to it does. What a key
	// or a request has led to is shown in its room alone, unless that was left
	// meanwhile. The root complains of failed writes by itself. While the program closes, the
	// error goes to whoever has run it.
	Complain struct{ Err error }
)

// Messages from the root to a screen.
type (
	// Arrived: the screen is in front now.
	Arrived struct{ Arg any }
	// Left: the screen is in front no longer, and need not keep anything worked out.
	Left struct{}
	// Written: a write that the screen asked for is safe on disk, or has failed
	// and changed nothing. StoreChanged came before it.
	Written struct {
		Seq    uint64
		Commit model.Commit
		Err    error
	}
	// StoreChanged: there is a new collection, one revision on. All screens get
	// it, once for every change and in their order.
	StoreChanged struct{ Commit model.Commit }
	// Stopped: the user waits no longer for what the screen has asked for, and all
	// is to be as before. What comes of it comes all the same, unless something
	// else is asked for first; a screen may keep it, but not put it in front.
	Stopped struct{ Seq uint64 }
	// Pasted: text was pasted while the screen takes text. It may hold tabs and
	// line breaks ("\n"), but no other control characters.
	Pasted struct{ Text string }
	// Rested: keys have come, and none for a moment now. What is typed can be kept,
	// aside, in case the program is killed.
	Rested struct{}
	// Closing: the program is about to end, and what is typed must be kept now.
	// Commands are not run any more, but what is told is written. It may come
	// twice, when a write fails after the first.
	Closing struct{}
)

// Outbox takes what a screen has to tell the root. It is embedded in a screen.
type Outbox struct{ told []tea.Msg }

// Tell leaves a message for the root, which takes it when the screen's Update
// returns. Messages are taken in order.
func (o *Outbox) Tell(msg tea.Msg) { o.told = append(o.told, msg) }

// TakeTold empties the outbox. The root calls it, and tests of screens do.
func (o *Outbox) TakeTold() []tea.Msg {
	told := o.told
	o.told = nil
	return told
}

// Send makes a command of a message to the root, for what may be lost at quit.
func Send(msg tea.Msg) tea.Cmd { return func() tea.Msg { return msg } }

// Messages that the root sends itself.
type (
	landed    struct{} // a write has ended
	beat      struct{} // something may have been running for long
	visited   struct{} // a change from outside has been made
	look      struct{} // the hands may rest
	stop      struct{} // a signal asks the program to end
	suspended struct{} // a signal asks the process to stop for a while
	continued struct{} // the process was stopped and goes on
	reply     struct { // what came of an Ask
		to  string
		seq uint64
		msg tea.Msg
	}
	addressed struct { // what came of a screen's command
		to  string
		msg tea.Msg
	}
)
