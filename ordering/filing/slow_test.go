package filing

import (
	"cmp"
	"math/big"
	"regexp"
	"strings"

	"golang.org/x/text/unicode/norm"
)

// The rule of NISO TR03-1999 written out the slow way, apart from the keys and
// from the tables they use: patterns cut a name into things, each with a class
// and a value.

type slowToken struct {
	class int // 1 space, 2 sign, 3 number, 4 letter
	group int // of a sign
	value *big.Int
	r     string
}

var (
	slowSpelled = strings.NewReplacer("ß", "ss", "æ", "ae", "œ", "oe", "ø", "o", "đ", "d", "ð", "d", "ł", "l", "þ", "th", "ı", "i", "ħ", "h", "ŧ", "t", "ŋ", "n", "ς", "σ", "\u00b4", "'")
	// What is as if it were not there: punctuation but for the signs below,
	// marks that are accents, apostrophes however typed, characters not seen.
	slowNothing = regexp.MustCompile("[\\p{Cc}\\p{Cf}\\p{Co}\\p{Cn}\\x{2b9}-\\x{2bf}`]|\\p{Me}")
	slowDash    = regexp.MustCompile(`[\p{Pd}\p{Z}\s/\\\x{2044}\x{2212}\x{2215}]+`)
	slowMark    = regexp.MustCompile(`[#%&*@§¶†‡‰]`)
	slowMoney   = regexp.MustCompile(`\p{Sc}`)
	slowSymbol  = regexp.MustCompile(`\p{S}`)
	slowDigit   = regexp.MustCompile(`\p{Nd}`)
	slowLetter  = regexp.MustCompile(`[\p{L}\p{Nl}\p{No}\p{Mc}]`)
	slowMn      = regexp.MustCompile(`\p{Mn}`)
	slowShared  = regexp.MustCompile(`\p{Inherited}`) // accents belong to no script
)

func slowTokens(s string) []slowToken {
	s = slowSpelled.Replace(s)
	s = norm.NFKD.String(strings.ToLower(norm.NFKD.String(s)))
	s = slowDash.ReplaceAllString(slowNothing.ReplaceAllString(slowSpelled.Replace(s), ""), " ")
	var out []slowToken
	for _, r := range strings.Trim(s, " ") {
		c, last := string(r), slowToken{}
		if len(out) > 0 {
			last = out[len(out)-1]
		}
		switch group := slowGroup(c); {
		case c == " ":
			if last.class != 1 && last.class != 0 {
				out = append(out, slowToken{class: 1})
			}
		case group > 0:
			if last.class != 2 {
				out = append(out, slowToken{class: 2, group: group, r: c})
			}
		case slowDigit.MatchString(c):
			d := big.NewInt(int64(strings.Index("0123456789", slowASCII(r))))
			if last.class == 3 {
				d.Add(d, new(big.Int).Mul(last.value, big.NewInt(10)))
				out = out[:len(out)-1]
			}
			out = append(out, slowToken{class: 3, value: d})
		case slowLetter.MatchString(c), slowMn.MatchString(c) && slowVowel(c):
			out = append(out, slowToken{class: 4, r: c})
		}
	}
	if n := len(out); n > 0 && out[n-1].class == 1 {
		out = out[:n-1]
	}
	return out
}

func slowGroup(c string) int {
	switch {
	case slowMark.MatchString(c):
		return 1
	case slowMoney.MatchString(c):
		return 3
	case slowSymbol.MatchString(c):
		return 2
	}
	return 0
}

// slowASCII finds a digit's value by counting the digits in front of it.
func slowASCII(r rune) string {
	n := 0
	for slowDigit.MatchString(string(r - rune(n) - 1)) {
		n++
	}
	return string(rune('0' + n%10))
}

func slowVowel(c string) bool {
	ccc := norm.NFD.PropertiesString(c).CCC()
	return !slowShared.MatchString(c) && (ccc == 0 || ccc == 103 || ccc == 118)
}

func slowCompare(a, b string) int {
	x, y := slowTokens(a), slowTokens(b)
	for i := 0; i < len(x) && i < len(y); i++ {
		d := cmp.Or(cmp.Compare(x[i].class, y[i].class), cmp.Compare(x[i].group, y[i].group))
		if d == 0 && x[i].class == 3 {
			d = x[i].value.Cmp(y[i].value)
		}
		if d = cmp.Or(d, strings.Compare(x[i].r, y[i].r)); d != 0 {
			return d
		}
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}
