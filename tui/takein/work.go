package takein

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/storage/table"
	"example.org/tuckrow/storage/whole"
	"example.org/tuckrow/tui/files"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

// Messages of what was done aside.
type (
	opened struct { // a file was read
		typed string
		path  string
		table *table.Table
		whole *model.Collection
		err   error
	}
	looked struct { // what could be mended was looked for
		proposals []clean.Proposal
		rows      []row
		lines     []int
		err       error
	}
	planned struct { // it was worked out what would be stored
		change   *model.Add
		seconds  int
		repeated string // it may have been taken in before
		unused   []string
		new      []string // boxes and hooks that the shelf gets
		doubts   []string // numbers that may be none
		rejected []exchange.Rejected
		into     string // behind the name of the file: where they go
		of       *exchange.Import
		err      error
	}
	kept struct { // the rows that cannot be used were written
		said string
		err  error
	}
)

// ask has something worked out aside.
func (s *Sheet) ask(what string, do func() tea.Msg) {
	s.doing = what
	s.host.Ask(what, do)
}

// Take takes what was done aside.
func (s *Sheet) Take(msg tea.Msg) {
	switch msg := msg.(type) {
	case files.Folder:
		s.picker.Take(msg)
		return
	case opened, looked, *planned, kept:
	default:
		return
	}
	if s.doing == "" {
		return // nobody waits for it any more
	}
	s.doing, s.steady = "", nil
	switch msg := msg.(type) {
	case opened:
		s.onOpened(msg)
	case looked:
		s.onLooked(msg)
	case *planned:
		s.onPlanned(msg)
	case kept:
		s.onKept(msg)
	}
}

func (s *Sheet) complain(err error) { s.host.Tell(frame.Complain{Err: err}) }

// look has the folder looked into that is typed.
func (s *Sheet) look() {
	if dir := s.picker.Wants(); dir != "" {
		s.host.Ask("", func() tea.Msg { return files.Look(dir) })
	}
}

// open has a file read.
func (s *Sheet) open(name string) {
	path, err := form.Path(name)
	if err != nil {
		s.complain(err)
		return
	}
	ctx, cancel := context.WithCancel(context.Background())
	s.stop = cancel
	f, size, err := plainFile(path)
	if err != nil {
		s.complain(err)
		return
	}
	in := exchange.NewSteady(ctx, f, size)
	s.steady = in
	s.ask("reading "+filepath.Base(path), func() tea.Msg {
		defer cancel()
		defer f.Close() // only read
		msg := opened{typed: name, path: path}
		if strings.EqualFold(filepath.Ext(path), ".jsonl") {
			msg.whole, msg.err = exchange.ReadJSONL(in)
		} else {
			msg.table, msg.err = exchange.ReadTable(in)
		}
		return msg
	})
}

// plainFile opens a file that can be read to its end.
func plainFile(path string) (*os.File, int64, error) {
	st, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, 0, model.Inputf("there is no file %q; tab goes on with a name", path)
	case err == nil && !st.Mode().IsRegular():
		return nil, 0, model.Inputf("%q is not a file; name a spreadsheet in it", path)
	}
	if err == nil {
		var f *os.File
		if f, err = os.Open(path); err == nil {
			return f, st.Size(), nil
		}
	}
	return nil, 0, fmt.Errorf("%w; check that you may read it", err)
}

func (s *Sheet) onOpened(msg opened) {
	switch {
	case errors.Is(msg.err, context.Canceled):
	case msg.err != nil:
		s.complain(fmt.Errorf("reading %q: %w", msg.path, msg.err))
	case msg.whole != nil:
		if s.desk.Collection().Counters() != (model.Counters{}) {
			s.complain(model.Inputf("%q is a whole cupboard, and goes only into one in which nothing was ever entered; a spreadsheet of it (export --as csv) can be taken in here", filepath.Base(msg.path)))
			return
		}
		s.typed, s.path, s.whole, s.plan, s.stage, s.top = msg.typed, msg.path, msg.whole, nil, judging, 0
	default:
		s.typed, s.path, s.table, s.whole = msg.typed, msg.path, msg.table, nil
		s.proposals, s.rows, s.take = nil, nil, nil
		s.recognise()
	}
}

// find has it looked for what could be mended. What was decided of the same columns
// stays decided.
func (s *Sheet) find() {
	t, told, c := s.table, s.told(), s.desk.Collection()
	if len(s.proposals) > 0 && maps.Equal(told, s.asked) {
		s.stage = cleaning
		return
	}
	s.asked = told
	s.ask("looking for what could be mended", func() tea.Msg {
		im, err := exchange.Understand(t, told, false)
		if err != nil {
			return looked{err: err}
		}
		all := im.Propose(c)
		return looked{all, grouped(all), im.Lines, nil}
	})
}

