package model

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Length is a length in hundredths of a millimetre. Whole numbers keep sums
// exact, so that a box that is full by one path of adding is full by every
// other.
type Length int64

// Millimetre is one millimetre as a Length.
const Millimetre Length = 100

// Inch is 25.4 mm exactly (NBS, from 1 July 1959).
const Inch Length = 2540

// The units that lengths are shown in, Settings.Units. Files and plans are in
// millimetres whatever is shown.
const (
	Millimetres = "mm"
	Inches      = "in"
)

// MM gives the Length nearest to f millimetres.
func MM(f float64) Length { return Length(math.Round(f * float64(Millimetre))) }

// MM gives the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// String writes millimetres without needless decimals: "12.5 mm".
func (l Length) String() string { return l.number() + " mm" }

// Whole writes millimetres rounded to whole ones, as one reads a ruler at the
// shelf: "13 mm".
func (l Length) Whole() string { return strconv.FormatInt(int64(math.Round(l.MM())), 10) + " mm" }

// In writes the length in the owner's unit as one reads it off a ruler at the
// shelf: whole millimetres, "13 mm", or inches to the nearest eighth, `8 3/8"`.
func (l Length) In(units string) string {
	if units != Inches {
		return l.Whole()
	}
	eighths, sign := int64(math.Round(8*float64(l)/float64(Inch))), ""
	if eighths < 0 {
		eighths, sign = -eighths, "-"
	}
	return sign + mixed(eighths, 8) + `"`
}

// Fine writes the length in the owner's unit for what is thinner than a ruler
// tells: "12.5 mm", or inches to the hundredth, `0.49"`.
func (l Length) Fine(units string) string {
	if units != Inches {
		return l.String()
	}
	return strconv.FormatFloat(math.Round(100*float64(l)/float64(Inch))/100, 'f', -1, 64) + `"`
}

func (l Length) number() string { return strconv.FormatFloat(l.MM(), 'f', -1, 64) }

// MarshalJSON writes millimetres as a number.
func (l Length) MarshalJSON() ([]byte, error) { return []byte(l.number()), nil }

// UnmarshalJSON reads millimetres as a number.
func (l *Length) UnmarshalJSON(b []byte) error {
	f, err := strconv.ParseFloat(string(b), 64)
	if err != nil {
		return fmt.Errorf("length %q is not a number of millimetres", b)
	}
	if !sane(f) {
		return fmt.Errorf("length %q is out of range; give millimetres between 0 and 100000", b)
	}
	*l = MM(f)
	return nil
}

// sane bounds lengths to what a room can hold, which also keeps every sum far
// from overflow.
func sane(mm float64) bool { return mm >= 0 && mm <= 100_000 }

// ParseLength reads "380", "380 mm", "38 cm", "2.3 m", "15 in", "32 1/2 in" or
// "2 1/4 yd", and "5 ft 6 in" or 5'6"; a bare number is in millimetres.
func ParseLength(s string) (Length, error) {
	t := strings.ToLower(strings.TrimSpace(s))
	if l, ok := parseFeet(t); ok {
		return l, nil
	}
	unit := Millimetre
	for _, u := range units {
		if rest, ok := strings.CutSuffix(t, u.suffix); ok {
			t, unit = strings.TrimSpace(rest), u.size
			break
		}
	}
	l, ok := parseAmount(t, unit)
	if !ok {
		return 0, fmt.Errorf(`%q is not a length; write millimetres, like "5" or "5 mm"`, s)
	}
	return l, nil
}
