package shelf

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// changes says in words what a draft changes, piece by piece.
func (d *draft) changes() []string {
	var out []string
	for k := range kinds {
		if k == aBinder {
			out = append(out, d.binderChanges()...)
			continue
		}
		out = append(out, d.pieceChanges(k)...)
	}
	return out
}

func (d *draft) pieceChanges(k kind) []string {
	var out []string
	stays := make([]int, 0, d.now.count(k)) // by index in what was
	var kept []int                          // where those are now
	for i := range d.now.count(k) {
		p := piece{k, i}
		name := d.now.name(p)
		old, there := d.origin(k, name)
		if k == theSettings {
			old, there = "", true
		}
		if !there {
			out = append(out, "new "+d.titled(k, name)+at(", ", d.now.place(p))+said(k, d.now.values(p)))
			continue
		}
		from := 0
		if k != theSettings {
			from = d.was.find(k, old)
		}
		stays, kept = append(stays, from), append(kept, i)
		out = append(out, differences(d.titled(k, old), k, d.was.values(piece{k, from}), d.now.values(p))...)
	}
	for i := range d.was.count(k) {
		if !slices.Contains(stays, i) {
			out = append(out, d.titled(k, d.was.name(piece{k, i}))+" is taken away")
		}
	}
	if k.given() {
		return out
	}
	for _, i := range moved(stays) {
		p := piece{k, kept[i]}
		out = append(out, d.titled(k, d.now.name(p))+at(" stands ", d.now.place(p))+at(", was ", d.was.place(piece{k, stays[i]})))
	}
	return out
}

// moved are the fewest that have to be moved, by index, for numbers to come to
// stand as they do: what is not in a longest increasing run of them.
func moved(numbers []int) (out []int) {
	stay := ordering.LongestRun(numbers)
	for i := range numbers {
		if len(stay) > 0 && stay[0] == i {
			stay = stay[1:]
		} else {
			out = append(out, i)
		}
	}
	return out
}

// place is where a piece stands in the order of its kind: behind another, or as
// the first before it; empty where it is the only one, or there is no order.
func (f *furniture) place(p piece) string {
	switch {
	case p.kind == theSettings || p.kind.given() || f.count(p.kind) < 2:
		return ""
	case p.i == 0:
		return "before " + kindNames[p.kind] + " " + f.name(piece{p.kind, 1})
	}
	return "behind " + kindNames[p.kind] + " " + f.name(piece{p.kind, p.i - 1})
}

// at is a place with what leads to it; empty where there is none.
func at(lead, place string) string {
	if place == "" {
		return ""
	}
	return lead + place
}

func (d *draft) titled(k kind, name string) string {
	if k == theSettings {
		return kindNames[k]
	}
	return kindNames[k] + " " + name
}

// said is what a new piece is besides its name.
func said(k kind, values []string) string {
	text := ""
	for i, v := range values[1:] {
		if v != "" && v != yes(false) && v != byLine {
			text += fmt.Sprintf(", %s %s", fieldLabels[k][i+1], v)
		}
	}
	return text
}

// differences says what is not as it was of one piece.
func differences(title string, k kind, was, is []string) []string {
	var out []string
	for i, label := range fieldLabels[k] {
		switch {
		case was[i] == is[i]:
		case was[i] == "":
			out = append(out, fmt.Sprintf("%s: %s %s", title, label, is[i]))
		case is[i] == "":
			out = append(out, fmt.Sprintf("%s: no %s, was %s", title, label, was[i]))
		default:
			out = append(out, fmt.Sprintf("%s: %s %s, was %s", title, label, is[i], was[i]))
		}
	}
	return out
}

// binderChanges lists binders that come and go: they have no names to tell one
// that was changed.
func (d *draft) binderChanges() []string {
	gone, out := slices.Clone(d.was.Binders), []string(nil)
	for n, b := range d.now.Binders {
		old := b
		if category, was := d.origin(aCategory, b.Category); was {
			old.Category = category
		}
		if i := slices.IndexFunc(gone, sameBinder(old)); i >= 0 {
			gone = slices.Delete(gone, i, i+1)
			continue
		}
		out = append(out, "new binder "+b.Category+said(aBinder, d.now.values(piece{aBinder, n})))
	}
	for _, b := range gone {
		out = append(out, fmt.Sprintf("binder %s, pockets %d, is taken away", b.Category, b.Pockets))
	}
	return out
}

// sameBinder tells whether a binder is one that the form shows alike.
func sameBinder(b model.BinderSpec) func(model.BinderSpec) bool {
	return func(x model.BinderSpec) bool {
		return x.Category == b.Category && x.Pockets == b.Pockets && x.SeeAlso == b.SeeAlso && slices.Equal(x.SubDividers, b.SubDividers)
	}
}
