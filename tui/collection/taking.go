package collection

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/takein"
)

// takeIn goes on with the spreadsheet that is being taken in, or begins with one.
func (s *Screen) takeIn() {
	if first := s.taking == nil; first || s.taking.Done() {
		s.taking = takein.New(s.desk, s.theme, takein.Host{Write: s.write, Tell: s.Tell, Ask: s.askFor})
		if first {
			s.recallTaking()
		}
	}
	s.takes, s.working = true, false // what is worked out for the page is asked for again
	s.taking.SetSize(s.w, s.h)
	s.taking.Come()
}

// askFor has something worked out for the sheet.
func (s *Screen) askFor(what string, do func() tea.Msg) {
	s.jobs++
	s.Tell(frame.Ask{Seq: s.jobs, What: what, Do: do})
}

func (s *Screen) onTakingKey(msg tea.KeyMsg) tea.Cmd {
	cmd := s.taking.Update(msg)
	s.takes = !s.taking.Left()
	return cmd
}

// recallTaking takes up what was chosen when the program was closed.
func (s *Screen) recallTaking() {
	kept, err := s.sheets.LoadDraft()
	if err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what was chosen of a spreadsheet last time cannot be shown: %w", err)})
		return
	}
	s.taking.Recall(kept)
}

// keepTaking has what is chosen of a spreadsheet kept aside.
func (s *Screen) keepTaking() tea.Cmd {
	if s.taking != nil {
		if text, altered := s.taking.Draft(); altered {
			return s.sheets.Later(text)
		}
	}
	return nil
}

// saveTaking keeps it, and returns when it is safe.
func (s *Screen) saveTaking() {
	if s.taking == nil {
		return
	}
	text, _ := s.taking.Draft()
	if err := s.sheets.SaveDraft(text); err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("what is chosen of a spreadsheet could not be kept for the next time: %w", err)})
	}
}
