package lookup

import (
	"slices"
	"strings"
	"unicode/utf8"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Find looks up one thing, as New and Index.Find do, without making an index:
// for who asks once and is done, it goes through the patterns. It gives at most
// limit, and the copies of each in the order of arrival.
func Find(c *model.Collection, query string, limit int) (Found, map[model.PatternID][]model.Accession) {
	q := queryTokens(query)
	if len(q) == 0 {
		return Found{}, nil
	}
	t := tokens{c: c}
	begun := t.those(q, t.may, strings.HasPrefix)
	whole := t.those(q, func(p *model.Pattern, _ string) bool { return begun.has(uint32(p.ID)) }, func(has, w string) bool { return has == w })
	f := Found{Total: begun.count(), Patterns: begun.list(limit, whole)}
	if f.Total == 0 {
		near := t.those(q, func(*model.Pattern, string) bool { return true }, nearly())
		f = Found{Total: near.count(), Patterns: near.list(limit, nil), Guessed: true}
	}
	copies := make(map[model.PatternID][]model.Accession, len(f.Patterns))
	for _, p := range f.Patterns {
		copies[p] = nil
	}
	for _, cp := range c.Copies().All() {
		if list, ok := copies[cp.Pattern]; ok {
			copies[cp.Pattern] = append(list, cp.Accession)
		}
	}
	return f, copies
}

// those are the patterns that have, for each word, a token that fits it; it
// looks only into those that may.
func (t *tokens) those(query []string, may func(*model.Pattern, string) bool, fits func(has, w string) bool) set {
	found := make(set, int(t.c.Counters().Pattern)/64+1)
	for id, p := range t.c.Patterns().All() {
		if slices.ContainsFunc(query, func(w string) bool { return !may(p, w) }) {
			continue
		}
		all := t.all(p)
		lacks := func(w string) bool {
			return !slices.ContainsFunc(all, func(has string) bool { return fits(has, w) })
		}
		if !slices.ContainsFunc(query, lacks) {
			found.add(id)
		}
	}
	return found
}

// nearly tells whether a token begins with a word or a small typing error makes
// the one of the other. Tokens come again and again, so it remembers.
func nearly() func(has, w string) bool {
	known := map[[2]string]bool{}
	return func(has, w string) bool {
		fits, ok := known[[2]string{has, w}]
		if !ok {
			fits = strings.HasPrefix(has, w) || words.Close(has, w)
			known[[2]string{has, w}] = fits
		}
		return fits
	}
}

// may tells by a glance whether a pattern could have a token that begins with a
// word. What it says no to has none.
func (t *tokens) may(p *model.Pattern, w string) bool {
	house := t.c.Publisher(p.Publisher)
	if inOrder(p.Name, w) || inOrder(house.Name, w) || inOrder(p.SizeRange, w) || among(p.Number, w) || among(p.Barcode, w) {
		return true
	}
	if p.Barcode != "" && strings.Trim(w, "0123456789") == "" {
		return true // the code may be printed in another way
	}
	if p.Category != 0 && inOrder(t.c.Category(p.Category).Name, w) {
		return true
	}
	in := func(text string) bool { return inOrder(text, w) }
	return slices.ContainsFunc(house.Spellings, in) || slices.ContainsFunc(p.Tags, in)
}

// inOrder tells whether the letters of a folded word come one after another in
// a text. Folding plain ASCII only leaves signs out and makes letters small; of
// any other text it says yes.
func inOrder(text, w string) bool {
	for i := range len(text) {
		c := text[i]
		if c >= utf8.RuneSelf {
			return true
		}
		if w != "" && lower(c) == w[0] {
			w = w[1:]
		}
	}
	return w == ""
}

// among is inOrder whatever the order: parts of numbers are put together anew.
func among(text, w string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return true
		}
	}
	for i := range len(w) {
		if !strings.ContainsRune(text, rune(w[i])) && !strings.ContainsRune(text, rune(upper(w[i]))) {
			return false
		}
	}
	return true
}

func lower(c byte) byte {
	if 'A' <= c && c <= 'Z' {
		c += 'a' - 'A'
	}
	return c
}

func upper(c byte) byte {
	if 'a' <= c && c <= 'z' {
		c -= 'a' - 'A'
	}
	return c
}
