// Package propose learns from what is listed what an entry that is being typed
// will probably say: its category from the words of its name, its publisher
// and number from the code on its sleeve. It also keeps count of what is used
// how often, so that first letters lead to the likeliest.
//
// The usual way in is [New] on a collection and [Known.Follow] after each
// change; then [Known.Categories] while a name is typed, and [Known.Code] when
// a sleeve was scanned.
//
// Promised: a Known that has followed every change answers like one made
// afresh; asking for a category costs the same however much is listed. What is
// proposed is never more than a proposal: the caller takes it or leaves it. A
// Known is for one goroutine at a time.
package propose

import (
	"cmp"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// Known is what was learned from a collection.
type Known struct {
	c          *model.Collection
	words      map[string]tally // of names, by category
	publishers map[model.PublisherID]int
	categories map[model.CategoryID]int
	batches    map[model.BatchID]int // copies
	codes      []coded               // sorted
}

// tally is how many patterns with a word are in which category. Few words are
// in more than a handful.
type tally []struct {
	category model.CategoryID
	n        int
}

// New learns from a collection.
func New(c *model.Collection) *Known {
	k := &Known{c: c, words: map[string]tally{}, publishers: map[model.PublisherID]int{},
		categories: map[model.CategoryID]int{}, batches: map[model.BatchID]int{}}
	for _, p := range c.Patterns().All() {
		k.count(p, 1)
		if code, ok := codeOf(p); ok {
			k.codes = append(k.codes, code)
		}
	}
	slices.SortFunc(k.codes, coded.compare)
	for _, cp := range c.Copies().All() {
		k.batches[cp.Batch]++
	}
	return k
}

// Follow takes a change along.
func (k *Known) Follow(commit model.Commit) {
	k.c = commit.Collection
	for _, e := range commit.Delta {
		switch e.Kind {
		case model.KindPattern:
			if was, ok := e.Before.(*model.Pattern); ok {
				k.count(was, -1)
				k.forget(was)
			}
			if is, ok := e.After.(*model.Pattern); ok {
				k.count(is, 1)
				k.learn(is)
			}
		case model.KindCopy:
			if was, ok := e.Before.(*model.Copy); ok {
				k.batches[was.Batch]--
			}
			if is, ok := e.After.(*model.Copy); ok {
				k.batches[is.Batch]++
			}
		}
	}
}

// count adds a pattern to the counts, or with -1 takes it out.
func (k *Known) count(p *model.Pattern, by int) {
	k.publishers[p.Publisher] += by
	k.categories[p.Category] += by
	if p.Category == 0 {
		return
	}
	for w := range strings.FieldsSeq(words.Fold(p.Name)) {
		t := k.words[w]
		i := slices.IndexFunc(t, func(x struct {
			category model.CategoryID
			n        int
		}) bool {
			return x.category == p.Category
		})
		if i < 0 {
			t = append(t, struct {
				category model.CategoryID
				n        int
			}{category: p.Category})
			i = len(t) - 1
		}
		t[i].n += by
		k.words[w] = t
	}
}

// Publisher is how many patterns of a publisher are listed.
func (k *Known) Publisher(id model.PublisherID) int { return k.publishers[id] }

// Category is how many patterns of a category are listed.
func (k *Known) Category(id model.CategoryID) int { return k.categories[id] }

// Batch is how many copies of a batch are listed.
func (k *Known) Batch(id model.BatchID) int { return k.batches[id] }

// Proposal is a category and how much speaks for it: 1 for one word that was
// always in it, more for more words.
type Proposal struct {
	Category string
	Score    float64
}

// Least is the score from which a category is worth proposing. Our choice, no
// source: half of what one word gives that is known well and always in it.
const Least = 0.4

// byTitle is what a word of the category's own name counts, where the owner
// has not used it otherwise yet. Our choice, no source.
const byTitle = 0.8

// Categories gives the categories that the words of a name speak for, the
// likeliest first. A word speaks by the share of its patterns that are in a
// category, squared, so that one that is always in the same outweighs several
// that are anywhere; and the less, the less often it was met.
func (k *Known) Categories(name string) []Proposal {
	score := map[model.CategoryID]float64{}
	for w := range strings.FieldsSeq(words.Fold(name)) {
		total := 0
		for _, x := range k.words[w] {
			total += x.n
		}
		for _, x := range k.words[w] {
			if x.n > 0 {
				share := float64(x.n) / float64(total)
				score[x.category] += share * share * float64(total) / float64(total+1)
			}
		}
		for _, c := range k.titled(w) {
			score[c] += byTitle / float64(total+1)
		}
	}
	out := make([]Proposal, 0, len(score))
	for id, s := range score {
		if c := k.c.Category(id); c != nil {
			out = append(out, Proposal{c.Name, s})
		}
	}
	slices.SortFunc(out, func(a, b Proposal) int {
		return cmp.Or(cmp.Compare(b.Score, a.Score), strings.Compare(a.Category, b.Category))
	})
	return out
}

// titled lists the categories whose own name has the word, in the singular or
// in the plural.
func (k *Known) titled(w string) []model.CategoryID {
	stem := words.Singular(w)
	if len(stem) < 3 {
		return nil
	}
	var out []model.CategoryID
	for _, c := range k.c.Categories().All() {
		for t := range strings.FieldsSeq(words.Fold(c.Name)) {
			if words.Singular(t) == stem {
				out = append(out, c.ID)
				break
			}
		}
	}
	return out
}
