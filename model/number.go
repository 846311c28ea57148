package model

import (
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/tuckrow/model/words"
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
	Printed string   // as printed (words.Clean is for the caller)
	Prefix  string   // letters before the first digit, upper case, without signs: "K"
	Parts   []string // groups of digits by value, without leading zeros: "6123"; year, issue, style; book, page
	Suffix  string   // letters right behind the digits, upper case: "A"
	Size    string   // size-range code behind the number, upper case, with plain digits and hyphens: "H5", "8-14"
}

// Empty tells that nothing is printed.
func (n Number) Empty() bool { return n.Printed == "" }

// Key is the same for two ways of printing one number: prefix, digits by value
// and suffix, whatever stands between them. The prefix is part of it in every
// scheme, filed or not: K123 and M123 stand side by side and are two designs.
// The size range is not: one number can be sold in several. What holds no
// digits is its own key.
func (n Number) Key() string {
	if len(n.Parts) == 0 {
		return strings.ToUpper(n.Printed)
	}
	return n.Prefix + " " + strings.Join(n.Parts, ".") + n.Suffix
}

// ParseNumber takes a number as printed apart by a publisher's scheme. It never
// fails: what holds no digits has no parts and files by its text.
//
// All letters before the first digit are the prefix, but a word for number
// ("No.", "Nr", "Nº", "#") is none: "No. K123" has the prefix K. Behind the
// first group of digits, letters that touch it are a suffix ("6123A"); a word
// behind a space or hyphen, or letters followed by a digit, are a size-range
// code ("6123 H5", "6123H5"), because a suffix is never numbered. Dots, commas,
// slashes and hyphens between digits make parts ("12/5"), but a range behind a
// space or in brackets is a size range ("6123 8-14"). Digits of every script
// count by value.
//
// In the schemes issue and book every group of digits is a part, words between
// them are left out, and only what stands in brackets behind a full number is a
// size range. The year of an issue, four digits from 1800 to 2199, goes in
// front; years of two digits and names of months are not guessed at.
func ParseNumber(s string, scheme Scheme) Number {
	n := Number{Printed: s}
	if s == "" || scheme == Unnumbered {
		return n
	}
	p := numberReader{rest: s}
	n.Prefix = p.prefix()
	if p.rest == "" {
		return n
	}
	switch scheme {
	case Issue:
		n.Prefix = ""
		n.Parts, n.Size = p.groups(3)
		n.Parts, n.Suffix = yearFirst(n.Parts), p.suffix()
	case BookPage:
		n.Prefix = ""
		n.Parts, n.Size = p.groups(2)
		n.Suffix = p.suffix()
	default:
		n.Parts = append(n.Parts, p.digits())
		for p.joined() {
			n.Parts = append(n.Parts, p.digits())
		}
		n.Suffix = p.suffix()
		n.Size = sizeCode(p.rest)
	}
	return n
}

// numberReader goes through a number from the left.
type numberReader struct{ rest string }

// prefix takes all before the first digit and keeps its letters; all of it,
// when there is no digit. In the scheme prefix-first they are filed, in the
// others they break ties.
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
	ordinal := strings.ContainsRune(front, 'º') || strings.ContainsRune(front, '°')
	if front = strings.TrimFunc(front, noLetter); strings.IndexFunc(front, noLetter) < 0 {
		if front = strings.ToUpper(front); numberWord(front, ordinal) {
			return ""
		}
		return front
	}
	var b strings.Builder
	for _, w := range strings.FieldsFunc(front, noLetter) {
		if w = strings.ToUpper(w); !numberWord(w, ordinal) {
			b.WriteString(w)
		}
	}
	return b.String()
}

func noLetter(r rune) bool { return r == 'º' || r == 'ª' || !unicode.IsLetter(r) }

