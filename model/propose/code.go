package propose

import (
	"cmp"
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// digits is the length of a GTIN-13; a GTIN-12 is one with a zero in front (GS1
// General Specifications).
const digits = 13

// shortest and longest are how many digits the part of a code that stands for
// a publisher can have. GS1 gives prefixes of various lengths and the code does
// not say which; from memory: from 6 digits of a GTIN-12 (7 with the zero in
// front) to 10, where 9 leave room for 999 items.
const shortest, longest = 7, 10

// sure is how many sleeves must agree on where the number stands in the code
// before a number is read out of one. Once could be chance.
const sure = 2

// leastNumber is how many digits a number must have to be looked for in a code:
// shorter ones are in any code by chance.
const leastNumber = 3

// coded is a listed pattern with a code on its sleeve.
type coded struct {
	code    string // 13 digits
	pattern model.PatternID
	pub     model.PublisherID
	number  string
}

func (a coded) compare(b coded) int {
	return cmp.Or(strings.Compare(a.code, b.code), cmp.Compare(a.pattern, b.pattern))
}

func codeOf(p *model.Pattern) (coded, bool) {
	if !model.IsGTIN(p.Barcode) {
		return coded{}, false
	}
	return coded{long(p.Barcode), p.ID, p.Publisher, p.Number}, true
}

// long is a code as 13 digits.
func long(code string) string { return strings.Repeat("0", max(0, digits-len(code))) + code }

func (k *Known) learn(p *model.Pattern) {
	if x, ok := codeOf(p); ok {
		i, there := slices.BinarySearchFunc(k.codes, x, coded.compare)
		if !there {
			k.codes = slices.Insert(k.codes, i, x)
		}
	}
}

func (k *Known) forget(p *model.Pattern) {
	if x, ok := codeOf(p); ok {
		if i, there := slices.BinarySearchFunc(k.codes, x, coded.compare); there {
			k.codes = slices.Delete(k.codes, i, i+1)
		}
	}
}

// Guess is what a code on a sleeve probably stands for.
type Guess struct {
	Pattern   model.PatternID // a pattern that bears the very code; the rest is empty then
	Publisher string          // empty: not known
	Sleeves   int             // how many sleeves say so
	Number    string          // empty: not known
	Agree     int             // how many sleeves have their number there
}

// Code tells what was learned of a code: a pattern that bears it, else the
// publisher of the codes that begin like it, and the number that stands where
// theirs stand.
func (k *Known) Code(code string) Guess {
	code = long(code)
	i, _ := slices.BinarySearchFunc(k.codes, code, func(x coded, code string) int { return strings.Compare(x.code, code) })
	if i < len(k.codes) && k.codes[i].code == code {
		return Guess{Pattern: k.codes[i].pattern}
	}
	// The longest beginning that is known decides: two publishers can share a
	// shorter one.
	for n := longest; n >= shortest; n-- {
		like := k.beginning(code[:n])
		if len(like) == 0 {
			continue
		}
		for _, x := range like {
			if x.pub != like[0].pub {
				return Guess{} // shared, and nothing longer tells them apart
			}
		}
		// Of these the shortest beginning that is theirs alone says most.
		for n > shortest {
			wider := k.beginning(code[:n-1])
			if slices.ContainsFunc(wider, func(x coded) bool { return x.pub != like[0].pub }) {
				break
			}
			like, n = wider, n-1
		}
		g := Guess{Sleeves: len(like)}
		if p := k.c.Publisher(like[0].pub); p != nil {
			g.Publisher = p.Name
			g.Number, g.Agree = numberIn(code, like, p.Numbers)
		}
		return g
	}
	return Guess{}
}

// beginning lists the codes that begin so.
func (k *Known) beginning(with string) []coded {
	from, _ := slices.BinarySearchFunc(k.codes, with, func(x coded, with string) int { return strings.Compare(x.code, with) })
	to := from
	for to < len(k.codes) && strings.HasPrefix(k.codes[to].code, with) {
		to++
	}
	return k.codes[from:to]
}

// numberIn reads a number out of a code where the numbers of others stand in
// theirs. All before that place must be the same in theirs: a digit there that
// differs could belong to a longer number.
func numberIn(code string, like []coded, scheme model.Scheme) (string, int) {
	type place struct {
		from, to int
		prefix   string
	}
	votes := map[place]int{}
	for _, x := range like {
		n := model.ParseNumber(x.number, scheme)
		if len(n.Parts) == 0 || len(n.Parts[0]) < leastNumber {
			continue
		}
		d := n.Parts[0]
		for from := shortest - 1; from+len(d) < digits; from++ { // the check digit is part of no number
			if x.code[from:from+len(d)] == d && x.code[:from] == code[:from] {
				votes[place{from, from + len(d), n.Prefix}]++
			}
		}
	}
	var best place
	tied := false
	for at, n := range votes {
		switch {
		case n > votes[best]:
			best, tied = at, false
		case n == votes[best]:
			tied = true
		}
	}
	number := strings.TrimLeft(code[best.from:best.to], "0")
	if votes[best] < sure || tied || number == "" {
		return "", 0
	}
	return best.prefix + number, votes[best]
}
