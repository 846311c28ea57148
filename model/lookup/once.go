package lookup

import (
	"bytes"
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
	begun := newAsked(c, q, 0, func(has []byte, w int) bool { return bytes.HasPrefix(has, []byte(q[w])) })
	whole := newAsked(c, q, 0, func(has []byte, w int) bool { return string(has) == q[w] })
	all := begun.those()
	f := Found{Total: all.count()}
	if f.Total > 0 {
		f.Patterns = all.list(limit, whole.among(all))
	} else {
		near := newAsked(c, q, mostErrors, nearly(q)).those()
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

// mostErrors is how many letters of a word a small typing error, as words.Close
// allows it, can make others of or leave out.
const mostErrors = 2

// nearly tells whether a token begins with a word or a small typing error makes
// the one of the other. Tokens come again and again, so it remembers.
func nearly(query []string) func(has []byte, w int) bool {
	known := map[string][]bool{}
	return func(has []byte, w int) bool {
		fits, ok := known[string(has)]
		if !ok {
			token := string(has)
			fits = make([]bool, len(query))
			for i, w := range query {
				fits[i] = strings.HasPrefix(token, w) || words.Close(token, w)
			}
			known[token] = fits
		}
		return fits[w]
	}
}

// asked is what was asked for, to be compared with one pattern after another.
// Nearly none has it, so their tokens are not made, but looked at as they stand
// in the texts.
type asked struct {
	c          *model.Collection
	query      []string
	errors     int                            // letters of a word that a token may lack
	fits       func(token []byte, w int) bool // whether a token is what is meant by word w
	publishers map[model.PublisherID][]bool   // which words a publisher's names have
	categories map[model.CategoryID][]bool
	has        []bool // which words the pattern has that is being looked at
	token      []byte
}

func newAsked(c *model.Collection, query []string, errors int, fits func([]byte, int) bool) *asked {
	return &asked{c: c, query: query, errors: errors, fits: fits, has: make([]bool, len(query)),
		publishers: map[model.PublisherID][]bool{}, categories: map[model.CategoryID][]bool{}}
}

// those are the patterns that have, for each word, a token that fits it.
func (a *asked) those() set {
	found := make(set, int(a.c.Counters().Pattern)/64+1)
	for id, p := range a.c.Patterns().All() {
		if a.by(p) {
			found.add(id)
		}
	}
	return found
}

// among are those of some patterns.
func (a *asked) among(some set) set {
	found := make(set, len(some))
	for id := range some.all() {
		if a.by(a.c.Pattern(model.PatternID(id))) {
			found.add(id)
		}
	}
	return found
}

// by tells whether a pattern has, for each word, a token that fits it.
func (a *asked) by(p *model.Pattern) bool {
	house, ok := a.publishers[p.Publisher]
	if !ok {
		of := a.c.Publisher(p.Publisher)
		house = a.of(append([]string{of.Name}, of.Spellings...))
		a.publishers[p.Publisher] = house
	}
	category, ok := a.categories[p.Category]
	if !ok && p.Category != 0 {
		category = a.of([]string{a.c.Category(p.Category).Name})
		a.categories[p.Category] = category
	}
	copy(a.has, house)
	for i, has := range category {
		a.has[i] = a.has[i] || has
	}
	a.look(p.Name)
	a.look(p.SizeRange)
	for _, tag := range p.Tags {
		a.look(tag)
	}
	for i, w := range a.query {
		if !a.has[i] && !a.numbered(p.Number, i, w) && !a.coded(p.Barcode, i, w) {
			return false
		}
	}
	return true
}

// of tells which words some texts have.
func (a *asked) of(texts []string) []bool {
	clear(a.has)
	for _, text := range texts {
		a.look(text)
	}
	return slices.Clone(a.has)
}

// look notes which words a text has: it goes through what split would give of
// it. Folding plain ASCII makes letters small, parts it where words.Fold does
// and leaves out other signs; any other text is folded.
func (a *asked) look(text string) {
	a.token = a.token[:0]
	for i := range len(text) {
		switch c := text[i]; {
		case c >= utf8.RuneSelf:
			for _, w := range split(text) {
				a.take([]byte(w))
			}
			return
		case c == ' ', c == '-', c == '/', c == '\\', c >= '\t' && c <= '\r':
			a.take(a.token)
			a.token = a.token[:0]
		case 'A' <= c && c <= 'Z':
			a.token = append(a.token, c+'a'-'A')
		case 'a' <= c && c <= 'z', '0' <= c && c <= '9':
			a.token = append(a.token, c)
		}
	}
	a.take(a.token)
}

func (a *asked) take(token []byte) {
	if len(token) == 0 {
		return
	}
	for i, has := range a.has {
		a.has[i] = has || a.fits(token, i)
	}
}

func (a *asked) any(tokens []string, w int) bool {
	return slices.ContainsFunc(tokens, func(token string) bool { return a.fits([]byte(token), w) })
}

// numbered tells whether a number has a token that fits a word. Its parts are
// put together anew, but no letters come in: so all of the word must be there,
// in whatever order.
func (a *asked) numbered(number string, i int, w string) bool {
	lacks := 0
	for k := range len(w) {
		if !strings.ContainsRune(number, rune(w[k])) && !strings.ContainsRune(number, rune(upper(w[k]))) {
			lacks++
		}
	}
	return number != "" && (lacks <= a.errors || !ascii(number) || !ascii(w)) && a.any(numberTokens(number), i)
}

// coded does the same for a barcode. What is not as it stands there is digits
// alone.
func (a *asked) coded(barcode string, i int, w string) bool {
	if barcode == "" {
		return false
	}
	digits := 0
	for k := range len(w) {
		if '0' <= w[k] && w[k] <= '9' {
			digits++
		}
	}
	if len(w)-digits > a.errors && ascii(w) {
		return a.any([]string{words.Fold(barcode)}, i)
	}
	return a.any(codeTokens(barcode), i)
}

func ascii(text string) bool {
	for i := range len(text) {
		if text[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

func upper(c byte) byte {
	if 'a' <= c && c <= 'z' {
		c -= 'a' - 'A'
	}
	return c
}
