// Package worth sums up what a collection is worth to an insurer.
//
// The usual way in is [Add] on a collection.
//
// Promised: every copy is counted once, in the first of these that applies: its
// own value, its tag, its category, its publisher, all others. Nothing is
// guessed: what is not valued is counted as such. Sums are exact.
package worth

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Group is copies that are valued alike.
type Group struct {
	Of     string // tag, category or publisher; empty: all others
	Own    bool   // each copy by its own value
	Each   model.Money
	Sum    model.Money
	Copies []model.Accession
}

// Name says which copies they are.
func (g Group) Name() string {
	switch {
	case g.Own:
		return "by their own value"
	case g.Of == "":
		return "all others"
	}
	return g.Of
}

// Total is what a collection is worth.
type Total struct {
	Groups   []Group // those valued one by one, then the groups as the owner set them
	Sum      model.Money
	Unvalued []model.Accession
}

// Add values every copy. Groups without a copy are left out.
func Add(c *model.Collection) Total {
	groups := []Group{{Own: true}}
	at := map[string]int{}
	for _, g := range c.Worth() {
		at[words.Fold(g.Of)] = len(groups)
		groups = append(groups, Group{Of: g.Of, Each: g.Each})
	}
	var t Total
	for _, cp := range c.Copies().All() {
		i, value := 0, cp.Value
		if value == 0 {
			var ok bool
			if i, ok = groupOf(c, c.Pattern(cp.Pattern), at); !ok {
				t.Unvalued = append(t.Unvalued, cp.Accession)
				continue
			}
			value = groups[i].Each
		}
		groups[i].Sum += value
		groups[i].Copies = append(groups[i].Copies, cp.Accession)
		t.Sum += value
	}
	t.Groups = slices.DeleteFunc(groups, func(g Group) bool { return len(g.Copies) == 0 })
	return t
}

// groupOf finds the group by which a pattern is valued.
func groupOf(c *model.Collection, p *model.Pattern, at map[string]int) (int, bool) {
	names := slices.Clone(p.Tags)
	if k := c.Category(p.Category); k != nil {
		names = append(names, k.Name)
	}
	names = append(names, c.Publisher(p.Publisher).Name)
	for _, n := range names {
		if i, ok := at[words.Fold(n)]; ok && words.Fold(n) != "" {
			return i, true
		}
	}
	i, ok := at[""]
	return i, ok
}
