package intake

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// The fields in the order in which tab goes through them. What changes with
// every sleeve comes first; from the name on, Enter is the end of an entry.
const (
	fPublisher = iota
	fNumber
	fName
	fCategory
	fSizes
	fYear
	fCut
	fBatch
	nFields
)

var labels = [nFields]string{"Publisher", "Number", "Name", "Category", "Sizes", "Year", "Cut", "Batch"}

// texts is what all fields say.
type texts [nFields]string

// kept tells which fields stay from the last entry: what is the same for a pile.
// What is of the one sleeve or copy alone would be entered unseen for the next.
func kept(f int) bool { return f == fPublisher || f == fCategory || f == fBatch }

// empties are the keys that take a chosen value away.
var empties = key.NewBinding(key.WithKeys("backspace", "ctrl+u"))

// cuts gives the states of a copy that begin with what was typed.
func cuts(typed string) []string {
	return slices.DeleteFunc([]string{string(model.Uncut), string(model.PartlyCut), string(model.FullyCut)}, func(c string) bool {
		return !strings.HasPrefix(c, words.Fold(typed))
	})
}

// field is a line of text; with a source it is chosen by first letters.
type field struct {
	input  textinput.Model
	source func(typed string) []string // nil: free text
	value  string                      // of a chosen field: what stands until something is typed
	pick   int                         // which suggestion Enter takes
	closed bool                        // nothing but what the source gives can stand
}

func newField(source func(string) []string) *field {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", 200
	// A cursor that blinks would redraw twice a second, over ssh too.
	in.Cursor.SetMode(cursor.CursorStatic)
	return &field{input: in, source: source}
}

// text is what the field says now.
func (f *field) text() string {
	if f.source == nil {
		return words.Clean(f.input.Value())
	}
	typed := words.Clean(f.input.Value())
	if typed == "" {
		return f.value
	}
	if s := f.suggestions(); f.pick < len(s) {
		return s[f.pick]
	}
	return typed
}

// suggestions are what Enter can take, the typed text itself last when it is
// new.
func (f *field) suggestions() []string {
	typed := words.Clean(f.input.Value())
	if f.source == nil || typed == "" {
		return nil
	}
	s := f.source(typed)
	if !f.closed && !listed(s, typed) {
		s = append(s, typed)
	}
	return s
}

func listed(names []string, typed string) bool {
	return slices.ContainsFunc(names, func(x string) bool { return strings.EqualFold(x, typed) })
}

// settle takes the choice and is ready for the next.
func (f *field) settle() {
	if f.source != nil {
		f.set(f.text())
	}
}

// set makes the field say something.
func (f *field) set(text string) {
	f.pick = 0
	if f.source != nil {
		f.value = text
		f.input.SetValue("")
		return
	}
	f.input.SetValue(text)
	f.input.CursorEnd()
}

// retype makes the field say what was typed into it until now, and no more.
func (f *field) retype(text string) {
	f.pick = 0
	f.input.SetValue(text)
	f.input.CursorEnd()
}

// key gives a key to the field. What deletes, and finds nothing typed, takes away
// what stands there.
func (f *field) key(msg tea.KeyMsg) tea.Cmd {
	before := f.input.Value()
	if f.source != nil && before == "" && key.Matches(msg, empties) {
		f.value = ""
		return nil
	}
	var cmd tea.Cmd
	f.input, cmd = f.input.Update(msg)
	if f.input.Value() != before {
		f.pick = 0
	}
	return cmd
}
