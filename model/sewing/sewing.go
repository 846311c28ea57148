// Package sewing says what has been made of the patterns that are owned, how far
// a goal has got, and what to sew next, with reasons.
//
// The usual ways in are [Shares], [Progress] and [Suggest].
//
// Promised: nothing is guessed of what was not noted; the same collection and
// day give the same answer.
package sewing

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Share is how many patterns of a category are owned, and of how many something
// was made.
type Share struct {
	Category string // empty: those without
	Owned    int
	Made     int
	Makes    int // how many things were made in all
}

// Shares gives the shares by category, in the order in which the categories
// were entered, those without last. What was made of patterns that have gone is
// in none.
func Shares(c *model.Collection) []Share {
	made := madeOf(c)
	by := map[model.CategoryID]*Share{}
	for _, p := range c.Patterns().All() {
		s := by[p.Category]
		if s == nil {
			s = &Share{}
			by[p.Category] = s
		}
		s.Owned++
		s.Makes += len(made[p.ID])
		if len(made[p.ID]) > 0 {
			s.Made++
		}
	}
	var out []Share
	for _, k := range c.Categories().All() {
		if s := by[k.ID]; s != nil {
			s.Category = k.Name
			out = append(out, *s)
		}
	}
	if s := by[0]; s != nil {
		out = append(out, *s)
	}
	return out
}

// madeOf lists what was made of each pattern, the latest last.
func madeOf(c *model.Collection) map[model.PatternID][]*model.Make {
	out := map[model.PatternID][]*model.Make{}
	for _, m := range c.Makes().All() {
		out[m.Pattern] = append(out[m.Pattern], m)
	}
	for _, list := range out {
		slices.SortStableFunc(list, func(a, b *model.Make) int { return strings.Compare(string(a.On), string(b.On)) })
	}
	return out
}

// Step is one of the things that a goal asks for.
type Step struct {
	Of   string
	Made *model.Make // the first that counts; nil: none yet
}

// Progress says what of a goal has been made since it was set, thing by thing.
// One make can be two of the things: a wrap dress is a dress too.
func Progress(c *model.Collection, g *model.Goal) []Step {
	out := make([]Step, len(g.Of))
	for i, of := range g.Of {
		out[i].Of = of
		for _, m := range c.Makes().All() {
			first := out[i].Made
			if m.On >= g.Since && (first == nil || m.On < first.On) && isOf(c, m.Pattern, c.CalledOr(m.Pattern, m.Title), of) {
				out[i].Made = m
			}
		}
	}
	return out
}

// isOf tells whether a pattern is what a goal asks for: of that category, or
// with all those words in its title.
func isOf(c *model.Collection, id model.PatternID, title, of string) bool {
	if p := c.Pattern(id); p != nil {
		if k := c.Category(p.Category); k != nil && words.Fold(k.Name) == words.Fold(of) {
			return true
		}
	}
	has := strings.Fields(words.Fold(title))
	want := strings.Fields(words.Fold(of))
	return len(want) > 0 && !slices.ContainsFunc(want, func(w string) bool { return !slices.Contains(has, w) })
}

// Uncut gives the copy that something just made of a pattern was cut from, where it
// is not said to be cut: the only copy there is, or the only one that is taken out.
// 0: one of them is cut already, or was traced, or which it was cannot be told.
func Uncut(c *model.Collection, of model.PatternID) model.Accession {
	var all, out []model.Accession
	for _, cp := range c.Copies().All() {
		switch {
		case cp.Pattern != of || cp.Missing != "":
			continue
		case cp.Cut == model.FullyCut || cp.Cut == model.PartlyCut || cp.Medium == model.Traced || cp.Medium == model.Drafted:
			return 0
		case cp.Out != nil:
			out = append(out, cp.Accession)
		}
		all = append(all, cp.Accession)
	}
	switch {
	case len(all) == 1:
		return all[0]
	case len(out) == 1:
		return out[0]
	}
	return 0
}
