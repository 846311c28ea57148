// Package surplus says which of several copies of a pattern to keep and which
// can be passed on, and why.
//
// The usual way in is [Groups] on a collection.
//
// Promised: of each pattern one copy is kept at least; a copy can be passed on
// only if a copy that is kept is as good in every respect, and what only it has
// is named otherwise. The same copies give the same answer.
package surplus

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// Advice says what to do with a copy.
type Advice string

// The advice.
const (
	Keep   Advice = "keep"
	PassOn Advice = "pass on" // a copy that is kept has all that it has
	Look   Advice = "look"    // it has something that the kept one has not
)

// Judged is a copy and the advice on it.
type Judged struct {
	Copy   *model.Copy
	Advice Advice
	Why    []string
}

// Group is the copies of one pattern, the best first.
type Group struct {
	Pattern *model.Pattern
	Copies  []Judged
}

// Groups lists the patterns of which there are several copies, in the order of
// their numbers.
func Groups(c *model.Collection) []Group {
	copies := map[model.PatternID][]*model.Copy{}
	for _, cp := range c.Copies().All() {
		copies[cp.Pattern] = append(copies[cp.Pattern], cp)
	}
	var out []Group
	for _, p := range c.Patterns().All() {
		if len(copies[p.ID]) > 1 {
			out = append(out, Group{p, judge(copies[p.ID])})
		}
	}
	return out
}

// respect is something by which one copy is better than another.
type respect struct {
	rank func(*model.Copy) int // lower is better
	says func(*model.Copy) string
}

// respects come in the order in which they count: a copy that lacks a piece
// cannot be sewn, one that is cut has lost sizes, one without its sleeve can be
// photocopied.
var respects = []respect{
	{completeness, completenessText},
	{func(cp *model.Copy) int {
		return rank(cp.Cut, model.Uncut, model.CutUnknown, model.PartlyCut, model.FullyCut)
	}, func(cp *model.Copy) string {
		return map[model.Cut]string{model.Uncut: "uncut", model.CutUnknown: "not known whether it is cut", model.PartlyCut: "partly cut", model.FullyCut: "cut"}[cp.Cut]
	}},
	{func(cp *model.Copy) int {
		return rank(cp.Medium, model.Tissue, model.Magazine, model.Printed, model.Drafted, model.Traced)
	}, func(cp *model.Copy) string {
		return map[model.Medium]string{model.Tissue: "factory tissue", model.Magazine: "in its magazine", model.Printed: "printed at home", model.Drafted: "self-drafted", model.Traced: "traced"}[cp.Medium]
	}},
	{func(cp *model.Copy) int {
		switch cp.Sleeve {
		case model.SleeveMissing:
			return 2
		case model.SleevePhotocopy:
			return 1
		}
		return 0
	}, func(cp *model.Copy) string {
		switch cp.Sleeve {
		case model.SleeveMissing:
			return "without its sleeve"
		case model.SleevePhotocopy:
			return "a photocopy for a sleeve"
		case model.SleeveWaiting:
			return "its sleeve still to be seen to"
		}
		return "with its sleeve"
	}},
}

func rank[T comparable](v T, order ...T) int { return slices.Index(order, v) }

func completeness(cp *model.Copy) int {
	switch {
	case strings.EqualFold(cp.Complete, "yes"):
		return 0
	case cp.Complete == "":
		return 1
	}
	return 2
}

func completenessText(cp *model.Copy) string {
	switch completeness(cp) {
	case 0:
		return "complete"
	case 1:
		return "not checked for completeness"
	}
	return cp.Complete // "collar missing"
}

// judge puts copies in order and advises on each.
func judge(copies []*model.Copy) []Judged {
	slices.SortFunc(copies, func(a, b *model.Copy) int {
		for _, r := range respects {
			if d := cmp.Compare(r.rank(a), r.rank(b)); d != 0 {
				return d
			}
		}
		return cmp.Compare(a.Accession, b.Accession)
	})
	best := copies[0]
	out := []Judged{{best, Keep, all(best)}}
	for _, cp := range copies[1:] {
		j := Judged{cp, PassOn, worse(cp, best)}
		if has := better(cp, best); len(has) > 0 {
			j.Advice, j.Why = Look, has
		}
		out = append(out, j)
	}
	return out
}

func all(cp *model.Copy) []string {
	out := make([]string, len(respects))
	for i, r := range respects {
		out[i] = r.says(cp)
	}
	return out
}

// better lists what a copy has that the kept one has not.
func better(cp, kept *model.Copy) []string {
	var out []string
	for _, r := range respects {
		if r.rank(cp) < r.rank(kept) {
			out = append(out, fmt.Sprintf("%s, and %d is %s", r.says(cp), kept.Accession, r.says(kept)))
		}
	}
	if cp.Left != "" && cp.Left != kept.Left && kept.Cut != model.Uncut {
		out = append(out, fmt.Sprintf("it has the sizes %s left, and %d others", cp.Left, kept.Accession))
	}
	if completeness(cp) == 2 && completeness(kept) == 2 && !strings.EqualFold(cp.Complete, kept.Complete) {
		out = append(out, fmt.Sprintf("%s, and of %d %s: together they may be whole", cp.Complete, kept.Accession, kept.Complete))
	}
	return out
}

// worse lists in what a copy is behind the kept one; when in nothing, that they
// are alike.
func worse(cp, kept *model.Copy) []string {
	var out []string
	for _, r := range respects {
		if r.rank(cp) > r.rank(kept) {
			out = append(out, fmt.Sprintf("%s, and %d is %s", r.says(cp), kept.Accession, r.says(kept)))
		}
	}
	if out == nil {
		out = []string{fmt.Sprintf("as good as %d, which has been here longer", kept.Accession)}
	}
	return out
}
