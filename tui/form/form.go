// Package form is a form of a few fields, one under the other, to be filled in
// and left again: what was typed is there when one comes back.
//
// The usual way in is [New], or [Forms.Open] for a room that has several; then
// [Form.Update] with every key that the room has no use for. What enter and esc
// do, the room says.
//
// Promised: letters type; up, down and tab go from field to field; a field with
// choices takes nothing else; a name that is proposed is taken when one goes on, as
// in Intake, and a space behind what is typed keeps it as it is; no line of a view
// is wider than told.
package form

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// Field is one line of a form.
type Field struct {
	Label   string
	Hint    string                      // what to write
	Choices []string                    // what can stand in it; nil: anything
	Names   func(typed string) []string // what may be meant by a beginning, the likeliest first; nil: nothing is proposed
	Parted  bool                        // several names, with semicolons between
	Listed  bool                        // nothing but such a name is of use
}

// Form is a form being filled in.
type Form struct {
	Title  string
	fields []Field
	inputs []textinput.Model
	was    []string
	at     int
	typed  string // first letters of a choice
}

// New makes a form with a value for each field.
func New(title string, fields []Field, values []string) *Form {
	f := &Form{Title: title, fields: fields, was: slices.Clone(values)}
	for i := range fields {
		in := textinput.New()
		in.Prompt, in.CharLimit = "", 500
		in.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
		in.SetValue(values[i])
		f.inputs = append(f.inputs, in)
	}
	f.inputs[0].Focus()
	return f
}

// The keys of every form.
var (
	next     = key.NewBinding(key.WithKeys("tab", "down"), key.WithHelp("tab", "next field"))
	before   = key.NewBinding(key.WithKeys("shift+tab", "up"), key.WithHelp("shift+tab", "field before"))
	another  = key.NewBinding(key.WithKeys(" "), key.WithHelp("space", "another"))
	complete = key.NewBinding(key.WithKeys("right"), key.WithHelp("right", "take the name"))
)

// Keys are those that work now.
func (f *Form) Keys() []key.Binding {
	var keys []key.Binding
	if f.rest() != "" {
		keys = append(keys, complete)
	}
	if f.fields[f.at].Choices != nil {
		keys = append(keys, another)
	}
	if len(f.fields) > 1 {
		keys = append(keys, next)
	}
	return keys
}

// Help says the same at length, for the help of a room.
func Help() []key.Binding {
	long := func(b key.Binding, name, what string) key.Binding {
		b.SetHelp(name, what)
		return b
	}
	return []key.Binding{
		long(next, "tab, down", "in a form: to the next field"), long(before, "shift+tab, up", "in a form: to the field before"),
		long(another, "space or letters", "in a form: choose, where there is a choice; one letter again: the next that begins so"),
		long(complete, "right", "in a form: take over the name that is proposed, as going on does; a space keeps what is typed"),
	}
}

// To goes to the field of that label.
func (f *Form) To(label string) {
	f.to(slices.IndexFunc(f.fields, func(x Field) bool { return x.Label == label }))
}

// ToEmpty goes to the first field in which nothing stands, if there is one: of a
// new record the others are known.
func (f *Form) ToEmpty() {
	if i := slices.Index(f.Values(), ""); i >= 0 {
		f.to(i)
	}
}

// Settle takes over the name that is proposed. It is for when the form is about
// to be used.
func (f *Form) Settle() { f.complete() }

func (f *Form) to(i int) {
	f.Settle()
	f.inputs[f.at].Blur()
	f.at, f.typed = (i+len(f.fields))%len(f.fields), ""
	f.inputs[f.at].Focus()
	f.inputs[f.at].CursorEnd()
}

// Set puts a value into the field of that label.
func (f *Form) Set(label, value string) {
	for i, x := range f.fields {
		if x.Label == label {
			f.inputs[i].SetValue(value)
			f.inputs[i].CursorEnd()
		}
	}
}

// Value is what stands in the field of that label.
func (f *Form) Value(label string) string {
	for i, x := range f.fields {
		if x.Label == label {
			return words.Clean(f.inputs[i].Value())
		}
	}
	return ""
}

// Values are what stands in all fields.
func (f *Form) Values() []string {
	out := make([]string, len(f.inputs))
	for i := range f.inputs {
		out[i] = words.Clean(f.inputs[i].Value())
	}
	return out
}

// Touched tells whether anything was altered.
func (f *Form) Touched() bool { return !slices.Equal(f.Values(), f.was) }

// Update takes a key.
func (f *Form) Update(msg tea.KeyMsg) tea.Cmd {
	in := &f.inputs[f.at]
	switch {
	case key.Matches(msg, next):
		f.to(f.at + 1)
	case key.Matches(msg, before):
		f.to(f.at - 1)
	case key.Matches(msg, complete) && f.rest() != "":
		f.complete()
	case f.fields[f.at].Choices != nil:
		f.choose(msg.String())
	default:
		var cmd tea.Cmd
		*in, cmd = in.Update(msg)
		return cmd
	}
	return nil
}

// Paste takes pasted text, as one line.
func (f *Form) Paste(text string) tea.Cmd {
	return f.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(text))})
}

