// Package clean proposes how to mend what people write into spreadsheets:
// publisher and number in one cell, remarks behind a number, sizes behind a name,
// one publisher spelled in several ways.
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
	Merged   Kind = "merged"   // publisher and number in one cell
	Remark   Kind = "remark"   // a note in the number
	Size     Kind = "size"     // sizes in the name
	Spelling Kind = "spelling" // a publisher spelled otherwise
)

// Title says what proposals of the kind mend.
func (k Kind) Title() string {
	return map[Kind]string{Merged: "publisher and number in one cell", Remark: "a note in the number", Size: "sizes in the name", Spelling: "a publisher spelled otherwise"}[k]
}

// Kinds lists the kinds.
func Kinds() []Kind { return []Kind{Merged, Remark, Size, Spelling} }

// Edit is one field before and after.
type Edit struct{ Field, Was, Is string }

// Proposal is one thing to mend, in one row or in all that have it alike.
type Proposal struct {
	Kind  Kind
	Rows  []int // indices of the rows
	Edits []Edit
	Why   string
}

// Propose looks through rows, for a cupboard in which publishers are listed
// already. Rows need not be complete.
func Propose(c *model.Collection, rows []model.Entry) []Proposal {
	mended := slices.Clone(rows)
	var out []Proposal
	for i := range mended {
		for _, find := range []func(*model.Collection, *model.Entry) (Proposal, bool){merged, remark, sizes} {
			if p, ok := find(c, &mended[i]); ok {
				p.Rows = []int{i}
				p.Apply(mended)
				out = append(out, p)
			}
		}
	}
	return append(out, spellings(c, mended)...)
}

// Apply mends the rows of a proposal, so far as they still say what it was found
// in.
func (p Proposal) Apply(rows []model.Entry) {
	for _, i := range p.Rows {
		en := rows[i]
		fits := true
		for _, e := range p.Edits {
			f, known := model.FieldNamed(e.Field)
			fits = fits && known && f.Get(&en) == e.Was && f.Set(&en, e.Is) == nil
		}
		if fits {
			rows[i] = en
		}
	}
}

func edit(en *model.Entry, field, is string) Edit {
	f, _ := model.FieldNamed(field)
	return Edit{field, f.Get(en), is}
}

// numberAt takes a number off the end of a text: "6123", "K-123", "6123 H5".
func numberAt(text string) (before, number string, ok bool) {
	fields := strings.Fields(text)
	n := len(fields)
	if n > 2 && sizeCode(fields[n-1]) && numeric(fields[n-2]) {
		return strings.Join(fields[:n-2], " "), fields[n-2] + " " + fields[n-1], true
	}
	if n > 1 && numeric(fields[n-1]) {
		return strings.Join(fields[:n-1], " "), strings.TrimLeft(fields[n-1], "#"), true
	}
	return text, "", false
}

// numeric tells whether a word is a number of a pattern: two digits at least,
// and before and behind them no more than two letters.
func numeric(w string) bool {
	w = strings.TrimLeft(w, "#")
	from := strings.IndexAny(w, "0123456789")
	to := strings.LastIndexAny(w, "0123456789") + 1
	if from < 0 || to-from < 2 || strings.Trim(w[from:to], "0123456789") != "" {
		return false
	}
	return letters(strings.TrimRight(w[:from], "-"), 2) && letters(w[to:], 1)
}

// sizeCode tells whether a word is the code of a size range behind a number.
func sizeCode(w string) bool {
	return len(w) == 2 && letters(w[:1], 1) && w[1] >= '0' && w[1] <= '9'
}

func letters(w string, most int) bool {
	return len(w) <= most && !strings.ContainsFunc(w, func(r rune) bool { return (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') })
}

// merged finds publisher and number in the cell of either.
func merged(c *model.Collection, en *model.Entry) (Proposal, bool) {
	if before, number, ok := numberAt(en.Publisher); ok && en.Number == "" && c.PublisherNamed(en.Publisher) == nil {
		return Proposal{Kind: Merged, Edits: []Edit{edit(en, "publisher", trimmed(before)), edit(en, "number", number)}, Why: "publisher and number in one cell"}, trimmed(before) != ""
	}
	before, number, ok := numberAt(en.Number)
	before = trimmed(before)
	if !ok || len(before) < 3 || strings.ContainsAny(before, "0123456789") {
		return Proposal{}, false
	}
	if en.Publisher == "" || lookup.OneHouse(en.Publisher, before) {
		return Proposal{Kind: Merged, Edits: []Edit{edit(en, "publisher", cmp.Or(en.Publisher, before)), edit(en, "number", number)}, Why: "the publisher stands before the number"}, true
	}
	return Proposal{}, false
}

// trimmed takes off what separates two things in one cell.
func trimmed(s string) string { return strings.Trim(s, " -–—:,;#/()[]") }

// remark finds what stands behind a number and is none of it.
func remark(_ *model.Collection, en *model.Entry) (Proposal, bool) {
	fields := strings.Fields(en.Number)
	n := 0
	if len(fields) > 0 && numeric(strings.Trim(fields[0], "-–,;:")) {
		if n = 1; len(fields) > 1 && sizeCode(strings.Trim(fields[1], "-–,;:")) {
			n = 2
		}
	}
	if n == 0 || n == len(fields) {
		return Proposal{}, false
	}
	number, rest := trimmed(strings.Join(fields[:n], " ")), trimmed(strings.Join(fields[n:], " "))
	if first := strings.IndexFunc(rest, func(r rune) bool { return r >= '0' && r <= '9' }); rest == "" || first == 0 {
		return Proposal{}, false // a number in several parts
	}
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
func sizes(_ *model.Collection, en *model.Entry) (Proposal, bool) {
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
// or than the one that most rows have.
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
	for i, name := range names {
		if c.PublisherNamed(name) != nil {
			continue
		}
		why := "the list spells it so"
		like := slices.IndexFunc(listed, func(x string) bool { return lookup.OneHouse(x, name) })
		to := ""
		if like >= 0 {
			to = listed[like]
		} else if like = slices.IndexFunc(names[:i], func(x string) bool { return lookup.OneHouse(x, name) && words.Fold(x) != words.Fold(name) }); like >= 0 {
			to, why = names[like], "most rows spell it so"
		}
		if to != "" {
			out = append(out, Proposal{Spelling, at[name], []Edit{{"publisher", name, to}}, why})
		}
	}
	return out
}
