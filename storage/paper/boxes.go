package paper

import (
	"fmt"
	"iter"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper/lettering"
	"example.org/tuckrow/storage/paper/sheet"
)

// BoxLabels makes the labels of the boxes that a plan fills; of what is new, of
// those whose label changes, and it says which labels are to come off.
func BoxLabels(src Source, plan ordering.Plan) (*Work, error) {
	work := &Work{Title: "Box labels", paper: src.Paper}
	var labels []boxLabel
	add := func(h *ordering.Holding) {
		if len(h.Items) > 0 {
			labels = append(labels, newBoxLabel(&src, h))
		}
	}
	if src.OnlyNew {
		for _, l := range src.redo(plan).Labels {
			add(l.Holding)
			if l.Was != ordering.NoLabel {
				work.Remove = append(work.Remove, fmt.Sprintf("box %s: the label %q", l.Holding.Box.Name, l.Was))
			}
		}
	} else {
		for i := range plan.Boxes {
			add(&plan.Boxes[i])
		}
	}
	if len(labels) == 0 && len(work.Remove) == 0 {
		return nil, none("no box label", "none is new, or the boxes are empty")
	}
	work.Count = len(labels)
	s := sheet.Of(src.Paper, false)
	each := cutting{src.Paper, false, 1, boxLabelsOnSheet, s.W - 2*printable, (s.H - printable - ruleRoom) / boxLabelsOnSheet}
	work.sheets = func(p *press) iter.Seq[*sheet.Sheet] {
		return each.sheets(len(labels), func(s *sheet.Sheet, i int, at sheet.Rect) { p.boxLabel(s, labels[i], at) })
	}
	work.text = func() []string {
		var lines []string
		for _, l := range labels {
			lines = append(lines, l.lines()...)
		}
		return lines
	}
	work.labels = func() []string {
		var lines []string
		for _, l := range labels {
			lines = append(lines, joined("  ", l.name, l.says))
		}
		return lines
	}
	return work, nil
}

// boxLabelsOnSheet makes them large enough to be read from where one stands
// before a cupboard.
const boxLabelsOnSheet = 3

// boxLabel is what a box says: nothing that one envelope more makes untrue.
type boxLabel struct {
	name, says  string
	first, last model.Pattern
	from, to    string // publishers
	sections    []string
	date        model.Date
}

func newBoxLabel(src *Source, h *ordering.Holding) boxLabel {
	first, last := h.Items[0].Pattern, h.Items[len(h.Items)-1].Pattern
	l := boxLabel{name: h.Box.Name, says: src.Layout.Label(h), first: *first, last: *last, from: src.publisher(first), to: src.publisher(last), date: src.Date}
	for i, it := range h.Items {
		if i == 0 || it.Section != h.Items[i-1].Section {
			l.sections = append(l.sections, src.Layout.Section(it.Section).Title)
		}
	}
	return l
}

func (l *boxLabel) lines() []string {
	lines := []string{fmt.Sprintf("box %s: %s", l.name, l.says)}
	if len(l.sections) > 1 {
		lines = append(lines, "  "+joined(" · ", l.sections...))
	}
	return append(lines, "  "+l.planOf(), "")
}

func (l *boxLabel) planOf() string { return "plan of " + string(l.date) }

func (p *press) boxLabel(s *sheet.Sheet, l boxLabel, at sheet.Rect) {
	s.Add(sheet.Place{Rect: at, Cut: true})
	in, on := at.Inset(6), "box "+l.name
	name := sheet.Rect{X: in.X, Y: in.Y, W: 0.24 * in.W, H: in.H}
	s.Rule(name.X+name.W, in.Y, name.X+name.W, in.Y+in.H)
	p.put(s, on, "box", lettering.Style{Size: 14, Least: 14}, sheet.Rect{X: name.X, Y: name.Y, W: name.W, H: 8}, 1, sheet.Left)
	p.put(s, on, l.name, lettering.Style{Weight: lettering.Bold, Size: 96, Least: 14}, sheet.Rect{X: name.X, Y: name.Y + 7, W: name.W - 5, H: name.H - 14}, 2, sheet.Left)
	p.put(s, on, l.planOf(), lettering.Style{Size: 8, Least: 7}, sheet.Rect{X: name.X, Y: in.Y + in.H - 4, W: name.W - 3, H: 4}, 1, sheet.Left)

	right := sheet.Rect{X: name.X + name.W + 6, Y: in.Y, W: in.W - name.W - 6, H: in.H}
	foot := 0.0
	if len(l.sections) > 1 {
		foot = 0.18 * right.H
		p.put(s, on, joined(" · ", l.sections...), lettering.Style{Size: 13, Least: 8}, sheet.Rect{X: right.X, Y: right.Y + right.H - foot, W: right.W, H: foot}, 2, sheet.Left)
	}
	half := (right.H - foot) / 2
	p.boxEnd(s, on, sheet.Rect{X: right.X, Y: right.Y, W: right.W, H: half}, l.from, &l.first, "")
	p.boxEnd(s, on, sheet.Rect{X: right.X, Y: right.Y + half, W: right.W, H: half}, l.to, &l.last, "to ")
}

// boxEnd sets what is first or last in a box: the publisher, and its number as
// large as goes in, or the name where it has none.
func (p *press) boxEnd(s *sheet.Sheet, on string, in sheet.Rect, publisher string, pattern *model.Pattern, to string) {
	const high = 9.5
	p.put(s, on, to+publisher, lettering.Style{Size: 19, Least: 10}, sheet.Rect{X: in.X, Y: in.Y, W: in.W, H: high}, 1, sheet.Left)
	rest := sheet.Rect{X: in.X, Y: in.Y + high, W: in.W, H: in.H - high - 1}
	if pattern.Number != "" {
		p.put(s, on, pattern.Number, lettering.Style{Weight: lettering.Bold, Size: 54, Least: 16}, rest, 1, sheet.Left)
		return
	}
	p.put(s, on, pattern.Name, lettering.Style{Weight: lettering.Bold, Size: 30, Least: 14}, rest, 2, sheet.Left)
}
