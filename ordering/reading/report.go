package reading

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Report is what a whole walk through a box found.
type Report struct {
	Box      model.Box
	Findings []Finding         // one for each reading
	Missing  []model.Accession // recorded here, not out, not found; in the recorded order
	Unread   []model.Accession // of the missing, what is recorded behind all that was found in place: the walk may have stopped before it
	Out      []model.Accession // out, and not found, as it should be
	row      []model.Accession // as found, with what is out in its slot
	was      []model.Accession // as recorded
	rest     []model.Accession // recorded behind all that was found in place, and not found: the unread, and what is out among it
}

// Report says what the readings amount to when the walk has come to the end of
// the box.
func (r *Reader) Report() *Report {
	j := r.judge()
	rep := &Report{Box: r.box, Findings: j.findings, was: r.row}
	end := slices.Max(append([]int{-1}, j.kept...)) // how far the walk came
	for at, a := range r.row {
		if at > end && !j.used[a] && !j.gaps[at] && !j.maybe[a] {
			rep.rest = append(rep.rest, a)
			if !r.isOut(at) {
				rep.Unread = append(rep.Unread, a)
			}
		}
		switch {
		case j.used[a]:
		case r.isOut(at):
			rep.Out = append(rep.Out, a)
		case !j.maybe[a]:
			rep.Missing = append(rep.Missing, a)
		}
	}
	for i := range rep.Findings {
		f := &rep.Findings[i]
		f.Belongs = j.belongs(f)
		if f.Copy != 0 {
			rep.row = append(rep.row, f.Copy)
		}
	}
	j.keepSlots(rep)
	return rep
}

// keepSlots puts what is out, and no gap was read for, behind the nearest that
// it is recorded behind and that is in place.
func (j *judgement) keepSlots(rep *Report) {
	firm := map[model.Accession]bool{}
	for i, at := range j.kept {
		if at >= 0 {
			firm[j.findings[i].Copy] = true
		}
	}
	behind := model.Accession(0)
	for at, a := range j.r.row {
		switch {
		case firm[a], j.gaps[at]:
			behind = a
		case !j.used[a] && j.r.isOut(at):
			i := slices.Index(rep.row, behind) + 1 // at the front when there is none
			rep.row = slices.Insert(rep.row, i, a)
			behind = a
		}
	}
}

// Of lists the findings of a kind.
func (rep *Report) Of(k Kind) []Finding {
	return slices.DeleteFunc(slices.Clone(rep.Findings), func(f Finding) bool { return f.Kind != k })
}

// FoundOut lists what is recorded as out and was found.
func (rep *Report) FoundOut() []model.Accession {
	var out []model.Accession
	for _, f := range rep.Findings {
		if f.WasOut && f.Kind != Gap {
			out = append(out, f.Copy)
		}
	}
	return out
}

// Record is the change that records the box as it was found; nil when it stands
// as recorded. What is missing is noted so and no longer recorded in a box; what is
// unlisted must be entered first to be recorded. Its error says what has to be read
// again.
func (rep *Report) Record() (*model.Stand, error) {
	if len(rep.Findings) == 0 {
		return nil, model.Inputf("nothing was read in box %q; give what stands in it, front to back, one a line, and \"-\" for a gap", rep.Box.Name)
	}
	if some := rep.Of(Ambiguous); len(some) > 0 {
		return nil, model.Inputf("item %d, %q, can be %s; look at the envelope and give the accession number, like \"#%d\"",
			some[0].Item, some[0].Read, numbered(some[0].Could), some[0].Could[0])
	}
	back := rep.FoundOut()
	if len(back) == 0 && slices.Equal(rep.row, rep.was) {
		return nil, nil
	}
	return &model.Stand{Rows: []model.NamedRow{{Box: rep.Box.Name, Copies: rep.row}}, Read: true, Back: back, Missing: rep.Missing}, nil
}

// RecordSoFar is Record of a walk that has not come to the end of the box: what is
// recorded behind it stays recorded there, in its order, and counts as not looked at.
func (rep *Report) RecordSoFar() (*model.Stand, error) {
	ch, err := rep.Record()
	if ch == nil || len(rep.Unread) == 0 {
		return ch, err
	}
	left := func(all, these []model.Accession) []model.Accession {
		return slices.DeleteFunc(slices.Clone(all), func(a model.Accession) bool { return slices.Contains(these, a) })
	}
	row := append(left(rep.row, rep.rest), rep.rest...)
	if len(ch.Back) == 0 && slices.Equal(row, rep.was) {
		return nil, nil
	}
	ch.Rows[0].Copies, ch.Missing, ch.Part = row, left(rep.Missing, rep.Unread), true
	return ch, nil
}

func numbered(copies []model.Accession) string {
	parts := make([]string, len(copies))
	for i, a := range copies {
		parts[i] = fmt.Sprintf("#%d", a)
	}
	return strings.Join(parts, " or ")
}

// belongs says in words where a misplaced copy belongs: where it is recorded,
// or where it would be filed if it is recorded in no box.
func (j *judgement) belongs(f *Finding) string {
	if f.Kind != Misplaced {
		return ""
	}
	l := j.r.l
	if at, here := j.r.at[f.Copy]; here {
		return "in this box, " + j.beside(at)
	}
	s := l.Slot(f.Copy)
	switch {
	case s.Box.ID != 0:
		return "box " + s.Box.Name + ", " + neighbours(s.Behind, s.Before)
	case s.Hook != "":
		return "hook " + s.Hook
	case l.Due(f.Copy) < 0:
		return "a hook, not a box"
	}
	pile := "the to-file pile"
	if s.Missing != "" {
		pile = "it was missing since " + string(s.Missing)
	}
	p := l.Collection().PatternOf(f.Copy)
	g := l.GapFor(l.Collection().Publisher(p.Publisher).Name, p)
	if g.Holding == nil {
		return pile + "; no box has a neighbour of it"
	}
	return pile + ", to be put into box " + g.Holding.Box.Name + ", " + neighbours(g.Behind, g.Before)
}

// beside names the nearest that are in place on both sides of a place in the
// recorded row; those come in the order of the row.
func (j *judgement) beside(at int) string {
	behind, before := -1, -1
	for _, k := range j.kept {
		switch {
		case k < 0:
		case k < at:
			behind = k
		case before < 0:
			before = k
		}
	}
	item := func(at int) *ordering.Item {
		if at < 0 {
			return nil
		}
		return &ordering.Item{Copy: j.r.row[at], Pattern: j.r.l.Collection().PatternOf(j.r.row[at])}
	}
	return neighbours(item(behind), item(before))
}

func neighbours(behind, before *ordering.Item) string {
	switch {
	case behind == nil && before == nil:
		return "alone"
	case behind == nil:
		return "at the front, before " + before.Pattern.Heading()
	case before == nil:
		return "at the back, behind " + behind.Pattern.Heading()
	}
	return "behind " + behind.Pattern.Heading() + ", before " + before.Pattern.Heading()
}