func (s *Sheet) onLooked(msg looked) {
	if msg.err != nil {
		s.complain(plainly(msg.err))
		return
	}
	s.proposals, s.rows, s.lines, s.at = msg.proposals, msg.rows, msg.lines, 0
	s.take = make([]bool, len(s.proposals))
	s.retake()
	if len(s.proposals) == 0 {
		s.judge()
		return
	}
	s.stage = cleaning
}

// plainly says of columns that are missing what to do about it here.
func plainly(err error) error {
	missing, ok := errors.AsType[*exchange.MissingError](err)
	if !ok {
		return err
	}
	what := "publisher, and one as number or name"
	switch {
	case !missing.Title:
		what = "publisher"
	case !missing.Publisher:
		what = "number or name"
	}
	return model.Inputf("no column is read as %s; choose one (what holds publisher and number in one cell is the publisher: they are taken apart next)", what)
}

// taken are the proposals that are taken.
func taken(all []clean.Proposal, take []bool) (out []clean.Proposal) {
	for i, p := range all {
		if take[i] {
			out = append(out, p)
		}
	}
	return out
}

// judge has it worked out what would be stored. The table is understood anew, since
// mending alters what was understood.
func (s *Sheet) judge() {
	t, told, c, take, path := s.table, s.told(), s.desk.Collection(), slices.Clone(s.take), s.path
	all, batch, strict := s.proposals, s.form.Value(batchLabel), len(s.proposals) == 0
	s.ask("working out what would be stored", func() tea.Msg {
		im, err := exchange.Understand(t, told, strict)
		if err != nil {
			return &planned{err: err}
		}
		im.Settle(taken(all, take))
		doubts := im.Doubts()
		p := im.Plan(c, batch, filepath.Base(path))
		out := &planned{change: p.Change, seconds: p.Seconds, repeated: p.Repeated(), unused: once(im.Unused()), doubts: doubts, rejected: im.Rejected, of: im}
		if out.into, _, err = intoFile(im, path); err != nil {
			return &planned{err: err}
		}
		for _, said := range p.New(c.Shelf().Settings.Units) {
			if strings.HasPrefix(said, "box") {
				said += ": Shelf takes its true length"
			}
			out.new = append(out.new, said)
		}
		return out
	})
}

// once lists names, each once.
func once(names []string) (out []string) {
	for _, n := range names {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

func (s *Sheet) onPlanned(msg *planned) {
	if msg.err != nil {
		s.stage = mapping
		s.complain(plainly(msg.err))
		return
	}
	s.plan, s.stage, s.top = msg, judging, 0
}

// store stores it all.
func (s *Sheet) store() {
	switch {
	case s.whole != nil:
		s.saves = s.host.Write(&model.Fill{Whole: s.whole, From: filepath.Base(s.path)})
	case len(s.plan.change.Entries) > 0:
		s.saves = s.host.Write(s.plan.change)
	}
}

// intoFile is where the rows go that cannot be used, as what comes behind the name of
// the file; and whether they are there.
func intoFile(im *exchange.Import, path string) (behind string, there bool, err error) {
	if len(im.Rejected) == 0 {
		return "", false, nil
	}
	name, there, err := im.RejectedName(path, func(name string) (io.ReadCloser, error) { return os.Open(name) })
	return strings.TrimPrefix(name, path), there, err
}

// keep has the rows written that cannot be used.
func (s *Sheet) keep() {
	if len(s.plan.rejected) == 0 {
		return
	}
	im, n, path, typed := s.plan.of, len(s.plan.rejected), s.path, s.typed
	s.ask("writing "+filepath.Base(path)+s.plan.into, func() tea.Msg {
		into, there, err := intoFile(im, path)
		if err == nil && !there {
			err = whole.Replace(path+into, im.WriteRejected, nil)
		}
		if err != nil {
			return kept{err: fmt.Errorf("the rows that were rejected cannot be kept: %w", err)}
		}
		return kept{said: fmt.Sprintf("%s rejected, with the reasons in %s; mend them there and take that file in", words.Count(n, "row", "rows"), typed+into)}
	})
}

func (s *Sheet) onKept(msg kept) {
	if msg.err != nil {
		s.complain(msg.err)
		return
	}
	s.said = append(s.said, msg.said)
}

// samples are what a column holds, the first of it, each once.
func (s *Sheet) samples(col int) []string {
	const few, far = 3, 200
	var out []string
	for _, r := range s.table.Rows[:min(far, len(s.table.Rows))] {
		if cell := r.Cells[col]; cell != "" && !slices.Contains(out, cell) && len(out) < few {
			out = append(out, cell)
		}
	}
	return out
}
