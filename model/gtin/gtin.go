// Package gtin reads the digits of the barcodes that stand on sleeves, books
// and magazines, and turns them into one normal form.
//
// The usual way in is [Parse], which tells what kind of code a text is and
// gives its [Code]; [Valid] for the digits of a GTIN alone; [ExpandE] and
// [CompressE] between a UPC-E and the GTIN-12 that it stands for.
//
// Promised: a code with one wrong digit is refused, with two exceptions that
// lie in the codes themselves: the last of the six digits of a UPC-E says how
// it is to be expanded, so that a wrong one can give another code that checks;
// and what has eight digits is told apart by the first of them. Two spellings
// of one code (with hyphens, as UPC-E, as ISBN of ten digits) have the same
// [Code.GTIN].
//
// The rules are those of the GS1 General Specifications, of ISO 2108 (ISBN) and
// of ISO 3297 (ISSN); each is named where it stands.
package gtin

import (
	"fmt"
	"strings"
)

// Kind says what a code is printed as.
type Kind string

// The kinds.
const (
	GTIN8  Kind = "GTIN-8"
	GTIN12 Kind = "GTIN-12" // UPC-A
	GTIN13 Kind = "GTIN-13" // EAN-13
	UPCE   Kind = "UPC-E"
	ISBN10 Kind = "ISBN-10"
	ISBN13 Kind = "ISBN-13"
	ISSN   Kind = "ISSN"
)

// Code is a barcode that was read and checked.
type Code struct {
	Kind  Kind
	GTIN  string // 13 digits, zeros in front where it has fewer
	AddOn string // 2 or 5 digits of the supplement beside it; empty: none
}

// String is the normal form: the 13 digits, and the supplement behind a plus.
func (c Code) String() string {
	if c.AddOn == "" {
		return c.GTIN
	}
	return c.GTIN + "+" + c.AddOn
}

// ISBN10 gives the ISBN of ten digits of a book of the range 978; false for
// anything else, since the range 979 has none.
func (c Code) ISBN10() (string, bool) {
	if !strings.HasPrefix(c.GTIN, "978") {
		return "", false
	}
	body := c.GTIN[3:12]
	return body + string(check11(body)), true
}

// ISSN gives the ISSN of a magazine, as it is printed: "1144-875X".
func (c Code) ISSN() (string, bool) {
	if !strings.HasPrefix(c.GTIN, "977") {
		return "", false
	}
	body := c.GTIN[3:10]
	return body[:4] + "-" + body[4:] + string(check11(body)), true
}

// Check gives the check digit for the digits before it. By the GS1 General
// Specifications they count three and one times in turn, the last of them three
// times, and the check digit fills up to a ten.
func Check(body string) byte {
	sum := 0
	for i := range len(body) {
		weight := 1
		if (len(body)-i)%2 == 1 {
			weight = 3
		}
		sum += weight * int(body[i]-'0')
	}
	return '0' + byte((10-sum%10)%10)
}

// Valid tells whether text is 8, 12 or 13 digits of which the last is the check
// digit.
func Valid(text string) bool {
	switch n := len(text); {
	case n != 8 && n != 12 && n != 13, !digits(text):
		return false
	default:
		return Check(text[:n-1]) == text[n-1]
	}
}

// check11 gives the check character of an ISBN of ten digits (ISO 2108) and of
// an ISSN (ISO 3297): the digits count by how far they are from the end, two
// for the last of them, and the check character fills up to an eleven; X is
// ten.
func check11(body string) byte {
	sum := 0
	for i := range len(body) {
		sum += (len(body) + 1 - i) * int(body[i]-'0')
	}
	if r := (11 - sum%11) % 11; r < 10 {
		return '0' + byte(r)
	}
	return 'X'
}

func valid11(text string) bool {
	n := len(text) - 1
	return digits(text[:n]) && check11(text[:n]) == text[n]
}

