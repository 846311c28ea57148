// Package words cleans and folds text: what goes into a field, and what two
// spellings of one thing share.
//
// The usual way in is [Clean] for everything that was typed or imported,
// [Fold] to look things up, and [Close] to allow for a typing error.
//
// Promised: cleaned text holds no control sequence that could reach a
// terminal, is in one normal form (NFC), and cleaning or folding it again
// changes nothing.
package words

import (
	"math/bits"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// mostMarks bounds the marks on one letter (our choice, no source). No spelling
// comes near it; more only serve to write over neighbouring lines.
const mostMarks = 16

// Clean makes text fit for a field: normal form C, no control characters, line
// breaks and tabs as spaces, spaces collapsed and trimmed. Direction overrides
// go too, since they could make a line read otherwise than it is, and so does
// what is not seen at all: a field that looks empty is empty. The joiners that
// some scripts and pictures need stay, inside a word only.
func Clean(s string) string {
	if isClean(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	space, joiner, marks := false, rune(0), 0
	for _, r := range norm.NFC.String(strings.ToValidUTF8(s, "")) {
		switch {
		case unicode.IsSpace(r):
			space, joiner, marks = b.Len() > 0, 0, 0
		case r == '\u200c', r == '\u200d':
			if !space && b.Len() > 0 {
				joiner = r
			}
		case dropped(r):
		default:
			if !unicode.IsMark(r) {
				marks = 0
			} else if marks++; marks > mostMarks {
				continue
			}
			if space {
				b.WriteByte(' ')
			} else if joiner != 0 {
				b.WriteRune(joiner)
			}
			space, joiner = false, 0
			b.WriteRune(r)
		}
	}
	// Dropping a character can bring two together that compose.
	return norm.NFC.String(b.String())
}

// isClean tells, for plain ASCII, that there is nothing to do.
func isClean(s string) bool {
	last := byte(' ')
	for i := range len(s) {
		c := s[i]
		if c < ' ' || c > '~' || (c == ' ' && last == ' ') {
			return false
		}
		last = c
	}
	return s == "" || last != ' '
}

// dropped tells which characters have no place in a field: what steers a
// terminal or the direction of a line, what is not seen, what no two machines
// show alike.
func dropped(r rune) bool {
	return r == utf8.RuneError ||
		unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs, unicode.Other_Default_Ignorable_Code_Point)
}

// letters that do not come apart into a plain letter and an accent (Unicode
// gives them no decomposition), by how they are commonly spelled without
// (common practice, no source). The last is the other form of a letter, as
// Unicode case folding has it.
var letters = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'đ': "d", 'ð': "d", 'ł': "l", 'þ': "th", 'ı': "i", 'ħ': "h", 'ŧ': "t", 'ŋ': "n",
	'ς': "σ",
}

// Spell gives the plain letters for a letter in lower case that has no accent to
// take off; false when there is nothing to spell.
func Spell(r rune) (string, bool) {
	s, ok := letters[r]
	return s, ok
}

// Letter tells, in text made [Plain], what spells a word: letters, numerals
// beside the digits, and the vowel signs of scripts in which a vowel is a mark
// on its consonant. Those are no accents: without them, words that have nothing
// in common would be one. Apostrophes that Unicode counts as letters are none.
func Letter(r rune) bool {
	switch {
	case r >= 'ʹ' && r <= 'ʿ': // modifier apostrophes and primes
		return false
	case unicode.IsLetter(r), unicode.In(r, unicode.Nl, unicode.No), unicode.Is(unicode.Mc, r):
		return true
	case !unicode.Is(unicode.Mn, r), unicode.Is(unicode.Inherited, r):
		return false
	}
	var buf [utf8.UTFMax]byte
	switch norm.NFD.Properties(utf8.AppendRune(buf[:0], r)).CCC() {
	case 0, 103, 118: // vowel signs; those below a Thai and a Lao letter have classes of their own (Unicode, canonical combining classes)
		return true
	}
	return false
}

// Plain takes text apart into lower-case letters and their accents, and gives
// the plain form of what is a mere variant (Unicode form KD). Lower case comes
// between, since each of the two can make work for the other.
func Plain(s string) string {
	// An acute accent that stands alone was typed for an apostrophe. Form KD
	// would make a space of it.
	s = strings.ReplaceAll(s, "\u00b4", "'")
	return norm.NFKD.String(strings.ToLower(norm.NFKD.String(s)))
}

