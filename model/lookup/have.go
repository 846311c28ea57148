package lookup

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Answer says whether something is owned.
type Answer string

// The answers.
const (
	Own   Answer = "own"
	Close Answer = "close"
	None  Answer = "none"
)

// Owned is a pattern that answers a question, and why.
type Owned struct {
	Pattern model.PatternID
	Why     string
}

// mostOwned bounds a list that one reads standing in a shop.
const mostOwned = 50

// Have answers, before buying, whether what is described is owned: "harrow
// 6123 h5". A number must be there whole, with or without prefix and zeros;
// words may be beginnings.
func (x *Index) Have(query string) (Answer, []Owned) {
	q := queryTokens(query)
	if len(q) == 0 {
		return None, nil
	}
	number := slices.ContainsFunc(q, hasDigit)
	if s := x.all(q, x.wholeNumbers); s.count() > 0 {
		return x.owned(s, q, number)
	}
	if number {
		// The number may be there in another size range, or by another name.
		core := slices.DeleteFunc(slices.Clone(q), func(w string) bool { return !isNumber(w) && !x.begunByPublisher(w) })
		if s := x.all(core, x.wholeNumbers); len(core) > 0 && slices.ContainsFunc(core, isNumber) && s.count() > 0 {
			return Close, x.reasons(s, "same number, but not all that was asked for: look at the size range and the name")
		}
	}
	if s := x.all(q, x.nearWords); s.count() > 0 {
		return Close, x.reasons(s, "nearly what was asked for")
	}
	return None, nil
}

// Named lists the patterns that are called by their number, whole, and words
// that may be beginnings: "harrow 451" does not mean 4512.
func (x *Index) Named(query string) []model.PatternID {
	q := queryTokens(query)
	if len(q) == 0 {
		return nil
	}
	return x.all(q, x.wholeNumbers).list(mostOwned, nil)
}

// owned sorts out whether what all words lead to is the thing, or only like
// it: with a number it is; by name alone only when the whole name was given.
func (x *Index) owned(s set, q []string, number bool) (Answer, []Owned) {
	if number {
		return Own, x.reasons(s, "owned: same number")
	}
	exact, word := make(set, len(s)), make(set, len(s))
	for _, w := range q { // a name of these words has one of them whole
		x.equal(word, w)
	}
	for p := range s.all() {
		if !word.has(p) {
			continue
		}
		name := split(x.c.Pattern(model.PatternID(p)).Name)
		if len(name) > 0 && !slices.ContainsFunc(name, func(w string) bool { return !slices.Contains(q, w) }) {
			exact.add(p)
		}
	}
	if exact.count() > 0 {
		return Own, x.reasons(exact, "owned: same name")
	}
	return Close, x.reasons(s, "its name has these words")
}

func (x *Index) reasons(s set, why string) []Owned {
	var out []Owned
	for _, p := range s.list(mostOwned, nil) {
		out = append(out, Owned{p, why})
	}
	return out
}

// wholeNumbers matches words by their beginning and numbers only whole.
func (x *Index) wholeNumbers(s set, q string) {
	if hasDigit(q) {
		x.equal(s, q)
	} else {
		x.begins(s, q)
	}
}

// nearWords allows for a typing error in words. A number that differs by one
// digit is another pattern.
func (x *Index) nearWords(s set, q string) {
	if hasDigit(q) {
		x.equal(s, q)
	} else {
		x.near(s, q)
	}
}

func hasDigit(w string) bool { return strings.ContainsAny(w, "0123456789") }

// isNumber tells a pattern number, with or without prefix, from a size code.
func isNumber(w string) bool {
	digits := 0
	for _, r := range w {
		if r >= '0' && r <= '9' {
			digits++
		}
	}
	return digits >= 3
}

func (x *Index) begunByPublisher(w string) bool {
	for _, p := range x.c.Publishers().All() {
		for _, t := range strings.Fields(words.Fold(p.Name)) {
			if strings.HasPrefix(t, w) {
				return true
			}
		}
	}
	return false
}
