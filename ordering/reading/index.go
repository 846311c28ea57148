package reading

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// quality says how well a reading fits a copy, the best first.
type quality int

const (
	byNumber    quality = iota
	byDigits            // the letter prefix was not read
	byAccession         // a bare number that no pattern bears
	byName
)

// match is a copy that a reading could be.
type match struct {
	copy model.Accession
	how  quality
}

// index finds copies by what is on their envelopes.
type index struct {
	c    *model.Collection
	keys map[string][]model.Accession
	has  func(model.Accession) bool
}

var schemes = []model.Scheme{model.Consecutive, model.PrefixFirst, model.Issue, model.BookPage, model.Unnumbered}

func schemeOf(c *model.Collection, p *model.Pattern) model.Scheme {
	if s := c.Publisher(p.Publisher).Numbers; s != "" {
		return s
	}
	return model.Consecutive
}

func numberKey(s model.Scheme, key string) string { return string(s) + "\x00" + key }
func nameKey(name string) string                  { return "name\x00" + words.Fold(name) }

// withoutPrefix is a number's key as if its letters in front were not there.
func withoutPrefix(n model.Number) string {
	n.Prefix = ""
	return n.Key()
}

// newIndex makes an index for about so many copies, each under its number and
// its name.
func newIndex(c *model.Collection, copies int) *index {
	x := &index{c: c, keys: make(map[string][]model.Accession, 2*copies)}
	x.has = func(a model.Accession) bool { return c.Copy(a) != nil }
	return x
}

func (x *index) add(a model.Accession) {
	p := x.c.PatternOf(a)
	put := func(key string) { x.keys[key] = append(x.keys[key], a) }
	if p.Number != "" {
		s := schemeOf(x.c, p)
		n := model.ParseNumber(p.Number, s)
		put(numberKey(s, n.Key()))
		if n.Prefix != "" && len(n.Parts) > 0 {
			put("digits\x00" + numberKey(s, withoutPrefix(n)))
		}
	}
	if p.Name != "" {
		put(nameKey(p.Name))
	}
}

// accession reads "#412" and "412"; sure says that it can be nothing else.
func accession(text string) (a model.Accession, sure, ok bool) {
	rest, sure := strings.CutPrefix(text, "#")
	n, err := strconv.ParseUint(strings.TrimSpace(rest), 10, 32)
	return model.Accession(n), sure, err == nil && n > 0
}

// find lists the copies in the index that a text could be, each once.
func (x *index) find(text string) []match {
	var out []match
	seen := map[model.Accession]bool{}
	put := func(a model.Accession, how quality) {
		if !seen[a] {
			seen[a] = true
			out = append(out, match{a, how})
		}
	}
	a, sure, isNumber := accession(text)
	if !sure {
		x.findPrinted(text, put)
	}
	if isNumber && x.has(a) {
		put(a, byAccession)
	}
	if !sure {
		for _, a := range x.keys[nameKey(text)] {
			put(a, byName)
		}
	}
	return out
}

// findPrinted takes a text apart into the beginning of a publisher and what is
// printed behind it, in every way, and by every scheme.
func (x *index) findPrinted(text string, put func(model.Accession, quality)) {
	fields := strings.Fields(text)
	for how := range byDigits + 1 {
		for i := range fields {
			front, rest := words.Fold(strings.Join(fields[:i], " ")), strings.Join(fields[i:], " ")
			for _, s := range schemes {
				n := model.ParseNumber(rest, s)
				key := numberKey(s, n.Key())
				if how == byDigits {
					key = "digits\x00" + key
				}
				for _, a := range x.keys[key] {
					if x.agrees(a, front, n) {
						put(a, how)
					}
				}
			}
			for _, a := range x.keys[nameKey(rest)] {
				if i > 0 && x.agrees(a, front, model.Number{}) {
					put(a, byName)
				}
			}
		}
	}
}

// agrees tells whether the publisher of a copy begins as read, and whether what
// was read behind its number is its size range or the beginning of its name.
func (x *index) agrees(a model.Accession, front string, read model.Number) bool {
	p := x.c.PatternOf(a)
	if !strings.HasPrefix(words.Fold(x.c.Publisher(p.Publisher).Name), front) {
		return false
	}
	if read.Size == "" {
		return true
	}
	size := words.Fold(read.Size)
	return model.ParseNumber(p.Number, schemeOf(x.c, p)).Size == read.Size || words.Fold(p.SizeRange) == size ||
		strings.HasPrefix(words.Fold(p.Name), size)
}
