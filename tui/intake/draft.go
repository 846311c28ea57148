package intake

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// Drafts keeps what is being typed for the next start, however the program
// ends.
type Drafts interface {
	// LoadDraft gives what was saved last, nothing when there is none.
	LoadDraft() ([]byte, error)
	// SaveDraft keeps a draft, and returns when it is safe.
	SaveDraft([]byte) error
	// Later has a draft kept by the command that it gives.
	Later([]byte) tea.Cmd
}

// typed is all that the fields hold.
type typed struct {
	Texts texts  `json:"texts"`
	Begun string `json:"begun,omitempty"` // typed into the field with the focus, where that is one to choose in
	Focus int    `json:"focus"`
	Code  string `json:"code,omitempty"`
	Plain string `json:"plain,omitempty"` // a code that is a number, as its owner said
	Apart bool   `json:"apart,omitempty"`
	Back  bool   `json:"back,omitempty"` // it comes back by itself when the fields are free
}

func (t *typed) empty() bool { return t.Texts[fNumber] == "" && t.Texts[fName] == "" && t.Code == "" }

// heading names an entry that was put aside.
func (t *typed) heading() string {
	number := t.Texts[fNumber]
	if number == "" && t.Texts[fName] == "" {
		number = t.Code
	}
	return words.Clean(number + " " + t.Texts[fName])
}

// typed is what the fields hold now.
func (s *Screen) typed() typed {
	t := typed{Focus: s.focus, Code: s.code, Plain: s.plain, Apart: s.apart}
	for i, f := range s.fields {
		t.Texts[i] = f.input.Value()
		if f.source != nil {
			t.Texts[i] = f.value
		}
	}
	if f := s.fields[s.focus]; f.source != nil {
		t.Begun = f.input.Value()
	}
	return t
}

// bring puts back what typed has kept.
func (s *Screen) bring(t typed) tea.Cmd {
	s.setTexts(t.Texts)
	s.fields[s.focus].input.Blur()
	s.focus = t.Focus
	s.forget()
	s.code, s.plain, s.apart, s.note = t.Code, t.Plain, t.Apart, ""
	if f := s.fields[s.focus]; t.Begun != "" && f.source != nil {
		f.input.SetValue(t.Begun)
		f.input.CursorEnd()
	}
	s.look()
	return s.fields[s.focus].input.Focus()
}

// draft is what is written down.
type draft struct {
	Format int                         `json:"format"`
	Saved  model.Date                  `json:"saved"`
	Last   model.Accession             `json:"last"` // the latest entry then
	Typing typed                       `json:"typing"`
	Edit   model.Accession             `json:"edit,omitempty"` // an earlier entry that was being changed
	Aside  []typed                     `json:"aside,omitempty"`
	Thrown []typed                     `json:"thrown,omitempty"`
	Edits  map[model.Accession]unsaved `json:"edits,omitempty"`
}

// draftFormat is the version of a draft. One of another version is left alone:
// it is not worth a program that does not start.
const draftFormat = 1

// onClosing keeps what is typed, and what the disk has refused.
func (s *Screen) onClosing() {
	s.closing = true
	if s.edit != nil {
		s.settleEdit()
	}
	s.save()
}

// draft is what there is to be kept now.
func (s *Screen) draft() draft {
	d := draft{Format: draftFormat, Saved: model.Date(s.now().Format(time.DateOnly)), Last: s.desk.Collection().Counters().Copy,
		Typing: s.typed(), Edits: s.edits, Thrown: s.thrown}
	if s.edit != nil {
		d.Typing, d.Edit = s.edit.typing, s.edit.of
	}
	for _, en := range slices.Backward(s.refused) { // the last one comes back first
		d.Aside = append(d.Aside, typed{Texts: textsOf(en), Focus: fName, Code: en.Barcode, Back: true})
	}
	d.Aside = append(d.Aside, s.aside...)
	return d
}

// keep has what is typed written aside, if it is not written already: for the
// next start, should the program be killed.
func (s *Screen) keep() tea.Cmd {
	if s.drafts == nil {
		return nil
	}
	d := s.draft()
	if s.edit != nil {
		if k, unsaved := s.unsaved(); unsaved {
			d.Edits = maps.Clone(d.Edits)
			d.Edits[s.edit.of] = k
		}
	}
	b, err := json.Marshal(d)
	if err != nil || bytes.Equal(b, s.kept) || !d.holds() && !s.stored {
		return nil // at closing the error is told
	}
	s.kept, s.stored = b, d.holds()
	return s.drafts.Later(b)
}

