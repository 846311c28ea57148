package frame

import (
	"fmt"
	"runtime/debug"

	tea "github.com/charmbracelet/bubbletea"
)

// Panic is a mistake in the program that ended the interface. What was told to
// be written has been written, and the screens have kept what was typed.
type Panic struct {
	Value any
	Stack []byte // for a report; not for the user to read
}

func (p *Panic) Error() string {
	return fmt.Sprintf("the interface broke off: %v; start tuckrow again", p.Value)
}

// broken is what comes of a command that panics.
type broken struct{ by *Panic }

// catch, deferred, keeps a panic and has the program end in order: Bubble Tea
// would write over the screen and close the input while it is being read. Only
// under Run; in a test of a screen a panic stays one.
func (r *Root) catch(then func()) {
	if r.wake == nil {
		return
	}
	if p := recover(); p != nil {
		r.broke = &Panic{p, debug.Stack()}
		then()
	}
}

// guard does for a command what catch does for the root.
func (r *Root) guard(cmd tea.Cmd) tea.Cmd {
	if r.wake == nil {
		return cmd
	}
	return func() (msg tea.Msg) {
		defer func() {
			if p := recover(); p != nil {
				msg = broken{&Panic{p, debug.Stack()}}
			}
		}()
		return cmd()
	}
}
