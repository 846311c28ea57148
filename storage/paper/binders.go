package paper

import (
	"fmt"
	"iter"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// BinderOptions say what binders are given.
type BinderOptions struct {
	Spine float64  // how wide a spine label is
	Tabs  []string // what tabs part a binder by; none: by its sub-dividers, else by the publishers in it
	Parts []string // of BinderParts; none: all
}

// SpineWidth is how wide the spine label of a usual binder is, in mm (common
// practice, no source).
const SpineWidth = 50.0

// The parts that can be printed for binders.
const (
	Spines  = "spines"
	Index   = "index"
	Tabs    = "tabs"
	Missing = "missing"
)

// BinderParts lists the parts in the order in which they are printed.
func BinderParts() []string { return []string{Spines, Index, Tabs, Missing} }

// The narrowest and the widest spine that a label is made for, and how long a
// spine label is. A lever arch binder is 50 to 70 mm wide and takes a label of
// up to 190 mm (common practice, no source).
const (
	narrowestSpine, widestSpine = 12.0, 100.0
	spineLong                   = 190.0
)

// Binders makes spine labels, index pages, tabs, and a page for each sleeve
// that is missing.
func Binders(src Source, o BinderOptions) (*Work, error) {
	if !(o.Spine >= narrowestSpine && o.Spine <= widestSpine) {
		return nil, model.Inputf("a spine of %v mm gets no label; give %v to %v mm", o.Spine, narrowestSpine, widestSpine)
	}
	for _, part := range o.Parts {
		if !slices.Contains(BinderParts(), part) {
			return nil, model.Inputf("%q is no part of a binder; use %s", part, joined(", ", BinderParts()...))
		}
	}
	binders := binderPages{src: &src, o: o, missing: missingSleeves(&src)}
	for _, h := range src.Layout.Binders() {
		if len(h.Pockets) > 0 {
			binders.holdings = append(binders.holdings, h)
		}
	}
	work := &Work{Title: "Binders", paper: src.Paper, sheets: binders.sheets, text: binders.text, labels: binders.spines}
	if binders.has(Spines) || binders.has(Index) || binders.has(Tabs) {
		work.Count += len(binders.holdings)
	}
	if binders.has(Missing) {
		work.Count += len(binders.missing)
	}
	if work.Count == 0 {
		return nil, none("nothing for binders", "no sleeve is noted as in a binder, and none as missing")
	}
	return work, nil
}

type binderPages struct {
	src      *Source
	o        BinderOptions
	holdings []ordering.BinderHolding
	missing  []*model.Pattern
}

func (b *binderPages) has(part string) bool {
	return len(b.o.Parts) == 0 || slices.Contains(b.o.Parts, part)
}

// missingSleeves lists the patterns of which no copy has its sleeve.
func missingSleeves(src *Source) []*model.Pattern {
	lost := map[model.PatternID]bool{}
	for _, cp := range src.collection().Copies().All() {
		was, seen := lost[cp.Pattern]
		lost[cp.Pattern] = cp.Sleeve == model.SleeveMissing && (was || !seen)
	}
	return slices.DeleteFunc(src.Layout.ByNumber(), func(p *model.Pattern) bool { return !lost[p.ID] })
}

// ends says what is first and last in a binder: sub-dividers where there are
// several, else sleeves.
func (b *binderPages) ends(h *ordering.BinderHolding) (from, to string) {
	if n := len(h.Parts); n > 1 {
		return h.Parts[0].Title, h.Parts[n-1].Title
	}
	name := func(p *model.Pattern) string { return joined(" ", b.src.publisher(p), p.Short()) }
	return name(h.Pockets[0].Pattern), name(h.Pockets[len(h.Pockets)-1].Pattern)
}

func (b *binderPages) sheets(p *press) iter.Seq[*sheet.Sheet] {
	parts := map[string]func(*press) iter.Seq[*sheet.Sheet]{Spines: b.spineSheets, Index: b.indexSheets, Tabs: b.tabSheets, Missing: b.missingSheets}
	return func(yield func(*sheet.Sheet) bool) {
		for _, part := range BinderParts() {
			if !b.has(part) {
				continue
			}
			for s := range parts[part](p) {
				if !yield(s) {
					return
				}
			}
		}
	}
}

// spineSheets are labels for the spines, read with the head turned right: the
// category large, what is first and last in it beside.
func (b *binderPages) spineSheets(p *press) iter.Seq[*sheet.Sheet] {
	s := sheet.Of(b.src.Paper, false)
	each := cutting{b.src.Paper, false, int((s.W - 2*printable) / b.o.Spine), 1, b.o.Spine, spineLong}
	return each.sheets(len(b.holdings), func(s *sheet.Sheet, i int, at sheet.Rect) {
		h := &b.holdings[i]
		s.Add(sheet.Place{Rect: at, Cut: true})
		in, on := at.Inset(min(5, 0.12*at.W)), "spine of "+h.Title()
		large := sheet.Rect{X: in.X + 0.4*in.W, Y: in.Y, W: 0.6 * in.W, H: in.H}
		small := sheet.Rect{X: in.X, Y: in.Y, W: 0.4 * in.W, H: in.H}
		from, to := b.ends(h)
		s.SetDown(p.fit(on, h.Title(), lettering.Style{Weight: lettering.Bold, Size: min(60, large.W/1.2/lettering.Point), Least: 10}, large.H, large.W, 1), large, sheet.Left)
		s.SetDown(p.fit(on, from+" to "+to, lettering.Style{Size: min(16, small.W/1.2/lettering.Point), Least: 6.5}, small.H, small.W, 0), small, sheet.Left)
	})
}

func (b *binderPages) index(h *ordering.BinderHolding) *table {
	t := &table{title: h.Title(), notes: []string{"What is in this binder, pocket by pocket."}, foot: string(b.src.Date),
		columns: []column{{"pocket", 0.8, true}, {"publisher", 2.7, false}, {"number", 1.2, false}, {"name", 4, false}, {"sizes", 1, false}}}
	for i, x := range h.Pockets {
		for _, part := range h.Parts {
			if part.From == i {
				t.rows = append(t.rows, row{heading: partTitle(part)})
			}
		}
		pocket, p := "", x.Pattern
		if x.N > 0 {
			pocket = fmt.Sprint(x.N)
		}
		t.rows = append(t.rows, row{cells: []string{pocket, b.src.publisher(p), p.Number, joined(" ", p.Name, remark(x)), p.SizeRange}})
	}
	return t
}

// remark says what else is to be known of a pocket.
func remark(x ordering.Pocket) string {
	switch {
	case x.Photocopy:
		return "(photocopy; see " + x.Home.String() + ")"
	case x.Home != nil:
		return "(see " + x.Home.String() + ")"
	case x.In == model.SleevePhotocopy:
		return "(photocopy)"
	case x.In == model.SleeveMissing:
		return "(no sleeve)"
	}
	return ""
}

func partTitle(part ordering.Part) string {
	if part.Continued {
		return part.Title + ", continued"
	}
	return part.Title
}

func (b *binderPages) indexSheets(p *press) iter.Seq[*sheet.Sheet] {
	return func(yield func(*sheet.Sheet) bool) {
		for i := range b.holdings {
			for s := range b.index(&b.holdings[i]).sheets(p) {
				if !yield(s) {
					return
				}
			}
		}
	}
}

// tabs are the texts of all tabs, binder by binder.
func (b *binderPages) tabs() []string {
	var out []string
	for i := range b.holdings {
		if len(b.o.Tabs) > 0 {
			out = append(out, b.o.Tabs...)
			continue
		}
		h := &b.holdings[i]
		for _, part := range h.Parts {
			out = append(out, partTitle(part))
		}
		if len(h.Parts) > 0 {
			continue
		}
		for k, x := range h.Pockets {
			if k == 0 || x.Pattern.Publisher != h.Pockets[k-1].Pattern.Publisher {
				out = append(out, b.src.publisher(x.Pattern))
			}
		}
	}
	return out
}

// The size of a tab before it is folded round the edge of a page.
const tabWide, tabHigh = 90.0, 14.0

// tabSheets are tabs to be folded round the edge of a page: the text is on both
// sides.
func (b *binderPages) tabSheets(p *press) iter.Seq[*sheet.Sheet] {
	texts, s := b.tabs(), sheet.Of(b.src.Paper, false)
	each := cutting{b.src.Paper, false, int((s.W - 2*printable) / tabWide), int((s.H - printable - ruleRoom) / tabHigh), tabWide, tabHigh}
	return each.sheets(len(texts), func(s *sheet.Sheet, i int, at sheet.Rect) {
		s.Add(sheet.Place{Rect: at, Cut: true})
		s.Fold(at.X+at.W/2, at.Y, at.X+at.W/2, at.Y+at.H)
		in := sheet.Rect{X: at.X + 3, Y: at.Y + 1, W: at.W/2 - 6, H: at.H - 2}
		text := p.fit("tab", texts[i], lettering.Style{Weight: lettering.Bold, Size: 15, Least: 8}, in.W, in.H, 2)
		in.Y += (in.H - text.Height()) / 2
		s.Set(text, in, sheet.Centre)
		in.X += at.W / 2
		s.Set(text, in, sheet.Centre)
	})
}

// missingSheets are pages that stand in for a sleeve: what it is of, and a frame
// for a sketch. Marks show where holes go: two, 80 mm apart, 12 mm from the edge
// (ISO 838).
func (b *binderPages) missingSheets(p *press) iter.Seq[*sheet.Sheet] {
	const holes, fromEdge, left = 80.0, 12.0, 26.0
	return func(yield func(*sheet.Sheet) bool) {
		for _, x := range b.missing {
			s := sheet.Of(b.src.Paper, false)
			for _, y := range []float64{s.H/2 - holes/2, s.H/2 + holes/2} {
				s.Rule(fromEdge-2, y, fromEdge+2, y)
				s.Rule(fromEdge, y-2, fromEdge, y+2)
			}
			on, w := joined(" ", b.src.publisher(x), x.Heading()), s.W-left-margin
			y := margin + 2.0
			add := func(text string, st lettering.Style, high float64, lines int) {
				y += p.put(s, on, text, st, sheet.Rect{X: left, Y: y, W: w, H: high}, lines, sheet.Left).Height()
			}
			add(b.src.publisher(x), lettering.Style{Size: 22, Least: 12}, 12, 1)
			if x.Number != "" {
				add(x.Number, lettering.Style{Weight: lettering.Bold, Size: 48, Least: 20}, 24, 1)
				add(x.Name, lettering.Style{Size: 18, Least: 11}, 20, 2)
			} else {
				add(x.Name, lettering.Style{Weight: lettering.Bold, Size: 30, Least: 14}, 30, 2)
			}
			add(x.SizeRange, lettering.Style{Size: 14, Least: 9}, 8, 1)
			add(joined(" · ", b.src.category(x), "the sleeve is missing: sketch the views here"), lettering.Style{Size: 9, Least: 8}, 6, 1)
			y += 3
			s.Frame(sheet.Rect{X: left, Y: y, W: w, H: s.H - footRoom - 3 - y})
			if !yield(s) {
				return
			}
		}
	}
}

func (b *binderPages) spines() []string {
	var out []string
	for i := range b.holdings {
		out = append(out, b.holdings[i].Title())
	}
	return out
}

func (b *binderPages) text() []string {
	var lines []string
	for i := range b.holdings {
		h := &b.holdings[i]
		if b.has(Index) {
			lines = append(lines, b.index(h).text()...)
		} else {
			from, to := b.ends(h)
			lines = append(lines, fmt.Sprintf("%s: %s to %s", h.Title(), from, to))
		}
		lines = append(lines, "")
	}
	if b.has(Tabs) {
		lines = append(append(append(lines, "tabs:"), b.tabs()...), "")
	}
	if b.has(Missing) {
		for _, x := range b.missing {
			lines = append(lines, fmt.Sprintf("sleeve missing: %s %s", b.src.publisher(x), x.Heading()))
		}
	}
	return lines
}
