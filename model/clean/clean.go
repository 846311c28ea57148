// Package clean proposes how to mend what people write into spreadsheets:
// publisher and number in one cell, remarks behind a number, sizes behind a name,
// one publisher spelled in several ways, days and other cells that cannot be read.
//
// The usual way in is [Propose] on the rows of a file, and [Proposal.Apply] for
// those that the owner takes.
//
// Promised: nothing is altered before a proposal is applied, and then only what
// the proposal shows; a text that is taken out of one field goes into another. A
// proposal that no longer fits, since another was refused, does nothing.
package clean

import (
	"cmp"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
)

// Kind is what a proposal mends.
type Kind string

// The kinds, in the order in which they are looked for.
const (
	Day      Kind = "date"     // a day that is not written as ours are
	Aside    Kind = "unread"   // a cell that cannot be read, or not be so, and goes into the notes
	Merged   Kind = "merged"   // publisher and number in one cell
	Remark   Kind = "remark"   // a note in the number
	Size     Kind = "size"     // sizes in the name
	Spelling Kind = "spelling" // a publisher spelled otherwise
)

// Title says what proposals of the kind mend.
func (k Kind) Title() string {
	return map[Kind]string{Day: "a day written otherwise", Aside: "what cannot be read or cannot be, into the notes", Merged: "publisher and number in one cell", Remark: "a note in the number", Size: "sizes in the name", Spelling: "a publisher spelled otherwise"}[k]
}

// Kinds lists the kinds.
func Kinds() []Kind { return []Kind{Day, Aside, Merged, Remark, Size, Spelling} }

// Edit is one field before and after.
type Edit struct{ Field, Was, Is string }

// Proposal is one thing to mend, in one row or in all that have it alike.
type Proposal struct {
	Kind  Kind
	Rows  []int // indices of the rows
	Edits []Edit
	Why   string

	Unread string // the field whose cell could not be read, and is settled by this; its edit says what was in the cell
}

// Propose looks through rows, and through the cells of them that cannot be read, for
// a cupboard in which publishers are listed already. Rows need not be complete.
func Propose(c *model.Collection, rows []model.Entry, cells ...Unread) []Proposal {
	mended := slices.Clone(rows)
	out := unread(mended, cells)
	known := housesOf(c, rows)
	for i := range mended {
		for _, find := range []func(*model.Entry) (Proposal, bool){known.merged, remark, sizes} {
			if p, ok := find(&mended[i]); ok {
				p.Rows = []int{i}
				p.Apply(mended)
				out = append(out, p)
			}
		}
	}
	return append(out, spellings(c, mended)...)
}

// Apply mends the rows of a proposal, so far as they still say what it was found
// in, and tells which it has mended.
func (p Proposal) Apply(rows []model.Entry) (mended []int) {
	for _, i := range p.Rows {
		en := rows[i]
		fits := true
		for _, e := range p.Edits {
			f, known := model.FieldNamed(e.Field)
			stands := f.Get(&en) == e.Was || e.Field == p.Unread && f.Get(&en) == ""
			fits = fits && known && stands && f.Set(&en, e.Is) == nil
		}
		if fits {
			rows[i] = en
			mended = append(mended, i)
		}
	}
	return mended
}

func edit(en *model.Entry, field, is string) Edit {
	f, _ := model.FieldNamed(field)
	return Edit{field, f.Get(en), is}
}

// merged finds publisher and number in the cell of either. What is behind the number
// stays with it, as a remark.
func (h houses) merged(en *model.Entry) (Proposal, bool) {
	if en.Number == "" && h.c.PublisherNamed(en.Publisher) == nil {
		if before, number, ok := h.split(en.Publisher, true); ok {
			return Proposal{Kind: Merged, Edits: []Edit{edit(en, "publisher", before), edit(en, "number", number)}, Why: "publisher and number in one cell"}, true
		}
	}
	before, number, ok := h.split(en.Number, false)
	if !ok || len(before) < 3 || en.Publisher != "" && !lookup.OneHouse(en.Publisher, before) {
		return Proposal{}, false
	}
	return Proposal{Kind: Merged, Edits: []Edit{edit(en, "publisher", cmp.Or(en.Publisher, before)), edit(en, "number", number)}, Why: "the publisher stands before the number"}, true
}

// houses are the publishers that are listed, and those that stand in the rows alone
// or before a number.
type houses struct {
	c    *model.Collection
	also map[string]bool // folded
}

func housesOf(c *model.Collection, rows []model.Entry) houses {
	h := houses{c, map[string]bool{}}
	for _, en := range rows {
		h.also[words.Fold(en.Publisher)] = true
		for _, text := range []string{en.Publisher, en.Number} {
			for _, n := range numbersIn(text) {
				if n.behind == "" && (text == en.Publisher || !strings.ContainsAny(n.before, "0123456789")) {
					h.also[words.Fold(n.before)] = true
				}
			}
		}
	}
	return h
}

func (h houses) known(name string) bool {
	return name != "" && (h.also[words.Fold(name)] || h.c.PublisherNamed(name) != nil)
}

