package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// yard is 0.9144 m exactly (NBS, from 1 July 1959).
const yard = 36 * Inch

// units are the units of length that are read, by what is written behind the
// number. Of two that end alike the longer comes first.
var units = []struct {
	suffix string
	size   Length
}{
	{"mm", Millimetre}, {"cm", 10 * Millimetre}, {"m", 1000 * Millimetre}, {"in", Inch}, {`"`, Inch}, {"”", Inch}, {"″", Inch},
	{"yards", yard}, {"yard", yard}, {"yds", yard}, {"yd", yard},
}

// vulgar are the fractions that have a character of their own (Unicode, block
// Number Forms and Latin-1).
var vulgar = strings.NewReplacer("¼", " 1/4", "½", " 1/2", "¾", " 3/4", "⅓", " 1/3", "⅔", " 2/3",
	"⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⁄", "/")

// mostParts is the largest denominator that is read; rulers and sleeves go to
// sixteenths (common practice, no source).
const mostParts = 64

// parseAmount reads "2.5" or "2,5", of inches and yards "5/8" or "2 5/8" too, and
// multiplies it by a unit, to the nearest hundredth of a millimetre. A fraction
// of millimetres is meant as something else.
func parseAmount(text string, unit Length) (Length, bool) {
	whole, part, both := strings.Cut(strings.TrimSpace(vulgar.Replace(text)), " ")
	if !both && strings.Contains(whole, "/") {
		whole, part = "0", whole
	}
	if part == "" {
		f, err := strconv.ParseFloat(strings.Replace(whole, ",", ".", 1), 64)
		return Length(math.Round(f * float64(unit))), err == nil && sane(f*unit.MM())
	}
	above, below, ok := strings.Cut(strings.TrimSpace(part), "/")
	w, errW := strconv.ParseUint(whole, 10, 32)
	n, errN := strconv.ParseUint(above, 10, 32)
	d, errD := strconv.ParseUint(below, 10, 32)
	if !ok || errW != nil || errN != nil || errD != nil || n >= d || d > mostParts || unit%Inch != 0 {
		return 0, false
	}
	f := float64(w*d+n) * float64(unit) / float64(d)
	return Length(math.Round(f)), sane(f / float64(Millimetre))
}

// The signs of inches and feet.
const (
	inchSigns = `"”″`
	footSigns = "'’′"
)

// foot is 12 inches (NBS, as the yard).
const foot = 12 * Inch

// parseFeet reads "5 ft 6 1/2 in", "5 feet", 5'6": feet, and inches below twelve
// behind them, of which the unit may be left out.
func parseFeet(text string) (Length, bool) {
	for _, unit := range []string{"ft", "feet", "foot", "'", "’", "′"} {
		feet, inches, found := strings.Cut(text, unit)
		if !found {
			continue
		}
		inches = strings.TrimLeft(inches, ". ")
		for _, u := range []string{"in", `"`, "”", "″"} {
			inches = strings.TrimSuffix(inches, u)
		}
		l, ok := parseAmount(feet, foot)
		if inches = strings.TrimSpace(inches); inches == "" || !ok {
			return l, ok && inches == ""
		}
		more, fits := parseAmount(inches, Inch)
		return l + more, fits && l%foot == 0 && more < foot && sane((l + more).MM())
	}
	return 0, false
}

// Yards writes a length as sleeves print cloth: "2 1/4 yd". What is no whole
// number of eighths or thirds of a yard is rounded up to the next eighth, since
// cloth that is short is of no use.
func (l Length) Yards() string { return l.yards(yard - 1) }

// yards adds so much to eighths of a length before they are cut to whole ones.
func (l Length) yards(more Length) string {
	for _, parts := range []Length{8, 3} {
		if n := l * parts; n%yard == 0 {
			return mixed(int64(n/yard), int64(parts)) + " yd"
		}
	}
	return mixed(int64((l*8+more)/yard), 8) + " yd"
}

// Inches writes a length as tape measures are read: "32 1/2 in", to the nearest
// eighth.
func (l Length) Inches() string {
	return mixed(int64(math.Round(float64(l)*8/float64(Inch))), 8) + " in"
}

// mixed writes so many parts of a whole as a whole number and a fraction in its
// lowest terms.
func mixed(n, parts int64) string {
	whole, rest := n/parts, n%parts
	for rest%2 == 0 && parts%2 == 0 {
		rest, parts = rest/2, parts/2
	}
	switch {
	case rest == 0:
		return strconv.FormatInt(whole, 10)
	case whole == 0:
		return fmt.Sprintf("%d/%d", rest, parts)
	}
	return fmt.Sprintf("%d %d/%d", whole, rest, parts)
}

// Metres writes a length as sleeves print cloth: "2.30 m", with as many
// decimals as it takes and no fewer than two.
func (l Length) Metres() string {
	text := strconv.FormatFloat(l.MM()/1000, 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	if len(decimals) < 2 {
		text = strconv.FormatFloat(l.MM()/1000, 'f', 2, 64)
	}
	return text + " m"
}

// Centimetres writes a length as bodies are measured: "92 cm".
func (l Length) Centimetres() string { return strconv.FormatFloat(l.MM()/10, 'f', -1, 64) + " cm" }

// Tape writes a measure of a body in the owner's units, to the nearest
// millimetre or eighth of an inch.
func (s Settings) Tape(l Length) string {
	if s.Units == Inches {
		return l.Inches()
	}
	return MM(math.Round(l.MM())).Centimetres()
}

// ClothThere writes a length of cloth that there is in the owner's units, rounded
// down to eighths of a yard or to whole centimetres: nobody has more than there is.
// What is below an eighth of a yard is in inches.
func (s Settings) ClothThere(l Length) string {
	switch {
	case s.Units != Inches:
		return (l / centimetre * centimetre).Metres()
	case l > 0 && l < yard/8:
		return (l / (Inch / 8) * (Inch / 8)).Inches()
	}
	return l.yards(0)
}

const centimetre = 10 * Millimetre

// Cloth writes a length of cloth that is needed in the owner's units, rounded up to
// eighths of a yard or to whole centimetres: cloth that is short is of no use.
func (s Settings) Cloth(l Length) string {
	if s.Units == Inches {
		return l.Yards()
	}
	return ((l + centimetre - 1) / centimetre * centimetre).Metres()
}