// undated is what there is to be kept, whenever that was.
func (s *Screen) undated() string {
	d := s.draft()
	d.Saved = ""
	b, _ := json.Marshal(d) // at closing the error is told
	return string(b)
}

// save writes down what is typed, and returns when it is safe. What is as it was at
// the start is there already, or is nothing.
func (s *Screen) save() {
	if s.drafts == nil || s.kept == nil && s.undated() == s.began {
		return
	}
	d := s.draft()
	b, err := json.Marshal(d)
	if err == nil {
		err = s.drafts.SaveDraft(b)
	}
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what is being typed could not be kept for the next time: %w", err)})
		return
	}
	s.kept, s.stored = b, d.holds()
}

// holds tells whether there is anything in a draft that would be missed.
func (d *draft) holds() bool {
	return !d.Typing.empty() || d.Edit != 0 || len(d.Aside) > 0 || len(d.Thrown) > 0 || len(d.Edits) > 0
}

// recall brings back what was kept at closing: what was being typed stands in
// the fields as it stood, and an entry that was being changed is open again.
// Where nothing was begun, the latest entry decides what the fields hold.
func (s *Screen) recall() {
	if s.drafts == nil {
		return
	}
	b, err := s.drafts.LoadDraft()
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was being typed last time cannot be shown: %w", err)})
		return
	}
	var d draft
	if len(b) == 0 || json.Unmarshal(b, &d) != nil || d.Format != draftFormat || !d.clean() {
		return
	}
	c := s.desk.Collection()
	s.aside, s.thrown = d.Aside, d.Thrown
	for a, k := range d.Edits {
		if cp := c.Copy(a); cp != nil && textsOf(c.EntryOf(cp)) == k.Was {
			for i, text := range k.Is {
				k.Is[i] = words.Clean(text)
			}
			s.edits[a] = k
		}
	}
	s.stored = d.holds()
	newer := int(c.Counters().Copy) - int(d.Last)
	switch {
	case !d.Typing.empty():
		s.bring(d.Typing)
		s.note = fmt.Sprintf("you were typing this on %s", d.Saved)
		if newer > 0 {
			s.note += fmt.Sprintf("; entered since: %d", newer)
		}
	case newer == 0:
		s.bring(d.Typing)
		fallthrough
	default:
		if _, ok := s.comeBack(); ok { // what the disk had refused
			s.note = fmt.Sprintf("not saved on %s: %s", d.Saved, s.note)
		}
	}
	s.recallEdit(&d)
}

// recallEdit opens the entry that was being changed, or says what was left
// half changed.
func (s *Screen) recallEdit(d *draft) {
	list := s.earlier()
	if s.desk.Collection().Copy(d.Edit) != nil && !slices.Contains(list, d.Edit) { // sent by another room
		list = []model.Accession{d.Edit}
	}
	if at := slices.Index(list, d.Edit); at >= 0 {
		s.edit = &edit{list: list, typing: s.typed()}
		s.openEdit(at)
		s.note = fmt.Sprintf("you were changing this on %s", d.Saved)
		return
	}
	for a := range s.edits {
		if s.note == "" {
			s.note = fmt.Sprintf("what was typed into %d is not saved; ctrl+e goes on with it", a)
		}
	}
}

// clean makes what a draft says fit for the fields, whoever wrote it.
func (d *draft) clean() bool {
	all := []*typed{&d.Typing}
	for i := range d.Aside {
		all = append(all, &d.Aside[i])
	}
	for i := range d.Thrown {
		all = append(all, &d.Thrown[i])
	}
	code := func(text string) bool { return text == "" || model.IsGTIN(text) }
	for _, t := range all {
		if t.Focus < 0 || t.Focus >= nFields || !code(t.Code) || !code(t.Plain) {
			return false
		}
		t.Begun = tidy(t.Begun)
		for i := range t.Texts {
			t.Texts[i] = tidy(t.Texts[i])
		}
	}
	_, err := model.ParseDate("saved", string(d.Saved))
	return err == nil && len(d.Aside) <= 2*mostAside && len(d.Thrown) <= mostAside
}

// tidy cleans a text that is not typed to its end: the space before the next
// word stays.
func tidy(text string) string {
	clean := words.Clean(text)
	if clean == "" {
		return ""
	}
	if strings.HasPrefix(text, " ") {
		clean = " " + clean
	}
	if strings.HasSuffix(text, " ") {
		clean += " "
	}
	return clean
}