// Fold makes the form in which text is looked up: lower case without accents,
// hyphens, dashes and slashes as spaces, other signs left out.
func Fold(s string) string {
	if out, ok := foldASCII(s); ok {
		return out
	}
	var b strings.Builder
	space := false
	for _, r := range Plain(s) {
		spelled, special := letters[r]
		switch {
		case special, unicode.IsDigit(r), Letter(r):
			if space && b.Len() > 0 {
				b.WriteByte(' ')
			}
			space = false
			if special {
				b.WriteString(spelled)
			} else {
				b.WriteRune(r)
			}
		case unicode.IsSpace(r), Hyphen(r):
			space = true
		}
	}
	return b.String()
}

// foldASCII does the same for plain ASCII, which most names are.
func foldASCII(s string) (string, bool) {
	same := true
	for i := range len(s) {
		c := s[i]
		if c >= utf8.RuneSelf {
			return "", false
		}
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') {
			same = false
		}
	}
	if same {
		return s, true
	}
	b := make([]byte, 0, len(s))
	space := false
	for i := range len(s) {
		c := s[i]
		switch {
		case c >= 'A' && c <= 'Z':
			c += 'a' - 'A'
		case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
		case c == ' ', c == '-', c == '/', c == '\\', c >= '\t' && c <= '\r':
			space = true
			continue
		default:
			continue
		}
		if space && len(b) > 0 {
			b = append(b, ' ')
		}
		space = false
		b = append(b, c)
	}
	return string(b), true
}

// Hyphen tells hyphens, dashes and slashes, which separate words.
func Hyphen(r rune) bool {
	switch r {
	case '-', '/', '\\', '\u2044', '\u2212', '\u2215': // fraction slash, minus, division slash
		return true
	}
	return r >= utf8.RuneSelf && unicode.Is(unicode.Pd, r)
}

// Close tells whether two folded words differ by no more than a small typing
// error: one letter left out, put in, wrong, or two neighbours swapped, in
// words of four letters or more; two such errors from nine letters on.
func Close(a, b string) bool {
	if a == b {
		return true
	}
	if len(a) < 4 || len(b) < 4 {
		return false
	}
	m, n := utf8.RuneCountInString(a), utf8.RuneCountInString(b)
	short := min(m, n)
	if short < 4 {
		return false
	}
	most := 1
	if short >= 9 {
		most = 2
	}
	if m-n > most || n-m > most {
		return false
	}
	// An error takes one letter at the most out of a word.
	if x, y := inIt(a), inIt(b); bits.OnesCount32(x&^y) > most || bits.OnesCount32(y&^x) > most {
		return false
	}
	return distance([]rune(a), []rune(b), most) <= most
}

// inIt notes which letters are in a word, in 32 bits; letters can share one.
func inIt(w string) (all uint32) {
	for _, r := range w {
		all |= 1 << (r & 31)
	}
	return all
}

// distance is the optimal string alignment distance: the least number of
// errors, no letter being in more than one swap. Once a whole row is above
// most, so is the result.
func distance(x, y []rune, most int) int {
	// What both begin or end with needs no error.
	for len(x) > 0 && len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(x) > 0 && len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	var space [3][40]int // enough for nearly all, without allocating
	rows := [3][]int{space[0][:], space[1][:], space[2][:]}
	if len(y) >= len(space[0]) {
		rows = [3][]int{make([]int, len(y)+1), make([]int, len(y)+1), make([]int, len(y)+1)}
	}
	before, last, row := rows[0][:len(y)+1], rows[1][:len(y)+1], rows[2][:len(y)+1]
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(x); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(y); j++ {
			cost := 1
			if x[i-1] == y[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && x[i-1] == y[j-2] && x[i-2] == y[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
			least = min(least, row[j])
		}
		if least > most {
			return least
		}
		before, last, row = last, row, before
	}
	return last[len(y)]
}

// Singular takes the s of a plural off a folded word. It need not be right, only
// the same for both: a word that it spoils is spoiled in either.
func Singular(w string) string {
	if s, ok := strings.CutSuffix(w, "es"); ok && len(s) > 3 && strings.ContainsAny(s[len(s)-1:], "sxz") {
		return s
	}
	if strings.HasSuffix(w, "ss") {
		return w
	}
	return strings.TrimSuffix(w, "s")
}
