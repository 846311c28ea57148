// Package filing makes byte keys by which names and numbers are filed:
// comparing two keys byte by byte is comparing what they were made of.
//
// The usual way in is to append the keys of several fields to one slice, in the
// order in which the fields count, and to sort by [bytes.Compare]. Every key
// ends in a byte lower than any it holds, so a field never runs into the next.
//
// Names file by the rules of NISO TR03-1999, word by word: nothing before
// something; a space before signs before digits before letters; hyphens,
// dashes and slashes count as spaces; other punctuation is left out; a run of
// signs counts as one, its first; accents do not count unless all else is
// equal; digits count by value. Letters of other scripts follow those of the
// Latin one, by code point.
//
// The standard's order of the signs among themselves is not known to us. They
// follow the groups of the Unicode collation (CLDR root order): marks (# % & * @)
// before symbols (+ = and the like) before currencies, inside a group by code
// point.
//
// Promised: two different names never have the same key; the key of the same
// name is always the same.
package filing

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// What stands in a key, in order. Letters stand as themselves in UTF-8, which
// is above all of these.
const (
	kEnd byte = iota
	kSpace
	kSign
	kDigits
)

// AppendName appends the key of a name that has been cleaned (words.Clean).
// Accents, case, punctuation and zeros in front break a tie, by comparing the
// names as they are written, byte by byte: "A.B.C." before "ABC" before "abc".
func AppendName(dst []byte, name string) []byte {
	dst = appendWords(dst, name)
	return append(append(dst, name...), kEnd)
}

// AppendSize appends the key of a size range: by value, so that 8-14 comes
// before 10-16; letters otherwise.
func AppendSize(dst []byte, size string) []byte { return appendWords(dst, size) }

// AppendNumber appends the key of a pattern number. Numbers come first, by the
// scheme of their publisher; then what holds no digits, by its text. The
// size-range code is no part of it: it files behind the year.
//
// In the scheme consecutive the letter prefix only breaks ties, nothing first:
// 123, K123, k-124. Zeros in front and signs between do not count at all, or
// the year could not decide between two that are printed 7 and 007; AppendPrinted
// is for what is still equal behind year and size. In the scheme none a number
// is not filed, and nothing is appended.
func AppendNumber(dst []byte, n model.Number, scheme model.Scheme) []byte {
	const numbered, named = 1, 2
	if scheme == model.Unnumbered {
		return dst
	}
	if len(n.Parts) == 0 {
		return AppendName(append(dst, named), n.Printed)
	}
	dst = append(dst, numbered)
	if scheme == model.PrefixFirst {
		dst = append(append(dst, n.Prefix...), kEnd)
	}
	for _, p := range n.Parts {
		dst = appendValue(append(dst, kDigits), p)
	}
	dst = append(append(append(dst, kEnd), n.Suffix...), kEnd)
	if scheme != model.PrefixFirst {
		dst = append(append(dst, n.Prefix...), kEnd)
	}
	return dst
}

// AppendPrinted appends a key that tells numbers apart which file as one, by how
// they are printed, byte by byte: more zeros in front come first (007, 07, 7),
// then what has a sign (K 7, K-7, K7). It belongs behind the size, since the
// size-range code is printed with the number.
func AppendPrinted(dst []byte, n model.Number) []byte {
	return append(append(dst, n.Printed...), kEnd)
}

// long in place of a count of digits says that so many are followed by the count
// of the rest. It keeps counts in order whatever their size.
const long = 0xff

// appendValue writes digits so that they compare by value: how many there are,
// then themselves.
func appendValue(dst []byte, digits string) []byte {
	return append(appendCount(dst, len(digits)), digits...)
}

func appendCount(dst []byte, n int) []byte {
	for ; n >= long; n -= long {
		dst = append(dst, long)
	}
	return append(dst, byte(n))
}

// appendWords writes the key of a text without breaking ties.
func appendWords(dst []byte, s string) []byte {
	w := writer{dst: dst, start: len(dst)}
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return w.wide(s[i:])
		}
		w.ascii(s[i])
	}
	return w.end()
}

