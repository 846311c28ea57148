package form

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// Forms are the forms of a room that were opened and neither used nor given up:
// each is left by esc as it is, and there again when it is opened anew.
type Forms struct {
	open  map[string]*Form
	typed map[string]typed // from before the program was closed
	kept  []byte           // what was kept last
}

// Keeper keeps a draft while the program is closed.
type Keeper interface {
	LoadDraft() ([]byte, error)
	// SaveDraft returns when the draft is safe.
	SaveDraft([]byte) error
	// Later has it kept by the command that it gives.
	Later([]byte) tea.Cmd
}

// Load takes up what was kept. The error is to be shown.
func (o *Forms) Load(k Keeper) error {
	draft, err := k.LoadDraft()
	if err != nil {
		return fmt.Errorf("what was typed here last time cannot be shown: %w", err)
	}
	o.Recall(draft)
	o.kept = draft
	return nil
}

// Keep has what is typed kept aside, if it is not what was kept last: for when
// the hands rest, or a form is left or used.
func (o *Forms) Keep(k Keeper) tea.Cmd {
	draft := o.Draft()
	if bytes.Equal(draft, o.kept) {
		return nil
	}
	o.kept = draft
	return k.Later(draft)
}

// Save keeps what is typed, and returns when it is safe: for when the program
// closes. The error is to be shown.
func (o *Forms) Save(k Keeper) error {
	if err := k.SaveDraft(o.Draft()); err != nil {
		return fmt.Errorf("what is typed here could not be kept for the next time: %w", err)
	}
	return nil
}

// typed is a form as it is kept.
type typed struct {
	Was    []string `json:"was"`
	Values []string `json:"values"`
}

// Open gives the form with a name, as it was left where it is about the same
// values still.
func (o *Forms) Open(name, title string, fields []Field, values []string) *Form {
	if f := o.open[name]; f != nil && slices.Equal(f.was, values) {
		f.Title, f.fields = title, fields
		return f
	}
	f := New(title, fields, values)
	if kept, ok := o.typed[name]; ok && slices.Equal(kept.Was, values) && len(kept.Values) == len(fields) {
		for i, v := range kept.Values {
			f.inputs[i].SetValue(v)
		}
	}
	if o.open == nil {
		o.open = map[string]*Form{}
	}
	o.open[name] = f
	return f
}

// Begun tells whether something is typed in the form with a name.
func (o *Forms) Begun(name string) bool {
	f := o.open[name]
	_, kept := o.typed[name]
	return f != nil && f.Touched() || f == nil && kept
}

// Done forgets a form: it was used, or is not wanted.
func (o *Forms) Done(name string) {
	delete(o.open, name)
	delete(o.typed, name)
}

// Draft is what is typed in all of them, to be kept while the program is closed;
// nothing where nothing is.
func (o *Forms) Draft() []byte {
	all := map[string]typed{}
	for name, k := range o.typed {
		all[name] = k
	}
	for name, f := range o.open {
		delete(all, name)
		if f.Touched() {
			all[name] = typed{f.was, f.Values()}
		}
	}
	if len(all) == 0 {
		return nil
	}
	b, err := json.Marshal(struct {
		Format int              `json:"format"`
		Forms  map[string]typed `json:"forms"`
	}{1, all})
	if err != nil {
		return nil // strings alone: it cannot be
	}
	return b
}

// Recall takes a draft up again. One that cannot be read is left alone.
func (o *Forms) Recall(draft []byte) {
	var k struct {
		Format int              `json:"format"`
		Forms  map[string]typed `json:"forms"`
	}
	if json.Unmarshal(draft, &k) == nil && k.Format == 1 {
		o.typed = k.Forms
	}
}
