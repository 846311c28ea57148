package model

import (
	"fmt"
	"slices"
	"strings"
)

// LinkKind says how two patterns have to do with one another.
type LinkKind string

// The kinds of link.
const (
	SeeAlso LinkKind = "see also"
	Reissue LinkKind = "reissue" // the same design under another number, or of another publisher
)

// ParseLinkKind reads a kind of link; nothing is SeeAlso.
func ParseLinkKind(s string) (LinkKind, error) {
	if s == "" {
		return SeeAlso, nil
	}
	return oneOf("link", s, spell[LinkKind], SeeAlso, Reissue)
}

// Link leads from one pattern to another, which has a link back.
type Link struct {
	To   PatternID `json:"to" cbor:"1,keyasint"`
	Kind LinkKind  `json:"kind" cbor:"2,keyasint"`
}

// SetLink links two patterns both ways, or takes the link away.
type SetLink struct {
	A    PatternID `json:"a"`
	B    PatternID `json:"b"`
	Kind LinkKind  `json:"kind,omitempty"`
	Off  bool      `json:"off,omitempty"`
}

// Title implements Change.
func (ch *SetLink) Title(c *Collection) string {
	what := "linked "
	if ch.Off {
		what = "took away the link of "
	}
	return what + c.Called(ch.A) + " and " + c.Called(ch.B)
}

func (ch *SetLink) apply(e *editor) error {
	kind, err := ParseLinkKind(string(ch.Kind))
	if err != nil {
		return err
	}
	a, err := e.patternOrErr(ch.A)
	if err != nil {
		return err
	}
	if _, err := e.patternOrErr(ch.B); err != nil {
		return err
	}
	if ch.A == ch.B {
		return Inputf("%s cannot be linked with itself; name two patterns", e.c.Called(ch.A))
	}
	links := withoutLink(a.Links, ch.B)
	switch {
	case !ch.Off:
		links = append(links, Link{ch.B, kind})
	case len(links) == len(a.Links):
		return Inputf("%s and %s are not linked", e.c.Called(ch.A), e.c.Called(ch.B))
	}
	e.link(ch.A, links)
	return nil
}

func withoutLink(links []Link, to PatternID) []Link {
	return slices.DeleteFunc(slices.Clone(links), func(l Link) bool { return l.To == to })
}

// link makes the links of a pattern these, and those that lead back likewise.
// Links are kept in the order of the numbers.
func (e *editor) link(id PatternID, links []Link) {
	links = slices.Clone(links)
	slices.SortFunc(links, func(a, b Link) int { return int(a.To) - int(b.To) })
	p := *e.c.Pattern(id)
	if slices.Equal(p.Links, links) {
		return
	}
	for _, old := range p.Links {
		other := *e.c.Pattern(old.To)
		other.Links = noneNil(withoutLink(other.Links, id))
		e.put(&other)
	}
	for _, l := range links {
		other := *e.c.Pattern(l.To)
		other.Links = append(withoutLink(other.Links, id), Link{id, l.Kind})
		slices.SortFunc(other.Links, func(a, b Link) int { return int(a.To) - int(b.To) })
		e.put(&other)
	}
	p.Links = noneNil(links)
	e.put(&p)
}

// noneNil is nil for an empty list, so that having had links and never having
// had any are the same.
func noneNil[T any](list []T) []T {
	if len(list) == 0 {
		return nil
	}
	return list
}

func (e *editor) patternOrErr(id PatternID) (*Pattern, error) {
	if p := e.c.Pattern(id); p != nil {
		return p, nil
	}
	return nil, Inputf("there is no pattern %d; look it up with: tuckrow find WORDS", id)
}

// checkLinks tells whether the links of a pattern lead to patterns that are
// there, each once, and back.
func (c *Collection) checkLinks(p *Pattern) error {
	for i, l := range p.Links {
		other := c.Pattern(l.To)
		if other == nil || l.To == p.ID || !slices.Contains(other.Links, Link{p.ID, l.Kind}) {
			return fmt.Errorf("its link to pattern %d does not lead there and back", l.To)
		}
		if i > 0 && p.Links[i-1].To >= l.To {
			return fmt.Errorf("its links are not in order")
		}
		if kind, err := ParseLinkKind(string(l.Kind)); err != nil || kind != l.Kind || strings.TrimSpace(string(kind)) == "" {
			return fmt.Errorf("its link to pattern %d is of no kind", l.To)
		}
	}
	return nil
}
