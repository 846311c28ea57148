// Package intake is the room where a drawer is emptied: one hand on the
// keyboard, a few seconds a pattern. Number, Enter, name, Enter is an entry;
// publisher, category and batch stay from the last one.
//
// The usual way in is [New] on a desk. What is being typed, what was put aside
// and how far one was goes through [Drafts] when the hands rest and when the
// program closes, and comes back from there.
//
// Promised: nothing that was typed is thrown away, whether one edits an earlier
// entry meanwhile, puts the entry aside, or closes; nothing is entered but by
// Enter; and no proposal is taken but by the key that takes it.
package intake

import (
	"time"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/theme"
)

// ID is the room's name in messages.
const ID = "intake"

// Options say what the room works with. The zero value will do.
type Options struct {
	Drafts Drafts           // nil: nothing is kept at closing
	Now    func() time.Time // time.Now when nil
}

// Screen is the room.
type Screen struct {
	frame.Outbox
	desk   *desk.Desk
	theme  *theme.Theme
	now    func() time.Time
	drafts Drafts
	w, h   int
	fields [nFields]*field
	focus  int
	keys   keys

	code     string // on the sleeve in hand, as scanned
	guessed  string // the number that the code has brought
	plain    string // a code that is a number, as its owner says
	replaced string // the number that stood there before that
	rush     rush

	kin    []lookup.Relative // what the entry is like
	listed *lookup.Listed    // by its number, or name where it has none
	gap    ordering.Gap      // where it will stand
	apart  bool              // the owner says it is a pattern of its own

	proposed string  // a category that the name speaks for, and that does not stand there
	before   *string // the category that stood before a proposal was taken
	chosen   bool    // the owner has typed a category for this entry
	asked    string  // a new category that was asked about

	seq     uint64
	sent    map[uint64]job // on their way to the disk
	refused []model.Entry  // came back, to be offered again when the fields are free
	recent  []model.Accession
	asks    model.Accession // entered by a code that was new: asks for number and name
	pace    pace

	aside   []typed // put aside, the latest last
	thrown  []typed // thrown away, the latest last
	brought typed   // as it came back from there
	edit    *edit   // an earlier entry is being edited
	edits   map[model.Accession]unsaved
	about   *textinput.Model // asks about how many lie in the drawer
	ticks   ticks            // the list of what is at which step
	note    string           // one line above the fields
	fresh   bool             // no key was pressed yet
	left    []string         // what is left to do, for as long as it is fresh
	leftFor int              // the width that it is written for
	stored  bool             // a draft of ours is on disk
	kept    []byte           // and this is it, or is on its way there
	began   string           // what there was to be kept at the start
	closing bool
}

// job is what was sent to be written.
type job struct {
	entry *model.Entry    // of a new entry
	edits model.Accession // of an earlier one
	was   unsaved         // what was typed into that
	says  string          // once it is done
}

// New makes the room.
func New(d *desk.Desk, t *theme.Theme, o Options) *Screen {
	s := &Screen{desk: d, theme: t, focus: fPublisher, sent: map[uint64]job{}, edits: map[model.Accession]unsaved{},
		now: o.Now, drafts: o.Drafts, keys: newKeys(), fresh: true}
	if s.now == nil {
		s.now = time.Now
	}
	for i := range s.fields {
		s.fields[i] = newField(nil)
	}
	s.fields[fPublisher] = newField(s.publishers)
	s.fields[fCategory] = newField(s.categories)
	s.fields[fCut] = newField(cuts)
	s.fields[fCut].closed = true
	s.fields[fBatch] = newField(func(q string) []string { return s.desk.Batches(q) })
	s.remember()
	s.recall()
	s.fields[s.focus].input.Focus()
	s.look()
	s.began = s.undated()
	return s
}

// remember takes over publisher, category and batch of the last entry there
// is, so that work goes on where it was left.
func (s *Screen) remember() {
	c := s.desk.Collection()
	if last := c.Copy(c.Counters().Copy); last != nil {
		en := c.EntryOf(last)
		s.fields[fPublisher].set(en.Publisher)
		s.fields[fCategory].set(en.Category)
		s.fields[fBatch].set(en.Batch)
		s.focus = fNumber
	}
}

// Init implements frame.Screen.
func (s *Screen) Init() tea.Cmd { return nil }

// CapturesText implements frame.Screen: a field has the focus, but in the list
// of steps.
func (s *Screen) CapturesText() bool { return !s.ticks.open }

// SetSize implements frame.Screen.
func (s *Screen) SetSize(w, h int) { s.w, s.h = w, h }

// Update implements frame.Screen.
func (s *Screen) Update(msg tea.Msg) tea.Cmd {
	switch msg := msg.(type) {
	case tea.KeyMsg:
		return s.onKey(msg)
	case frame.Pasted:
		return s.onPaste(msg)
	case frame.Written:
		return s.onWritten(msg)
	case frame.Arrived:
		if a, ok := msg.Arg.(model.Accession); ok {
			return s.amend(a)
		}
	case frame.StoreChanged:
		s.desk.Follow(msg.Commit)
		s.followNames(msg.Commit.Delta)
		s.followEdit()
		s.left = nil
		s.ticks.stale = true
		s.look()
	case frame.Rested:
		return s.keep()
	case frame.Closing:
		s.onClosing()
	}
	return nil
}

