// Package find is the room for the middle of sewing: type what is remembered
// of a pattern, see where it stands, take it out, put it back.
package find

import (
	"slices"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/drafts"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/same"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "find"

// most is how many patterns a search shows at the most; who has not found it
// among those adds a word.
const most = 100

// intakeRoom is where a copy is amended. The rooms know each other by name only.
const intakeRoom = "intake"

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk  *desk.Desk
	theme *theme.Theme
	w, h  int
	keys  keys

	query   textinput.Model
	results []model.Accession // copies, best first; what is out when nothing is typed
	total   int               // patterns in all
	guessed bool
	coded   bool // it was a barcode that was looked for
	old     bool // typing begins a new search
	at      int

	lending bool // the line below asks who gets it, what for, and until when
	answers [3]textinput.Model
	asks    int // which of them it asks for now

	sheet  *same.Sheet     // one pattern or two, see also; nil: not asked
	asked  model.Accession // the copy of which it was asked
	forms  form.Forms
	keeper *drafts.Keeper

	seq uint64
}

type keys struct {
	up, down, out, lend, clear, confirm, cancel key.Binding
	ask, same, amend                            key.Binding
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, k *drafts.Keeper) *Screen {
	s := &Screen{desk: d, theme: t, query: line(), answers: [3]textinput.Model{line(), line(), line()}, keeper: k}
	if err := s.forms.Load(k); err != nil {
		s.Tell(frame.Complain{Err: err})
	}
	s.query.Focus()
	s.keys = keys{
		up:      key.NewBinding(key.WithKeys("up"), key.WithHelp("up", "one up")),
		down:    key.NewBinding(key.WithKeys("down", "tab"), key.WithHelp("down", "one down")),
		out:     key.NewBinding(key.WithKeys("ctrl+o"), key.WithHelp("ctrl+o", "take out / put back")),
		lend:    key.NewBinding(key.WithKeys("ctrl+l"), key.WithHelp("ctrl+l", "lend")),
		clear:   key.NewBinding(key.WithKeys("ctrl+u"), key.WithHelp("ctrl+u", "new search")),
		confirm: key.NewBinding(key.WithKeys("enter"), key.WithHelp("enter", "lent")),
		ask:     key.NewBinding(key.WithKeys("tab", "down"), key.WithHelp("tab", "what for, until when")),
		same:    key.NewBinding(key.WithKeys("ctrl+y"), key.WithHelp("ctrl+y", "merge")),
		amend:   key.NewBinding(key.WithKeys("ctrl+e"), key.WithHelp("ctrl+e", "amend")),
		cancel:  key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "not lent")),
	}
	s.look()
	return s
}

func line() textinput.Model {
	in := textinput.New()
	in.Prompt, in.CharLimit = "", 200
	in.Cursor.SetMode(cursor.CursorStatic) // one that blinks would redraw twice a second
	return in
}

// Init implements frame.Screen.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen: the field has the focus, unless there is a
// sheet in front of it.
func (s *Screen) CapturesText() bool { return s.sheet == nil || s.sheet.CapturesText() }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) {
	s.w, s.h = w, h
	if s.sheet != nil {
		s.sheet.SetSize(w, h)
	}
}

// ShortHelp implements help.KeyMap.
func (s *Screen) ShortHelp() []key.Binding {
	switch {
	case s.sheet != nil:
		return s.sheet.ShortHelp()
	case s.lending:
		return []key.Binding{s.keys.confirm, s.keys.cancel, s.keys.ask}
	}
	var keys []key.Binding
	if a, ok := s.chosen(); ok {
		out, cp := s.keys.out, s.desk.Collection().Copy(a)
		switch {
		case cp.Out != nil:
			out.SetHelp(out.Help().Key, "put back")
			keys = append(keys, out)
		case cp.Missing != "":
			out.SetHelp(out.Help().Key, "turned up")
			keys = append(keys, out)
		default:
			out.SetHelp(out.Help().Key, "take out")
			keys = append(keys, out, s.keys.lend)
		}
	}
	if s.at+1 < len(s.results) {
		keys = append(keys, s.keys.down)
	}
	if s.query.Value() != "" {
		keys = append(keys, s.keys.clear)
	}
	if _, ok := s.chosen(); ok {
		keys = append(keys, s.keys.amend, s.keys.same)
	}
	if s.at > 0 {
		keys = append(keys, s.keys.up)
	}
	return keys
}

