package frame

import (
	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/bubbles/key"
)

// onUndo takes the last change back where its name can be read on the screen and
// nothing else can be meant; else it is said first, and the next press does it.
func (r *Root) onUndo(again bool) {
	half, can := r.room().Screen.(Halfway)
	meant := r.tall() && !r.help.open && !(can && half.Halfway())
	if again || meant || r.undoable == "" {
		r.onJob(job{})
		return
	}
	r.notice.again = "ctrl+z again undoes: " + cells.Plain(r.undoable)
}

// undoKey is undo with the name of what it undoes, in at most w cells; switched
// off when there is nothing.
func (r *Root) undoKey(w int) key.Binding {
	b := r.keys.undo
	b.SetHelp(b.Help().Key, "undo: "+cells.Cut(r.undoable, w))
	b.SetEnabled(r.undoable != "")
	return b
}
