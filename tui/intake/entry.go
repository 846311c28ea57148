package intake

import (
	"errors"
	"strconv"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// entry is what the fields say.
func (s *Screen) entry() (model.Entry, error) {
	var en model.Entry
	err := s.fill(&en)
	if en.Barcode = s.code; en.Barcode == "" && en.Number != s.plain && model.IsGTIN(en.Number) {
		en.Barcode = en.Number
	}
	return en, err
}

// fill writes what the fields say into an entry.
func (s *Screen) fill(en *model.Entry) error {
	text := func(f int) string { return s.fields[f].text() }
	en.Publisher, en.Number, en.Name = text(fPublisher), text(fNumber), text(fName)
	en.Category, en.SizeRange, en.Batch = text(fCategory), text(fSizes), text(fBatch)
	cut, err := model.ParseCut(text(fCut))
	if err != nil {
		return err
	}
	en.Cut = cut
	year, _ := model.FieldNamed("year")
	return year.Type(en, text(fYear))
}

// textsOf is what the fields say of a listed entry. A code that stands for a
// number that is not known yet is not shown as one.
func textsOf(en model.Entry) texts {
	t := texts{fPublisher: en.Publisher, fNumber: en.Number, fName: en.Name, fCategory: en.Category,
		fSizes: en.SizeRange, fCut: string(en.Cut), fBatch: en.Batch}
	if en.Year != 0 {
		t[fYear] = strconv.Itoa(en.Year)
	}
	if en.Number == en.Barcode {
		t[fNumber] = ""
	}
	return t
}

func (s *Screen) setTexts(t texts) {
	for f, text := range t {
		s.fields[f].set(text)
	}
}

// begun tells whether an entry is half typed.
func (s *Screen) begun() bool {
	return s.fields[fNumber].text() != "" || s.fields[fName].text() != "" || s.code != ""
}

// Begun tells whether there is something to go on with: an entry half typed, or
// an earlier one half changed.
func (s *Screen) Begun() bool { return s.begun() || s.edit != nil }

// Halfway tells whether undoing could be meant for what is typed.
func (s *Screen) Halfway() bool {
	return !s.ticks.open && (s.begun() || s.typed().Begun != "")
}

// enter sends the entry to be stored and frees the fields for the next.
func (s *Screen) enter() tea.Cmd {
	en, err := s.entry()
	if err == nil {
		if en.Number == "" && en.Name == "" {
			en.Number = s.code // until the owner says better
		}
		if twin := s.twin(); twin != nil && !s.apart {
			en.Pattern, en.Name = twin.ID, twin.Name
			s.teach(twin)
		}
		err = en.Normalise()
	}
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return s.toFault(err)
	}
	return s.send(en)
}

// toFault puts the focus into the field that an error is about.
func (s *Screen) toFault(err error) tea.Cmd {
	var fault *model.FieldError
	if !errors.As(err, &fault) {
		return nil
	}
	f, ok := map[string]int{"publisher": fPublisher, "number": fNumber, "year": fYear, "cut": fCut}[fault.Field]
	if !ok {
		return nil
	}
	return s.to(f)
}

// send sends an entry to be stored and frees the fields for the next.
func (s *Screen) send(en model.Entry) tea.Cmd {
	s.write(&model.Add{Entries: []model.Entry{en}}, job{entry: &en})
	s.pace.entered(s.now())
	s.free()
	return s.next()
}

// teach notes the code of the sleeve in hand on the pattern that it is a
// further copy of, so that the next scan knows it.
func (s *Screen) teach(p *model.Pattern) {
	copies := s.desk.Index.Copies(p.ID)
	if s.code == "" || p.Barcode != "" || len(copies) == 0 {
		return
	}
	c := s.desk.Collection()
	en := c.EntryOf(c.Copy(copies[0]))
	en.Barcode = s.code
	s.write(&model.Revise{Entry: en}, job{})
}

func (s *Screen) write(ch model.Change, j job) {
	s.seq++
	s.sent[s.seq] = j
	s.Tell(frame.Write{Seq: s.seq, Change: ch})
}

// free frees the fields that change with every sleeve.
func (s *Screen) free() {
	for i, f := range s.fields {
		if !kept(i) {
			f.set("")
		}
	}
	s.forget()
	s.look()
}

// forget forgets what goes with the entry in the fields and is in none of them.
func (s *Screen) forget() {
	s.code, s.guessed, s.plain, s.replaced = "", "", "", ""
	s.apart, s.before, s.chosen, s.brought, s.rush = false, nil, false, typed{}, rush{}
}

func (s *Screen) onWritten(msg frame.Written) tea.Cmd {
	j, ours := s.sent[msg.Seq]
	if !ours {
		return nil
	}
	delete(s.sent, msg.Seq)
	switch {
	case msg.Err != nil && j.entry != nil:
		s.refused = append(s.refused, *j.entry)
		if s.edit == nil && !s.begun() {
			return s.next()
		}
	case msg.Err != nil: // the frame shows the error
		if j.edits != 0 {
			s.edits[j.edits] = j.was
		}
	case j.entry != nil:
		added := msg.Commit.Added()
		s.recent = append(s.recent, added...)
		if j.entry.Barcode != "" && j.entry.Number == j.entry.Barcode && j.entry.Pattern == 0 && len(added) > 0 {
			s.asks = added[0]
			s.note = "the code " + j.entry.Barcode + " is new and kept; ctrl+e gives it number and name"
		}
	default:
		s.note = j.says
	}
	switch { // what was a draft may be an entry now
	case msg.Err != nil || !s.stored:
	case s.closing: // no command is run any more
		s.save()
	default:
		return s.keep()
	}
	return nil
}
