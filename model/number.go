package model

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Scheme says how a publisher's numbers are made, and so how they file.
type Scheme string

// The schemes.
const (
	Consecutive Scheme = "consecutive"  // by value; a letter prefix is not filed
	PrefixFirst Scheme = "prefix-first" // a letter prefix is a line of its own
	Issue       Scheme = "issue"        // year, issue or month, style
	BookPage    Scheme = "book"         // book, page
	Unnumbered  Scheme = "none"         // by name only
)

// ParseScheme reads the name of a scheme; nothing is Consecutive.
func ParseScheme(s string) (Scheme, error) {
	if s == "" {
		return Consecutive, nil
	}
	return oneOf("numbers", s, spell[Scheme], Consecutive, PrefixFirst, Issue, BookPage, Unnumbered)
}

// Number is a pattern number taken apart, for filing and for finding the same
// number again.
type Number struct {
	Printed string   // as printed
	Prefix  string   // letters before the first digit, upper case, without signs: "K"
	Parts   []string // groups of digits by value, without leading zeros: "6123"; year, issue, style; book, page
	Suffix  string   // letters right behind the digits, upper case: "A"
	Size    string   // size-range code behind the number, upper case: "H5", "8-14"
}

// Empty tells that nothing is printed.
func (n Number) Empty() bool { return n.Printed == "" }

// Key is the same for two ways of printing one number: prefix, digits by value
// and suffix, whatever stands between them. The size range is not part of it:
// one number can be sold in several. What holds no digits is its own key.
func (n Number) Key() string {
	if len(n.Parts) == 0 {
		return strings.ToUpper(n.Printed)
	}
	return n.Prefix + " " + strings.Join(n.Parts, ".") + n.Suffix
}

// ParseNumber takes a number as printed apart by a publisher's scheme. It never
// fails: what holds no digits has no parts and files by its text.
//
// "No.", "Nr" and "#" in front are words for number and no prefix. Behind the
// first group of digits, letters that touch it are a suffix ("6123A"); a word
// behind a space, or letters followed by a digit, are a size-range code ("6123
// H5", "6123H5"). Dots and slashes between digits make parts ("12/5"), and so
// does a hyphen, but a range behind a space or in brackets is a size range
// ("6123 8-14"). In the schemes issue and book every group of digits is a part.
func ParseNumber(s string, scheme Scheme) Number {
	n := Number{Printed: s}
	if s == "" || scheme == Unnumbered {
		return n
	}
	p := numberReader{rest: s}
	n.Prefix = p.prefix()
	if p.rest == "" {
		return Number{Printed: s}
	}
	if scheme == Issue || scheme == BookPage {
		n.Parts = p.allDigits()
		if scheme == Issue {
			n.Parts = yearFirst(n.Parts)
		}
		n.Prefix = ""
		return n
	}
	n.Parts = append(n.Parts, p.digits())
	for p.joined() {
		n.Parts = append(n.Parts, p.digits())
	}
	n.Suffix = p.suffix()
	n.Size = sizeCode(p.rest)
	return n
}

// numberReader goes through a number from the left.
type numberReader struct{ rest string }

// prefix takes all before the first digit and keeps its letters. In the scheme
// prefix-first they are filed, in the others they break ties.
func (p *numberReader) prefix() string {
	i := strings.IndexFunc(p.rest, isDigit)
	if i < 0 {
		p.rest = ""
		return ""
	}
	front := p.rest[:i]
	p.rest = p.rest[i:]
	if front == "" {
		return ""
	}
	var b strings.Builder
	for _, r := range front {
		if unicode.IsLetter(r) {
			b.WriteRune(unicode.ToUpper(r))
		}
	}
	switch w := b.String(); w {
	case "NO", "NR", "NUMBER", "NUM", "NUMMER", "N":
		if w != "N" || strings.ContainsAny(front, "°º") {
			return ""
		}
		return w
	default:
		return w
	}
}

func isDigit(r rune) bool { return r >= '0' && r <= '9' || r >= utf8.RuneSelf && unicode.IsDigit(r) }

// digits takes a group of digits, of whatever script, by value.
func (p *numberReader) digits() string {
	end, plain := 0, true
	for i, r := range p.rest {
		if !isDigit(r) {
			break
		}
		plain = plain && r < utf8.RuneSelf
		end = i + utf8.RuneLen(r)
	}
	d := p.rest[:end]
	p.rest = p.rest[end:]
	if !plain {
		d = strings.Map(digitValue, d)
	}
	if d = strings.TrimLeft(d, "0"); d == "" {
		return "0"
	}
	return d
}

func digitValue(r rune) rune { return rune(DigitValue(r)) }

// DigitValue gives the ASCII digit of the same value as a digit of any script. Unicode lays out the
// decimal digits of each script in order, ten in a row, so the zero is found
// by going down to where the row of digits begins modulo ten.
func DigitValue(r rune) byte {
	if r < utf8.RuneSelf {
		return byte(r)
	}
	for _, rng := range unicode.Nd.R16 {
		if rune(rng.Lo) <= r && r <= rune(rng.Hi) {
			return '0' + byte((r-rune(rng.Lo))%10)
		}
	}
	for _, rng := range unicode.Nd.R32 {
		if rune(rng.Lo) <= r && r <= rune(rng.Hi) {
			return '0' + byte((r-rune(rng.Lo))%10)
		}
	}
	return '0'
}

// joined takes a dot, slash or hyphen that stands between two digits.
func (p *numberReader) joined() bool {
	if len(p.rest) < 2 || !strings.ContainsRune("./-", rune(p.rest[0])) {
		return false
	}
	if r, _ := utf8.DecodeRuneInString(p.rest[1:]); !isDigit(r) {
		return false
	}
	p.rest = p.rest[1:]
	return true
}

// suffix takes letters that touch the digits, unless a digit follows them: then
// they begin a size code.
func (p *numberReader) suffix() string {
	i := 0
	for i < len(p.rest) {
		r, n := utf8.DecodeRuneInString(p.rest[i:])
		if !unicode.IsLetter(r) {
			break
		}
		i += n
	}
	if r, _ := utf8.DecodeRuneInString(p.rest[i:]); i == 0 || isDigit(r) {
		return ""
	}
	s := strings.ToUpper(p.rest[:i])
	p.rest = p.rest[i:]
	return s
}

// allDigits takes every group of digits that is left.
func (p *numberReader) allDigits() []string {
	var parts []string
	for {
		i := strings.IndexFunc(p.rest, isDigit)
		if i < 0 {
			return parts
		}
		p.rest = p.rest[i:]
		parts = append(parts, p.digits())
	}
}

// yearFirst puts the year in front: magazines print "04/2019 112" and
// "2019/4 112" for the same style.
func yearFirst(parts []string) []string {
	if len(parts) >= 2 && len(parts[0]) < 4 && len(parts[1]) == 4 {
		parts = slices.Clone(parts)
		parts[0], parts[1] = parts[1], parts[0]
	}
	return parts
}

// sizeCode is what is left behind a number, without brackets and the like.
func sizeCode(rest string) string {
	if rest == "" {
		return ""
	}
	return strings.ToUpper(strings.TrimFunc(rest, func(r rune) bool { return !unicode.IsLetter(r) && !isDigit(r) }))
}
