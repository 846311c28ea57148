package lookup

import (
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Tie is how a listed pattern is like the one in hand.
type Tie int

// The ties, the strongest first.
const (
	Same      Tie = iota // same publisher, number, size range and year
	YearOpen             // the same, but a year is not known: it could be a number used again
	OtherSize            // same number, sold in another size range
	OtherYear            // same number, used again for another design
	NearName             // same publisher, and the name is the same or nearly
)

var tieTexts = []string{
	"owned already: same number",
	"same number, year not known: look at the sleeve",
	"same number in another size range",
	"same number, another year: the number was used again",
	"a name like it",
}

// String says the tie to the owner.
func (t Tie) String() string { return tieTexts[t] }

// Owned tells whether the tie means that the pattern is owned already, as far
// as the list can tell.
func (t Tie) Owned() bool { return t == Same || t == YearOpen }

// Relative is a listed pattern that is like the one in hand.
type Relative struct {
	Pattern *model.Pattern
	Tie     Tie
}

// Kin lists what is like an entry, the strongest tie first. The entry may be
// half typed: without a publisher there is no kin.
func (x *Index) Kin(en model.Entry) []Relative {
	pub := x.c.PublisherNamed(en.Publisher)
	if pub == nil {
		return nil
	}
	var kin []Relative
	n := model.ParseNumber(words.Clean(en.Number), pub.Numbers)
	for _, id := range x.same.at(sameKey(pub.ID, n)) {
		p := x.c.Pattern(id)
		if p == nil || p.Publisher != pub.ID {
			continue
		}
		theirs := model.ParseNumber(p.Number, pub.Numbers)
		if theirs.Key() != n.Key() {
			continue // it has been renumbered since
		}
		kin = append(kin, Relative{p, tie(en, n, p, theirs)})
	}
	for _, p := range x.named(pub.ID, en.Name) {
		if !slices.ContainsFunc(kin, func(r Relative) bool { return r.Pattern == p }) {
			kin = append(kin, Relative{p, NearName})
		}
	}
	slices.SortStableFunc(kin, func(a, b Relative) int { return int(a.Tie - b.Tie) })
	return kin
}

func tie(en model.Entry, n model.Number, p *model.Pattern, theirs model.Number) Tie {
	size, its := sizes(n, en.SizeRange), sizes(theirs, p.SizeRange)
	switch {
	case size != its && size != "" && its != "":
		return OtherSize
	case en.Year != 0 && p.Year != 0 && en.Year != p.Year:
		return OtherYear
	case en.Year == 0 || p.Year == 0:
		return YearOpen
	}
	return Same
}

// sizes is the size range however it was given: with the number, or by itself.
func sizes(n model.Number, field string) string {
	if field != "" {
		return words.Fold(field)
	}
	return words.Fold(n.Size)
}

// mostNamed bounds how many like names are worth showing.
const mostNamed = 20

// named lists the patterns of a publisher whose name is the one given, or
// nearly.
func (x *Index) named(pub model.PublisherID, name string) []*model.Pattern {
	fold := words.Fold(words.Clean(name))
	if len([]rune(fold)) < 4 {
		return nil
	}
	var out []*model.Pattern
	for _, id := range x.closeTo(split(fold)) {
		p := x.c.Pattern(id)
		if p == nil || p.Publisher != pub {
			continue
		}
		if theirs := words.Fold(p.Name); theirs == fold || words.Close(theirs, fold) {
			out = append(out, p)
			if len(out) == mostNamed {
				break
			}
		}
	}
	return out
}

// closeTo lists the patterns that have all the words, give or take a small
// typing error in one of them.
func (x *Index) closeTo(q []string) []model.PatternID {
	const plenty = 1 << 20
	exact := x.all(q, x.equal)
	if exact.count() > 0 {
		return exact.list(plenty, nil)
	}
	for i := range q {
		rest := slices.Delete(slices.Clone(q), i, i+1)
		if s := x.all(rest, x.equal); len(rest) > 0 && s.count() > 0 {
			return s.list(plenty, nil)
		}
	}
	if len(q) == 1 {
		return x.all(q, x.near).list(plenty, nil)
	}
	return nil
}