// choose takes the choice that begins with what was typed, or with space the
// next. A letter that does not go on with a choice is typed anew: it takes the first
// that begins so, and again the next. Where the first stands there already, it takes
// the next at once, so that no key does nothing while another begins so.
func (f *Form) choose(name string) {
	in, all := &f.inputs[f.at], f.fields[f.at].Choices
	if name == " " {
		f.typed = ""
		in.SetValue(all[(slices.Index(all, in.Value())+1)%len(all)])
	} else if len([]rune(name)) == 1 {
		for _, typed := range []string{f.typed + strings.ToLower(name), strings.ToLower(name)} {
			c, ok := startsWith(all, typed)
			if !ok {
				continue
			}
			now := in.Value()
			begins, alone := strings.HasPrefix(strings.ToLower(now), typed), len([]rune(typed)) == 1
			if alone && begins && (f.typed == typed || c == now) {
				from := slices.Index(all, now) + 1
				c, _ = startsWith(slices.Concat(all[from:], all[:from]), typed)
			}
			f.typed = typed
			in.SetValue(c)
			break
		}
	}
	in.CursorEnd()
}

// startsWith finds the first choice that begins so.
func startsWith(all []string, typed string) (string, bool) {
	i := slices.IndexFunc(all, func(c string) bool { return strings.HasPrefix(strings.ToLower(c), typed) })
	if i < 0 {
		return "", false
	}
	return all[i], true
}

// complete takes over the name that is proposed, as it is spelled.
func (f *Form) complete() {
	if before, name, _ := f.proposed(); name != "" {
		f.inputs[f.at].SetValue(before + name)
		f.inputs[f.at].CursorEnd()
	}
}

// rest is how the name goes on whose beginning stands at the end of the field;
// empty where it is whole, or nothing begins so.
func (f *Form) rest() string {
	_, name, typed := f.proposed()
	return name[min(len(typed), len(name)):]
}

// proposed is the name that is likely meant by what stands at the end of the
// field, what stands before that, and what is typed of it. There is none where what
// stands there is such a name itself, or was there before.
func (f *Form) proposed() (before, name, typed string) {
	x, in := f.fields[f.at], f.inputs[f.at]
	typed = in.Value()
	if x.Names == nil || in.Position() < len([]rune(typed)) || typed == f.was[f.at] {
		return "", "", ""
	}
	if i := strings.LastIndex(typed, ";"); x.Parted && i >= 0 {
		rest := strings.TrimLeft(typed[i+1:], " ")
		before, typed = typed[:len(typed)-len(rest)], rest
	}
	names := x.Names(typed)
	if slices.ContainsFunc(names, func(name string) bool { return strings.EqualFold(name, typed) }) {
		return "", "", ""
	}
	for _, name := range names {
		if n := len(typed); n > 0 && len(name) > n && strings.EqualFold(name[:n], typed) {
			return before, name, typed
		}
	}
	return "", "", ""
}

// leastFields are shown of a form, however much there is to say of one.
const leastFields = 3

// View draws the form in h lines: the title, the fields around the one that is
// being filled in, and what to write in it.
func (f *Form) View(t *theme.Theme, w, h int) []string {
	label := 0
	for _, x := range f.fields {
		label = max(label, cells.Width(x.Label))
	}
	label = min(label+2, w/2)
	hint := cells.Wrap(f.hint(), max(1, w-2))
	lines := []string{t.Heading.Render(cells.Cut(f.Title, w))}
	if few := max(1, h-len(lines)-min(len(f.fields), leastFields)); len(hint) > few { // what is filled in is worth more
		hint = append(hint[:few-1], cells.Cut(strings.Join(hint[few-1:], " "), w-2))
	}
	room := h - len(lines) - len(hint)
	if room > len(f.fields)+1 {
		lines, hint, room = append(lines, ""), append([]string{""}, hint...), room-2
	}
	from := min(max(0, f.at-room/2), max(0, len(f.fields)-room))
	for i := from; i < len(f.fields) && i < from+max(1, room); i++ {
		lines = append(lines, f.line(t, i, label, w))
	}
	for _, l := range hint {
		lines = append(lines, t.Quiet.Render(cells.Cut("  "+l, w)))
	}
	for i := range lines { // at least one cell is left to what is typed
		if cells.Width(lines[i]) > w {
			lines[i] = ""
		}
	}
	return lines
}

func (f *Form) line(t *theme.Theme, i, label, w int) string {
	mark, style := "  ", t.Quiet
	if i == f.at {
		mark, style = t.Glyphs.Arrow+" ", t.Strong
	}
	room := max(1, w-label-2)
	line := style.Render(cells.Fit(mark+f.fields[i].Label, label+2))
	if i != f.at || f.fields[i].Choices != nil {
		return line + t.Plain.Render(cells.Cut(f.inputs[i].Value(), room))
	}
	rest := cells.Cut(f.rest(), room/2)
	return line + t.Input(f.inputs[i], room-cells.Width(rest)) + t.Quiet.Render(rest)
}

func (f *Form) hint() string {
	x := f.fields[f.at]
	if _, name, typed := f.proposed(); name != "" && !x.Listed {
		return fmt.Sprintf("%q is taken; for %q as it is, put a space behind it", name, typed)
	}
	if x.Choices == nil {
		return x.Hint
	}
	shown := make([]string, len(x.Choices))
	for i, c := range x.Choices {
		if shown[i] = c; c == "" {
			shown[i] = "does not matter"
		}
	}
	return strings.Trim(x.Hint+": "+strings.Join(shown, ", "), ": ")
}
