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
// signs counts as one, and all signs alike; accents do not count unless all
// else is equal; digits count by value. Letters of other scripts follow those
// of the Latin one, by code point.
//
// Promised: two different names never have the same key; the key of the same
// name is always the same.
package filing

import (
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
func AppendName(dst []byte, name string) []byte {
	dst = appendWords(dst, name)
	// Accents, case and punctuation break a tie, so that the order is total.
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
// 123, K123, k-124. Zeros in front and signs between do not count at all.
func AppendNumber(dst []byte, n model.Number, scheme model.Scheme) []byte {
	const numbered, named = 1, 2
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

// appendValue writes digits so that they compare by value: how many there are,
// then themselves. Where there are very many, the count takes more bytes.
func appendValue(dst []byte, digits string) []byte {
	const long = 0xff
	n := len(digits)
	for ; n >= long; n -= long {
		dst = append(dst, long)
	}
	return append(append(dst, byte(n)), digits...)
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

// writer writes the key of one text.
type writer struct {
	dst    []byte
	start  int
	space  bool // a space is due before the next thing
	sign   bool // the last thing was a sign
	digits int  // where a run of digits begins in dst, 0 when none is open
}

func (w *writer) ascii(c byte) {
	switch {
	case c >= 'a' && c <= 'z':
		w.open()
		w.dst = append(w.dst, c)
	case c >= 'A' && c <= 'Z':
		w.open()
		w.dst = append(w.dst, c+'a'-'A')
	case c >= '0' && c <= '9':
		w.digit(c)
	case c == ' ', c == '-', c == '/', c == '\\':
		w.close()
		w.space, w.sign = true, false
	case strings.IndexByte("#$%&*+<=>@^`|~", c) >= 0:
		w.signed()
	}
}

// open ends what came before a letter.
func (w *writer) open() {
	w.close()
	if w.space && len(w.dst) > w.start {
		w.dst = append(w.dst, kSpace)
	}
	w.space, w.sign = false, false
}

func (w *writer) signed() {
	if w.sign {
		return
	}
	w.open()
	w.dst = append(w.dst, kSign)
	w.sign = true
}

// digit adds a digit to a run, leaving out zeros in front.
func (w *writer) digit(c byte) {
	if w.digits == 0 {
		w.open()
		w.dst = append(w.dst, kDigits)
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
	run := string(w.dst[w.digits:])
	w.dst = appendValue(w.dst[:w.digits], run)
	w.digits = 0
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
		case unicode.IsLetter(r):
			w.open()
			w.dst = utf8.AppendRune(w.dst, r)
		case unicode.IsDigit(r):
			w.digit(model.DigitValue(r))
		case unicode.IsSpace(r), words.Hyphen(r):
			w.close()
			w.space, w.sign = true, false
		case unicode.IsSymbol(r):
			w.signed()
		}
	}
	return w.end()
}
