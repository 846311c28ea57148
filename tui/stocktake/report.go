package stocktake

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/whole"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

const fileLabel = "file"

// told is what came of writing the report.
type told struct {
	path string
	err  error
}

// name asks for the file that the report goes into.
func (s *Screen) name() {
	if s.taken == nil || !s.fresh() {
		s.Tell(frame.Say{Text: "what was counted is still being compared; a moment"})
		return
	}
	s.stage = naming
	s.file = form.New("Report of the stocktake, as text", []form.Field{{Label: fileLabel, Hint: "in the folder where tuckrow was started, or a whole path; one that is there is not written over"}},
		[]string{"stocktake-" + string(s.desk.Today()) + ".txt"})
	s.file.To(fileLabel)
}

func (s *Screen) onNameKey(msg tea.KeyMsg) tea.Cmd {
	switch {
	case key.Matches(msg, s.keys.save):
		s.writeReport(s.file.Value(fileLabel))
	case key.Matches(msg, s.keys.leave):
		s.stage = listing
	default:
		return s.file.Update(msg)
	}
	return nil
}

func (s *Screen) writeReport(name string) {
	path, err := form.Path(name)
	if _, there := os.Lstat(path); err == nil && there == nil {
		err = model.Inputf("%q is there already; give the report another name", path)
	}
	if name == "" {
		err = model.Inputf("name the file that the report goes into, like %q", "stocktake.txt")
	}
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return
	}
	text := folded(s.taken.Text(s.desk.Collection(), s.desk.Today(), s.taken.matters))
	s.jobs++
	s.asking = true
	s.Tell(frame.Ask{Seq: s.jobs, What: "writing the report", Do: func() tea.Msg {
		err := whole.Replace(path, func(out io.Writer) error {
			_, err := io.WriteString(out, text)
			return err
		}, nil)
		if errors.Is(err, os.ErrNotExist) {
			err = model.Inputf("%q cannot be written: there is no such folder; name one that is there", path)
		}
		return told{path, err}
	}})
}

// pageWidth is how wide a line of the report is at the most, in cells.
const pageWidth = 80

// folded breaks what is longer, behind the margin that it has.
func folded(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		line = strings.TrimRight(line, "\n")
		if cells.Width(line) <= pageWidth {
			b.WriteString(line + "\n")
			continue
		}
		margin := line[:len(line)-len(strings.TrimLeft(line, " "))]
		for _, l := range cells.Wrap(line, pageWidth-len(margin)) {
			b.WriteString(margin + l + "\n")
		}
	}
	return b.String()
}

func (s *Screen) onTold(msg told) {
	s.asking = false
	if msg.err != nil {
		s.Tell(frame.Complain{Err: fmt.Errorf("the report was not written: %w", msg.err)})
		return
	}
	if s.stage == naming {
		s.stage = listing
	}
	s.Tell(frame.Say{Text: "written: " + msg.path})
}
