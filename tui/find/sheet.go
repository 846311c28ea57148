package find

import (
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/same"
)

// openSheet asks what is the matter with the record that is chosen.
func (s *Screen) openSheet() {
	a, ok := s.chosen()
	if !ok {
		return
	}
	s.sheet = same.New(s.desk, s.theme, same.Host{Write: s.told, Tell: s.Tell, Forms: &s.forms}, a)
	s.sheet.SetSize(s.w, s.h)
	s.asked = a
}

func (s *Screen) onSheetKey(msg tea.KeyMsg) tea.Cmd {
	cmd := s.sheet.Update(msg)
	if s.sheet.Left() {
		s.sheet = nil
		return s.forms.Keep(s.keeper)
	}
	return cmd
}

// followSheet takes a change along, which may have taken away what the sheet is
// about.
func (s *Screen) followSheet() {
	if s.sheet == nil {
		return
	}
	if s.sheet.Follow(); s.sheet.Left() {
		s.sheet = nil
	}
}

// onWritten ends the sheet, or leaves all of it where saving has failed. What it
// was about is shown, though it may be called otherwise now.
func (s *Screen) onWritten(msg frame.Written) tea.Cmd {
	if s.sheet == nil {
		return nil
	}
	if s.sheet.Written(msg); s.sheet.Left() {
		s.sheet = nil
		s.show(s.asked)
	}
	return s.forms.Keep(s.keeper)
}

// show chooses a copy, and looks for it where it is not in the list.
func (s *Screen) show(a model.Accession) {
	c := s.desk.Collection()
	p := c.PatternOf(a)
	if p == nil {
		return
	}
	if !slices.Contains(s.results, a) {
		s.query.SetValue(c.Publisher(p.Publisher).Name + " " + p.Short())
		s.query.CursorEnd()
		s.look()
		s.old = true
	}
	s.at = max(0, slices.Index(s.results, a))
}
