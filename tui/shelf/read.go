package shelf

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/frame"
)

// walk is the reading of a box, front to back.
type walk struct {
	name   string // of the box, for when it is gone
	texts  []string
	at     int               // how many stand before what is read next: all, unless one has gone back
	typed  string            // stood in the field when the reading was left
	row    []model.Accession // as recorded when it was begun
	reader *reader

	version int // goes up with each change of the readings
	report  *reading.Report
	shows   int    // the version that the report is of
	rev     uint64 // and the revision
}

func (w *walk) fresh(rev uint64) bool {
	return w.report != nil && w.shows == w.version && w.rev == rev
}

// set changes the readings. What a job was given stays as it was.
func (w *walk) set(texts []string, at int) {
	w.texts, w.at = texts[:len(texts):len(texts)], at
	w.version++
}

// walk is the reading of the chosen box.
func (s *Screen) walk() *walk {
	w := s.walks[s.box]
	if w == nil {
		w = &walk{name: s.boxName(), reader: &reader{box: s.box}}
		s.walks[s.box] = w
	}
	return w
}

// startReading begins to read the chosen box, or goes on with it.
func (s *Screen) startReading() {
	s.stage = readingIt
	s.field.SetValue(s.walk().typed)
	s.field.CursorEnd()
	s.field.Focus()
}

func (s *Screen) onReadKey(msg tea.KeyMsg) tea.Cmd {
	k, w := s.keys, s.walk()
	switch {
	case key.Matches(msg, k.enter):
		s.readOne(s.field.Value())
		s.field.SetValue("")
	case key.Matches(msg, k.unread) && s.field.Value() == "":
		if w.at > 0 {
			w.set(slices.Delete(slices.Clone(w.texts), w.at-1, w.at), w.at-1)
			s.unkept = true
		}
	case key.Matches(msg, k.record):
		s.review()
	case key.Matches(msg, k.leave):
		s.leaveReading()
	case key.Matches(msg, k.up, k.down, k.page, k.back):
		w.at = max(0, min(w.at-s.step(msg, len(w.texts)), len(w.texts))) // the latest stand on top
	default:
		var cmd tea.Cmd
		s.field, cmd = s.field.Update(msg)
		return cmd
	}
	return nil
}

// leaveReading keeps what was read, and what is typed.
func (s *Screen) leaveReading() {
	w := s.walk()
	w.typed, s.stage, s.unkept = s.field.Value(), inside, true
	if len(w.texts) == 0 && w.typed == "" {
		delete(s.walks, s.box)
	}
}

// onPasted takes each line of what was pasted as a reading, as from a scanner
// that kept its readings; what has no line break behind it is to be looked at
// first.
func (s *Screen) onPasted(text string) {
	if s.stage == filling && s.draft.form.choices() == nil {
		f := s.draft.form
		in := &f.inputs[f.at]
		in.SetValue(in.Value() + words.Clean(text))
		in.CursorEnd()
	}
	if s.stage != readingIt {
		return
	}
	all := strings.Split(text, "\n")
	all[0] = s.field.Value() + all[0]
	for _, l := range all[:len(all)-1] {
		s.readOne(l)
	}
	s.field.SetValue(words.Clean(all[len(all)-1]))
	s.field.CursorEnd()
}

// readOne takes one reading. Nothing typed is nothing read: a scanner can send
// Enter twice.
func (s *Screen) readOne(text string) {
	text = words.Clean(text)
	if text == "" {
		return
	}
	w := s.walk()
	if model.IsGTIN(text) {
		text = s.desk.Scanned(text, s.box, func(a model.Accession) bool { return slices.Contains(w.texts, fmt.Sprintf("#%d", a)) })
	}
	if len(w.texts) == 0 {
		w.row = slices.Clone(s.row())
	}
	w.set(slices.Insert(slices.Clone(w.texts), w.at, text), w.at+1)
	s.unkept = true
}

// review shows what recording would come to, unless the readings cannot be
// recorded.
func (s *Screen) review() {
	w := s.walk()
	if typed := words.Clean(s.field.Value()); typed != "" {
		s.Tell(frame.Complain{Err: model.Inputf("%q is typed and not read yet; enter reads it, ctrl+u takes it out of the field", typed)})
		return
	}
	if len(w.texts) > 0 && !w.fresh(s.desk.Collection().Rev()) {
		s.Tell(frame.Say{Text: "what was read is still being compared; a moment"})
		return
	}
	if w.report == nil {
		return
	}
	switch ch, err := w.report.Record(); {
	case err != nil:
		if some := w.report.Of(reading.Ambiguous); len(some) > 0 {
			w.at = some[0].Item // so that backspace takes it back
		}
		s.Tell(frame.Complain{Err: err})
	case ch == nil && s.records == 0:
		s.asRecorded(w.report.Box)
	case ch != nil:
		s.stage, s.toEnd = recording, false
	}
}

// stopped tells whether the reading stops before the end of the box, so that one
// must say what the rest counts as.
func (w *walk) stopped() bool { return w.report != nil && len(w.report.Unread) > 0 }

// record writes the box down as it was found, or as much of it as was read.
func (s *Screen) record() {
	w := s.walk()
	if s.records != 0 || !w.fresh(s.desk.Collection().Rev()) {
		return
	}
	write, soFar := w.report.Record, w.stopped() && !s.toEnd
	if soFar {
		write = w.report.RecordSoFar
	}
	ch, err := write()
	switch {
	case err != nil:
		s.Tell(frame.Complain{Err: err})
		return
	case ch == nil && soFar:
		s.stage = inside
		s.Tell(frame.Say{Text: "box " + w.report.Box.Name + " stands as recorded so far; r goes on with the reading"})
		return
	case soFar:
		s.partly = ch
	}
	if ch == nil {
		s.asRecorded(w.report.Box)
		return
	}
	s.records, s.recorded = s.write(ch), w.report.Box
}

// asRecorded notes that a box was gone through which stands as recorded.
func (s *Screen) asRecorded(b model.Box) {
	s.records, s.recorded = s.write(&model.Count{Boxes: []string{b.Name}}), b
	s.unchanged = true
}

func (s *Screen) onWritten(msg frame.Written) {
	if msg.Seq == s.saves {
		s.onSaved(msg.Err)
		return
	}
	if msg.Seq != s.records {
		return
	}
	s.records = 0
	same, part := s.unchanged, s.partly
	s.unchanged, s.partly = false, nil
	switch {
	case msg.Err == nil && part != nil:
		s.goesOn(part)
	case msg.Err == nil && same:
		s.done(s.recorded, "stands as recorded")
	case msg.Err == nil:
		s.done(s.recorded, "is recorded as found; Refile says what stands wrong")
	case s.stage == recording:
		s.stage = readingIt // the readings are all there still
	}
}

// goesOn keeps a reading of which the first part is recorded.
func (s *Screen) goesOn(part *model.Stand) {
	if w := s.walks[s.recorded.ID]; w != nil {
		w.row = slices.Clone(part.Rows[0].Copies)
	}
	s.unkept = true
	if s.box == s.recorded.ID && s.stage == recording {
		s.stage = inside
	}
	s.Tell(frame.Say{Text: "box " + s.recorded.Name + " is recorded as far as it was read; r goes on with the reading"})
}

// done closes a reading.
func (s *Screen) done(b model.Box, say string) {
	delete(s.walks, b.ID)
	s.unkept = true
	if s.box == b.ID && (s.stage == readingIt || s.stage == recording) {
		s.stage = inside
	}
	s.Tell(frame.Say{Text: "box " + b.Name + " " + say})
}