// numberWord tells words for number (from memory). A lone N is one only where an
// ordinal sign stands with it.
func numberWord(w string, ordinal bool) bool {
	switch w {
	case "NO", "NR", "NRO", "NUM", "NUMBER", "NUMMER", "NUMER", "NUMERO", "NÚMERO", "NUMÉRO", "НОМЕР":
		return true
	}
	return w == "N" && ordinal
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

// DigitValue gives the ASCII digit of the same value as a digit of any script.
// Unicode lays out the decimal digits of each script in order, ten in a row, so
// the value is how far a digit is from where its range begins, modulo ten.
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

// DigitGroups gives the groups of digits in a text as they come, each by value like
// the Parts of a number. Whatever the scheme, all parts are among them, and the first
// of them is a part, unless there are no parts.
func DigitGroups(s string) iter.Seq[string] {
	return func(yield func(string) bool) {
		p := numberReader{rest: s}
		for {
			i := strings.IndexFunc(p.rest, isDigit)
			if i < 0 {
				return
			}
			p.rest = p.rest[i:]
			if !yield(p.digits()) {
				return
			}
		}
	}
}

// joined takes a dot, comma, slash or hyphen that stands between two digits.
func (p *numberReader) joined() bool {
	r, n := utf8.DecodeRuneInString(p.rest)
	if n == 0 || r != '.' && r != ',' && !words.Hyphen(r) {
		return false
	}
	if next, _ := utf8.DecodeRuneInString(p.rest[n:]); !isDigit(next) {
		return false
	}
	p.rest = p.rest[n:]
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

// groups takes every group of digits that is left. What stands in brackets
// behind as many as make a full number is a size range.
func (p *numberReader) groups(full int) (parts []string, size string) {
	for {
		i := strings.IndexFunc(p.rest, isDigit)
		if i < 0 {
			return parts, ""
		}
		if len(parts) >= full && strings.ContainsAny(p.rest[:i], "([") {
			bracket := strings.IndexAny(p.rest, "([")
			size = sizeCode(p.rest[bracket:])
			p.rest = p.rest[:bracket]
			return parts, size
		}
		p.rest = p.rest[i:]
		parts = append(parts, p.digits())
	}
}

// yearFirst puts the year in front: magazines print "04/2019 112", "2019/4 112"
// and "112 (4/2019)" for the same style, and "07-08/2019 112" for two months.
func yearFirst(parts []string) []string {
	for i, p := range parts {
		if len(p) != 4 || p < "1800" || p > "2199" {
			continue
		}
		if i == 2 && len(parts) == 3 { // style, issue, year
			parts[0], parts[2] = parts[2], parts[0]
			return parts
		}
		copy(parts[1:i+1], parts[:i])
		parts[0] = p
		return parts
	}
	return parts
}

// sizeCode is what is left behind a number: its letters, digits and the signs
// that belong to sizes, so that "(8 – 14)" and "8-14" are one size range.
func sizeCode(rest string) string {
	rest = strings.TrimFunc(rest, func(r rune) bool { return r != '+' && !unicode.IsLetter(r) && !unicode.IsNumber(r) })
	if strings.IndexFunc(rest, notPlainSize) < 0 {
		return strings.ToUpper(rest)
	}
	var b strings.Builder
	space := false
	for _, r := range strings.ToUpper(rest) {
		switch {
		case words.Hyphen(r) && r != '/' && r != '\\':
			b.WriteByte('-')
			space = false
			continue
		case isDigit(r):
			r = digitValue(r)
		case unicode.IsLetter(r), unicode.IsNumber(r), unicode.IsMark(r), strings.ContainsRune("./+", r):
		default:
			space = true
			continue
		}
		if s := b.String(); space && s != "" && s[len(s)-1] != '-' {
			b.WriteByte(' ')
		}
		space = false
		b.WriteRune(r)
	}
	return b.String()
}

func notPlainSize(r rune) bool {
	return (r < '0' || r > '9') && (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') && r != '-'
}
