package model

import (
	"fmt"
	"reflect"
	"slices"
)

// Merged is what was merged into a pattern, whole, so that nothing is lost and
// it can be taken apart again.
type Merged struct {
	Kept   Pattern     `json:"kept" cbor:"1,keyasint"`                       // the pattern as it was before, without what was merged into it earlier
	Gone   Pattern     `json:"gone" cbor:"2,keyasint"`                       // the one that was merged into it
	Copies []Accession `json:"copies,omitempty" cbor:"3,keyasint,omitempty"` // that were of the one gone
	Makes  []MakeID    `json:"makes,omitempty" cbor:"4,keyasint,omitempty"`  // likewise
	Queued *Queued     `json:"queued,omitempty" cbor:"5,keyasint,omitempty"` // what the queue said of it: as it went over, or was put aside
}

// Merge makes one pattern of two that were found to be the same. The one kept
// says what it said; where it said nothing it says what the other did. Copies,
// links, what was made and the queue go over.
type Merge struct {
	Keep PatternID `json:"keep"`
	Gone PatternID `json:"gone"`
}

// Title implements Change.
func (ch *Merge) Title(c *Collection) string {
	return "merged " + c.Called(ch.Gone) + " into " + c.Called(ch.Keep)
}

func (ch *Merge) apply(e *editor) error {
	kept, err := e.patternOrErr(ch.Keep)
	if err != nil {
		return err
	}
	gone, err := e.patternOrErr(ch.Gone)
	if err != nil {
		return err
	}
	if ch.Keep == ch.Gone {
		return Inputf("%s cannot be merged with itself; name two patterns", e.c.Called(ch.Keep))
	}
	m := Merged{Kept: *kept, Gone: *gone}
	m.Kept.Merged = nil
	for _, cp := range e.c.copies.All() {
		if cp.Pattern == ch.Gone {
			m.Copies = append(m.Copies, cp.Accession)
		}
	}
	for _, k := range e.c.makes.All() {
		if k.Pattern == ch.Gone {
			m.Makes = append(m.Makes, k.ID)
		}
	}
	e.goOver(&m, ch.Keep)
	joined := joinPatterns(*kept, *gone)
	joined.Merged = append(slices.Clone(kept.Merged), m)
	links := joined.Links
	e.link(ch.Gone, nil)
	e.drop(KindPattern, uint32(ch.Gone))
	joined.Links = e.c.Pattern(ch.Keep).Links
	e.put(&joined)
	e.link(ch.Keep, links)
	return nil
}

// goOver has copies, what was made and the queue name the pattern that is kept,
// and notes what the queue said of the one gone.
func (e *editor) goOver(m *Merged, keep PatternID) {
	e.belong(m.Copies, m.Makes, m.Gone.ID, keep)
	items := slices.Clone(e.c.Queue())
	at := slices.IndexFunc(items, func(q Queued) bool { return q.Pattern == m.Gone.ID })
	if at < 0 {
		return
	}
	if was := items[at]; slices.ContainsFunc(items, func(q Queued) bool { return q.Pattern == keep }) {
		m.Queued = &was
		items = slices.Delete(items, at, at+1)
	} else {
		was.Pattern = keep
		m.Queued, items[at] = &was, was
	}
	e.setQueue(items)
}

// belong makes copies and what was made those of another pattern. What has gone
// meanwhile, or over to a third, is passed over.
func (e *editor) belong(copies []Accession, makes []MakeID, from, to PatternID) {
	for _, a := range copies {
		if old := e.c.Copy(a); old != nil && old.Pattern == from {
			cp := *old
			cp.Pattern = to
			e.put(&cp)
		}
	}
	for _, id := range makes {
		if old := e.c.makes.Get(uint32(id)); old != nil && old.Pattern == from {
			k := *old
			k.Pattern = to
			e.put(&k)
		}
	}
}

