package ordering

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// HookHolding is one hook as planned.
type HookHolding struct {
	Row   model.HookRow // of a new one the zero ID
	N     int           // which hook of the row, from 1
	New   bool
	Items []*Item
}

// Name is what one calls a hook: "door 3".
func (h *HookHolding) Name() string {
	if h.New {
		return "new hook " + strconv.Itoa(h.N)
	}
	return h.Row.Name + " " + strconv.Itoa(h.N)
}

// Note says where something hangs that belongs on this hook, where that is another
// one or none.
func (h *HookHolding) Note(hangs string) string {
	switch {
	case hangs == "":
		return "to be hung"
	case hangs != h.Name():
		return "hangs on " + hangs
	}
	return ""
}

// Unhung counts what is not on the hook on which it would hang if all hung in filing
// order: what hangs on another, and what is not hung yet.
func (l *Layout) Unhung() (elsewhere, waiting int) {
	for _, h := range l.Hooks() {
		for _, it := range h.Items {
			switch hangs := l.c.HookText(l.c.Copy(it.Copy).Hook); {
			case hangs == "":
				waiting++
			case hangs != h.Name():
				elsewhere++
			}
		}
	}
	return elsewhere, waiting
}

// HookNote says of hooks what Unhung counts; empty where all hang in order. To
// refile is to put boxes in order: hooks are no part of it.
func (l *Layout) HookNote() string {
	var parts []string
	elsewhere, waiting := l.Unhung()
	if elsewhere > 0 {
		parts = append(parts, strconv.Itoa(elsewhere)+" out of order")
	}
	if waiting > 0 {
		parts = append(parts, strconv.Itoa(waiting)+" not hung yet")
	}
	if len(parts) == 0 {
		return ""
	}
	return "hooks are not part of it: " + strings.Join(parts, ", ")
}

// defaultEach is how many patterns a hook holds; a fourth makes it unreadable
// (common practice, no source).
const defaultEach = 3

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
	for i, end := range byPieces(len(items), sizes, max(1, last.Each), func(int) int { return 1 }) {
		if i == len(out) {
			out = append(out, HookHolding{Row: last, N: i - len(sizes) + 1, New: true})
		}
		out[i].Items, from = items[from:end], end
	}
	return out
}

// byPieces lays n things, each of which takes so many places, into holders of so
// many places, by the rule by which boxes are filled.
func byPieces(n int, sizes []int, fresh int, takes func(int) int) []int {
	lengths, most := make([]model.Length, len(sizes)), model.Length(fresh)
	for i, s := range sizes {
		lengths[i] = model.Length(s)
		most = max(most, lengths[i])
	}
	one := func(i int) (head, inside model.Length) { t := model.Length(takes(i)); return t, t }
	r := newRun(n, most, one, func(int) bool { return false })
	return r.fill(lengths, nil, model.Length(fresh))
}