// split takes publisher and number apart. A publisher can have a number in its name,
// as a "Umbrow 54 Marstow" has: what stands before the number is known, or nothing is
// behind it, or that begins as a remark does. Names that nobody knows have digits in
// them only where that is allowed.
func (h houses) split(text string, digits bool) (before, number string, ok bool) {
	all := numbersIn(text)
	sure := func(n numberIn) bool { return h.known(n.before) }
	maybe := func(n numberIn) bool {
		return n.before != "" && (n.behind == "" || n.aside) && (digits && n.behind == "" || !strings.ContainsAny(n.before, "0123456789"))
	}
	i := slices.IndexFunc(all, sure)
	if i < 0 {
		i = slices.IndexFunc(all, maybe)
	}
	if i < 0 {
		return "", "", false
	}
	return all[i].before, strings.TrimSpace(all[i].number + " " + all[i].behind), true
}

// trimmed takes off what separates two things in one cell.
func trimmed(s string) string { return strings.Trim(s, " -–—:,;#/()[]") }

// remark finds what stands behind a number and is none of it.
func remark(en *model.Entry) (Proposal, bool) {
	all := numbersIn(en.Number)
	if len(all) == 0 || all[0].before != "" || all[0].behind == "" || strings.ContainsAny(all[0].behind[:1], "0123456789") {
		return Proposal{}, false // or a number in several parts
	}
	number, rest := all[0].number, all[0].behind
	p := Proposal{Kind: Remark, Edits: []Edit{edit(en, "number", number)}, Why: "a note behind the number"}
	if cut, err := model.ParseCut(rest); err == nil && en.Cut == "" && len(rest) > 2 {
		p.Edits = append(p.Edits, edit(en, "cut", string(cut)))
	} else if size, ok := sizeOf(rest); ok && en.SizeRange == "" {
		p.Edits = append(p.Edits, edit(en, "size_range", size))
	} else {
		p.Edits = append(p.Edits, edit(en, "notes", strings.TrimPrefix(en.Notes+"; "+rest, "; ")))
	}
	return p, true
}

// sizeWords stand before sizes, folded.
var sizeWords = []string{"size", "sizes", "sz", "gr", "grosse", "taille", "tailles", "talla"}

// sizeOf reads a text that is sizes: "size 14", "sizes 10 - 16", "(10-16)".
func sizeOf(text string) (string, bool) {
	text = trimmed(text)
	said := false
	if first, rest, two := strings.Cut(text, " "); two && slices.Contains(sizeWords, words.Fold(first)) {
		text, said = trimmed(rest), true
	}
	text = strings.NewReplacer(" - ", "-", " – ", "-", "–", "-", " to ", "-").Replace(text)
	low, high, isRange := strings.Cut(text, "-")
	if !isRange {
		return text, said && sizeWord(text)
	}
	return text, sizeWord(low) && sizeWord(high)
}

// sizeWord tells whether a word is a size: "14", "XL".
func sizeWord(w string) bool {
	digits := w != "" && len(w) <= 2 && strings.Trim(w, "0123456789") == ""
	return digits || w != "" && len(w) <= 3 && strings.Trim(strings.ToUpper(w), "SMLX") == ""
}

// sizes finds sizes at the end of a name.
func sizes(en *model.Entry) (Proposal, bool) {
	fields := strings.Fields(en.Name)
	if en.SizeRange != "" {
		return Proposal{}, false
	}
	for _, n := range []int{4, 3, 2, 1} { // "sizes 10 - 16" before "10-16"
		at := len(fields) - n
		if at < 1 {
			continue
		}
		size, ok := sizeOf(strings.Join(fields[at:], " "))
		if name := trimmed(strings.Join(fields[:at], " ")); ok && name != "" {
			return Proposal{Kind: Size, Edits: []Edit{edit(en, "name", name), edit(en, "size_range", size)}, Why: "sizes behind the name"}, true
		}
	}
	return Proposal{}, false
}

// spellings finds publishers that are spelled otherwise than one that is listed,
// or than most rows have it. What is like a spelling that gives way becomes what
// that one becomes.
func spellings(c *model.Collection, rows []model.Entry) []Proposal {
	at := map[string][]int{}
	var names []string
	for i, en := range rows {
		if en.Publisher == "" {
			continue
		}
		if at[en.Publisher] == nil {
			names = append(names, en.Publisher)
		}
		at[en.Publisher] = append(at[en.Publisher], i)
	}
	slices.SortStableFunc(names, func(a, b string) int { return len(at[b]) - len(at[a]) })
	var listed, out = []string{}, []Proposal(nil)
	for _, p := range c.Publishers().All() {
		listed = append(listed, p.Name)
	}
	const byList, byRows = "the list spells it so", "most rows spell it so"
	type turn struct{ is, why string }
	to := map[string]turn{} // what a spelling becomes
	for i, name := range names {
		if p := c.PublisherNamed(name); p != nil {
			to[name] = turn{p.Name, byList}
			continue // it is read as that one
		}
		like := func(x string) bool { return lookup.OneHouse(x, name) }
		if k := slices.IndexFunc(listed, like); k >= 0 {
			to[name] = turn{listed[k], byList}
		} else if k = slices.IndexFunc(names[:i], like); k >= 0 {
			to[name] = cmp.Or(to[names[k]], turn{names[k], byRows})
		} else {
			continue
		}
		out = append(out, Proposal{Kind: Spelling, Rows: at[name], Edits: []Edit{{"publisher", name, to[name].is}}, Why: to[name].why})
	}
	return out
}
