package lookup

import (
	"iter"
	"math/bits"
	"slices"
	"sort"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Found is what a search gave.
type Found struct {
	Patterns []model.PatternID // the first of them, best first
	Total    int               // how many there are in all
	Guessed  bool              // only with a typing error allowed for
}

// Find looks up what was typed. Every word must be in the pattern, whole or as
// a beginning; those with all words whole come first. When nothing fits, words
// that differ by a small typing error count too. It gives at most limit.
func (x *Index) Find(query string, limit int) Found {
	q := queryTokens(query)
	if len(q) == 0 {
		return Found{}
	}
	whole, begun := x.all(q, x.equal), x.all(q, x.begins)
	f := Found{Total: begun.count(), Patterns: begun.list(limit, whole)}
	if f.Total == 0 {
		near := x.all(q, x.near)
		f = Found{Total: near.count(), Patterns: near.list(limit, nil), Guessed: true}
	}
	return f
}

// queryTokens takes what was typed apart like numberTokens does, so that zeros
// in front make no difference.
func queryTokens(query string) []string {
	var out []string
	for _, w := range split(words.Clean(query)) {
		if strings.Trim(w, "0123456789") == "" {
			if w = strings.TrimLeft(w, "0"); w == "" {
				w = "0"
			}
		}
		out = append(out, w)
	}
	return out
}

// all gives the patterns that every word leads to.
func (x *Index) all(query []string, matches func(set, string)) set {
	size := int(x.c.Counters().Pattern)/64 + 1
	total := make(set, size)
	for i, q := range query {
		s := make(set, size)
		matches(s, q)
		if i == 0 {
			total = s
			continue
		}
		for j := range total {
			total[j] &= s[j]
		}
	}
	return total
}

// equal adds the patterns that have the word.
func (x *Index) equal(s set, q string) {
	if i, ok := slices.BinarySearch(x.vocab, q); ok {
		x.add(s, i)
	}
	x.addFresh(s, func(w string) bool { return w == q })
}

// begins adds the patterns that have a word beginning with it.
func (x *Index) begins(s set, q string) {
	for i := sort.SearchStrings(x.vocab, q); i < len(x.vocab) && strings.HasPrefix(x.vocab[i], q); i++ {
		x.add(s, i)
	}
	x.addFresh(s, func(w string) bool { return strings.HasPrefix(w, q) })
}

// near adds the patterns that have the word, a beginning, or one that a small
// typing error makes of it.
func (x *Index) near(s set, q string) {
	x.begins(s, q)
	for i, w := range x.vocab {
		if words.Close(w, q) {
			x.add(s, i)
		}
	}
	x.addFresh(s, func(w string) bool { return words.Close(w, q) })
}

// add adds what a token leads to, but for patterns that have changed since.
func (x *Index) add(s set, token int) {
	for _, p := range x.posts[token] {
		if _, changed := x.fresh[p]; !changed || len(x.fresh) == 0 {
			s.add(p)
		}
	}
}

func (x *Index) addFresh(s set, ok func(string) bool) {
	for p, tokens := range x.fresh {
		if slices.ContainsFunc(tokens, ok) {
			s.add(p)
		}
	}
}

// set is a set of patterns by number, a bit each.
type set []uint64

func (s set) add(p uint32) { s[p/64] |= 1 << (p % 64) }

func (s set) has(p uint32) bool { return int(p/64) < len(s) && s[p/64]&(1<<(p%64)) != 0 }

func (s set) count() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

func (s set) all() iter.Seq[uint32] {
	return func(yield func(uint32) bool) {
		for i, w := range s {
			for ; w != 0; w &= w - 1 {
				if !yield(uint32(i*64 + bits.TrailingZeros64(w))) {
					return
				}
			}
		}
	}
}

// list gives at most limit of the patterns, those in first before the others.
func (s set) list(limit int, first set) []model.PatternID {
	var out []model.PatternID
	for p := range first.all() {
		if len(out) < limit && s.has(p) {
			out = append(out, model.PatternID(p))
		}
	}
	for p := range s.all() {
		if len(out) >= limit {
			break
		}
		if !first.has(p) {
			out = append(out, model.PatternID(p))
		}
	}
	return out
}
