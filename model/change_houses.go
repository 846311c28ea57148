package model

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"

	"example.org/tuckrow/model/words"
)

// MergePublishers makes one publisher of two that are one, spelled in two ways.
// The other spelling is kept and leads to it from then on, when something is
// typed or imported.
type MergePublishers struct {
	Keep PublisherID `json:"keep"`
	Gone PublisherID `json:"gone"`
}

// Title implements Change.
func (ch *MergePublishers) Title(c *Collection) string {
	name := func(id PublisherID) string {
		if p := c.Publisher(id); p != nil {
			return p.Name
		}
		return fmt.Sprintf("publisher %d", id)
	}
	return "merged the publisher " + name(ch.Gone) + " into " + name(ch.Keep)
}

func (ch *MergePublishers) apply(e *editor) error {
	kept, gone := e.c.Publisher(ch.Keep), e.c.Publisher(ch.Gone)
	if kept == nil || gone == nil || kept == gone {
		return Inputf("name two publishers that are listed; the one to keep, and the one that is the same")
	}
	p := *kept
	p.Spellings = slices.Clone(p.Spellings)
	for _, s := range append([]string{gone.Name}, gone.Spellings...) {
		if words.Clean(s) != p.Name && !slices.Contains(p.Spellings, s) {
			p.Spellings = append(p.Spellings, s)
		}
	}
	p.FilesAs, p.Numbers = cmp.Or(p.FilesAs, gone.FilesAs), cmp.Or(p.Numbers, gone.Numbers)
	for _, old := range e.c.patterns.All() {
		q := *old
		q.Publisher = other(q.Publisher, ch.Gone, ch.Keep)
		q.Merged = ch.inside(q.Merged)
		if q.Publisher != old.Publisher || len(q.Merged) > 0 {
			e.put(&q)
		}
	}
	ch.inShelf(e)
	e.drop(KindPublisher, uint32(ch.Gone))
	e.put(&p)
	e.rebin()
	return nil
}

func other(id, gone, keep PublisherID) PublisherID {
	if id == gone {
		return keep
	}
	return id
}

// inside puts the publisher right in what was merged into patterns.
func (ch *MergePublishers) inside(list []Merged) []Merged {
	list = slices.Clone(list)
	for i := range list {
		m := &list[i]
		m.Kept.Publisher = other(m.Kept.Publisher, ch.Gone, ch.Keep)
		m.Gone.Publisher = other(m.Gone.Publisher, ch.Gone, ch.Keep)
		m.Gone.Merged = ch.inside(m.Gone.Merged)
	}
	return list
}

// inShelf has the sections name the publisher that is kept, once. A section that
// would be left with nothing goes.
func (ch *MergePublishers) inShelf(e *editor) {
	s := *e.c.shelf
	has := func(sec Section) bool { return slices.Contains(sec.Publishers, ch.Keep) }
	elsewhere := slices.ContainsFunc(s.Sections, has)
	var sections []Section
	for _, sec := range s.Sections {
		if i := slices.Index(sec.Publishers, ch.Gone); i >= 0 {
			sec.Publishers = slices.Clone(sec.Publishers)
			if elsewhere {
				sec.Publishers = slices.Delete(sec.Publishers, i, i+1)
			} else {
				sec.Publishers[i] = ch.Keep
			}
			if len(sec.Publishers) == 0 && !sec.Others && len(sec.Tags) == 0 {
				continue
			}
		}
		sections = append(sections, sec)
	}
	if !reflect.DeepEqual(sections, s.Sections) {
		s.Sections = sections
		e.put(&s)
	}
}
