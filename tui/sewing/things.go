package sewing

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// kind is what a thing on a page is.
type kind int

const (
	queued kind = iota // in the queue
	pick               // could be
	aMake
	aShare
	aGoal
	aPerson
	aCloth
)

// thing is something on a page that can be chosen. Where there is none of a kind
// one stands in for it, with no number.
type thing struct {
	kind    kind
	i       int // which of its kind, 0 first; -1: none is there
	id      uint32
	pattern model.PatternID
}

// things are what can be chosen on the page, from above down.
func (s *Screen) things() []thing {
	c := s.desk.Collection()
	var out []thing
	switch s.page {
	case next:
		for i, q := range c.Queue() {
			out = append(out, thing{queued, i, 0, q.Pattern})
		}
		if s.seen == nil {
			break
		}
		in := func(id model.PatternID) bool {
			return slices.ContainsFunc(c.Queue(), func(q model.Queued) bool { return q.Pattern == id })
		}
		for i, p := range s.seen.picks {
			if c.Pattern(p.Pattern) != nil && !in(p.Pattern) {
				out = append(out, thing{pick, i, 0, p.Pattern})
			}
		}
	case made:
		for _, m := range c.Makes().All() {
			out = append(out, thing{aMake, len(out), uint32(m.ID), m.Pattern})
		}
		slices.SortStableFunc(out, func(a, b thing) int {
			return strings.Compare(string(c.Makes().Get(b.id).On), string(c.Makes().Get(a.id).On))
		})
	case shares:
		if s.seen != nil {
			for i := range s.seen.shares {
				out = append(out, thing{kind: aShare, i: i})
			}
		}
		out = append(out, all(aGoal, c.Goals(), func(g *model.Goal) uint32 { return uint32(g.ID) })...)
	case closet:
		out = append(out, all(aPerson, c.People(), func(p *model.Person) uint32 { return uint32(p.ID) })...)
		out = append(out, all(aCloth, c.Cloths(), func(x *model.Cloth) uint32 { return uint32(x.ID) })...)
	}
	return out
}

// all are the things of a kind, or what stands in for them.
func all[T any](k kind, t *model.Table[T], id func(*T) uint32) []thing {
	var out []thing
	for _, r := range t.All() {
		out = append(out, thing{kind: k, i: len(out), id: id(r)})
	}
	if out == nil {
		out = []thing{{kind: k, i: -1}}
	}
	return out
}

// thing is what is chosen.
func (s *Screen) thing() (thing, bool) {
	all := s.things()
	if at := s.at[s.page]; at >= 0 && at < len(all) {
		return all[at], true
	}
	return thing{}, false
}
