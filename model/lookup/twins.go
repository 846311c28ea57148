package lookup

import (
	"cmp"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Twins are two listed patterns that could be one.
type Twins struct {
	A, B *model.Pattern // A was entered first
	Tie  Tie
}

// Twins lists pairs of patterns of one publisher and number, size range and
// year, as far as the list tells: entered twice, or a number used again whose
// year is not known. Only the owner can say which.
func (x *Index) Twins() []Twins {
	var out []Twins
	for _, p := range x.c.Patterns().All() {
		en := x.c.TitleOf(p)
		en.Name = "" // by number alone: names alike are many, and looking for them is slow
		for _, kin := range x.Kin(en) {
			if kin.Pattern.ID > p.ID && kin.Tie.Owned() {
				out = append(out, Twins{p, kin.Pattern, kin.Tie})
			}
		}
	}
	return out
}

// Houses are two listed publishers that could be one, spelled in two ways.
type Houses struct {
	A, B *model.Publisher // A has the more patterns
}

// Houses lists pairs of publishers whose names differ by a small typing error,
// by how words are run together, or by an "and" in the one and a sign in the
// other.
func (x *Index) Houses() []Houses {
	count := map[model.PublisherID]int{}
	for _, p := range x.c.Patterns().All() {
		count[p.Publisher]++
	}
	var all []*model.Publisher
	for _, p := range x.c.Publishers().All() {
		all = append(all, p)
	}
	slices.SortStableFunc(all, func(a, b *model.Publisher) int { return cmp.Compare(count[b.ID], count[a.ID]) })
	var out []Houses
	for i, a := range all {
		for _, b := range all[i+1:] {
			if OneHouse(a.Name, b.Name) {
				out = append(out, Houses{a, b})
			}
		}
	}
	return out
}

// OneHouse tells whether two names of publishers could be two spellings of one.
func OneHouse(a, b string) bool {
	x, y := houseKey(a), houseKey(b)
	return x != "" && (x == y || words.Close(x, y))
}

// houseKey is the name without what people leave out or write otherwise: an
// article in front, "and", spaces.
func houseKey(name string) string {
	var out []string
	for i, w := range strings.Fields(words.Fold(strings.ReplaceAll(words.Clean(name), "&", " and "))) {
		if w != "and" && !(i == 0 && w == "the") {
			out = append(out, w)
		}
	}
	return strings.Join(out, "")
}