func digits(text string) bool {
	return strings.IndexFunc(text, func(r rune) bool { return r < '0' || r > '9' }) < 0
}

// Parse reads a code as it is printed, or as a scanner types it. Hyphens and
// spaces may stand anywhere in it; a supplement of two or five digits stands
// behind a plus or a space, or right behind the 12 or 13 digits, as scanners
// type it.
//
// What has eight digits is an ISSN where it is hyphened like one or ends in X;
// else a UPC-E where it begins with 0, since GTIN-8 do not (their prefixes from
// 0 on are for use inside one shop: GS1 General Specifications, from memory);
// else a GTIN-8.
func Parse(text string) (Code, error) {
	main, addOn, err := cut(strings.ToUpper(strings.TrimSpace(text)))
	if err != nil {
		return Code{}, refused(text, err.Error())
	}
	plain := strings.NewReplacer("-", "", " ", "").Replace(main)
	if plain == "" || !digits(strings.TrimSuffix(plain, "X")) {
		return Code{}, refused(text, "holds more than the digits of a barcode; give its digits alone")
	}
	c := Code{AddOn: addOn}
	ok := false
	switch len(plain) {
	case 13:
		c.Kind, c.GTIN, ok = kind13(plain), plain, Valid(plain)
	case 12:
		c.Kind, c.GTIN, ok = GTIN12, "0"+plain, Valid(plain)
	case 10:
		c.Kind, c.GTIN, ok = ISBN10, fill("978"+plain[:9]), valid11(plain)
	case 8:
		c.Kind, c.GTIN, ok = eight(plain, len(main) == 9 && main[4] == '-')
	default:
		return Code{}, refused(text, "has no number of digits that a barcode has, which are 8, 10, 12 or 13")
	}
	if !ok {
		return Code{}, refused(text, "has a wrong digit, since the last one does not check the others; read it off once more")
	}
	return c, nil
}

// cut parts a code from its supplement.
func cut(text string) (main, addOn string, err error) {
	at := strings.IndexByte(text, '+')
	if digits(text) {
		switch len(text) {
		case 12 + 2, 12 + 5:
			return text[:12], text[12:], nil
		case 13 + 2, 13 + 5:
			return text[:13], text[13:], nil
		}
	}
	if at < 0 {
		if at = strings.LastIndexByte(text, ' '); at < 0 || len(strings.NewReplacer("-", "", " ", "").Replace(text[:at])) < 12 {
			return text, "", nil // the space only sets off digits of the code itself
		}
	}
	main, addOn = strings.TrimSpace(text[:at]), strings.TrimSpace(text[at+1:])
	if n := len(addOn); n != 2 && n != 5 || !digits(addOn) {
		return "", "", fmt.Errorf("has a supplement %q, and those have 2 or 5 digits", addOn)
	}
	return main, addOn, nil
}

// kind13 tells books and magazines, which have ranges of their own (GS1 General
// Specifications: 977 serials, 978 and 979 books; 9790 is printed music).
func kind13(code string) Kind {
	switch {
	case strings.HasPrefix(code, "977"):
		return ISSN
	case strings.HasPrefix(code, "978"), strings.HasPrefix(code, "979") && code[3] != '0':
		return ISBN13
	}
	return GTIN13
}

func eight(plain string, hyphened bool) (Kind, string, bool) {
	switch {
	case hyphened || plain[7] == 'X':
		return ISSN, fill("977" + plain[:7] + "00"), valid11(plain)
	case !digits(plain):
		return GTIN8, "", false
	case plain[0] == '0':
		long, err := ExpandE(plain)
		return UPCE, "0" + long, err == nil
	}
	return GTIN8, "00000" + plain, Valid(plain)
}

// fill puts the check digit behind the twelve others.
func fill(body string) string {
	if !digits(body) {
		return ""
	}
	return body + string(Check(body))
}

func refused(text, why string) error { return fmt.Errorf("barcode %q %s", text, why) }
