package press

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper"
	"example.org/tuckrow/storage/paper/sheet"
	"example.org/tuckrow/storage/whole"
	forms "example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

// proof is an order laid out, to be looked at.
type proof struct {
	name   string
	err    error // nothing of the kind is to be printed, or not so
	count  int
	sheets []*sheet.Sheet
	more   bool // there are more sheets than are kept to be looked at
	text   []string
	report paper.Report // whole when there is no more
	remove int
	move   int
}

// mostSheets bounds how many sheets are kept to be looked at: a large cupboard
// has thousands.
const mostSheets = 40

// job is an order with what it is made of; it does not change while it is laid
// out aside.
type job struct {
	order
	layout *ordering.Layout
	day    model.Date
}

func (s *Screen) job() job {
	j := job{order: *s.order(), layout: s.desk.Layout, day: s.today()}
	j.Binders.Parts = append([]string(nil), j.Binders.Parts...)
	return j
}

func (j *job) work() (*paper.Work, error) {
	src := paper.Source{Layout: j.layout, Date: j.day, OnlyNew: j.onlyNew}
	var err error
	if src.Paper, err = model.PaperNamed(cmp.Or(j.paper, j.layout.Collection().Shelf().Settings.Printing.Full().Paper)); err != nil {
		return nil, err
	}
	return j.Work(src)
}

// lay lays an order out.
func lay(name string, j job) *proof {
	p := &proof{name: name}
	w, err := j.work()
	if err == nil && w.Count == 0 {
		err = model.Inputf("there is nothing new to print")
	}
	if w != nil {
		p.count, p.remove, p.move = w.Count, len(w.Remove), len(w.Move)
	}
	if p.err = err; err != nil {
		return p
	}
	if j.form != asPDF {
		var b bytes.Buffer
		_, p.err = j.write(w, &b)
		p.text = strings.Split(strings.TrimSuffix(b.String(), "\n"), "\n")
		return p
	}
	for sh := range w.Sheets(&p.report) {
		if len(p.sheets) == mostSheets {
			p.more = true
			break
		}
		p.sheets = append(p.sheets, sh)
	}
	return p
}

// write writes the work in the form that is wanted.
func (j *job) write(w *paper.Work, out io.Writer) (paper.Report, error) {
	switch j.form {
	case asText:
		return paper.Report{}, w.Text(out)
	case asTape:
		return w.Tape(out, paper.TapeOptions{Height: j.tape})
	}
	return w.PDF(out)
}

// Messages of what was done aside.
type (
	laid    struct{ *proof }
	written struct {
		seq  uint64
		said string
		err  error
	}
)

// refresh has what is wanted laid out, unless it is shown.
func (s *Screen) refresh() {
	name := s.wanted()
	if s.ready() || s.halted || !s.viewed || s.pending == name || s.writing != 0 {
		return
	}
	s.pending, s.viewed = name, false
	s.asked++
	j := s.job()
	s.Tell(frame.Ask{Seq: s.asked, What: "laying out the sheets", Do: func() tea.Msg { return laid{lay(name, j)} }})
}

func (s *Screen) onLaid(msg laid) {
	s.viewed = true // it was, when this was asked for
	if s.pending = ""; msg.name != s.wanted() {
		return
	}
	s.shown = msg.proof
	s.page = max(0, min(s.page, len(s.shown.sheets)-1))
}

// fileName is what is proposed for a file, in the folder where one is.
func (s *Screen) fileName() string {
	ext := ".pdf"
	if s.order().form != asPDF {
		ext = ".txt"
	}
	return string(s.kind()) + ext
}

// write writes what is shown into a file, unless one is there of which it was
// not said yet that it will be replaced.
func (s *Screen) write(name string) {
	if name == "" {
		s.Tell(frame.Complain{Err: model.Inputf("name the file that it goes into, like %q", "labels.pdf")})
		return
	}
	path, err := forms.Path(name)
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return
	}
	if _, err := os.Stat(path); err == nil && s.over != path {
		s.over = path
		return
	}
	s.asks, s.over = nothing, ""
	s.asked++
	seq, j := s.asked, s.job()
	s.writing = seq
	s.Tell(frame.Ask{Seq: seq, What: "writing " + filepath.Base(path), Do: func() tea.Msg {
		said, err := writeTo(path, j)
		return written{seq, said, err}
	}})
}

// writeTo writes a job into a file, and says what there is to know.
func writeTo(path string, j job) (string, error) {
	w, err := j.work()
	if err != nil {
		return "", err
	}
	var r paper.Report
	err = whole.Replace(path, func(out io.Writer) (err error) {
		r, err = j.write(w, out)
		return err
	}, nil)
	if errors.Is(err, os.ErrNotExist) {
		return "", model.Inputf("%q cannot be written: there is no such folder; name one that is there", path)
	}
	if err != nil {
		return "", fmt.Errorf("%q was not written: %w", path, err)
	}
	return "written: " + path + "; " + strings.Join(remarks(w, &r, j.form), "; "), nil
}

// remarks are what there is to know of what was printed.
func remarks(w *paper.Work, r *paper.Report, f form) []string {
	var out []string
	if f == asPDF {
		out = append(out, fmt.Sprintf("%d on %s; print at 100 %%, the rule must measure 50 mm", w.Count, words.Count(r.Sheets, "sheet", "sheets")))
	} else {
		out = append(out, words.Count(w.Count, "entry", "entries"))
	}
	if n := len(r.Short); n > 0 {
		out = append(out, fmt.Sprintf("%d did not go in whole, see the index on the last sheet", n))
	}
	if r.Missing != "" {
		out = append(out, fmt.Sprintf("no font here has %q, a box stands for each", r.Missing))
	}
	if r.Uncoded > 0 {
		out = append(out, words.Count(r.Uncoded, "label is too small for a code", "labels are too small for a code"))
	}
	return out
}

func (s *Screen) onWritten(msg written) {
	if msg.seq != s.writing {
		return // esc was pressed meanwhile
	}
	s.writing, s.viewed = 0, true
	if msg.err != nil {
		s.Tell(frame.Complain{Err: msg.err})
		return
	}
	s.Tell(frame.Say{Text: msg.said})
}

func itoa(n int) string { return strconv.Itoa(n) }
