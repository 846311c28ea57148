package paper

import (
	"io"
	"iter"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// Source is the cupboard, what it is printed on, and the day.
type Source struct {
	Layout *ordering.Layout
	Paper  model.Paper
	Date   model.Date
	// OnlyNew asks for the labels and cards that are new, and for which old ones
	// they stand; against Before, the cupboard when it was last printed for, or
	// where that is nil against those that there are: see Layout.Redo.
	OnlyNew bool
	Before  *ordering.Layout
}

// redo says what a plan asks to be made anew.
func (s *Source) redo(p ordering.Plan) ordering.Redo {
	if s.Before != nil {
		return s.Before.Redo(p)
	}
	return s.Layout.Redo(p)
}

func (s *Source) collection() *model.Collection { return s.Layout.Collection() }

func (s *Source) publisher(p *model.Pattern) string {
	return s.collection().Publisher(p.Publisher).Name
}

func (s *Source) category(p *model.Pattern) string {
	if c := s.collection().Category(p.Category); c != nil {
		return c.Name
	}
	return ""
}

// Work is something to be printed.
type Work struct {
	Title string
	Count int // how many labels, cards or entries there are
	// Remove and Move say what is to be taken off or away, and what of it stands
	// elsewhere again, where only what changed is printed.
	Remove, Move []string
	paper        model.Paper // of the index
	sheets       func(*press) iter.Seq[*sheet.Sheet]
	text         func() []string
	labels       func() []string // one line each; nil where there are no labels
}

// Report says what came of printing.
type Report struct {
	Sheets int
	Short  []Short // what did not go in whole; it is all in the index at the end
	// Missing lists the characters that no font has, each once; on paper a box
	// stands for them.
	Missing string
	Uncoded int // labels on which a code that can be read does not go
}

// Short is a text that was shortened, and on what.
type Short struct{ On, Text string }

// Sheets gives the sheets of a work, the index of what was shortened behind the
// others. The report is filled as they come.
func (w *Work) Sheets(r *Report) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		p := &press{set: lettering.New(), report: r, paper: w.paper}
		for s := range w.sheets(p) {
			if !p.out(s, yield) {
				return
			}
		}
		for s := range p.index(w.Title) {
			if !p.out(s, yield) {
				return
			}
		}
		r.settle(p)
	}
}

// settle takes over, at the end, what the press noted.
func (r *Report) settle(p *press) {
	slices.Sort(p.missing)
	r.Missing = string(slices.Compact(p.missing))
}

// PDF writes the work as PDF.
func (w *Work) PDF(out io.Writer) (Report, error) {
	var r Report
	_, err := sheet.WritePDF(out, w.Title, w.Sheets(&r))
	return r, err
}

// Text writes the work as plain text.
func (w *Work) Text(out io.Writer) error {
	_, err := io.WriteString(out, strings.Join(w.text(), "\n")+"\n")
	return err
}

// press is where sheets are made: what sets the text, and what there is to say
// of it.
type press struct {
	set     *lettering.Setter
	report  *Report
	paper   model.Paper
	missing []rune
}

// out passes a sheet on, with its rule.
func (p *press) out(s *sheet.Sheet, yield func(*sheet.Sheet) bool) bool {
	s.AddRule(p.set)
	p.report.Sheets++
	return yield(s)
}

// fit sets a text into a room and notes what there is to say of it; on says
// what it is on.
func (p *press) fit(on, text string, st lettering.Style, w, h float64, lines int) lettering.Block {
	b := p.set.Fit(text, st, lettering.Room{W: w, H: h, Lines: lines})
	p.missing = append(p.missing, b.Missing()...)
	if b.Cut {
		p.report.Short = append(p.report.Short, Short{on, b.Whole})
	}
	return b
}

// put sets a text into an area of a sheet.
func (p *press) put(s *sheet.Sheet, on, text string, st lettering.Style, in sheet.Rect, lines int, a sheet.Align) lettering.Block {
	b := p.fit(on, text, st, in.W, in.H, lines)
	s.Set(b, in, a)
	return b
}

// none is the error for work in which there is nothing to print.
func none(what, next string) error { return model.Inputf("there is %s to print; %s", what, next) }
