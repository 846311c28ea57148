package intake

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// Drafts keeps what is being typed while the program is closed.
type Drafts interface {
	// LoadDraft gives what was saved last, nothing when there is none.
	LoadDraft() ([]byte, error)
	// SaveDraft keeps a draft, and returns when it is safe.
	SaveDraft([]byte) error
}

// typed is all that the fields hold.
type typed struct {
	Texts texts  `json:"texts"`
	Begun string `json:"begun,omitempty"` // typed into the field with the focus, where that is one to choose in
	Focus int    `json:"focus"`
	Code  string `json:"code,omitempty"`
	Apart bool   `json:"apart,omitempty"`
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
	t := typed{Focus: s.focus, Code: s.code, Apart: s.apart}
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
	s.code, s.apart, s.before, s.chosen, s.note = t.Code, t.Apart, nil, false, ""
	if f := s.fields[s.focus]; t.Begun != "" && f.source != nil {
		f.input.SetValue(t.Begun)
		f.input.CursorEnd()
	}
	s.look()
	return s.fields[s.focus].input.Focus()
}

// mostAside is how many entries can lie aside.
const mostAside = 50

// onAside puts the entry that is being typed aside, or brings the last one
// back when none is being typed.
func (s *Screen) onAside() tea.Cmd {
	switch {
	case s.edit != nil:
		s.asListed()
		return nil
	case s.begun() && len(s.aside) == mostAside:
		s.Tell(frame.Complain{Err: model.Inputf("%d entries lie aside already; enter this one, or empty its number and name and bring one back with ctrl+x", mostAside)})
		return nil
	case s.begun():
		s.aside = append(s.aside, s.typed())
		if s.before != nil { // what was proposed for this one is not for the next
			s.fields[fCategory].set(*s.before)
		}
		s.clear()
		s.note = ""
		return s.to(fNumber)
	case len(s.aside) > 0:
		last := s.aside[len(s.aside)-1]
		s.aside = s.aside[:len(s.aside)-1]
		return s.bring(last)
	}
	s.note = "nothing is typed, and nothing lies aside"
	return nil
}

// draft is what is written down at closing.
type draft struct {
	Format int                         `json:"format"`
	Saved  model.Date                  `json:"saved"`
	Last   model.Accession             `json:"last"` // the latest entry then
	Typing typed                       `json:"typing"`
	Aside  []typed                     `json:"aside,omitempty"`
	Edits  map[model.Accession]unsaved `json:"edits,omitempty"`
}

// draftFormat is the version of a draft. One of another version is left alone:
// it is not worth a program that does not start.
const draftFormat = 1

// onClosing keeps what is typed, and what the disk has refused.
func (s *Screen) onClosing() {
	if s.edit != nil {
		s.settleEdit()
	}
	s.save()
}

func (s *Screen) save() {
	if s.drafts == nil {
		return
	}
	d := draft{Format: draftFormat, Saved: model.Date(s.now().Format(time.DateOnly)), Last: s.desk.Collection().Counters().Copy,
		Typing: s.typed(), Edits: s.edits}
	if s.edit != nil {
		d.Typing = s.edit.typing
	}
	for _, en := range s.refused {
		d.Aside = append(d.Aside, typed{Texts: textsOf(en), Focus: fName, Code: en.Barcode})
	}
	d.Aside = append(d.Aside, s.aside...)
	b, err := json.Marshal(d)
	if err == nil {
		err = s.drafts.SaveDraft(b)
	}
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what is being typed could not be kept for the next time: %w", err)})
		return
	}
	s.stored = !d.Typing.empty() || len(d.Aside) > 0 || len(d.Edits) > 0
}

// recall brings back what was kept at closing. Where nothing was entered since,
// the fields are as they were; else the newer entry decides what they hold, and
// what was being typed lies aside.
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
	s.aside = d.Aside
	for a, k := range d.Edits {
		if cp := s.desk.Collection().Copy(a); cp != nil && textsOf(s.desk.Collection().EntryOf(cp)) == k.Was {
			for i, text := range k.Is {
				k.Is[i] = words.Clean(text)
			}
			s.edits[a] = k
		}
	}
	s.stored = !d.Typing.empty() || len(d.Aside) > 0 || len(d.Edits) > 0
	switch {
	case d.Last == s.desk.Collection().Counters().Copy:
		s.bring(d.Typing)
		if !d.Typing.empty() {
			s.note = fmt.Sprintf("you were typing this on %s; ctrl+x puts it aside", d.Saved)
		}
	case !d.Typing.empty():
		s.aside = append(s.aside, d.Typing)
		s.note = fmt.Sprintf("on %s you were typing %s; ctrl+x brings it back", d.Saved, d.Typing.heading())
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
	for _, t := range all {
		if t.Focus < 0 || t.Focus >= nFields || t.Code != "" && !model.IsGTIN(t.Code) {
			return false
		}
		t.Begun = tidy(t.Begun)
		for i := range t.Texts {
			t.Texts[i] = tidy(t.Texts[i])
		}
	}
	_, err := model.ParseDate("saved", string(d.Saved))
	return err == nil && len(d.Aside) <= 2*mostAside
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
