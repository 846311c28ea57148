package reading

import (
	"strings"
	"unicode/utf8"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// glance tells, at a fraction of what taking its number apart costs, that an
// envelope can be none of the texts looked for. What it lets pass need not be one
// of them. So a whole cupboard is gone through between two keys, and nothing has to
// be kept up to date for it.
type glance struct {
	groups [1 << 10]bool   // of digits, in the texts: by value, modulo as many
	signs  map[string]bool // ends of the texts in upper case, for numbers that hold no digit
	names  map[string]bool // ends of the texts, folded
	begins [256]bool       // with which bytes names begin; 0 for none
}

func newGlance() *glance {
	return &glance{signs: map[string]bool{}, names: map[string]bool{}}
}

// want adds a text. Its ends are what a publisher can stand before.
func (g *glance) want(text string) {
	for group := range model.DigitGroups(text) {
		g.groups[residue(group)] = true
	}
	fields := strings.Fields(text)
	for i := range fields {
		end := strings.Join(fields[i:], " ")
		g.signs[strings.ToUpper(end)] = true
		fold := words.Fold(end)
		g.names[fold], g.begins[first(fold)] = true, true
	}
}

func first(fold string) byte {
	if fold == "" {
		return 0
	}
	return fold[0]
}

// passes tells whether a pattern can be one of the texts.
func (g *glance) passes(p *model.Pattern) bool {
	return p.Number != "" && g.number(p.Number) || p.Name != "" && g.begins[begin(p.Name)] && g.names[words.Fold(p.Name)]
}

// number looks at the first group of digits: it is a part of the number in every
// scheme, and two numbers are the same only if all parts are.
func (g *glance) number(printed string) bool {
	n, digits := 0, false
	for i := range len(printed) {
		switch c := printed[i]; {
		case c >= utf8.RuneSelf: // it could be a digit
			for group := range model.DigitGroups(printed) {
				return g.groups[residue(group)]
			}
		case c >= '0' && c <= '9':
			n, digits = (10*n+int(c-'0'))%len(g.groups), true
		case digits:
			return g.groups[n]
		}
	}
	return digits && g.groups[n] || !digits && g.signs[strings.ToUpper(printed)]
}

// residue is the value of a group of digits, modulo as many as are told apart.
func residue(group string) (n int) {
	for i := range len(group) {
		n = (10*n + int(group[i]-'0')) % len(glance{}.groups)
	}
	return n
}

// begin is the first byte of a name as it is folded.
func begin(name string) byte {
	for i := range len(name) {
		switch c := name[i]; {
		case c >= 'A' && c <= 'Z':
			return c + 'a' - 'A'
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
			return c
		case c >= utf8.RuneSelf: // it can fold to anything, or join what stands before it
			return first(words.Fold(name))
		}
	}
	return 0
}
