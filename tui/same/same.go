// Package same is for when records turn out not to be what was thought: two of
// them are one pattern, one of them is two, or two have to do with one another.
//
// The usual way in is [New] for a pattern, in front of the room that shows it;
// then [Sheet.Update] with every key, until [Sheet.Left] says that it was left.
//
// Promised: before two records are merged each field is seen as both say it, with
// what will be said, and all that goes over; nothing is changed but by the key
// that says so, as one step for undo. What is half typed is there again when one
// comes back.
package same

import (
	"fmt"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// stage is what the sheet shows.
type stage int

const (
	choosing stage = iota // what is the matter with the record
	picking               // which other pattern
	joining               // what both say, side by side
	parting               // what belongs to the other design
	saying                // what the sleeve of that one says
)

// Host is the room behind the sheet.
type Host struct {
	Write func(model.Change) uint64 // gives the number by which Written tells of it
	Tell  func(tea.Msg)
	Forms *form.Forms
}

// Sheet is about one pattern.
type Sheet struct {
	desk  *desk.Desk
	theme *theme.Theme
	host  Host
	keys  keys
	w, h  int

	of    model.PatternID
	stage stage
	left  bool
	at    [saying + 1]int // the line of each stage
	saves uint64          // the write that ends the sheet; 0: none

	wish  model.LinkKind // what the other is picked for; empty: to be merged
	query textinput.Model
	found []candidate
	kin   []candidate // what is like the pattern

	merge model.Merge
	joint model.Joint
	going map[string]bool // names of what goes to the other design
	form  *form.Form
	asked string // a new publisher that was asked about
}

// New is the sheet of the pattern of a copy, which is the one that probably belongs
// elsewhere.
func New(d *desk.Desk, t *theme.Theme, h Host, a model.Accession) *Sheet {
	s := &Sheet{desk: d, theme: t, host: h, keys: newKeys(), of: d.Collection().Copy(a).Pattern, query: textinput.New()}
	s.query.Prompt, s.query.CharLimit = "", 200
	s.query.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	s.query.Focus()
	s.going = map[string]bool{copyName(a): true}
	s.relate()
	return s
}

// Left tells whether the sheet was left.
func (s *Sheet) Left() bool { return s.left }

// CapturesText tells whether letters are being typed into something.
func (s *Sheet) CapturesText() bool { return s.stage == picking || s.stage == saying }

// SetSize says how large it is drawn.
func (s *Sheet) SetSize(w, h int) { s.w, s.h = w, h }

// Update takes a key.
func (s *Sheet) Update(msg tea.KeyMsg) tea.Cmd {
	switch s.stage {
	case choosing:
		s.onDeedKey(msg)
	case picking:
		return s.onPickKey(msg)
	case joining:
		s.onJoinKey(msg)
	case parting:
		s.onPartKey(msg)
	case saying:
		return s.onSayKey(msg)
	}
	return nil
}

// Paste takes pasted text.
func (s *Sheet) Paste(text string) tea.Cmd {
	switch s.stage {
	case picking:
		return s.onPickKey(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(text))})
	case saying:
		return s.form.Paste(text)
	}
	return nil
}

// Follow takes a change along, which may have taken the pattern away.
func (s *Sheet) Follow() {
	if s.desk.Collection().Pattern(s.of) == nil {
		s.left = s.saves == 0 // else it was merged here, and Written says so
		return
	}
	s.relate()
	switch s.stage {
	case picking:
		s.look()
	case joining:
		if s.compare() != nil {
			s.stage = choosing
		}
	case parting, saying:
		if len(s.desk.Index.Copies(s.of)) < 2 {
			s.stage = choosing
		}
	}
	s.at[choosing] = min(s.at[choosing], len(s.deeds())-1)
	s.at[s.stage] = max(0, s.at[s.stage])
}

// Written ends the sheet when what it was for is safe; where saving has failed,
// all stays as it is.
func (s *Sheet) Written(msg frame.Written) {
	if msg.Seq != s.saves {
		return
	}
	s.saves = 0
	if msg.Err != nil {
		return
	}
	if s.form != nil {
		s.host.Forms.Done(s.formName())
	}
	s.left = true
}

// make makes the change that the sheet was for.
func (s *Sheet) make(ch model.Change) {
	if s.saves == 0 {
		s.saves = s.host.Write(ch)
	}
}

// deed is something that can be done about the record.
type deed struct {
	what, about string
	do          func()
}

// deeds lists what can be done, what undoes an earlier deed last.
func (s *Sheet) deeds() []deed {
	c := s.desk.Collection()
	p := c.Pattern(s.of)
	if p == nil {
		return nil
	}
	all := []deed{
		{"the same as another", "two records are one pattern: merge them", func() { s.pick("") }},
		{"two designs in one", "part copies from the others", s.part},
		{"issued again", "the same design under another number: link both ways", func() { s.pick(model.Reissue) }},
		{"see also", "has to do with another: link both ways", func() { s.pick(model.SeeAlso) }},
	}
	for _, l := range p.Links {
		all = append(all, deed{"no longer " + string(l.Kind), c.Called(l.To), func() {
			s.make(&model.SetLink{A: s.of, B: l.To, Kind: l.Kind, Off: true})
		}})
	}
	if n := len(p.Merged); n > 0 {
		m := p.Merged[n-1]
		gone := m.Gone.Heading()
		if house := c.Publisher(m.Gone.Publisher); house != nil {
			gone = house.Name + " " + gone
		}
		all = append(all, deed{"take apart again", gone + ", which was merged into it", func() { s.make(&model.Unmerge{Pattern: s.of}) }})
	}
	return all
}

// part goes on to what belongs to the other design.
func (s *Sheet) part() {
	if len(s.desk.Index.Copies(s.of)) < 2 {
		s.host.Tell(frame.Complain{Err: model.Inputf("there is only one copy of %s; enter what else lies in its envelope in Intake", s.desk.Collection().Called(s.of))})
		return
	}
	s.stage = parting
}

func copyName(a model.Accession) string { return fmt.Sprintf("copy %d", a) }
