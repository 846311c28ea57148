package filing

import (
	"cmp"
	"math/big"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"example.org/tuckrow/model/words"
)

// The rule of NISO TR03-1999 written out the slow way, apart from the keys: a
// name becomes a list of things, each with a class and a value.

type slowToken struct {
	class int // 1 space, 2 sign, 3 number, 4 letter
	value *big.Int
	r     rune
}

func slowTokens(s string) []slowToken {
	var out []slowToken
	space := false
	add := func(t slowToken) {
		if space && len(out) > 0 {
			out = append(out, slowToken{class: 1})
		}
		space = false
		out = append(out, t)
	}
	inNumber := false
	for _, r := range norm.NFKD.String(strings.ToLower(norm.NFKD.String(s))) {
		spelled, special := words.Spell(r)
		switch {
		case special:
			for _, x := range spelled {
				add(slowToken{class: 4, r: x})
			}
		case unicode.IsDigit(r):
			var d big.Int
			d.SetInt64(slowDigit(r))
			if inNumber && !space && len(out) > 0 && out[len(out)-1].class == 3 {
				v := out[len(out)-1].value
				v.Mul(v, big.NewInt(10)).Add(v, &d)
			} else {
				add(slowToken{class: 3, value: &d})
			}
			inNumber = true
			continue
		case unicode.IsLetter(r):
			add(slowToken{class: 4, r: r})
		case unicode.IsSpace(r) || words.Hyphen(r):
			space = true
		case unicode.IsSymbol(r) || strings.ContainsRune("#%&*@", r):
			if n := len(out); space || n == 0 || out[n-1].class != 2 {
				add(slowToken{class: 2})
			}
		default:
			continue // other punctuation is as if it were not there
		}
		inNumber = false
	}
	return out
}

func slowDigit(r rune) int64 {
	for zero := r; ; zero-- {
		if !unicode.IsDigit(zero - 1) {
			return int64(r-zero) % 10
		}
	}
}

func slowCompare(a, b string) int {
	x, y := slowTokens(a), slowTokens(b)
	for i := 0; i < len(x) && i < len(y); i++ {
		d := cmp.Compare(x[i].class, y[i].class)
		if d == 0 && x[i].class == 3 {
			d = x[i].value.Cmp(y[i].value)
		}
		if d == 0 {
			d = cmp.Compare(x[i].r, y[i].r)
		}
		if d != 0 {
			return d
		}
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), strings.Compare(a, b))
}
