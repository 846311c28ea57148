package ordering

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// BinderHolding is one catalogue binder as planned, front to back. One sleeve
// is in one pocket.
type BinderHolding struct {
	Binder   model.Binder // of a new one the zero ID
	Category string
	Nth, Of  int // which of the binders of its category, from 1, and of how many
	New      bool
	Pockets  []Pocket // and see-also entries that are lines on the index page
	Parts    []Part   // as the sub-dividers part it; none where the category has none
}

// Pocket is one pocket of a binder, or a see-also entry that takes none.
type Pocket struct {
	N       int // from the front, 1 first; 0: a line on the index page
	Pattern *model.Pattern
	// In is what is in it: the original, a photocopy, nothing yet, or nothing,
	// because the sleeve is missing. It is SleeveWithTissue in a see-also entry
	// for a sleeve that is kept in the envelope.
	In   model.Sleeve
	Home *PocketAt // of a see-also entry: where the sleeve is; nil in its own pocket
	// Photocopy: the entry is a photocopy of the sleeve, in a pocket of its own.
	Photocopy bool
}

// PocketAt says where a sleeve has its pocket. N is 0 where it has none.
type PocketAt struct {
	Category string
	Nth, Of  int
	N        int
}

// Part is a stretch of a binder behind a sub-divider.
type Part struct {
	Title     string
	Continued bool // it began in the binder before
	From, To  int  // indices in Pockets
}

// Title names a binder: its category, and which one where there are several.
func (h *BinderHolding) Title() string { return binderTitle(h.Category, h.Nth, h.Of) }

// Used is how many of its pockets are taken.
func (h *BinderHolding) Used() int {
	used := 0
	for _, p := range h.Pockets {
		used = max(used, p.N)
	}
	return used
}

// String says it in words: "Dresses 2, pocket 12".
func (p PocketAt) String() string {
	text := binderTitle(p.Category, p.Nth, p.Of)
	if p.N == 0 {
		return text
	}
	return fmt.Sprintf("%s, pocket %d", text, p.N)
}

func binderTitle(category string, nth, of int) string {
	if of < 2 {
		return category
	}
	return fmt.Sprintf("%s %d", category, nth)
}

// defaultPockets is how many single pockets a lever arch binder of 50-70 mm
// holds (common practice, no source).
const defaultPockets = 75

// leaf is a pocket on its way into a binder.
type leaf struct {
	key []byte
	Pocket
	part int
}

// Binders lays the sleeves of each category into its binders: by sub-divider,
// then by publisher and number, the sections of the boxes aside. A sleeve that
// is kept in its envelope has no pocket; one that is missing has, with nothing
// in it. What is for several garments has a see-also entry in each further
// category, which has a pocket where a photocopy is in it. What spills goes into the next binder of the category, and at last
// into new ones with as many pockets as the last.
func (l *Layout) Binders() []BinderHolding {
	in := l.sleeves()
	leaves := map[model.CategoryID][]leaf{}
	shelf := l.shelfOfBinders()
	seen := map[model.PatternID]bool{}
	for _, cp := range l.c.Copies().All() {
		p := l.c.Pattern(cp.Pattern)
		if p.Category == 0 || seen[p.ID] {
			continue
		}
		seen[p.ID] = true
		key := l.keyer.key(nil, 0, p, cp.Accession)
		put := func(category model.CategoryID, pocket Pocket) {
			parts := shelf.parts[category]
			x := leaf{binary.BigEndian.AppendUint16(nil, uint16(partOf(p, parts))), pocket, partOf(p, parts)}
			x.key = append(x.key, key...)
			leaves[category] = append(leaves[category], x)
		}
		if in[p.ID] != model.SleeveWithTissue {
			put(p.Category, Pocket{N: 1, Pattern: p, In: in[p.ID]})
		}
		for _, also := range p.Also {
			entry := Pocket{Pattern: p, In: in[p.ID], Home: &PocketAt{}, Photocopy: slices.Contains(p.Copied, also)}
			if shelf.pocketed[also] || entry.Photocopy {
				entry.N = 1
			}
			put(also, entry)
		}
	}
	var out []BinderHolding
	for _, id := range shelf.order(l.c, leaves) {
		out = append(out, l.binders(id, shelf, leaves[id])...)
	}
	sendHome(l.c, out)
	return out
}

// sleeves says of each pattern with a copy where its sleeve is: the best that
// any copy has. The one that is kept with the tissue has no other in a binder.
func (l *Layout) sleeves() map[model.PatternID]model.Sleeve {
	rank := []model.Sleeve{model.SleeveMissing, model.SleeveWithTissue, model.SleeveWaiting, model.SleevePhotocopy, model.SleeveInBinder}
	best := map[model.PatternID]model.Sleeve{}
	for _, cp := range l.c.Copies().All() {
		if was, seen := best[cp.Pattern]; !seen || slices.Index(rank, cp.Sleeve) > slices.Index(rank, was) {
			best[cp.Pattern] = cp.Sleeve
		}
	}
	return best
}

// binderShelf is what the shelf has for each category.
type binderShelf struct {
	there    []model.CategoryID // as on the shelf
	binders  map[model.CategoryID][]model.Binder
	parts    map[model.CategoryID][]string
	pocketed map[model.CategoryID]bool // see-also entries get a pocket there
}

