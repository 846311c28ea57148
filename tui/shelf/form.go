package shelf

import (
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// The fields that are chosen, and those that name what is listed.
const (
	lockedLabel     = "locked"
	newBoxLabel     = "begins a box"
	numbersLabel    = "numbers"
	unitsLabel      = "units"
	seasonsLabel    = "seasons of the"
	publishersLabel = "publishers"
	categoryLabel   = "category"
	seeAlsoLabel    = "see also"
)

// fieldLabels name the fields, in the order of values and put.
var fieldLabels = [kinds][]string{
	{unitsLabel, "envelope", "working space", "uncut", "cut", "bulky", "card", "range card every", "publisher card from", seasonsLabel},
	{"name", "length", "place", lockedLabel},
	{"title", publishersLabel, "tags", newBoxLabel},
	{"name", "files as", numbersLabel},
	{"name"},
	{categoryLabel, "pockets", "sub-dividers", seeAlsoLabel},
	{"name", "hooks", "each holds"},
	{"name", "length", "place"},
}

// byLine is how a see-also entry is made where nothing else is said.
const byLine = "line"

// choices are what a field can say, where that is fixed.
var choices = map[string][]string{
	lockedLabel:  {yes(false), yes(true)},
	newBoxLabel:  {yes(false), yes(true)},
	unitsLabel:   {"mm", "in"},
	seasonsLabel: {model.North.String(), model.South.String()},
	seeAlsoLabel: {byLine, string(model.ByPocket)},
	numbersLabel: {string(model.Consecutive), string(model.PrefixFirst), string(model.Issue), string(model.BookPage), string(model.Unnumbered)},
}

// form is one piece of the furniture being filled in.
type form struct {
	piece
	isNew  bool
	inputs []textinput.Model
	labels []string
	was    []string
	at     int
	typed  string // first letters of a choice
}

func newForm(p piece, isNew bool, values, was []string) *form {
	f := &form{piece: p, isNew: isNew, labels: fieldLabels[p.kind], was: was}
	for _, v := range values {
		in := textinput.New()
		in.Prompt, in.CharLimit = "", 500
		in.Cursor.SetMode(cursor.CursorStatic)
		in.SetValue(v)
		f.inputs = append(f.inputs, in)
	}
	f.inputs[0].Focus()
	return f
}

// fill opens the form of a piece, as it was left if it was.
func (s *Screen) fill(p piece, isNew bool) {
	d := s.draft
	s.stage = filling
	if d.form != nil && d.form.piece == p && d.form.isNew == isNew {
		return
	}
	values := d.now.fresh(p.kind)
	if !isNew {
		values = d.now.values(p)
	}
	d.form = newForm(p, isNew, values, values)
}

func (f *form) to(i int) {
	f.inputs[f.at].Blur()
	f.at, f.typed = (i+len(f.inputs))%len(f.inputs), ""
	f.inputs[f.at].Focus()
	f.inputs[f.at].CursorEnd()
}

// choices are what the field can say; nil where that is free.
func (f *form) choices() []string { return choices[f.labels[f.at]] }

// choose takes the choice that begins with what was typed, or with space the
// next.
func (f *form) choose(name string) {
	in, all := &f.inputs[f.at], f.choices()
	if name == " " {
		f.typed = ""
		in.SetValue(all[(slices.Index(all, in.Value())+1)%len(all)])
	} else if len([]rune(name)) == 1 {
		for _, typed := range []string{f.typed + strings.ToLower(name), strings.ToLower(name)} {
			if i := slices.IndexFunc(all, func(c string) bool { return strings.HasPrefix(c, typed) }); i >= 0 {
				f.typed = typed
				in.SetValue(all[i])
				break
			}
		}
	}
	in.CursorEnd()
}

func (f *form) texts() []string {
	out := make([]string, len(f.inputs))
	for i := range f.inputs {
		out[i] = words.Clean(f.inputs[i].Value())
	}
	return out
}

// proposed tells whether the field says what a new piece mostly has, like the
// length of the box before: what is typed takes its place.
func (f *form) proposed() bool {
	text := f.inputs[f.at].Value()
	return f.isNew && text != "" && text == f.was[f.at] && f.inputs[f.at].Position() == len([]rune(text))
}

func (f *form) touched() bool { return !slices.Equal(f.texts(), f.was) }

// rest is how the name goes on that is being typed at the end of a field which
// names publishers or a category, by the one that is used most; empty where it
// is typed whole, or none begins so.
func (s *Screen) rest() string {
	f := s.draft.form
	in := f.inputs[f.at]
	label, typed := f.labels[f.at], in.Value()
	if in.Position() < len([]rune(typed)) {
		return ""
	}
	var names []string
	switch label {
	case publishersLabel:
		_, last, parted := lastCut(typed, strings.TrimSpace(listed))
		if typed = last; parted {
			typed = strings.TrimLeft(last, " ")
		}
		names = s.desk.Publishers(typed)
	case categoryLabel:
		names = s.desk.Categories(typed)
	}
	for _, name := range names {
		if n := len(typed); n > 0 && len(name) > n && strings.EqualFold(name[:n], typed) {
			return name[n:]
		}
	}
	return ""
}

func lastCut(text, sep string) (before, after string, found bool) {
	if i := strings.LastIndex(text, sep); i >= 0 {
		return text[:i], text[i+len(sep):], true
	}
	return "", text, false
}

func (s *Screen) onFormKey(msg tea.KeyMsg) tea.Cmd {
	k, f := s.keys, s.draft.form
	switch {
	case key.Matches(msg, k.next):
		f.to(f.at + 1)
	case key.Matches(msg, k.before):
		f.to(f.at - 1)
	case key.Matches(msg, k.ok):
		s.accept()
	case key.Matches(msg, k.save):
		if s.accept() {
			s.weigh()
		}
	case key.Matches(msg, k.out):
		s.stage, s.unkept = editing, true
		if !f.touched() {
			s.draft.form = nil
		}
	case key.Matches(msg, k.complete) && s.rest() != "":
		in := &f.inputs[f.at]
		in.SetValue(in.Value() + s.rest())
		in.CursorEnd()
	case f.choices() != nil:
		f.choose(msg.String())
	default:
		if (msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace) && f.proposed() {
			f.inputs[f.at].SetValue("")
		}
		var cmd tea.Cmd
		f.inputs[f.at], cmd = f.inputs[f.at].Update(msg)
		return cmd
	}
	return nil
}

// accept takes the form over into the draft, if it can be understood.
func (s *Screen) accept() bool {
	d, f := s.draft, s.draft.form
	if f.isNew || f.touched() {
		if err := d.take(f); err != nil {
			s.Tell(frame.Complain{Err: err})
			return false
		}
	}
	d.form, s.stage, s.unkept = nil, editing, true
	return true
}
