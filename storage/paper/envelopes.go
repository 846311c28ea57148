package paper

import (
	"fmt"
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// EnvelopeOptions say what envelope labels are printed on.
type EnvelopeOptions struct {
	Labels  model.LabelSheet
	Start   int          // the first label that is still on the sheet, from 1; 0 is 1
	On      *model.Paper // straight on envelopes of this size; nil: on labels
	Code    string       // model.Code128, CodeQR or NoCode
	Outline bool         // the edges of labels are drawn, to try out on plain paper
}

// Envelopes makes a label for each copy, in the order given.
func Envelopes(src Source, copies []model.Accession, o EnvelopeOptions) (*Work, error) {
	if len(copies) == 0 {
		return nil, none("no envelope label", "every copy counts as in its labelled envelope, as what stands in a box does, or none was chosen; all are printed where not only new ones are asked for")
	}
	if o.Start < 0 || o.Start > o.Labels.Count() {
		return nil, model.Inputf("the sheet has labels 1 to %d; it cannot be begun at %d", o.Labels.Count(), o.Start)
	}
	w := &Work{Title: "Envelope labels", paper: src.Paper}
	var labels []envelopeLabel
	for _, a := range copies {
		l := newEnvelopeLabel(&src, a)
		if was, changed := src.changed(a, l); changed {
			labels = append(labels, l)
			if was != "" {
				w.Remove = append(w.Remove, fmt.Sprintf("envelope %s: the label %q", l.accession, was))
			}
		}
	}
	if w.Count = len(labels); w.Count == 0 {
		return nil, none("no envelope label", "every copy counts as in its labelled envelope, as what stands in a box does; all are printed where not only new ones are asked for")
	}
	w.sheets = func(p *press) iter.Seq[*sheet.Sheet] {
		if o.On != nil {
			return p.envelopes(labels, o)
		}
		return p.labelSheets(labels, o)
	}
	w.text = func() []string {
		var lines []string
		for _, l := range labels {
			lines = append(lines, l.lines()...)
			lines = append(lines, "")
		}
		return lines[:len(lines)-1]
	}
	w.labels = func() []string {
		out := make([]string, len(labels))
		for i, l := range labels {
			out[i] = joined("  ", l.publisher, l.number, l.sizes, l.name, l.accession)
		}
		return out
	}
	return w, nil
}

// envelopeLabel is what an envelope says.
type envelopeLabel struct {
	publisher, number, sizes, name, category string
	accession                                string // "#412", as shelf reading takes it for sure
}

func newEnvelopeLabel(src *Source, a model.Accession) envelopeLabel {
	p := src.collection().PatternOf(a)
	return envelopeLabel{src.publisher(p), p.Number, p.SizeRange, p.Name, src.category(p), fmt.Sprintf("#%d", a)}
}

func (l *envelopeLabel) heading() string { return joined(" ", l.publisher, l.number, l.name) }

// on names the label in the index.
func (l *envelopeLabel) on() string { return joined(" ", l.accession, l.publisher, l.number) }

func (l *envelopeLabel) lines() []string {
	var lines []string
	for _, s := range []string{l.publisher, joined("  ", l.number, l.sizes), l.name, joined("  ", l.category, l.accession)} {
		if s != "" {
			lines = append(lines, s)
		}
	}
	return lines
}

// changed tells whether a label is to be printed, and what stands on the envelope
// now where it is another. With nothing to compare with, what is new is what has
// no envelope yet.
func (s *Source) changed(a model.Accession, is envelopeLabel) (was string, changed bool) {
	switch {
	case !s.OnlyNew:
		return "", true
	case s.Before == nil:
		return "", !s.collection().Copy(a).Enveloped
	case s.Before.Collection().Copy(a) == nil:
		return "", true
	}
	old := newEnvelopeLabel(&Source{Layout: s.Before}, a)
	return old.heading(), old != is
}

// labelSheets lays labels on sheets, beginning with the first that is left.
func (p *press) labelSheets(labels []envelopeLabel, o EnvelopeOptions) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		paper, err := model.PaperNamed(o.Labels.Paper)
		if err != nil {
			panic(err) // the shelf takes no label sheet on paper that is not known
		}
		if trial, ok := p.trial(o.Labels, paper); ok && !yield(trial) {
			return
		}
		at := max(0, o.Start-1)
		for len(labels) > 0 {
			s := labelSheet(o.Labels, paper, o.Outline)
			n := min(len(labels), len(s.Places)-at)
			for i, l := range labels[:n] {
				p.envelopeLabel(s, s.Places[at+i].Rect, l, o.Code)
			}
			labels, at = labels[n:], 0
			if !yield(s) {
				return
			}
		}
	}
}