// Groups of signs, in filing order.
const (
	marks byte = iota + 1
	symbols
	currencies
)

// What an ASCII character is to the rules. From firstSign on, it is the group of
// a sign.
const (
	ignored byte = iota
	letter
	digit
	space
	firstSign
)

var ascii = func() (t [utf8.RuneSelf]byte) {
	for c := range t {
		r := rune(c)
		switch {
		case unicode.IsLetter(r):
			t[c] = letter
		case unicode.IsDigit(r):
			t[c] = digit
		case unicode.IsSpace(r), words.Hyphen(r):
			t[c] = space
		case group(r) != 0:
			t[c] = firstSign + group(r)
		}
	}
	return t
}()

// group gives the group of a sign, 0 for what is none. A backquote is typed for
// an apostrophe, and so is no sign.
func group(r rune) byte {
	switch {
	case strings.ContainsRune("#%&*@§¶†‡‰", r):
		return marks
	case r == '`':
		return 0
	case unicode.Is(unicode.Sc, r):
		return currencies
	case unicode.IsSymbol(r):
		return symbols
	}
	return 0
}

// writer writes the key of one text.
type writer struct {
	dst    []byte
	start  int
	space  bool // a space is due before the next thing
	sign   bool // the last thing was a sign
	digits int  // where a run of digits begins in dst, 0 when none is open
}

func (w *writer) ascii(c byte) {
	switch class := ascii[c]; class {
	case ignored:
	case letter:
		w.open()
		w.dst = append(w.dst, c|0x20) // lower case
	case digit:
		w.digit(c)
	case space:
		w.gap()
	default:
		w.signed(class-firstSign, rune(c))
	}
}

// gap notes a space, to be written once something follows.
func (w *writer) gap() {
	w.close()
	w.space, w.sign = true, false
}

// open ends what came before a letter.
func (w *writer) open() {
	w.close()
	if w.space && len(w.dst) > w.start {
		w.dst = append(w.dst, kSpace)
	}
	w.space, w.sign = false, false
}

func (w *writer) signed(group byte, r rune) {
	if w.sign {
		return
	}
	w.open()
	w.dst = utf8.AppendRune(append(w.dst, kSign, group), r)
	w.sign = true
}

// digit adds a digit to a run, leaving out zeros in front. In front of the run
// is a byte for how many they are.
func (w *writer) digit(c byte) {
	if w.digits == 0 {
		w.open()
		w.dst = append(w.dst, kDigits, 0)
		w.digits = len(w.dst)
	}
	if len(w.dst) == w.digits+1 && w.dst[w.digits] == '0' {
		w.dst = w.dst[:w.digits]
	}
	w.dst = append(w.dst, c)
}

// close ends a run of digits, putting how many there are in front of them.
func (w *writer) close() {
	if w.digits == 0 {
		return
	}
	at, n := w.digits-1, len(w.dst)-w.digits
	w.digits = 0
	if n < long {
		w.dst[at] = byte(n)
		return
	}
	w.dst = slices.Replace(w.dst, at, at+1, appendCount(nil, n)...)
}

func (w *writer) end() []byte {
	w.close()
	return append(w.dst, kEnd)
}

// wide goes on where a text stops being ASCII.
func (w *writer) wide(s string) []byte {
	for _, r := range words.Plain(s) {
		if r < utf8.RuneSelf {
			w.ascii(byte(r))
			continue
		}
		spelled, special := words.Spell(r)
		switch {
		case special:
			w.open()
			w.dst = append(w.dst, spelled...)
		case unicode.IsDigit(r):
			w.digit(model.DigitValue(r))
		case words.Letter(r):
			w.open()
			w.dst = utf8.AppendRune(w.dst, r)
		case unicode.IsSpace(r), words.Hyphen(r):
			w.gap()
		case group(r) != 0:
			w.signed(group(r), r)
		}
	}
	return w.end()
}
