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

// inch is 25.4 mm exactly (NBS, from 1 July 1959).
const inch Length = 2540

// MM gives the Length nearest to f millimetres.
func MM(f float64) Length { return Length(math.Round(f * float64(Millimetre))) }

// MM gives the length in millimetres.
func (l Length) MM() float64 { return float64(l) / float64(Millimetre) }

// String writes millimetres without needless decimals: "12.5 mm".
func (l Length) String() string { return l.number() + " mm" }

// Whole writes millimetres rounded to whole ones, as one reads a ruler at the
// shelf: "13 mm".
func (l Length) Whole() string { return strconv.FormatInt(int64(math.Round(l.MM())), 10) + " mm" }

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
// "2 1/4 yd"; a bare number is in millimetres.
func ParseLength(s string) (Length, error) {
	t := strings.ToLower(strings.TrimSpace(s))
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