func (l *Layout) shelfOfBinders() binderShelf {
	s := binderShelf{binders: map[model.CategoryID][]model.Binder{}, parts: map[model.CategoryID][]string{}, pocketed: map[model.CategoryID]bool{}}
	for _, b := range l.c.Shelf().Binders {
		if s.binders[b.Category] == nil {
			s.there = append(s.there, b.Category)
		}
		s.binders[b.Category] = append(s.binders[b.Category], b)
		for _, part := range b.SubDividers {
			if !slices.ContainsFunc(s.parts[b.Category], func(x string) bool { return words.Fold(x) == words.Fold(part) }) {
				s.parts[b.Category] = append(s.parts[b.Category], part)
			}
		}
		s.pocketed[b.Category] = s.pocketed[b.Category] || b.SeeAlso == model.ByPocket
	}
	return s
}

// order lists the categories as they stand on the shelf, then those that have
// sleeves and no binder yet.
func (s binderShelf) order(c *model.Collection, leaves map[model.CategoryID][]leaf) []model.CategoryID {
	order := slices.Clone(s.there)
	for _, k := range c.Categories().All() {
		if s.binders[k.ID] == nil && slices.ContainsFunc(leaves[k.ID], func(x leaf) bool { return x.Photocopy || x.Home == nil && x.In != model.SleeveMissing }) {
			order = append(order, k.ID)
		}
	}
	return order
}

// partOf is the sub-divider that a pattern stands behind: one that a tag of it
// names, else the one that is called by the last word of its name that just one
// is called by; behind all of them where there is none. Singular and plural are the same.
func partOf(p *model.Pattern, parts []string) int {
	if len(parts) == 0 {
		return 0
	}
	for i, part := range parts {
		if slices.ContainsFunc(p.Tags, func(t string) bool { return words.Singular(words.Fold(t)) == words.Singular(words.Fold(part)) }) {
			return i
		}
	}
	for _, w := range slices.Backward(strings.Fields(words.Fold(p.Name))) {
		var called []int
		for i, part := range parts {
			if slices.ContainsFunc(strings.Fields(words.Fold(part)), func(x string) bool { return len(x) > 2 && words.Singular(x) == words.Singular(w) }) {
				called = append(called, i)
			}
		}
		if len(called) == 1 {
			return called[0]
		}
	}
	return len(parts)
}

// binders lays the leaves of one category into its binders.
func (l *Layout) binders(id model.CategoryID, shelf binderShelf, leaves []leaf) []BinderHolding {
	there := shelf.binders[id]
	slices.SortFunc(leaves, func(a, b leaf) int { return bytes.Compare(a.key, b.key) })
	sizes, fresh := make([]int, len(there)), defaultPockets
	for i, b := range there {
		sizes[i], fresh = b.Pockets, b.Pockets
	}
	name, from := "", 0
	if c := l.c.Category(id); c != nil {
		name = c.Name
	}
	var out []BinderHolding
	ends := byPieces(len(leaves), sizes, max(1, fresh), func(i int) int { return leaves[i].N })
	for i, end := range ends {
		h := BinderHolding{Binder: model.Binder{Category: id, Pockets: fresh}, Category: name, Nth: i + 1, Of: len(ends), New: i >= len(there)}
		if !h.New {
			h.Binder = there[i]
		}
		h.take(leaves, from, end, shelf.parts[id])
		out, from = append(out, h), end
	}
	return out
}

// take lays a piece of the leaves into a binder, numbers its pockets, and notes
// where the sub-dividers stand.
func (h *BinderHolding) take(leaves []leaf, from, to int, parts []string) {
	pocket := 0
	for i, x := range leaves[from:to] {
		if x.N > 0 {
			pocket++
			x.N = pocket
		}
		h.Pockets = append(h.Pockets, x.Pocket)
		if len(parts) == 0 {
			continue
		}
		if n := len(h.Parts); i > 0 && leaves[from+i-1].part == x.part {
			h.Parts[n-1].To++
			continue
		}
		title := restTitle
		if x.part < len(parts) {
			title = parts[x.part]
		}
		h.Parts = append(h.Parts, Part{title, i == 0 && from > 0 && leaves[from-1].part == x.part, i, i + 1})
	}
}

// sendHome says in each see-also entry where the sleeve is.
func sendHome(c *model.Collection, binders []BinderHolding) {
	home := map[model.PatternID]PocketAt{}
	for _, h := range binders {
		for _, p := range h.Pockets {
			if p.Home == nil {
				home[p.Pattern.ID] = PocketAt{h.Category, h.Nth, h.Of, p.N}
			}
		}
	}
	for _, h := range binders {
		for _, p := range h.Pockets {
			if p.Home == nil {
				continue
			}
			at, has := home[p.Pattern.ID]
			if !has {
				at.Category = c.Category(p.Pattern.Category).Name
			}
			*p.Home = at
		}
	}
}

// Pocketless counts the copies whose sleeves have no pocket: they are in no category,
// or the binder in which there would be room is still to be got. Where no binder is on
// the shelf nobody keeps them here, and none is counted.
func (l *Layout) Pocketless(copies []model.Accession) int {
	if len(l.c.Shelf().Binders) == 0 {
		return 0
	}
	has := map[model.PatternID]bool{}
	for _, b := range l.Binders() {
		for _, p := range b.Pockets {
			if !b.New && p.Home == nil {
				has[p.Pattern.ID] = true
			}
		}
	}
	n := 0
	for _, a := range copies {
		if !has[l.c.PatternOf(a).ID] {
			n++
		}
	}
	return n
}
