package ordering

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"

	"example.org/tuckrow/model"
)

// OversizeHolding is one box for what no other takes, as planned, front to back.
type OversizeHolding struct {
	Box    model.Box // of a new one the zero ID
	New    bool
	Usable model.Length
	Load   model.Length
	Things []Thing
}

// Thing is what lies in such a box: a copy, or a magazine that is kept whole,
// with the copies that are styles in it.
type Thing struct {
	Title     string
	Copies    []model.Accession // in filing order
	Thickness model.Length
	key       []byte
	issue     string // of a magazine: what its styles share
}

// Oversize lays what is oversize, in filing order, into its boxes, by the rule
// by which boxes are filled. In the boxes themselves a dummy stands for each
// copy. A magazine that is kept whole is one thing, however many of its styles
// are listed; it lies where the first of them would.
func (l *Layout) Oversize() []OversizeHolding {
	shelf, things, at := l.c.Shelf(), []Thing(nil), map[string]int{}
	for _, cp := range l.c.Copies().All() {
		if !shelf.LiesApart(cp) || cp.Missing != "" {
			continue
		}
		p := l.c.Pattern(cp.Pattern)
		x := Thing{Title: l.c.Publisher(p.Publisher).Name + " " + p.Heading(), Copies: []model.Accession{cp.Accession},
			Thickness: shelf.Settings.ThicknessOf(cp), key: l.keyer.key(nil, l.keyer.section(p), p, cp.Accession)}
		if issue, whole := l.issueOf(cp); whole {
			x.issue = fmt.Sprint(p.Publisher, " ", issue)
			x.Title = l.c.Publisher(p.Publisher).Name + " " + issue
		}
		if i, there := at[x.issue]; there && x.issue != "" {
			things[i].join(x)
			continue
		}
		at[x.issue] = len(things)
		things = append(things, x)
	}
	slices.SortFunc(things, func(a, b Thing) int { return bytes.Compare(a.key, b.key) })
	for _, x := range things {
		slices.SortFunc(x.Copies, func(a, b model.Accession) int { return cmp.Compare(l.Rank(a), l.Rank(b)) })
	}
	return l.lieIn(shelf.Oversize, things)
}

// join adds a further style to a magazine.
func (x *Thing) join(y Thing) {
	x.Copies = append(x.Copies, y.Copies...)
	x.Thickness = max(x.Thickness, y.Thickness)
	if bytes.Compare(y.key, x.key) < 0 {
		x.key = y.key
	}
}

// issueOf is which issue a copy is in that is a magazine kept whole: "2019/4".
func (l *Layout) issueOf(cp *model.Copy) (string, bool) {
	p := l.c.Pattern(cp.Pattern)
	n := model.ParseNumber(p.Number, l.keyer.schemes[p.Publisher])
	if cp.Medium != model.Magazine || l.keyer.schemes[p.Publisher] != model.Issue || len(n.Parts) < 2 {
		return "", false
	}
	return n.Parts[0] + "/" + n.Parts[1], true
}

func (l *Layout) lieIn(boxes []model.Box, things []Thing) []OversizeHolding {
	set, fresh := l.c.Shelf().Settings, model.Box{Length: defaultBox}
	sizes, most := make([]model.Length, len(boxes)), model.Length(0)
	for i, b := range boxes {
		sizes[i], fresh.Length = b.Usable(set), b.Length
		most = max(most, sizes[i])
	}
	most = max(most, fresh.Usable(set))
	takes := func(i int) (head, inside model.Length) { return things[i].Thickness, things[i].Thickness }
	r := newRun(len(things), most, takes, func(int) bool { return false })
	var out []OversizeHolding
	from := 0
	for i, end := range r.fill(sizes, nil, most) {
		h := OversizeHolding{Box: fresh, New: i >= len(boxes), Usable: most, Load: r.load(from, end), Things: things[from:end]}
		if !h.New {
			h.Box, h.Usable = boxes[i], sizes[i]
		}
		out, from = append(out, h), end
	}
	return out
}

// Apart says in which box for what is oversize a copy lies as planned; false
// when it is none of those.
func (l *Layout) Apart(a model.Accession) (OversizeHolding, bool) {
	if cp := l.c.Copy(a); cp == nil || !l.c.Shelf().LiesApart(cp) {
		return OversizeHolding{}, false
	}
	for _, h := range l.Oversize() {
		if slices.ContainsFunc(h.Things, func(x Thing) bool { return slices.Contains(x.Copies, a) }) {
			return h, true
		}
	}
	return OversizeHolding{}, false
}

// name is what one calls such a box.
func (h *OversizeHolding) name() string {
	if h.New {
		return "a new box for what is oversize"
	}
	return "box " + h.Box.Name
}