func labelSheet(l model.LabelSheet, paper model.Paper, outline bool) *sheet.Sheet {
	s := sheet.Of(paper, false)
	for i := range l.Count() {
		left, top := l.Place(i)
		s.Add(sheet.Place{Rect: sheet.Rect{X: left.MM(), Y: top.MM(), W: l.Width.MM(), H: l.Height.MM()}, Cut: outline})
	}
	return s
}

// trial is a sheet to print on plain paper and hold against the labels; it bears
// the rule where labels leave no room for one. False where they do.
func (p *press) trial(l model.LabelSheet, paper model.Paper) (*sheet.Sheet, bool) {
	if labelSheet(l, paper, false).AddRule(p.set) {
		return nil, false
	}
	s := labelSheet(l, paper, true)
	first := s.Places[0].Inset(4)
	s.Places = nil // nothing is printed on them
	p.put(s, "trial sheet", "On plain paper: hold it against the label sheet.", lettering.Style{Size: 9, Least: 6}, first, 0, sheet.Left)
	return s, true
}

// onEnvelope is where an envelope is written on: at the top left, where it is
// read when envelopes are leafed through.
func onEnvelope(s *sheet.Sheet) sheet.Rect {
	return sheet.Rect{X: 9, Y: 7, W: min(s.W-18, 120), H: min(s.H/3, 52)}
}

// envelopes writes straight on envelopes, one a sheet, the long side at the top.
func (p *press) envelopes(labels []envelopeLabel, o EnvelopeOptions) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		for _, l := range labels {
			s := sheet.Of(*o.On, true)
			at := onEnvelope(s)
			s.Add(sheet.Place{Rect: at})
			p.envelopeLabel(s, at, l, o.Code)
			if !yield(s) {
				return
			}
		}
	}
}

// The largest letters on a label, and the least that are still read in a box at
// arm's length (common practice, no source).
const (
	largestNumber, leastNumber       = 36, 11
	largestPublisher, leastPublisher = 14, 8
	largestName, leastName           = 12, 7
	smallPrint, leastSmall           = 8, 6
)

// The widest modules of codes that are of use, in millimetres: what is larger
// reads no better.
const (
	widestBar    = 0.33
	widestSquare = 0.6
)

// parts is how a label is divided from top to bottom, within a margin.
type parts struct {
	sheet.Rect
	pad, publisher, number, foot, gap float64
}

func partsOf(label sheet.Rect) parts {
	pad := min(4, 0.07*min(label.W, label.H)+0.6)
	in := label.Inset(pad)
	return parts{in, pad, 0.18 * in.H, 0.32 * in.H, 0.21 * in.H, 0.03 * in.H}
}

// envelopeLabel draws one label: publisher, then number and sizes large, then
// the name, and at the foot category and accession number with its code; a
// square code takes of the name's width too.
func (p *press) envelopeLabel(s *sheet.Sheet, label sheet.Rect, l envelopeLabel, kind string) {
	in, on := partsOf(label), l.on()
	body := sheet.Rect{X: in.X, Y: in.Y + in.publisher, W: in.W, H: in.H - in.publisher - in.foot - in.gap}
	p.put(s, on, l.publisher, style(lettering.Regular, in.publisher, largestPublisher, leastPublisher), sheet.Rect{X: in.X, Y: in.Y, W: in.W, H: in.publisher}, 1, sheet.Left)

	beside, nameWide := in.W, in.W // the code
	if c, ok := p.code(l.accession, kind, label); ok {
		s.Codes = append(s.Codes, c)
		beside = c.X - in.X - 1
		if kind == model.CodeQR {
			nameWide = beside
		}
	}
	name := style(lettering.Regular, (body.H-in.number)/2, largestName, leastName)
	if l.number != "" {
		p.numberAndSizes(s, on, sheet.Rect{X: in.X, Y: body.Y, W: in.W, H: in.number}, l)
		body.Y, body.H = body.Y+in.number, body.H-in.number
	} else { // it is the name that is looked for
		name = style(lettering.Bold, 0.8*in.number, 0.6*largestNumber, leastName)
		if high := 0.2 * in.H; l.sizes != "" {
			p.put(s, on, l.sizes, style(lettering.Regular, high, 0.6*largestNumber, leastName), sheet.Rect{X: in.X, Y: body.Y + body.H - high, W: nameWide, H: high}, 1, sheet.Left)
			body.H -= high
		}
	}
	p.put(s, on, l.name, name, sheet.Rect{X: in.X, Y: body.Y, W: nameWide, H: body.H}, 0, sheet.Left)
	p.foot(s, on, sheet.Rect{X: in.X, Y: in.Y + in.H - in.foot, W: beside, H: in.foot}, l)
}

