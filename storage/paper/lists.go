package paper

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/model/worth"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
)

// ShelfList makes the list of everything in the order in which it stands: the
// boxes front to back, what waits on the pile, what hangs on hooks or is to. Each
// copy is in it once.
func ShelfList(src Source) (*Work, error) {
	t := &table{title: "Shelf list", notes: []string{"As it stands on " + string(src.Date) + ". Places shift with the next batch; then print it anew."},
		columns: []column{{"place", 0.6, true}, {"publisher", 2.2, false}, {"number", 1.2, false}, {"name", 4.4, false}, {"sizes", 1, false}, {"copy", 0.7, true}}}
	l := src.Layout
	for _, h := range l.Standing() {
		if len(h.Items) == 0 {
			continue
		}
		t.rows = append(t.rows, row{heading: joined(" · ", "Box "+h.Box.Name, h.Box.Place, words.Count(len(h.Items), "envelope", "envelopes"))})
		for i, it := range h.Items {
			t.rows = append(t.rows, src.shelfRow(strconv.Itoa(i+1), it.Copy))
		}
	}
	if waiting := l.Waiting(); len(waiting) > 0 {
		t.rows = append(t.rows, row{heading: joined(" · ", "On the to-file pile", words.Count(len(waiting), "envelope", "envelopes"))})
		for _, it := range waiting {
			t.rows = append(t.rows, src.shelfRow("", it.Copy))
		}
	}
	t.hung(&src)
	if len(t.rows) == 0 {
		return nil, none("no shelf list", "the list is empty; enter patterns first")
	}
	return t.work(&src), nil
}

// hung adds what hangs on hooks, and what is still to be hung. What belongs on a
// hook and stands in a box as yet is listed there.
func (t *table) hung(src *Source) {
	c := src.collection()
	var hangs, waits []row
	for _, h := range src.Layout.Hooks() {
		for _, it := range h.Items {
			hook := c.Copy(it.Copy).Hook
			_, stands := c.Standing(it.Copy)
			switch {
			case hook.Row != 0:
				hangs = append(hangs, src.shelfRow(c.HookText(hook), it.Copy))
			case !stands:
				waits = append(waits, src.shelfRow("", it.Copy))
			}
		}
	}
	for _, g := range []struct {
		heading string
		rows    []row
	}{{"What hangs on hooks", hangs}, {"To be hung on hooks", waits}} {
		if len(g.rows) > 0 {
			t.rows = append(append(t.rows, row{heading: g.heading}), g.rows...)
		}
	}
}

func (s *Source) shelfRow(place string, a model.Accession) row {
	p := s.collection().PatternOf(a)
	name := p.Name
	if s.collection().Copy(a).Out != nil {
		name = joined(" ", name, "(out)")
	}
	return row{cells: []string{place, s.publisher(p), p.Number, name, p.SizeRange, fmt.Sprintf("#%d", a)}}
}

// Insurance makes the list of every copy with its state, for an insurer, and with
// what it is worth by its own value or by its group; where it has neither the
// column is left to be filled in.
func Insurance(src Source) (*Work, error) {
	c := src.collection()
	t := &table{title: "Insurance list", columns: []column{{"copy", 0.8, true}, {"number", 1.4, false}, {"name", 4.4, false}, {"year", 0.7, true}, {"state", 3, false}, {"value", 1, true}}}
	byPattern := map[model.PatternID][]*model.Copy{}
	for _, cp := range c.Copies().All() {
		byPattern[cp.Pattern] = append(byPattern[cp.Pattern], cp)
	}
	all := worth.Add(c)
	values := valued(c, &all)
	last := model.PublisherID(0)
	for _, p := range src.Layout.ByNumber() {
		if p.Publisher != last {
			t.rows, last = append(t.rows, row{heading: src.publisher(p)}), p.Publisher
		}
		for _, cp := range byPattern[p.ID] {
			t.rows = append(t.rows, row{cells: []string{fmt.Sprintf("#%d", cp.Accession), p.Number, joined(" ", p.Name, p.SizeRange), year(p), state(cp), values[cp.Accession]}})
		}
	}
	n := c.Copies().Len()
	if n == 0 {
		return nil, none("no insurance list", "the list is empty; enter patterns first")
	}
	t.notes = []string{fmt.Sprintf("%s on %s.", words.Count(n, "copy", "copies"), src.Date)}
	if all.Sum > 0 {
		t.notes = append(t.notes, fmt.Sprintf("In all %s: figures of the owner's, not an appraisal.", all.Sum))
	}
	if left := len(all.Unvalued); left > 0 {
		t.notes = append(t.notes, fmt.Sprintf("%s without a value, to be filled in. Old and rare ones are worth an appraisal by somebody who knows.", words.Count(left, "copy", "copies")))
	}
	return t.work(&src), nil
}

