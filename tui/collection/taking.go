package collection

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/takein"
)

// takeIn goes on with the spreadsheet that is being taken in, or begins with one.
func (s *Screen) takeIn() {
	if s.taking == nil || s.taking.Done() {
		s.taking = takein.New(s.desk, s.theme, takein.Host{Write: s.write, Tell: s.Tell, Ask: s.askFor})
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