// FullHelp implements help.KeyMap.
func (s *Screen) FullHelp() [][]key.Binding {
	if s.sheet != nil {
		return s.sheet.FullHelp()
	}
	same := s.keys.same
	same.SetHelp("ctrl+y", "two records are one pattern: merge them; one is two: part them; link it, see also")
	amend := s.keys.amend
	amend.SetHelp("ctrl+e", "amend the copy: its record opens in Intake")
	return [][]key.Binding{{s.keys.out, s.keys.lend, amend, same, s.keys.up, s.keys.down, s.keys.clear}}
}

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		if s.sheet != nil {
			return s.onSheetKey(msg)
		}
		if s.lending {
			return s.onLendKey(msg)
		}
		return s.onKey(msg)
	case frame.Pasted:
		if s.sheet != nil {
			return s.sheet.Paste(msg.Text)
		}
		text := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(msg.Text))}
		if s.lending {
			return s.onLendKey(text)
		}
		return s.onKey(text)
	case frame.Arrived:
		s.sheet = nil // a slot is one key and its number away, from anywhere
		if q, ok := msg.Arg.(string); ok {
			s.query.SetValue(q)
			s.query.CursorEnd()
			s.look()
		}
		s.old = s.query.Value() != ""
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		s.refresh()
		s.followSheet()
	case frame.Written:
		return s.onWritten(msg)
	case frame.Rested:
		return s.forms.Keep(s.keeper)
	case frame.Closing:
		if err := s.forms.Save(s.keeper); err != nil {
			s.Tell(frame.Complain{Err: err})
		}
	}
	return nil
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.up):
		s.at = max(0, s.at-1)
		return nil
	case key.Matches(msg, s.keys.down):
		s.at = min(max(0, len(s.results)-1), s.at+1)
		return nil
	case key.Matches(msg, s.keys.out):
		return s.outOrBack()
	case key.Matches(msg, s.keys.lend):
		return s.lend()
	case key.Matches(msg, s.keys.amend):
		if a, ok := s.chosen(); ok {
			s.Tell(frame.Go{Room: intakeRoom, Arg: a})
		}
		return nil
	case key.Matches(msg, s.keys.same):
		s.openSheet()
		return nil
	case msg.Type == tea.KeyEnter:
		s.old = s.old || s.coded // behind a scan comes the next; else the answer is on the screen already
		return nil
	case msg.Type == tea.KeyEsc:
		return nil
	}
	before := s.query.Value()
	if s.old && (msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace) {
		s.query.SetValue("")
	}
	s.old = false
	var cmd tea.Cmd
	s.query, cmd = s.query.Update(msg)
	if s.query.Value() != before {
		s.look()
	}
	return cmd
}

// look searches for what is typed; with nothing typed it lists what is out, the
// longest out first, then what could not be found. A barcode leads to the pattern
// that bears it.
func (s *Screen) look() {
	s.at, s.total, s.guessed, s.results = 0, 0, false, nil
	text := words.Clean(s.query.Value())
	s.coded = model.IsGTIN(text)
	if text == "" {
		c := s.desk.Collection()
		for _, cp := range append(c.OutList(s.desk.Today()), c.MissingList()...) {
			s.results = append(s.results, cp.Accession)
		}
		return
	}
	if s.coded {
		if g := s.desk.Known.Code(text); g.Pattern != 0 {
			s.total, s.results = 1, slices.Clone(s.desk.Index.Copies(g.Pattern))
			return
		}
	}
	f := s.desk.Index.Find(s.query.Value(), most)
	s.total, s.guessed = f.Total, f.Guessed
	for _, p := range f.Patterns {
		s.results = append(s.results, s.desk.Index.Copies(p)...)
	}
}

// refresh searches again after a change and stays on the copy that was chosen.
func (s *Screen) refresh() {
	chosen, ok := s.chosen()
	s.look()
	if !ok {
		return
	}
	for i, a := range s.results {
		if a == chosen {
			s.at = i
		}
	}
}

func (s *Screen) chosen() (model.Accession, bool) {
	if s.at >= len(s.results) {
		return 0, false
	}
	return s.results[s.at], true
}

// outOrBack notes that the chosen copy was taken out or, when it was out or
// missing, that it is back.
func (s *Screen) outOrBack() tea.Cmd {
	a, ok := s.chosen()
	if !ok {
		return nil
	}
	if cp := s.desk.Collection().Copy(a); cp.Out != nil || cp.Missing != "" {
		return s.write(&model.PutBack{Copy: a})
	}
	return s.write(&model.TakeOut{Copy: a})
}

func (s *Screen) lend() tea.Cmd {
	a, ok := s.chosen()
	if !ok {
		return nil
	}
	s.lending = true
	var known [len(s.answers)]string
	if out := s.desk.Collection().Copy(a).Out; out != nil {
		known = [...]string{out.To, out.For, string(out.Due)}
	}
	for i := range s.answers {
		s.answers[i].SetValue(known[i])
		s.answers[i].CursorEnd()
	}
	return s.question(0)
}

// question asks who gets it, what for, or until when.
func (s *Screen) question(i int) tea.Cmd {
	s.answers[s.asks].Blur()
	s.asks = i % len(s.answers)
	return s.answers[s.asks].Focus()
}

func (s *Screen) onLendKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.cancel):
		s.lending = false
		return nil
	case key.Matches(msg, s.keys.confirm):
		a, ok := s.chosen()
		if !ok {
			s.lending = false
			return nil
		}
		due, err := model.ParseDate("until when", words.Clean(s.answers[2].Value()))
		if err != nil {
			s.Tell(frame.Complain{Err: err})
			return s.question(2)
		}
		s.lending = false
		return s.write(&model.TakeOut{Copy: a, To: words.Clean(s.answers[0].Value()), For: words.Clean(s.answers[1].Value()), Due: due})
	case key.Matches(msg, s.keys.ask):
		return s.question(s.asks + 1)
	}
	var cmd tea.Cmd
	s.answers[s.asks], cmd = s.answers[s.asks].Update(msg)
	return cmd
}

func (s *Screen) write(ch model.Change) tea.Cmd {
	s.told(ch)
	return nil
}

// told has a change written, and gives the number by which Written tells of it.
func (s *Screen) told(ch model.Change) uint64 {
	s.seq++
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
	return s.seq
}
