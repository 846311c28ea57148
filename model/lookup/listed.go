package lookup

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Numbers knows patterns by publisher and number, or name where there is no
// number, for who asks of nothing else.
type Numbers struct {
	c  *model.Collection
	by map[string][]*model.Pattern
}

// NumbersOf notes the numbers of all patterns.
func NumbersOf(c *model.Collection) *Numbers {
	n := &Numbers{c, make(map[string][]*model.Pattern, c.Patterns().Len())}
	for _, p := range c.Patterns().All() {
		if key := listedKey(p.Publisher, model.ParseNumber(p.Number, c.Publisher(p.Publisher).Numbers), p.Name); key != "" {
			n.by[key] = append(n.by[key], p)
		}
	}
	return n
}

// listedKey is what patterns of one publisher and number share; those without a
// number share publisher and name.
func listedKey(pub model.PublisherID, n model.Number, name string) string {
	if fold := words.Fold(words.Clean(name)); n.Empty() && fold != "" {
		return string(rune(pub)) + "\x1f\x1f" + fold
	}
	return sameKey(pub, n)
}

// Listed is the pattern of the publisher and number of an entry, or its name
// where there is no number, that is the likest to it.
type Listed struct {
	Pattern *model.Pattern
	Tie     Tie
	Differs []string // what the entry says and the list does not: "year 1974, there 2008"
	Others  int      // by the same number of which the entry says nothing else either
}

// Further tells whether the entry can be nothing but a further copy, as far as it
// tells: it says nothing that is not listed, and there is no other it could be. This
// is the rule for whatever is entered, in Intake, by add or of a spreadsheet.
func (l *Listed) Further() bool { return l.Tie.Owned() && len(l.Differs) == 0 && l.Others == 0 }

// Why says why it is a further copy, or could be another pattern.
func (l *Listed) Why() string {
	switch {
	case l.Further():
		return "a further copy: nothing else is said of it"
	case len(l.Differs) == 0:
		return fmt.Sprintf("a pattern of its own: it could be that one or %d more by the number; look at the sleeve", l.Others)
	}
	return "a pattern of its own: " + strings.Join(l.Differs, "; ")
}

// Of finds what is listed by the publisher and number of an entry.
func (n *Numbers) Of(en model.Entry) (Listed, bool) {
	pub := houseOf(n.c, en)
	if pub == nil {
		return Listed{}, false
	}
	number := model.ParseNumber(words.Clean(en.Number), pub.Numbers)
	return likest(n.c, en, number, n.by[listedKey(pub.ID, number, en.Name)])
}

// Listed finds what Numbers would, in an index that is there already.
func (x *Index) Listed(en model.Entry) (Listed, bool) {
	pub := houseOf(x.c, en)
	if pub == nil {
		return Listed{}, false
	}
	number := model.ParseNumber(words.Clean(en.Number), pub.Numbers)
	key := listedKey(pub.ID, number, en.Name)
	var of []*model.Pattern
	for _, id := range x.same.at(key) {
		if p := x.c.Pattern(id); p != nil && x.key(p) == key { // neither gone nor renamed since
			of = append(of, p)
		}
	}
	return likest(x.c, en, number, of)
}

// houseOf is the listed publisher of an entry. Where nobody knows who it is, the
// same number or words can be said of quite another pattern.
func houseOf(c *model.Collection, en model.Entry) *model.Publisher {
	pub := c.PublisherNamed(en.Publisher)
	if pub != nil && words.Fold(pub.Name) == model.NotKnown {
		return nil
	}
	return pub
}

// likest is the one of some patterns that an entry is the likest to.
func likest(c *model.Collection, en model.Entry, number model.Number, of []*model.Pattern) (Listed, bool) {
	var all []Listed
	for _, p := range of {
		theirs := model.ParseNumber(p.Number, c.Publisher(p.Publisher).Numbers)
		all = append(all, Listed{Pattern: p, Tie: tie(en, number, p, theirs), Differs: differs(c, en, p, number, theirs)})
	}
	if len(all) == 0 {
		return Listed{}, false
	}
	slices.SortStableFunc(all, func(a, b Listed) int {
		return cmp.Or(cmp.Compare(len(a.Differs), len(b.Differs)), int(a.Tie-b.Tie))
	})
	likest := all[0]
	for _, other := range all[1:] {
		if len(likest.Differs) == 0 && len(other.Differs) == 0 {
			likest.Others++
		}
	}
	return likest, true
}

// titled are the fields that are of the pattern, the size range aside, which can
// be part of the number.
var titled = []string{"year", "name", "files_as", "category", "also_in", "dated_by", "barcode", "tags", "size_chart", "cloth_needed", "pieces"}

// differs lists what an entry says and the listed pattern does not, however it is
// spelled.
func differs(c *model.Collection, en model.Entry, p *model.Pattern, number, theirs model.Number) []string {
	var out []string
	say := func(field, is, there string) {
		if is != "" && words.Fold(is) != words.Fold(there) {
			out = append(out, fmt.Sprintf("%s %s, there %s", strings.ReplaceAll(field, "_", " "), is, cmp.Or(there, "none")))
		}
	}
	say("size range", cmp.Or(en.SizeRange, number.Size), cmp.Or(p.SizeRange, theirs.Size))
	listed := c.TitleOf(p)
	for _, name := range titled {
		if f, ok := model.FieldNamed(name); ok {
			say(name, f.Get(&en), f.Get(&listed))
		}
	}
	return out
}

// LikePublisher finds the listed publisher that a name which is not listed is the
// beginning of, or nearly is; nil where there is none.
func LikePublisher(c *model.Collection, name string) *model.Publisher {
	fold := words.Fold(words.Clean(name))
	if fold == "" || c.PublisherNamed(name) != nil {
		return nil
	}
	var near *model.Publisher
	for _, p := range c.Publishers().All() {
		switch {
		case strings.HasPrefix(words.Fold(p.Name), fold):
			return p
		case near == nil && OneHouse(p.Name, name):
			near = p
		}
	}
	return near
}
