package model

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// byHand are the fields that a person writes otherwise than an export of ours: in
// its columns a plain number is millimetres, and whatever was stored comes back.
var byHand = map[string]struct {
	get func(*Entry) string
	set func(*Entry, string) error
}{
	"size_chart": {func(e *Entry) string { return sizesText(e.Sizes, Length.Centimetres) }, func(e *Entry, s string) (err error) {
		sizes, err := parseSizes(s, typedCell("a body", ParseBody))
		for _, x := range sizes {
			if x.Bust+x.Waist+x.Hip == 0 {
				return &FieldError{"size_chart", s, fmt.Sprintf("gives no measure of size %q", x.Name), "give name, bust, waist and hip of each, like " + sizeExample + "; sizes alone belong into size_range"}
			}
		}
		if err == nil {
			e.Sizes = sizes
		}
		return err
	}},
	"cloth_needed": {func(e *Entry) string { return needsText(e.Needs, Length.Centimetres) }, func(e *Entry, s string) error {
		needs, err := parseNeeds(s, typedCell("cloth", ParseCloth))
		if err == nil {
			e.Needs = needs
		}
		return err
	}},
	"sizes_left": {func(e *Entry) string { return e.Left }, func(e *Entry, s string) error {
		if !namesSize(e, s) {
			return &FieldError{"sizes_left", s, "names no size", `write those that are left, like "10-12" or "S-M", or leave it empty`}
		}
		e.Left = s
		return nil
	}},
	"year": {year.get, func(e *Entry, s string) error {
		var read Entry
		if err := year.set(&read, s); err != nil || read.Year != 0 && read.Year < firstYear {
			return &FieldError{"year", s, "is not a year", "write four digits, like 1974, or leave it empty"}
		}
		e.Year = read.Year
		return nil
	}},
}

// namesSize tells whether a text holds a size: a number, letters like XL, or a name
// that the range or the chart of the pattern has. Nothing names none, and may stand.
func namesSize(e *Entry, text string) bool {
	known := func(word string) bool {
		return strings.ContainsFunc(word, unicode.IsDigit) || strings.Trim(strings.ToUpper(word), "SMLX") == "" ||
			strings.Contains(strings.ToLower(e.SizeRange), strings.ToLower(word)) ||
			slices.ContainsFunc(e.Sizes, func(x Size) bool { return strings.EqualFold(x.Name, word) })
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	return text == "" || slices.ContainsFunc(parts, known)
}

// firstYear is the first that has four digits; mostYear is far ahead.
const (
	firstYear = 1000
	mostYear  = 2999
)

var year = whole("year", "of issue", mostYear, func(e *Entry) *int { return &e.Year })

// ByHand tells whether a person writes the field otherwise than an export of ours.
func (f Field) ByHand() bool { _, ok := byHand[f.Name]; return ok }

// Typed gives the field's value as a person writes it: lengths have their unit.
func (f Field) Typed(e *Entry) string {
	if x, ok := byHand[f.Name]; ok {
		return x.get(e)
	}
	return f.get(e)
}

// Type reads the field's value as a person writes it: what is measured on a body or
// on cloth has its unit, and a year four digits. The error is a *FieldError, or an
// InputError of what is measured; the entry is then as it was.
func (f Field) Type(e *Entry, text string) error {
	x, ok := byHand[f.Name]
	if !ok {
		return f.Set(e, text)
	}
	if cleanAll(&text); text == x.get(e) {
		return nil // it is left as it stands, whatever that is
	}
	return x.set(e, text)
}

// typedCell reads a length in a cell that a person wrote.
func typedCell(of string, read func(what, text string) (Length, error)) func(string) (Length, error) {
	return func(text string) (Length, error) {
		if text == "" {
			return 0, nil
		}
		return read("a measure of "+of, text)
	}
}

// ParseBody reads a measure of a body, and ParseCloth a length of cloth: as
// ParseLength does, but never without a unit, since what is meant by 92 is
// centimetres to one, inches to another and millimetres to nobody. The error is an
// InputError.
func ParseBody(what, text string) (Length, error) {
	return parseMeasured(what, text, []string{"92 cm", "36 1/4 in"}, "cm", "in")
}

// ParseCloth is described with ParseBody.
func ParseCloth(what, text string) (Length, error) {
	return parseMeasured(what, text, []string{"140 cm", "45 in", "2 1/4 yd"}, "cm", "in", "m", "yd")
}

func parseMeasured(what, text string, like []string, units ...string) (Length, error) {
	l, err := ParseLength(text)
	switch {
	case err != nil:
		return 0, Inputf("%s: %q is not a length; write for example %s", what, text, choiceOf(like))
	case l > 0 && !strings.ContainsFunc(text, unicode.IsLetter) && !strings.ContainsAny(text, inchSigns+footSigns):
		for i, u := range units {
			units[i] = text + " " + u
		}
		return 0, Inputf("%s: %s of what? write %s", what, text, choiceOf(units))
	}
	return l, nil
}

// choiceOf lists what can be written: `"92 cm" or "36 1/4 in"`.
func choiceOf(texts []string) string {
	quoted := make([]string, len(texts))
	for i, t := range texts {
		quoted[i] = fmt.Sprintf("%q", t)
	}
	last := len(quoted) - 1
	return strings.Join(quoted[:last], ", ") + " or " + quoted[last]
}