// joinPatterns is what two patterns say together: what the first says, where it
// says nothing what the second does; of tags and links, those of both.
func joinPatterns(kept, gone Pattern) Pattern {
	out := kept
	a, b := reflect.ValueOf(&out).Elem(), reflect.ValueOf(gone)
	for i := range a.NumField() {
		if a.Field(i).IsZero() {
			a.Field(i).Set(b.Field(i))
		}
	}
	out.ID, out.Merged, out.Also = kept.ID, kept.Merged, out.elsewhere()
	out.Tags = slices.Clone(kept.Tags)
	for _, t := range gone.Tags {
		if !slices.Contains(out.Tags, t) {
			out.Tags = append(out.Tags, t)
		}
	}
	out.Links = withoutLink(kept.Links, gone.ID)
	for _, l := range gone.Links {
		if l.To != kept.ID && !slices.ContainsFunc(out.Links, func(x Link) bool { return x.To == l.To }) {
			out.Links = append(out.Links, l)
		}
	}
	return out
}

// Unmerge takes apart what was merged last into a pattern. The one that had gone
// is what it was; the one kept is what it was too, but for what it was made to
// say since. Copies and what was made go back as far as they are there.
type Unmerge struct {
	Pattern PatternID `json:"pattern"`
}

// Title implements Change.
func (ch *Unmerge) Title(c *Collection) string {
	if p := c.Pattern(ch.Pattern); p != nil && len(p.Merged) > 0 {
		gone := p.Merged[len(p.Merged)-1].Gone
		return "took " + gone.Heading() + " out of " + c.Called(ch.Pattern) + " again"
	}
	return "took apart " + c.Called(ch.Pattern)
}

func (ch *Unmerge) apply(e *editor) error {
	now, err := e.patternOrErr(ch.Pattern)
	if err != nil {
		return err
	}
	if len(now.Merged) == 0 {
		return Inputf("nothing was merged into %s; to part copies of one pattern use: tuckrow part", e.c.Called(ch.Pattern))
	}
	m := now.Merged[len(now.Merged)-1]
	if err := e.bothHaveCopies(m, ch.Pattern); err != nil {
		return err
	}
	kept := unjoin(*now, joinPatterns(m.Kept, m.Gone), m.Kept)
	kept.Merged = noneNil(slices.Clone(now.Merged[:len(now.Merged)-1]))
	links := kept.Links
	kept.Links = now.Links
	e.put(&kept)
	e.link(kept.ID, e.present(links, kept.ID))
	gone := m.Gone
	gone.Links = nil
	if e.c.Category(gone.Category) == nil {
		gone.Category = 0
	}
	gone.Also = noneNil(slices.DeleteFunc(slices.Clone(gone.Also), func(id CategoryID) bool { return e.c.Category(id) == nil }))
	e.put(&gone)
	e.link(gone.ID, e.present(m.Gone.Links, gone.ID))
	e.belong(m.Copies, m.Makes, kept.ID, gone.ID)
	e.requeue(m, kept.ID)
	return nil
}

// bothHaveCopies tells whether each of two patterns would be left with a copy.
func (e *editor) bothHaveCopies(m Merged, kept PatternID) error {
	back, stay := 0, 0
	for _, cp := range e.c.copies.All() {
		switch {
		case cp.Pattern != kept:
		case slices.Contains(m.Copies, cp.Accession):
			back++
		default:
			stay++
		}
	}
	if back == 0 || stay == 0 {
		return Inputf("%s cannot be taken apart: no copy is left of one of the two", e.c.Called(kept))
	}
	return nil
}

// unjoin takes out of a pattern what came of joining it with another, field by
// field: what is still as joined is what it was before, what was altered since
// stays. Of tags and links only those go that came with the other.
func unjoin(now, joined, kept Pattern) Pattern {
	out := now
	x, j, k := reflect.ValueOf(&out).Elem(), reflect.ValueOf(joined), reflect.ValueOf(kept)
	for i := range x.NumField() {
		if reflect.DeepEqual(x.Field(i).Interface(), j.Field(i).Interface()) {
			x.Field(i).Set(k.Field(i))
		}
	}
	out.Tags = noneNil(slices.DeleteFunc(slices.Clone(now.Tags), func(t string) bool {
		return slices.Contains(joined.Tags, t) && !slices.Contains(kept.Tags, t)
	}))
	out.Links = slices.DeleteFunc(slices.Clone(now.Links), func(l Link) bool {
		return slices.Contains(joined.Links, l) && !slices.Contains(kept.Links, l)
	})
	out.Also = out.elsewhere()
	return out
}

