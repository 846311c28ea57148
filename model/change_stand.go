package model

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Stand records what stands in boxes now, front to back: after a refiling, or
// as a walk along the shelf found it. A copy named here is taken out of where
// it was recorded before. What stands in a box is in its envelope and grouped.
type Stand struct {
	Boxes []BoxSpec  `json:"boxes,omitempty"` // new ones, put behind those there are
	Rows  []NamedRow `json:"rows"`
	Done  bool       `json:"done,omitempty"` // the split decided on has been carried out
	Read  bool       `json:"read,omitempty"` // the boxes were read: nothing was moved for it
	Part  bool       `json:"part,omitempty"` // and not to their end, so that they were not gone through
	Took  *Took      `json:"took,omitempty"` // how long that took, where somebody looked at the clock

	Signs []NamedSigns `json:"signs,omitempty"` // of boxes of which none were on record, before anything was moved

	Back    []Accession `json:"back,omitempty"`    // found though they were recorded as out
	Missing []Accession `json:"missing,omitempty"` // looked for and not found
}

// NamedRow is what stands in the box of that name.
type NamedRow struct {
	Box    string      `json:"box"`
	Copies []Accession `json:"copies"`
}

func (ch *Stand) apply(e *editor) error {
	if err := e.furnish("", ch.Boxes, nil); err != nil {
		return err
	}
	signs := slices.Clone(ch.Signs)
	for _, b := range ch.Boxes {
		signs = append(signs, NamedSigns{Box: b.Name}) // none yet
	}
	if err := e.found(signs); err != nil {
		return err
	}
	rows, named := map[BoxID][]Accession{}, map[Accession]bool{}
	for _, r := range ch.Rows {
		b, err := e.c.shelf.BoxNamed(r.Box)
		if err != nil {
			return err
		}
		if _, twice := rows[b.ID]; twice {
			return Inputf("box %q is given twice; say once what stands in it", r.Box)
		}
		rows[b.ID] = r.Copies
		for _, a := range r.Copies {
			if named[a] {
				return Inputf("copy %d is given two places; a copy stands in one", a)
			}
			named[a] = true
		}
	}
	if err := e.lose(ch.Missing, named); err != nil {
		return err
	}
	e.unbox(named)
	for _, id := range slices.Sorted(maps.Keys(rows)) {
		for _, a := range rows[id] {
			if err := e.shelved(a); err != nil {
				return err
			}
		}
		e.setRow(id, slices.Clone(rows[id]))
		if ch.Read && !ch.Part {
			e.counted(id)
		}
	}
	if ch.Done && len(e.c.walls.Firsts) > 0 {
		e.put(&Walls{})
	}
	if err := e.back(ch.Back); err != nil {
		return err
	}
	return e.pace(ch.Took)
}

// Count notes that boxes were gone through from front to back today.
type Count struct {
	Boxes []string `json:"boxes"`
}

// Title implements Change.
func (ch *Count) Title(*Collection) string { return "counted " + boxesText(ch.Boxes) }

func (ch *Count) apply(e *editor) error {
	for _, name := range ch.Boxes {
		b, err := e.c.shelf.BoxNamed(name)
		if err != nil {
			return err
		}
		e.counted(b.ID)
	}
	return nil
}

// Counted is the day on which somebody last went through a box; empty where nobody
// has, or where nothing stands in it.
func (c *Collection) Counted(b BoxID) Date {
	if r := c.rows.Get(uint32(b)); r != nil {
		return r.Counted
	}
	return ""
}

// lose notes copies as not found, and that they stand nowhere.
func (e *editor) lose(missing []Accession, found map[Accession]bool) error {
	gone := map[Accession]bool{}
	for _, a := range missing {
		old, err := e.copyOrErr(a)
		if err != nil {
			return err
		}
		if found[a] {
			return Inputf("copy %d is given a place and noted as not found; say one of them", a)
		}
		gone[a] = true
		if old.Out != nil { // one knows where it is
			continue
		}
		cp := *old
		cp.Missing, cp.Hook = e.at, Hook{}
		e.put(&cp)
	}
	if len(gone) > 0 {
		e.unbox(gone)
	}
	return nil
}

