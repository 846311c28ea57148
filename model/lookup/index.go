// Package lookup finds patterns by what people remember of them: a number with
// or without its prefix and zeros, words of the name, the beginning of a
// publisher's name, a category, with a small typing error if need be; and it
// finds what a new sleeve could be a duplicate of.
//
// The usual way in is [New] on a collection and [Index.Next] after each
// change; then [Index.Find] while somebody types, [Index.Kin] at intake and
// [Index.Have] before buying.
//
// Promised: an index that was taken along through every change answers like one
// made afresh. It is not altered once made, and safe for use by several
// goroutines.
package lookup

import (
	"maps"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/gtin"
	"example.org/tuckrow/model/words"
)

// mostFresh is how many patterns may wait outside the sorted vocabulary, to be
// gone through one by one. Nobody types as many in an evening, and an import
// builds the index anew.
const mostFresh = 4096

// Index is what words lead to which patterns.
type Index struct {
	c      *model.Collection
	vocab  []string            // every token, sorted
	posts  [][]uint32          // patterns by token
	fresh  map[uint32][]string // tokens of patterns that vocab does not have, or not as they are now
	copies grown[model.PatternID, []model.Accession]
	same   grown[string, []model.PatternID] // by publisher and number, or name where there is none
}

// grown is a large map that indices share, and what is otherwise in this one.
type grown[K comparable, V any] struct{ shared, own map[K]V }

func (g grown[K, V]) at(k K) V {
	if v, ok := g.own[k]; ok {
		return v
	}
	return g.shared[k]
}

// next is a map to which more can be added.
func (g grown[K, V]) next() grown[K, V] {
	own := maps.Clone(g.own)
	if own == nil {
		own = map[K]V{}
	}
	return grown[K, V]{g.shared, own}
}

// New makes the index of a collection.
func New(c *model.Collection) *Index {
	copies := make(map[model.PatternID][]model.Accession, c.Patterns().Len())
	same := make(map[string][]model.PatternID, c.Patterns().Len())
	x := &Index{c: c}
	x.copies.shared, x.same.shared = copies, same
	for _, cp := range c.Copies().All() {
		copies[cp.Pattern] = append(copies[cp.Pattern], cp.Accession)
	}
	lists := map[string][]uint32{}
	t := tokens{c: c}
	for id, p := range c.Patterns().All() {
		for _, w := range t.of(p) {
			lists[w] = append(lists[w], id)
		}
		if key := x.key(p); key != "" {
			same[key] = append(same[key], p.ID)
		}
	}
	x.vocab = make([]string, 0, len(lists))
	for w := range lists {
		x.vocab = append(x.vocab, w)
	}
	slices.Sort(x.vocab)
	x.posts = make([][]uint32, len(x.vocab))
	for i, w := range x.vocab {
		x.posts[i] = lists[w]
	}
	return x
}

// Next is the index after a change. It answers what New would of the new
// collection, for little where the change was little.
func (x *Index) Next(commit model.Commit) *Index {
	if len(commit.Delta) > mostFresh {
		return New(commit.Collection)
	}
	next := &Index{commit.Collection, x.vocab, x.posts, maps.Clone(x.fresh), x.copies.next(), x.same.next()}
	if next.fresh == nil {
		next.fresh = map[uint32][]string{}
	}
	t := tokens{c: next.c}
	for _, e := range commit.Delta {
		switch e.Kind {
		case model.KindPublisher, model.KindCategory:
			if e.Before != nil { // its name may be in any pattern
				return New(next.c)
			}
		case model.KindPattern:
			next.fresh[e.ID] = nil
			if p, ok := e.After.(*model.Pattern); ok {
				next.fresh[e.ID] = t.of(p)
				next.link(p)
			}
		case model.KindCopy:
			next.moved(e)
		}
	}
	if max(len(next.fresh), len(next.copies.own), len(next.same.own)) > mostFresh {
		return New(next.c)
	}
	return next
}

