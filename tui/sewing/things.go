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

// things are what can be chosen on the page that is open.
func (s *Screen) things() []thing { return s.thingsOn(s.page) }

// thingsOn are what can be chosen on a page, from above down.
func (s *Screen) thingsOn(on page) []thing {
	c := s.desk.Collection()
	var out []thing
	switch on {
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

// lists are the things on all pages, and of what they were made.
type lists struct {
	rev  uint64
	seen *seen
	of   [pages][]thing
}

// stay keeps what is chosen on each page chosen, whatever has happened to the lists.
// Of what is not in its list any more, the next one that still is takes the place. But
// at the top one stays at the top, to see what comes there, if not for putting what is
// to be sewn in order.
func (s *Screen) stay() {
	was, rev := s.lists, s.desk.Collection().Rev()
	if was.seen == s.seen && was.rev == rev && was.of[closet] != nil {
		return
	}
	s.lists = lists{rev: rev, seen: s.seen}
	for p := range pages {
		s.lists.of[p] = s.thingsOn(p)
		if top := s.at[p] == 0 && (p != next || p != s.page); !top && (p == next || was.seen != nil) {
			s.at[p] = follow(was.of[p], s.at[p], s.lists.of[p])
		}
	}
}

// follow finds where the mark is to be in a list that has become another.
func follow(before []thing, at int, after []thing) int {
	if at < 0 || at >= len(before) {
		return at
	}
	find := func(x thing) int {
		return slices.IndexFunc(after, func(y thing) bool {
			return x.kind == y.kind && x.id == y.id && x.pattern == y.pattern && (x.id != 0 || x.pattern != 0 || x.i == y.i)
		})
	}
	rest := slices.Clone(before[at:])
	for i := at - 1; i >= 0; i-- {
		rest = append(rest, before[i])
	}
	for _, x := range rest {
		if i := find(x); x.kind == before[at].kind && i >= 0 {
			return i
		}
	}
	return at
}
