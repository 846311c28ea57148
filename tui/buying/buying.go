// Package buying is the room for before one buys: is it owned, or close to
// something owned; what is wanted, what is on the way and where it will stand;
// and which copies can be passed on.
//
// The usual way in is [New], as a room of the frame.
//
// Promised: what is typed is answered while it is typed; nothing is bought, and
// nothing passed on, but by a key that says so, and ctrl+z takes that back.
package buying

import (
	"fmt"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/owned"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "buying"

// The rooms know each other by name only.
const (
	findRoom   = "find"
	intakeRoom = "intake"
)

// stage is what the room shows.
type stage int

const (
	asking  stage = iota
	filling       // a wish is written down
	passing       // copies to pass on
)

// row is a line of the list: a pattern that is owned, or a wish.
type row struct {
	pattern model.PatternID
	wish    model.WishID
	why     string
}

// inField is where one is while nothing of the list is chosen.
const inField = -1

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	stage  stage
	query  textinput.Model
	answer owned.Answer
	rows   []row
	at     int  // in rows; inField: in the field
	old    bool // typing begins a new question
	again  model.WishID

	forms  form.Forms
	form   *form.Form
	filled string // the form's name
	keeper *drafts.Keeper

	spare   *spare // copies to pass on; nil: not worked out
	spareAt int
	working bool
	jobs    uint64
	front   bool

	seq      uint64
	saves    uint64          // the write of the form; 0 for none
	arriving uint64          // the write that enters what has come
	came     model.Accession // what has come last, while one is here
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, keys: newKeys(), keeper: k, at: inField, query: textinput.New()}
	s.query.Prompt, s.query.CharLimit = "", 200
	s.query.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	s.query.Focus()
	if err := s.forms.Load(k); err != nil {
		s.Tell(frame.Complain{Err: err})
	}
	s.look()
	return s
}

// Init implements frame.Screen.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen.
func (s *Screen) CapturesText() bool { return s.stage != passing }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	var cmd tea.Cmd
	switch msg := msg.(type) {
	case tea.KeyMsg:
		cmd = s.onKey(msg)
	case frame.Pasted:
		if s.stage == filling {
			cmd = s.form.Paste(msg.Text)
		} else if s.stage == asking {
			cmd = s.onFieldKey(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(msg.Text))})
		}
	case frame.Arrived:
		s.front, s.old = true, s.query.Value() != ""
	case frame.Left:
		s.front, s.came = false, 0
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		s.refreshList()
	case frame.Written:
		cmd = s.onWritten(msg)
	case frame.Closing:
		if err := s.forms.Save(s.keeper); err != nil {
			s.Tell(frame.Complain{Err: err})
		}
	case frame.Rested:
		cmd = s.forms.Keep(s.keeper)
	case *spare:
		s.working, s.spare = false, msg
	case frame.Stopped:
		if s.working = false; s.spare == nil {
			s.stage = asking
		}
	}
	s.refresh()
	s.spareAt = max(0, min(s.spareAt, s.spares()-1))
	return cmd
}

// look answers what is typed: what is owned of it, then what is wanted or on the
// way. With nothing typed it lists all wishes.
func (s *Screen) look() {
	s.at, s.rows, s.answer = inField, nil, owned.Answer{Verdict: lookup.None}
	text, c := words.Clean(s.query.Value()), s.desk.Collection()
	if text == "" {
		for _, w := range c.Wishes().All() {
			s.rows = append(s.rows, row{wish: w.ID})
		}
		return
	}
	s.answer = owned.Ask(s.desk.Index, func() *propose.Known { return s.desk.Known }, text)
	for _, o := range s.answer.Owned {
		s.rows = append(s.rows, row{pattern: o.Pattern, why: o.Why})
	}
	for _, w := range s.answer.Wishes {
		s.rows = append(s.rows, row{wish: w.ID})
	}
}

// refreshList answers again after a change, and stays on what was chosen.
func (s *Screen) refreshList() {
	was, at := s.chosen(), s.at
	s.look()
	if at == inField {
		return
	}
	s.at = min(at, len(s.rows)-1)
	for i, r := range s.rows {
		if r.pattern == was.pattern && r.wish == was.wish {
			s.at = i
		}
	}
}

// chosen is the line that is chosen; an empty one while one is in the field.
func (s *Screen) chosen() row {
	if s.at < 0 || s.at >= len(s.rows) {
		return row{}
	}
	return s.rows[s.at]
}

// wish is the wish that is chosen; nil where none is.
func (s *Screen) wish() *model.Wish { return s.desk.Collection().Wishes().Get(uint32(s.chosen().wish)) }

// act does what enter does: to what is chosen, or to what is typed.
func (s *Screen) act() {
	c := s.desk.Collection()
	switch r := s.chosen(); {
	case s.at == inField && s.answer.Coded && !s.old: // the scanner pressed it
		s.old = true
	case s.at == inField:
		s.want()
	case r.pattern != 0 && c.Pattern(r.pattern) != nil:
		s.showInFind(r.pattern)
	case s.wish() != nil:
		s.fill(*s.wish())
	}
}

func (s *Screen) showInFind(id model.PatternID) {
	p := s.desk.Collection().Pattern(id)
	s.Tell(frame.Go{Room: findRoom, Arg: s.desk.Collection().Publisher(p.Publisher).Name + " " + p.Short()})
}

// arrived enters what has come. Where a copy of it is listed already it may have
// been entered in Intake: that is said first.
func (s *Screen) arrived() {
	w := s.wish()
	if w == nil {
		return
	}
	en := w.Entry()
	if p := s.desk.Index.Granted(w); p != nil {
		if s.again != w.ID {
			s.again = w.ID
			s.Tell(frame.Say{Text: fmt.Sprintf("%s is listed already: ctrl+d takes the wish off the list, ctrl+a again lists a further copy", s.desk.Collection().Called(p.ID))})
			return
		}
		en.Pattern = p.ID
	}
	s.again = 0
	s.arriving = s.write(&model.Arrive{Wish: w.ID, Entry: en})
}

// hasCome tells whether what has come last can be amended from here.
func (s *Screen) hasCome() bool { return s.came != 0 && s.desk.Collection().Copy(s.came) != nil }

// drop takes the wish off the list.
func (s *Screen) drop() {
	if w := s.wish(); w != nil {
		s.write(&model.Strike{Kind: model.KindWish.String(), ID: uint32(w.ID)})
	}
}

func (s *Screen) write(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}

// onWritten ends the form, or leaves all of it where saving has failed.
func (s *Screen) onWritten(msg frame.Written) tea.Cmd {
	switch {
	case msg.Seq == s.arriving && msg.Err == nil:
		s.came = msg.Commit.Added()[0]
		s.Tell(frame.Say{Text: fmt.Sprintf("entered as %d; ctrl+e opens it, for what else is known of it", s.came)})
	case msg.Seq == s.saves && msg.Err == nil:
		s.forms.Done(s.filled)
		if s.stage == filling {
			s.stage = asking
		}
	}
	if msg.Seq == s.saves {
		s.saves = 0
		return s.forms.Keep(s.keeper)
	}
	return nil
}
