// Package identify says what to look at to find out what an old pattern is and
// how old.
//
// The usual way in is [Open] for a pattern of which little is known, and
// [DatedByBust] where a sleeve gives a size and its bust measure.
//
// Promised: a look is open just as long as the list says nothing of what it
// tells. What the looks tell is common practice in the trade and has no source,
// but for sizes; nothing is dated from it, and the owner notes what it was dated
// from.
package identify

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// Look is one thing to look at.
type Look struct {
	At    string   // where
	For   string   // what for
	Tells string   // what it tells
	Notes []string // the fields in which that is noted, by the names of columns
}

// Caution comes before anything is unfolded.
const Caution = "Local rules and qualified advice come first. Old paper is fragile, and some of it is mouldy or was kept with moth killer: unfold it flat, keep it apart from the rest, wear a dust mask and gloves, and ask somebody who knows before anything is done against mould or old treatments."

// Checklist lists what there is to look at, what tells most first (common
// practice, no source).
func Checklist() []Look {
	return []Look{
		{"the sleeve", "the publisher's name and address, and the number", "who issued it; the address and how it is written change over the years", []string{"publisher", "number"}},
		{"the guide sheet", "its head and foot, with a number in small print", "publisher and number, where the sleeve is lost", []string{"number"}},
		{"the tissue", "a number printed or punched on each piece", "the number, where sleeve and guide sheet are lost; tissue without print, punched with holes, is the older kind", []string{"number"}},
		{"sleeve and guide sheet", "a copyright line or a year", "the year, or the year it cannot be older than", []string{"year"}},
		{"the sleeve or its envelope", "a postmark, a stamp of a shop, a price and its currency", "about when it was sold: note in dated_by what it goes by", []string{"year", "dated_by"}},
		{"the sleeve", "the size with its bust measure", "the decade, for a size 12: tuckrow says which", []string{"size_range", "size_chart"}},
		{"the sleeve", "a code of bars, metric measures", "with either it is of the newer ones", []string{"barcode"}},
		{"the pieces", "how many, their letters or numbers, and what they are", "whether it is complete, and which garment it is", []string{"pieces"}},
		{"the picture, or the shape of the pieces", "the garment and how it closes", "the category; how old it is only as a guess", []string{"category"}},
	}
}

// Open lists what of the checklist nothing is known of yet. A publisher counts as
// not known while the pattern is in the unidentified bin.
func Open(c *model.Collection, p *model.Pattern) []Look {
	en := c.TitleOf(p)
	unknown := slices.ContainsFunc(p.Tags, func(t string) bool { return strings.EqualFold(t, model.Unidentified) })
	noted := func(name string) bool {
		f, ok := model.FieldNamed(name)
		return ok && f.Get(&en) != "" && !(unknown && name == "publisher")
	}
	return slices.DeleteFunc(Checklist(), func(l Look) bool {
		if slices.Contains(l.Notes, "publisher") {
			return noted("publisher") && (noted("number") || noted("name"))
		}
		return slices.ContainsFunc(l.Notes, noted)
	})
}

// Bin lists the patterns in the unidentified bin, in the order of their numbers.
func Bin(c *model.Collection) []*model.Pattern {
	var out []*model.Pattern
	for _, p := range c.Patterns().All() {
		if slices.ContainsFunc(p.Tags, func(t string) bool { return strings.EqualFold(t, model.Unidentified) }) {
			out = append(out, p)
		}
	}
	return out
}

// Known is the change that says what a pattern of the bin is: the entry of a copy of
// it, with what was found out in it. It leaves the bin with that, and is filed like
// any other.
func Known(en model.Entry) (*model.Revise, error) {
	if en.Publisher == "" || en.Number == "" && en.Name == "" {
		return nil, model.Inputf("say who issued it, and its number or name; what is not known yet stays in the bin")
	}
	en.Tags = slices.DeleteFunc(slices.Clone(en.Tags), func(t string) bool { return strings.EqualFold(t, model.Unidentified) })
	return &model.Revise{Entry: en}, nil
}

// Dating is between which years something was issued; 0 is open on that side.
type Dating struct{ From, To int }

// twelves are the bust measures of a misses' size 12 over the years (extension
// service charts, two copies; the changes of 1956 and late 1967).
var twelves = []struct {
	bust model.Length
	Dating
}{
	{30 * model.Inch, Dating{0, 1955}},
	{32 * model.Inch, Dating{1956, 1967}},
	{34 * model.Inch, Dating{1967, 0}},
}

// near is how far a bust measure may be off, as printed in whole centimetres.
const near = 8 * model.Millimetre

// DatedByBust says from when a misses' pattern is by its size 12 and the bust
// measure that it gives for it; false for any other size or measure.
func DatedByBust(size string, bust model.Length) (Dating, bool) {
	if strings.TrimSpace(size) != "12" {
		return Dating{}, false
	}
	for _, x := range twelves {
		if d := bust - x.bust; d <= near && d >= -near {
			return x.Dating, true
		}
	}
	return Dating{}, false
}

// Dated says in words what the sizes of a pattern say of its year; nothing where
// they say nothing.
func Dated(p *model.Pattern) []string {
	var out []string
	for _, s := range p.Sizes {
		d, ok := DatedByBust(s.Name, s.Bust)
		if !ok {
			continue
		}
		size := fmt.Sprintf("size %s with bust %s: ", s.Name, s.Bust.Fine(model.Inches))
		switch {
		case d.From == 0:
			size += fmt.Sprintf("before %d", d.To+1)
		case d.To == 0:
			size += fmt.Sprintf("%d or later", d.From)
		default:
			size += fmt.Sprintf("%d to %d", d.From, d.To)
		}
		out = append(out, size)
	}
	return out
}