// shelved notes on a copy what standing in a box implies.
func (e *editor) shelved(a Accession) error {
	old, err := e.copyOrErr(a)
	if err != nil {
		return err
	}
	if old.Enveloped && old.Grouped && old.Hook.Row == 0 && old.Missing == "" {
		return nil
	}
	cp := *old
	cp.Enveloped, cp.Grouped, cp.Hook, cp.Missing = true, true, Hook{}, ""
	e.put(&cp)
	return nil
}

// Title implements Change. It says what was pulled from where and put where:
// "pulled 4725 Belted bolero from box 1", "put 12 into boxes 1 and 2".
func (ch *Stand) Title(c *Collection) string {
	pulled, put := moved{verb: "pulled", where: "from"}, moved{verb: "put", where: "into"}
	order := moved{}
	lost := map[Accession]bool{}
	for _, a := range ch.Missing {
		lost[a] = true
	}
	for _, r := range ch.Rows {
		var was []Accession
		if b, err := c.shelf.BoxNamed(r.Box); err == nil {
			was = c.Row(b.ID)
		}
		out := without(was, r.Copies)
		out = slices.DeleteFunc(out, func(a Accession) bool { return lost[a] })
		pulled.add(r.Box, out)
		put.add(r.Box, without(r.Copies, was))
		if len(was) == len(r.Copies) && !slices.Equal(was, r.Copies) {
			order.add(r.Box, r.Copies)
		}
	}
	if ch.Read {
		return ch.readTitle(len(pulled.copies), len(put.copies))
	}
	var parts []string
	for _, m := range []moved{pulled, put} {
		if len(m.copies) > 0 {
			parts = append(parts, m.text(c))
		}
	}
	if len(ch.Missing) > 0 {
		parts = append(parts, "noted "+c.several(ch.Missing)+" as not found")
	}
	switch {
	case len(parts) > 0:
		return strings.Join(parts, ", ")
	case len(order.boxes) > 0:
		return "put " + boxesText(order.boxes) + " in order"
	case ch.Done:
		return "closed the refiling"
	}
	return "recorded what stands in " + boxesText(boxesOf(ch.Rows))
}

// readTitle names a box that was read, and what was found there.
func (ch *Stand) readTitle(elsewhere, come int) string {
	title := "recorded " + boxesText(boxesOf(ch.Rows)) + " as found"
	if ch.Part {
		title = "recorded part of " + boxesText(boxesOf(ch.Rows)) + " as found"
	}
	for _, x := range []struct {
		n    int
		what string
	}{{len(ch.Missing), "not found"}, {come, "from elsewhere"}, {elsewhere, "not there"}, {len(ch.Back), "back"}} {
		if x.n > 0 {
			title += fmt.Sprintf(", %d %s", x.n, x.what)
		}
	}
	return title
}

// moved is what was pulled or put, and from or into which boxes.
type moved struct {
	verb, where string
	copies      []Accession
	boxes       []string
}

func (m *moved) add(box string, copies []Accession) {
	if len(copies) > 0 {
		m.copies, m.boxes = append(m.copies, copies...), append(m.boxes, box)
	}
}

func (m *moved) text(c *Collection) string {
	return m.verb + " " + c.several(m.copies) + " " + m.where + " " + boxesText(m.boxes)
}

// several names one copy, or says how many there are.
func (c *Collection) several(copies []Accession) string {
	if len(copies) == 1 {
		return c.heading(copies[0])
	}
	return fmt.Sprint(len(copies))
}

func boxesOf(rows []NamedRow) []string {
	var names []string
	for _, r := range rows {
		names = append(names, r.Box)
	}
	return names
}

// boxesText is "box 1", "boxes 1 and 2" or "5 boxes".
func boxesText(names []string) string {
	switch len(names) {
	case 0:
		return "no box"
	case 1:
		return "box " + names[0]
	case 2, 3:
		return "boxes " + strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
	}
	return fmt.Sprintf("%d boxes", len(names))
}

// without lists what is in a and not in b.
func without(a, b []Accession) []Accession {
	in := make(map[Accession]bool, len(b))
	for _, x := range b {
		in[x] = true
	}
	return slices.DeleteFunc(slices.Clone(a), func(x Accession) bool { return in[x] })
}