// valued writes what each copy is worth.
func valued(c *model.Collection, all *worth.Total) map[model.Accession]string {
	out := map[model.Accession]string{}
	for _, g := range all.Groups {
		for _, a := range g.Copies {
			each := g.Each
			if g.Own {
				each = c.Copy(a).Value
			}
			out[a] = each.String()
		}
	}
	return out
}

func year(p *model.Pattern) string {
	if p.Year == 0 {
		return ""
	}
	return strconv.Itoa(p.Year)
}

// state says what is known of how a copy is.
func state(cp *model.Copy) string {
	complete := cp.Complete // or what is missing
	if strings.EqualFold(complete, "yes") {
		complete = "complete"
	}
	return joined(", ", string(cp.Medium), string(cp.Cut), complete)
}

// Walk makes the sheet to tick on a refiling: what to pull, box by box, then
// what to put in and between which two.
func Walk(src Source) (*Work, error) {
	l, c := src.Layout, src.collection()
	m := l.Refile()
	if len(m.Pull)+len(m.Insert) == 0 {
		return nil, none("no walk", "everything stands where it belongs")
	}
	t := &table{title: "Refiling walk", tick: true, columns: []column{{"place", 0.6, true}, {"publisher", 2, false}, {"number and name", 4, false}, {"behind", 2.6, false}, {"before", 2.6, false}}}
	t.notes = append([]string{fmt.Sprintf("%s to pull, %d to put in, %d stay. First take out all that is to be pulled, then put in, in this order.",
		words.Count(len(m.Pull), "envelope", "envelopes"), len(m.Insert), m.Kept)}, moving.Caution(moving.Fullest(m.Plan.Boxes)))
	box := ""
	for _, x := range m.Pull {
		if title := joined(" · ", "Pull from box "+x.Box.Name, x.Box.Place); title != box {
			t.rows, box = append(t.rows, row{heading: title}), title
		}
		note := ""
		if x.Leaves {
			note = "to its hook"
		}
		t.rows = append(t.rows, row{cells: []string{strconv.Itoa(x.Position), src.publisher(x.Item.Pattern), x.Item.Pattern.Heading(), note}})
	}
	for _, in := range m.Insert {
		b := m.Plan.Boxes[in.Box].Box
		if title := joined(" · ", "Put into box "+b.Name, b.Place); title != box {
			t.rows, box = append(t.rows, row{heading: title}), title
		}
		name := in.Item.Pattern.Heading()
		if !c.Copy(in.Item.Copy).Enveloped {
			name += " (needs its envelope first)"
		}
		t.rows = append(t.rows, row{cells: []string{"", src.publisher(in.Item.Pattern), name, neighbour(in.Behind, "at the front"), neighbour(in.Before, "at the end so far")}})
	}
	return t.work(&src), nil
}

func neighbour(it *ordering.Item, none string) string {
	if it == nil {
		return none
	}
	return cmp.Or(it.Pattern.Heading(), none)
}
