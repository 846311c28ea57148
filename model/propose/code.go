package propose

import (
	"cmp"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/gtin"
)

// digits is the length of a code in its normal form.
const digits = 13

// shortest and longest are how many digits the part of a code that stands for
// a publisher can have. GS1 gives prefixes of various lengths and the code does
// not say which; from memory: from 6 digits of a GTIN-12 (7 with the zero in
// front) to 10, where 9 leave room for 999 items.
const shortest, longest = 7, 10

// leastAgree is how many sleeves must agree on where the number stands in the
// code before a number is read out of one. Once could be chance.
const leastAgree = 2

// leastNumber is how many digits a number must have to be looked for in a code:
// shorter ones are in any code by chance.
const leastNumber = 3

// serial begins the codes of magazines. All issues of one bear the same 13
// digits; only the supplement tells them apart (GS1 General Specifications).
const serial = "977"

// coded is a listed pattern with a code on its sleeve.
type coded struct {
	gtin.Code
	pattern model.PatternID
	pub     model.PublisherID
	number  string
}

func (a coded) compare(b coded) int {
	return cmp.Or(strings.Compare(a.GTIN, b.GTIN), strings.Compare(a.AddOn, b.AddOn), cmp.Compare(a.pattern, b.pattern))
}

func codeOf(p *model.Pattern) (coded, bool) {
	if p.Barcode == "" {
		return coded{}, false
	}
	code, err := gtin.Parse(p.Barcode)
	return coded{code, p.ID, p.Publisher, p.Number}, err == nil
}

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

// Guess is what a code on a sleeve probably stands for, and what speaks for it.
type Guess struct {
	Pattern   model.PatternID // a pattern that bears the very code; the rest is empty then
	Publisher string          // empty: not known
	Sleeves   int             // how many listed sleeves say so,
	Of        int             // of how many whose code begins like this one
	Number    string          // empty: not known
	Agree     int             // how many sleeves have their number where it was read,
	Tried     int             // of how many that could have it there
}

// SurePublisher and SureNumber say how sure the guess is, from 0 to 1, by the
// rule of succession (Laplace): who was right in m of n cases is right in the
// next with (m+1)/(n+2). One sleeve is a reason for two thirds, ten that agree
// for more than nine tenths.
func (g Guess) SurePublisher() float64 { return succession(g.Sleeves, g.Of) }

// SureNumber: see SurePublisher.
func (g Guess) SureNumber() float64 { return succession(g.Agree, g.Tried) }

func succession(m, of int) float64 {
	if m == 0 {
		return 0
	}
	return float64(m+1) / float64(of+2)
}

// most tells whether more than half agree. What has been guessed wrong oftener
// than right is not guessed again.
func most(m, of int) bool { return 2*m > of }

// Code tells what was learned of a code: a pattern that bears it, else the
// publisher of most of the codes that begin like it, and the number that stands
// where most of theirs stand. A sleeve that turned out otherwise counts against
// a guess from the moment it is listed as what it is.
func (k *Known) Code(text string) Guess {
	code, err := gtin.Parse(text)
	if err != nil {
		return Guess{}
	}
	like, id := k.bearing(code)
	if id != 0 {
		return Guess{Pattern: id}
	}
	magazine := strings.HasPrefix(code.GTIN, serial) // its digits stand for itself, not for a publisher and an issue
	if !magazine {
		like = k.likest(code.GTIN, like)
	}
	pub, votes := leader(like)
	p := k.c.Publisher(pub)
	if p == nil || !most(votes, len(like)) {
		return Guess{} // shared, and nothing longer tells them apart
	}
	g := Guess{Publisher: p.Name, Sleeves: votes, Of: len(like)}
	if !magazine {
		g.Number, g.Agree, g.Tried = numberIn(code.GTIN, theirs(like, pub), p.Numbers)
	}
	return g
}