func (s *Screen) onKey(msg tea.KeyMsg) tea.Cmd {
	s.fresh = false
	switch {
	case s.ticks.open:
		return s.onTickKey(msg)
	case s.about != nil:
		return s.onAboutKey(msg)
	}
	s.pace.busy(s.now())
	if cmd, done := s.onRoomKey(msg); done {
		return cmd
	}
	f := s.fields[s.focus]
	choices := len(f.suggestions())
	switch {
	case key.Matches(msg, s.keys.enter):
		return s.onEnter()
	case key.Matches(msg, s.keys.pickDown) && choices > 1:
		f.pick = (f.pick + 1) % choices
	case key.Matches(msg, s.keys.pickUp) && choices > 1:
		f.pick = (f.pick + choices - 1) % choices
	case key.Matches(msg, s.keys.next, s.keys.pickDown):
		s.recognise()
		return s.to((s.focus + 1) % nFields)
	case key.Matches(msg, s.keys.prev, s.keys.pickUp):
		s.recognise()
		return s.to((s.focus + nFields - 1) % nFields)
	default:
		return s.typeInto(f, msg)
	}
	s.look()
	return nil
}

// onRoomKey does what a key does in any field.
func (s *Screen) onRoomKey(msg tea.KeyMsg) (tea.Cmd, bool) {
	switch {
	case key.Matches(msg, s.keys.apart):
		s.apart = !s.apart && s.twin() != nil
	case key.Matches(msg, s.keys.take):
		s.takeProposal()
	case key.Matches(msg, s.keys.aside):
		return s.onAside(), true
	case key.Matches(msg, s.keys.throw) && s.edit == nil:
		return s.onThrow(), true
	case key.Matches(msg, s.keys.digits):
		s.onDigits()
	case key.Matches(msg, s.keys.earlier):
		return s.onEarlier(+1), true
	case key.Matches(msg, s.keys.later):
		return s.onEarlier(-1), true
	case key.Matches(msg, s.keys.steps):
		s.openTicks()
	case key.Matches(msg, s.keys.howMany):
		return s.askAbout(), true
	case key.Matches(msg, s.keys.home) && s.edit != nil:
		return s.leaveEdit(), true
	case key.Matches(msg, s.keys.home):
		s.recognise()
		return s.to(fNumber), true
	default:
		return nil, false
	}
	return nil, true
}

func (s *Screen) typeInto(f *field, msg tea.KeyMsg) tea.Cmd {
	before, stood := f.input.Value(), f.value
	if msg.Type == tea.KeyRunes || msg.Type == tea.KeySpace {
		s.rush.typed(s.now(), words.Clean(before))
	}
	cmd := f.key(msg)
	if f == s.fields[fCategory] && (f.input.Value() != before || f.value != stood) {
		s.chosen = true
	}
	s.look()
	return cmd
}

// onPaste puts pasted text into the field as one line; a paste never enters
// anything by itself.
func (s *Screen) onPaste(msg frame.Pasted) tea.Cmd {
	s.fresh = false
	text := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(words.Clean(msg.Text))}
	if s.about != nil {
		return s.onAboutKey(text)
	}
	return s.typeInto(s.fields[s.focus], text)
}

// to moves the focus. Nothing that was typed is lost.
func (s *Screen) to(f int) tea.Cmd {
	s.fields[s.focus].settle()
	s.fields[s.focus].input.Blur()
	s.focus = f
	s.look()
	return s.fields[f].input.Focus()
}

func (s *Screen) onEnter() tea.Cmd {
	if before, code := s.scan(); code != "" {
		return s.scanned(before, code)
	}
	if s.rush.held(s.now()) && s.focus > fNumber {
		s.note = "a scanner has typed here, and it is no barcode; enter takes what stands there"
		return nil
	}
	s.fields[s.focus].settle()
	switch {
	case s.focus == fPublisher:
		return s.to(fNumber)
	case s.focus == fNumber:
		return s.to(fName)
	case s.asksCategory():
		return s.to(fCategory)
	case s.edit != nil:
		return s.saveEdit()
	case s.focus > fName && !s.begun(): // set up for what is to come
		return s.to(fNumber)
	}
	return s.enter()
}

// look looks up what the fields say: is it owned, where will it stand, what
// category does its name speak for.
func (s *Screen) look() {
	en, _ := s.entry() // what cannot be read yet is still being typed
	s.kin, s.gap, s.proposed, s.listed = nil, ordering.Gap{}, "", nil
	if en.Number == "" && en.Name == "" {
		s.apart = false
		return
	}
	for _, k := range s.desk.Index.Kin(en) {
		if s.edit == nil || k.Pattern.ID != s.edit.pattern {
			s.kin = append(s.kin, k)
		}
	}
	s.lookUp(en)
	if en.Publisher != "" {
		s.gap = s.desk.Layout.GapFor(en.Publisher, &model.Pattern{Number: en.Number, Name: en.Name, SizeRange: en.SizeRange, Year: en.Year})
	}
	if len(s.kin) == 0 {
		s.apart = false
	}
	s.propose()
}

// twin is the listed pattern that the entry would be a further copy of.
func (s *Screen) twin() *model.Pattern {
	if s.listed == nil || !s.listed.Further() {
		return nil
	}
	return s.listed.Pattern
}

// lookUp finds what is listed by the number or name of an entry. The category may
// be that of the entry before, and a code is learned from the sleeve in hand: they
// tell nothing apart.
func (s *Screen) lookUp(en model.Entry) {
	if s.listed = nil; s.edit != nil {
		return
	}
	en.Category, en.Barcode = "", ""
	if l, ok := s.desk.Index.Listed(en); ok {
		s.listed = &l
	}
}