// style is letters for a line so high, within bounds.
func style(w lettering.Weight, high, most, least float64) lettering.Style {
	return lettering.Style{Weight: w, Size: max(least, min(most, high/1.2/lettering.Point)), Least: least}
}

// numberAndSizes sets the number as large as goes in, and behind it on the same
// line the size range.
func (p *press) numberAndSizes(s *sheet.Sheet, on string, in sheet.Rect, l envelopeLabel) {
	share := 1.0
	if l.sizes != "" {
		share = 0.68
	}
	number := p.fit(on, l.number, style(lettering.Bold, in.H, largestNumber, leastNumber), share*in.W, in.H, 1)
	s.Set(number, in, sheet.Left)
	if l.sizes == "" {
		return
	}
	const gap = 4
	room := in.W - number.Width() - gap
	st := style(lettering.Regular, in.H*0.62, largestNumber*0.62, leastName)
	sizes := p.fit(on, l.sizes, st, room, in.H, 1)
	if len(number.Lines) > 0 && len(sizes.Lines) > 0 { // on one line
		in.Y += (number.Lines[0].Above()*number.Size - sizes.Lines[0].Above()*sizes.Size) * lettering.Point
	}
	s.Set(sizes, sheet.Rect{X: in.X + in.W - room, Y: in.Y, W: room, H: in.H}, sheet.Right)
}

// foot sets category and accession number at the bottom of an area, one above the
// other where there is room for both, else side by side.
func (p *press) foot(s *sheet.Sheet, on string, in sheet.Rect, l envelopeLabel) {
	st := style(lettering.Regular, in.H/2, smallPrint, leastSmall)
	lines := []string{l.category, l.accession}
	if 2*1.2*st.Size*lettering.Point > in.H {
		st = style(lettering.Regular, in.H, smallPrint, leastSmall)
		lines = []string{joined(" · ", l.accession, l.category)}
	}
	high := min(in.H/float64(len(lines)), 1.2*st.Size*lettering.Point+0.3)
	for i, text := range lines {
		y := in.Y + in.H - float64(len(lines)-i)*high
		p.put(s, on, text, st, sheet.Rect{X: in.X, Y: y, W: in.W, H: high}, 1, sheet.Left)
	}
}

// code makes the code of an accession number: bars in the foot of a label, or
// squares in its lower right corner, the quiet zone reaching into the margin.
// False where none is wanted, or none that can be read goes in.
func (p *press) code(text, kind string, label sheet.Rect) (sheet.Code, bool) {
	in := partsOf(label)
	room, most := sheet.Rect{X: label.X + label.W/2, Y: in.Y + in.H - in.foot, W: label.W / 2, H: in.foot}, float64(widestBar)
	if kind == model.CodeQR {
		side := in.pad + min(0.45*label.H, 0.3*label.W)
		room, most = sheet.Rect{X: label.X + label.W - side, Y: label.Y + label.H - side, W: side, H: side}, widestSquare
	}
	c, ok, err := sheet.NewCode(kind, text, room, most)
	if err != nil {
		panic(err) // digits can be encoded
	}
	if kind != model.NoCode && !ok {
		p.report.Uncoded++
	}
	return c, ok
}
