package shelf

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model"
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
	for i := range d.now.count(k) {
		p := piece{k, i}
		name := d.now.name(p)
		old, there := d.origin(k, name)
		if k == theSettings {
			old, there = "", true
		}
		if !there {
			out = append(out, "new "+d.titled(k, name)+said(k, d.now.values(p)))
			continue
		}
		at := 0
		if k != theSettings {
			at = d.was.find(k, old)
		}
		stays = append(stays, at)
		out = append(out, differences(d.titled(k, old), k, d.was.values(piece{k, at}), d.now.values(p))...)
	}
	for i := range d.was.count(k) {
		if !slices.Contains(stays, i) {
			out = append(out, d.titled(k, d.was.name(piece{k, i}))+" is taken away")
		}
	}
	if !k.given() && !slices.IsSorted(stays) {
		out = append(out, many[k]+" stand in another order")
	}
	return out
}

var many = [kinds]string{"", "boxes", "sections", "publishers", "categories", "binders", "rows of hooks", "boxes for what is oversize"}

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
