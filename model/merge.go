package model

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// Merged is what was merged into a pattern, whole, so that nothing is lost and
// it can be taken apart again.
type Merged struct {
	Kept   Pattern     `json:"kept" cbor:"1,keyasint"`                       // the pattern as it was before, without what was merged into it earlier
	Gone   Pattern     `json:"gone" cbor:"2,keyasint"`                       // the one that was merged into it
	Copies []Accession `json:"copies,omitempty" cbor:"3,keyasint,omitempty"` // that were of the one gone
	Makes  []MakeID    `json:"makes,omitempty" cbor:"4,keyasint,omitempty"`  // likewise
	Queued *Queued     `json:"queued,omitempty" cbor:"5,keyasint,omitempty"` // what the queue said of it: as it went over, or was put aside
	Took   []string    `json:"took,omitempty" cbor:"6,keyasint,omitempty"`   // fields in which the one gone was believed
}

// Merge makes one pattern of two that were found to be the same. The one kept
// says what it said; where it said nothing, and in the fields that are taken, it
// says what the other did. Copies, links, what was made and the queue go over.
type Merge struct {
	Keep PatternID `json:"keep"`
	Gone PatternID `json:"gone"`
	Take []string  `json:"take,omitempty"` // names of fields, as Takes lists them
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
	for _, name := range ch.Take {
		if !slices.Contains(Takes(), name) {
			return Inputf("%q cannot be taken from the other; use one of %s", name, strings.Join(Takes(), ", "))
		}
	}
	m := Merged{Kept: *kept, Gone: *gone, Took: noneNil(slices.Clone(ch.Take))}
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
	joined := joinPatterns(m)
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
// says nothing, or was not believed, what the second does; of tags, links and
// further categories, those of both. What a year was dated from goes with it.
func joinPatterns(m Merged) Pattern {
	kept, gone := m.Kept, m.Gone
	out := kept
	a, b := reflect.ValueOf(&out).Elem(), reflect.ValueOf(gone)
	for i := range a.NumField() {
		took := slices.Contains(m.Took, fieldNames[a.Type().Field(i).Name])
		if a.Field(i).IsZero() || took && !b.Field(i).IsZero() {
			a.Field(i).Set(b.Field(i))
		}
	}
	switch {
	case out.Year == kept.Year && kept.Year != gone.Year:
		out.DatedBy = kept.DatedBy
	case out.Year != kept.Year:
		out.DatedBy = gone.DatedBy
	}
	out.ID, out.Merged, out.Also = kept.ID, kept.Merged, bothOf(kept.Also, gone.Also)
	out.Also, out.Tags = out.elsewhere(), bothOf(kept.Tags, gone.Tags)
	out.Copied = bothOf(kept.Copied, gone.Copied)
	out.Copied = out.copied()
	out.Links = withoutLink(kept.Links, gone.ID)
	for _, l := range gone.Links {
		if l.To != kept.ID && !slices.ContainsFunc(out.Links, func(x Link) bool { return x.To == l.To }) {
			out.Links = append(out.Links, l)
		}
	}
	return out
}

// bothOf lists what is in either list, each once.
func bothOf[T comparable](a, b []T) []T {
	out := slices.Clone(a)
	for _, x := range b {
		if !slices.Contains(out, x) {
			out = append(out, x)
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
	kept := unjoin(*now, joinPatterns(m), m.Kept)
	kept.Merged = noneNil(slices.Clone(now.Merged[:len(now.Merged)-1]))
	links := kept.Links
	kept.Links = now.Links
	e.bin(&kept)
	e.put(&kept)
	e.link(kept.ID, e.present(links, kept.ID))
	gone := m.Gone
	gone.Links = nil
	if e.c.Category(gone.Category) == nil {
		gone.Category = 0
	}
	gone.Also = noneNil(slices.DeleteFunc(slices.Clone(gone.Also), func(id CategoryID) bool { return e.c.Category(id) == nil }))
	gone.Copied = gone.copied()
	e.bin(&gone)
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
	out.Copied = out.copied()
	return out
}

// copied lists the photocopies that have a see-also entry still.
func (p *Pattern) copied() []CategoryID {
	return noneNil(slices.DeleteFunc(slices.Clone(p.Copied), func(id CategoryID) bool { return !slices.Contains(p.Also, id) }))
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
