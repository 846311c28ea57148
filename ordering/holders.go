package ordering

import (
	"bytes"
	"slices"

	"example.org/tuckrow/model"
)

// BinderHolding is one catalogue binder as planned, front to back. One sleeve
// is in one pocket.
type BinderHolding struct {
	Binder   model.Binder // of a new one the zero ID
	Category string
	Nth      int // which of the binders of its category, from 1
	New      bool
	Patterns []*model.Pattern
}

// HookHolding is one hook as planned.
type HookHolding struct {
	Row   model.HookRow // of a new one the zero ID
	N     int           // which hook of the row, from 1
	New   bool
	Items []*Item
}

// defaultPockets is how many single pockets a lever arch binder of 50-70 mm
// holds, and defaultEach how many patterns a hook; a fourth makes it unreadable
// (both common practice, no source).
const (
	defaultPockets = 75
	defaultEach    = 3
)

// Binders lays the sleeves of each category into its binders by publisher and
// number, the sections of the boxes aside; a sleeve that is kept elsewhere or
// missing has no pocket. What spills goes into the next binder of the category,
// and at last into new ones with as many pockets as the last.
func (l *Layout) Binders() []BinderHolding {
	type shelved struct {
		key     []byte
		pattern *model.Pattern
	}
	byCategory := map[model.CategoryID][]shelved{}
	seen := map[model.PatternID]bool{}
	for _, cp := range l.c.Copies().All() {
		p := l.c.Pattern(cp.Pattern)
		if p.Category == 0 || seen[p.ID] || cp.Sleeve == model.SleeveWithTissue || cp.Sleeve == model.SleeveMissing {
			continue
		}
		seen[p.ID] = true
		key := l.keyer.key(nil, 0, p, cp.Accession)
		byCategory[p.Category] = append(byCategory[p.Category], shelved{key, p})
	}
	binders := map[model.CategoryID][]model.Binder{}
	var order []model.CategoryID // as on the shelf, then what has no binder yet
	place := func(id model.CategoryID) {
		if !slices.Contains(order, id) {
			order = append(order, id)
		}
	}
	for _, b := range l.c.Shelf().Binders {
		binders[b.Category] = append(binders[b.Category], b)
		place(b.Category)
	}
	for _, c := range l.c.Categories().All() {
		if len(byCategory[c.ID]) > 0 {
			place(c.ID)
		}
	}
	var out []BinderHolding
	for _, id := range order {
		sleeves := byCategory[id]
		slices.SortFunc(sleeves, func(a, b shelved) int { return bytes.Compare(a.key, b.key) })
		patterns := make([]*model.Pattern, len(sleeves))
		for i, s := range sleeves {
			patterns[i] = s.pattern
		}
		out = append(out, l.binders(id, binders[id], patterns)...)
	}
	return out
}

// binders lays patterns of one category into its binders.
func (l *Layout) binders(id model.CategoryID, there []model.Binder, patterns []*model.Pattern) []BinderHolding {
	sizes, fresh := make([]int, len(there)), defaultPockets
	for i, b := range there {
		sizes[i], fresh = b.Pockets, b.Pockets
	}
	name, from := "", 0
	if c := l.c.Category(id); c != nil {
		name = c.Name
	}
	var out []BinderHolding
	for i, end := range byPieces(len(patterns), sizes, max(1, fresh)) {
		h := BinderHolding{Binder: model.Binder{Category: id, Pockets: fresh}, Category: name, Nth: i + 1, New: i >= len(there), Patterns: patterns[from:end]}
		if !h.New {
			h.Binder = there[i]
		}
		out, from = append(out, h), end
	}
	return out
}

// Hooks hangs what belongs on hooks, in filing order, onto the rows of hooks,
// so many a hook. What is over goes onto new hooks like those of the last row.
func (l *Layout) Hooks() []HookHolding {
	shelf := l.c.Shelf()
	var items []*Item
	for _, cp := range l.c.Copies().All() {
		if shelf.Hangs(cp) && cp.Missing == "" {
			items = append(items, l.item(cp))
		}
	}
	slices.SortFunc(items, func(a, b *Item) int { return bytes.Compare(a.key, b.key) })
	var out []HookHolding
	var sizes []int
	last := model.HookRow{Each: defaultEach}
	for _, row := range shelf.Hooks {
		for n := range row.Hooks {
			out, sizes = append(out, HookHolding{Row: row, N: n + 1}), append(sizes, row.Each)
		}
		last.Each = row.Each
	}
	from := 0
	for i, end := range byPieces(len(items), sizes, max(1, last.Each)) {
		if i == len(out) {
			out = append(out, HookHolding{Row: last, N: i - len(sizes) + 1, New: true})
		}
		out[i].Items, from = items[from:end], end
	}
	return out
}

// byPieces lays n things that take one place each into holders of so many
// places, by the rule by which boxes are filled.
func byPieces(n int, sizes []int, fresh int) []int {
	lengths, most := make([]model.Length, len(sizes)), model.Length(fresh)
	for i, s := range sizes {
		lengths[i] = model.Length(s)
		most = max(most, lengths[i])
	}
	one := func(int) (head, inside model.Length) { return 1, 1 }
	r := newRun(n, most, one, func(int) bool { return false })
	return r.fill(lengths, nil, model.Length(fresh))
}
