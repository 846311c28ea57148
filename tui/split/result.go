package split

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
)

// request is a plan to work out: by a goal, or, with a way, an answer to a
// spill.
type request struct {
	goal ordering.Goal
	way  ordering.Way
	what whatIf
}

// name is the same for requests that come to the same.
func (r request) name() string {
	if r.way != "" {
		r.goal = ""
	}
	return fmt.Sprintf("%q %q %+v %v %v %v", r.goal, r.way, r.options(), r.what.lengths, r.what.locks, r.what.more)
}

// options are what is reckoned with besides: only an even split does that. What
// was said stays for when one is looked at again.
func (r request) options() ordering.Options {
	if r.way == "" && r.goal == ordering.Even {
		return ordering.Options{GrowthMonths: r.what.months, Boxes: r.what.over}
	}
	return ordering.Options{}
}

// says is in words what is tried out.
func (r request) says(units string) []string { return append(r.what.shelf(units), r.reckoned()...) }

// reckoned is in words what is reckoned with besides.
func (r request) reckoned() []string {
	var out []string
	o := r.options()
	if o.Boxes > 0 {
		out = append(out, "over "+words.Count(o.Boxes, "box", "boxes"))
	}
	if n := o.GrowthMonths; n > 0 {
		out = append(out, "room for "+words.Count(n, "month", "months")+" of growth")
	}
	return out
}

// bar is one box as it is drawn.
type bar struct {
	there                bool
	length, usable, load model.Length
	starts               []model.Length // of sections, from the front
	label                string
	n                    int
}

// box is one box, today and as planned.
type box struct {
	model.Box
	today, plan bar
	in, out     int // envelopes that come from other boxes, and that go
	filed       int // that come from the pile
	stands      ordering.Holding
	held        ordering.Holding
}

// relabelled tells whether a box needs another label.
func (b *box) relabelled() bool { return b.today.labelled() != b.plan.labelled() }

// labelled is the label; a box that is not there has none, like an empty one.
func (b *bar) labelled() string {
	if b.n == 0 {
		return "empty"
	}
	return b.label
}

// result is a plan worked out.
type result struct {
	request
	rev      uint64
	err      error
	boxes    []box
	used     int
	fresh    int // boxes to get
	diff     ordering.Difference
	filed    int
	redo     ordering.Redo
	findings []string
	outlook  *ordering.Outlook // of an answer
	room     model.Length
	shelf    *model.SetShelf // nil when the shelf stays
	decision *model.Decide
}

// vain tells whether a plan for as few boxes as can be needs as many as are in use
// already.
func (r *result) vain() bool {
	now := 0
	for i := range r.boxes {
		if r.boxes[i].today.n > 0 {
			now++
		}
	}
	return r.way == "" && r.goal == ordering.Fewest && r.shelf == nil && r.filed == 0 && r.diff.Moved > 0 && r.used >= now
}

// work works a request out; an answer together with the other two, since they
// are found together.
func work(l *ordering.Layout, r request) []*result {
	trial, shelf := l, r.what.change(l.Collection())
	if shelf != nil {
		with, _, err := l.Collection().Apply(shelf, "")
		if err != nil {
			return []*result{{request: r, rev: l.Collection().Rev(), err: err}}
		}
		trial = ordering.Arrange(with)
	}
	if r.way == "" {
		p := trial.SplitWith(r.goal, r.options())
		return []*result{newResult(l, trial, r, shelf, p, p.Decision())}
	}
	var out []*result
	for _, a := range trial.Answers() {
		r.way = a.Way
		x := newResult(l, trial, r, shelf, a.Plan, a.Decision())
		x.outlook, x.room = &a.Outlook, a.Room
		out = append(out, x)
	}
	return out
}

func newResult(l, trial *ordering.Layout, r request, shelf *model.SetShelf, p ordering.Plan, d *model.Decide) *result {
	x := &result{request: r, rev: l.Collection().Rev(), used: p.Used(), findings: p.Findings, shelf: shelf, decision: d,
		fresh: len(d.Boxes) + len(r.what.more)}
	x.diff = trial.Compare(p)
	standing := map[string]ordering.Holding{}
	for _, h := range l.Standing() {
		standing[h.Box.Name] = h
	}
	comes := map[model.Accession]string{} // where each is to stand
	for i := range p.Boxes {
		for _, it := range p.Boxes[i].Items {
			comes[it.Copy] = p.Boxes[i].Box.Name
		}
	}
	for i := range p.Boxes {
		h := &p.Boxes[i]
		b := box{Box: h.Box, plan: barOf(trial, h), held: *h}
		if now, ok := standing[h.Box.Name]; ok {
			b.today, b.stands = barOf(l, &now), now
			b.today.there = true
			for _, it := range now.Items {
				if comes[it.Copy] != h.Box.Name {
					b.out++
				}
			}
		}
		for _, it := range h.Items {
			if s, ok := l.Collection().Standing(it.Copy); !ok {
				b.filed++
			} else if s.Box != h.Box.ID {
				b.in++
			}
		}
		x.filed += b.filed
		x.boxes = append(x.boxes, b)
		if len(r.what.more) > 0 && len(h.Items) == 0 { // no goal takes more boxes than must be
			x.findings = append(slices.Clone(x.findings), fmt.Sprintf("box %s would stay empty with this plan; n spreads it over as many boxes as you say", h.Box.Name))
		}
	}
	x.redo = l.Redo(p)
	return x
}

func barOf(l *ordering.Layout, h *ordering.Holding) bar {
	b := bar{there: true, length: h.Box.Length, usable: h.Usable, load: h.Load, n: len(h.Items), label: l.Label(h)}
	for i, it := range h.Items {
		if i > 0 && it.Section == h.Items[i-1].Section {
			continue
		}
		at := it.Front
		for _, c := range it.Cards {
			at -= c.Thickness
		}
		b.starts = append(b.starts, at)
	}
	return b
}
