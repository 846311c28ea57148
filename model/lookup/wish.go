package lookup

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Wishes lists what is wanted or on the way and fits a question as Have does: a
// number whole, with or without prefix and zeros; words by their beginning.
func (x *Index) Wishes(query string) []*model.Wish {
	q := queryTokens(query)
	var out []*model.Wish
	for _, w := range x.c.Wishes().All() {
		if len(q) > 0 && fitsAll(q, wishTokens(w)) {
			out = append(out, w)
		}
	}
	return out
}

func wishTokens(w *model.Wish) []string {
	out := append(numberTokens(w.Number), split(w.Name)...)
	return append(append(out, split(w.Publisher)...), split(w.SizeRange+" "+w.Category)...)
}

func fitsAll(q, tokens []string) bool {
	for _, word := range q {
		fits := func(t string) bool { return t == word || !hasDigit(word) && strings.HasPrefix(t, word) }
		if !slices.ContainsFunc(tokens, fits) {
			return false
		}
	}
	return true
}

// Granted gives the pattern that a wish was for, once it is listed, or nil: the
// same number of the same publisher, or the same name where no number is known.
func (x *Index) Granted(w *model.Wish) *model.Pattern {
	for _, kin := range x.Kin(w.Entry()) {
		byName := kin.Tie == NearName && w.Number == "" && words.Fold(kin.Pattern.Name) == words.Fold(w.Name)
		if kin.Tie.Owned() || byName {
			return kin.Pattern
		}
	}
	return nil
}