// elsewhere lists the further categories that are not its own.
func (p *Pattern) elsewhere() []CategoryID {
	return noneNil(slices.DeleteFunc(slices.Clone(p.Also), func(id CategoryID) bool { return id == p.Category }))
}

// present lists the links that lead somewhere: to a pattern that is there, or to
// the one into which it was merged.
func (e *editor) present(links []Link, from PatternID) []Link {
	var out []Link
	for _, l := range links {
		if e.c.Pattern(l.To) == nil {
			l.To = e.mergedInto(l.To)
		}
		if l.To != 0 && l.To != from && !slices.ContainsFunc(out, func(x Link) bool { return x.To == l.To }) {
			out = append(out, l)
		}
	}
	return out
}

// mergedInto finds the pattern into which another has gone, or 0.
func (e *editor) mergedInto(id PatternID) PatternID {
	for _, p := range e.c.patterns.All() {
		if slices.ContainsFunc(p.Merged, func(m Merged) bool { return m.holds(id) }) {
			return p.ID
		}
	}
	return 0
}

func (m Merged) holds(id PatternID) bool {
	return m.Gone.ID == id || slices.ContainsFunc(m.Gone.Merged, func(x Merged) bool { return x.holds(id) })
}

// requeue has the queue say again what it said of a pattern that had gone: what
// went over and is still there as it was, or at the end what was put aside.
func (e *editor) requeue(m Merged, kept PatternID) {
	if m.Queued == nil {
		return
	}
	items := slices.Clone(e.c.Queue())
	if m.Queued.Pattern == m.Gone.ID {
		e.setQueue(append(items, *m.Queued))
	} else if at := slices.Index(items, *m.Queued); at >= 0 {
		items[at].Pattern = m.Gone.ID
		e.setQueue(items)
	}
}

// SplitPattern makes two patterns of one that was found to be two designs: the
// copies named are of the new one, which says what the old one says until it is
// corrected.
type SplitPattern struct {
	Copies []Accession `json:"copies"`
}

// Title implements Change.
func (ch *SplitPattern) Title(c *Collection) string {
	if len(ch.Copies) == 0 {
		return "split nothing off"
	}
	return "split " + counted(len(ch.Copies), "copy", "copies") + " of " + c.heading(ch.Copies[0]) + " off"
}

func (ch *SplitPattern) apply(e *editor) error {
	if len(ch.Copies) == 0 {
		return Inputf("say which copies are of the other design, by their accession numbers")
	}
	var of PatternID
	for _, a := range ch.Copies {
		cp, err := e.copyOrErr(a)
		if err != nil {
			return err
		}
		if of != 0 && cp.Pattern != of {
			return Inputf("copy %d is of another pattern than copy %d; split one pattern at a time", a, ch.Copies[0])
		}
		of = cp.Pattern
	}
	left := 0
	for _, cp := range e.c.copies.All() {
		if cp.Pattern == of && !slices.Contains(ch.Copies, cp.Accession) {
			left++
		}
	}
	if left == 0 {
		return Inputf("these are all copies of %s; leave at least one with it", e.c.Called(of))
	}
	p := *e.c.Pattern(of)
	p.ID, p.Merged, p.Links = e.c.counters.Pattern+1, nil, nil
	p.Tags = slices.Clone(p.Tags)
	e.put(&p)
	e.belong(ch.Copies, nil, of, p.ID)
	return nil
}

// checkMerged tells whether what was merged into a pattern could be taken out
// again.
func (c *Collection) checkMerged(list []Merged) error {
	for _, m := range list {
		switch id := m.Gone.ID; {
		case id < 1 || id > highest || c.Pattern(id) != nil:
			return fmt.Errorf("what was merged into it has number %d, which is none of its own", id)
		case c.Publisher(m.Gone.Publisher) == nil || c.Publisher(m.Kept.Publisher) == nil:
			return fmt.Errorf("what was merged into it names a publisher that is not there")
		}
		if err := faultOf(m.Gone.Sizes, m.Gone.Needs); err != nil {
			return err
		}
		if err := c.checkMerged(m.Gone.Merged); err != nil {
			return err
		}
	}
	return nil
}
