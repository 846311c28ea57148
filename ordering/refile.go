package ordering

import (
	"slices"

	"example.org/tuckrow/model"
)

// Pull is a copy to take out of where it stands.
type Pull struct {
	Item     *Item
	Box      model.Box
	Position int  // before anything was pulled
	Leaves   bool // it does not go back into a box: it belongs on a hook
}

// Insert is a copy to put in, and between which two. Both stand there already
// when the inserts are done in their order.
type Insert struct {
	Item           *Item
	Box            int   // index in the plan's boxes
	Behind, Before *Item // nil at the ends of a box
	Position       int
	FromPile       bool // it stood in no box
}

// Moves is how to get from what stands to a plan: pull all, then insert all.
type Moves struct {
	Plan   Plan
	Pull   []Pull   // in walking order
	Insert []Insert // in walking order
	Kept   int      // stay where they are
	layout *Layout
}

// Refile works out the fewest pulls to what Target says.
func (l *Layout) Refile() Moves { return l.RefileTo(l.Target()) }

// RefileTo works out the fewest pulls to a plan.
func (l *Layout) RefileTo(p Plan) Moves {
	m := Moves{Plan: p, layout: l}
	inBox := make([]model.BoxID, l.c.Counters().Copy+1) // where the plan wants each copy, by accession number
	for i := range p.Boxes {
		for _, it := range p.Boxes[i].Items {
			inBox[it.Copy] = p.Boxes[i].Box.ID
		}
	}
	kept, pulled := l.stays(inBox)
	m.Pull, m.Insert = make([]Pull, 0, pulled), make([]Insert, 0, len(l.row))
	for _, b := range l.c.Shelf().Boxes {
		for i, a := range l.c.Row(b.ID) {
			if kept[a] {
				m.Kept++
				continue
			}
			m.Pull = append(m.Pull, Pull{l.stands(a), b, i + 1, l.Item(a) == nil})
		}
	}
	for i := range p.Boxes {
		m.Insert = l.inserts(m.Insert, i, p.Boxes[i].Items, kept)
	}
	return m
}

// stays marks what may stay in its box: a longest run, in order, of what is in
// its right box. It counts what may not.
func (l *Layout) stays(inBox []model.BoxID) (kept []bool, pulled int) {
	rank, kept := l.ranks(), make([]bool, len(inBox))
	var ranks []int32
	var who []model.Accession
	for _, b := range l.c.Shelf().Boxes {
		row := l.c.Row(b.ID)
		ranks, who = ranks[:0], who[:0]
		for _, a := range row {
			if rank[a] >= 0 && inBox[a] == b.ID {
				ranks, who = append(ranks, rank[a]), append(who, a)
			}
		}
		run := LongestRun(ranks)
		for _, i := range run {
			kept[who[i]] = true
		}
		pulled += len(row) - len(run)
	}
	return kept, pulled
}

// inserts appends to out what goes into one box, from the front, each behind its
// final neighbour and before the next that already stands.
func (l *Layout) inserts(out []Insert, box int, items []Placed, kept []bool) []Insert {
	from, before := len(out), (*Item)(nil)
	for i, p := range slices.Backward(items) {
		it := p.Item
		if kept[it.Copy] {
			before = it
			continue
		}
		in := Insert{Item: it, Box: box, Before: before, Position: i + 1}
		if i > 0 {
			in.Behind = items[i-1].Item
		}
		_, stood := l.c.Standing(it.Copy)
		in.FromPile = !stood
		out = append(out, in)
	}
	slices.Reverse(out[from:])
	return out
}

// Done is the change that records a refiling as carried out. It empties boxes
// that the plan leaves empty, and adds those that it needs and the shelf lacks.
func (m *Moves) Done() *model.Stand {
	ch := &model.Stand{Boxes: m.Plan.Needs(), Done: true, Signs: m.layout.Found()}
	for i := range m.Plan.Boxes {
		h := &m.Plan.Boxes[i]
		ch.Rows = append(ch.Rows, model.NamedRow{Box: h.Box.Name, Copies: h.Contents()})
	}
	return ch
}

// Needs lists the boxes that a plan uses and the shelf lacks.
func (p *Plan) Needs() []model.BoxSpec {
	var out []model.BoxSpec
	for i := range p.Boxes {
		if b := p.Boxes[i].Box; p.Boxes[i].New {
			out = append(out, model.BoxSpec{Name: b.Name, Length: b.Length, Place: b.Place})
		}
	}
	return out
}

// Decision is the change that settles a plan.
func (p *Plan) Decision() *model.Decide {
	ch := &model.Decide{}
	for _, b := range p.Needs() {
		ch.Boxes = append(ch.Boxes, model.NewBox{BoxSpec: b})
	}
	for i := range p.Boxes {
		if items := p.Boxes[i].Items; len(items) > 0 {
			ch.Firsts = append(ch.Firsts, model.NamedWall{Box: p.Boxes[i].Box.Name, First: items[0].Copy})
		}
	}
	return ch
}

// Difference is what a plan would alter against what stands.
type Difference struct {
	Moved  int // envelopes that stand in another box than planned, the pile not counted
	Labels int // boxes whose label changes, new ones included
}

// Compare counts what a plan alters. A label is taken to say what stands in its
// box; where it is behind that, Redo knows better.
func (l *Layout) Compare(p Plan) Difference {
	var d Difference
	for i := range p.Boxes {
		h := &p.Boxes[i]
		for _, it := range h.Items {
			if s, ok := l.c.Standing(it.Copy); ok && s.Box != h.Box.ID {
				d.Moved++
			}
		}
		if l.standingLabel(h.Box.ID) != l.Label(h) {
			d.Labels++
		}
	}
	return d
}