// moved notes a copy that has come, gone or become one of another pattern.
func (x *Index) moved(e model.Edit) {
	was, had := e.Before.(*model.Copy)
	is, has := e.After.(*model.Copy)
	if had && has && was.Pattern == is.Pattern {
		return
	}
	if had {
		x.copies.own[was.Pattern] = slices.DeleteFunc(slices.Clone(x.copies.at(was.Pattern)), func(a model.Accession) bool { return a == was.Accession })
	}
	if has {
		list := append(slices.Clone(x.copies.at(is.Pattern)), is.Accession)
		slices.Sort(list)
		x.copies.own[is.Pattern] = list
	}
}

// link notes a pattern under its key. A link that a later
// change makes untrue is passed over when it is followed.
func (x *Index) link(p *model.Pattern) {
	if key := x.key(p); key != "" && !slices.Contains(x.same.at(key), p.ID) {
		x.same.own[key] = append(slices.Clone(x.same.at(key)), p.ID)
	}
}

// key is what a pattern is noted under.
func (x *Index) key(p *model.Pattern) string {
	return listedKey(p.Publisher, model.ParseNumber(p.Number, x.c.Publisher(p.Publisher).Numbers), p.Name)
}

func sameKey(pub model.PublisherID, n model.Number) string {
	if n.Empty() {
		return ""
	}
	return string(rune(pub)) + "\x1f" + n.Key()
}

// Copies lists the copies of a pattern in the order of arrival. It is shared:
// do not alter it.
func (x *Index) Copies(p model.PatternID) []model.Accession { return x.copies.at(p) }

// tokens takes patterns apart into the words they are found by.
type tokens struct {
	c          *model.Collection
	publishers map[model.PublisherID][]string
	categories map[model.CategoryID][]string
}

// of lists the tokens of a pattern, each once.
func (t *tokens) of(p *model.Pattern) []string {
	out := t.all(p)
	slices.Sort(out)
	return slices.Compact(out)
}

// all lists the tokens of a pattern as they come.
func (t *tokens) all(p *model.Pattern) []string {
	if t.publishers == nil {
		t.publishers, t.categories = map[model.PublisherID][]string{}, map[model.CategoryID][]string{}
	}
	pub, ok := t.publishers[p.Publisher]
	if !ok {
		house := t.c.Publisher(p.Publisher)
		pub = split(house.Name + " " + strings.Join(house.Spellings, " "))
		t.publishers[p.Publisher] = pub
	}
	cat, ok := t.categories[p.Category]
	if !ok && p.Category != 0 {
		cat = split(t.c.Category(p.Category).Name)
		t.categories[p.Category] = cat
	}
	out := append(numberTokens(p.Number), split(p.Name)...)
	out = append(append(out, pub...), cat...)
	out = append(out, split(p.SizeRange)...)
	out = append(out, codeTokens(p.Barcode)...)
	for _, tag := range p.Tags {
		out = append(out, split(tag)...)
	}
	return out
}

func split(s string) []string { return strings.Fields(words.Fold(s)) }

// numberTokens are the ways in which people write a number: "K-0123 H5" is
// found by k0123, k123, 123, 0123 and h5.
func numberTokens(number string) []string {
	if number == "" {
		return nil
	}
	out := split(number)
	n := model.ParseNumber(number, model.Consecutive)
	if len(n.Parts) > 0 {
		first := n.Parts[0]
		out = append(out, first, words.Fold(n.Prefix+first+n.Suffix), words.Fold(first+n.Suffix))
		out = append(out, words.Fold(n.Prefix+first))
		out = append(out, n.Parts[1:]...)
	}
	return append(out, split(n.Size)...)
}

// codeTokens are the ways in which one code is printed and scanned, without
// zeros in front, as a query is taken.
func codeTokens(barcode string) []string {
	if barcode == "" {
		return nil
	}
	out := []string{words.Fold(barcode)}
	code, err := gtin.Parse(barcode)
	if err != nil {
		return out
	}
	out = append(out, strings.TrimLeft(code.GTIN, "0"))
	if short, ok := gtin.CompressE(code.GTIN[1:]); ok && code.GTIN[0] == '0' {
		out = append(out, strings.TrimLeft(short, "0"))
	}
	return out
}