// likest lists the codes that tell the publisher of one: those that bear it, if
// there are any, else those with the longest beginning that is known, since two
// publishers can share a shorter one. Of these the shortest beginning that says
// no less says it with most sleeves.
func (k *Known) likest(code string, like []coded) []coded {
	n := longest
	for len(like) == 0 && n >= shortest {
		if like = k.beginning(code[:n]); len(like) == 0 {
			n--
		}
	}
	pub, votes := leader(like)
	for ; n > shortest; n-- {
		wider := k.beginning(code[:n-1])
		same := len(theirs(wider, pub))
		if len(wider)-same > len(like)-votes {
			break
		}
		like, votes = wider, same
	}
	return like
}

// bearing lists the patterns that bear the very code, and names the first of
// those with the number that it stands for. A book has one code for all its patterns, and a magazine one for
// all its issues unless the supplement is known: these stand for none.
func (k *Known) bearing(code gtin.Code) (like []coded, one model.PatternID) {
	for _, x := range k.beginning(code.GTIN) {
		if code.AddOn == "" || x.AddOn == code.AddOn {
			like = append(like, x)
		}
	}
	if len(like) == 0 && strings.HasPrefix(code.GTIN, serial) {
		return k.beginning(code.GTIN), 0 // another issue
	}
	if len(like) == 0 || strings.HasPrefix(code.GTIN, serial) && code.AddOn == "" {
		return like, 0
	}
	for _, x := range like { // a pattern can be listed twice
		if x.pub != like[0].pub || x.number != like[0].number {
			return like, 0
		}
	}
	return like, like[0].pattern
}

// beginning lists the codes that begin so.
func (k *Known) beginning(with string) []coded {
	from, _ := slices.BinarySearchFunc(k.codes, with, func(x coded, with string) int { return strings.Compare(x.GTIN, with) })
	to := from
	for to < len(k.codes) && strings.HasPrefix(k.codes[to].GTIN, with) {
		to++
	}
	return k.codes[from:to]
}

// leader is the publisher of most of the codes, of two with as many the one
// that was entered first.
func leader(like []coded) (best model.PublisherID, votes int) {
	count := map[model.PublisherID]int{}
	for _, x := range like {
		count[x.pub]++
	}
	for pub, n := range count {
		if n > votes || n == votes && pub < best {
			best, votes = pub, n
		}
	}
	return best, votes
}

func theirs(like []coded, pub model.PublisherID) []coded {
	return slices.DeleteFunc(slices.Clone(like), func(x coded) bool { return x.pub != pub })
}

// place is where in a code a number stands, with zeros in front where it is
// shorter, and the letters that are printed before it.
type place struct {
	from, to int
	prefix   string
}

// numberIn reads a number out of a code where the numbers of others stand in
// theirs. All before that place must be the same in theirs: a digit there that
// differs could belong to a longer number.
func numberIn(code string, like []coded, scheme model.Scheme) (number string, agree, tried int) {
	type numbered struct {
		code, prefix, digits string
	}
	var known []numbered
	places := map[place]bool{}
	for _, x := range like {
		n := model.ParseNumber(x.number, scheme)
		if len(n.Parts) == 0 || len(n.Parts[0]) < leastNumber {
			continue
		}
		d := n.Parts[0]
		known = append(known, numbered{x.GTIN, n.Prefix, d})
		for from := shortest - 1; from+len(d) < digits; from++ { // the check digit is part of no number
			if x.GTIN[from:from+len(d)] == d && x.GTIN[:from] == code[:from] {
				places[place{from, from + len(d), n.Prefix}] = true
			}
		}
	}
	var best place
	tied := false
	for at := range places {
		m, of := 0, 0
		for _, x := range known {
			if x.code[:at.from] != code[:at.from] {
				continue
			}
			of++
			if x.prefix == at.prefix && strings.TrimLeft(x.code[at.from:at.to], "0") == x.digits {
				m++
			}
		}
		switch {
		case m > agree:
			best, agree, tried, tied = at, m, of, false
		case m == agree:
			tied = true
		}
	}
	number = strings.TrimLeft(code[best.from:best.to], "0")
	if agree < leastAgree || tied || number == "" || !most(agree, tried) {
		return "", 0, 0
	}
	return best.prefix + number, agree, tried
}
