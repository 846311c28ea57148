package gtin

import (
	"fmt"
	"strings"
)

// ExpandE gives the 12 digits that a UPC-E stands for. It takes the 8 digits
// that are printed, the first of which is 0 or 1, or 7 of them without the
// check digit, which is then worked out.
//
// By the GS1 General Specifications the last of the six digits in the middle
// says where zeros were left out: with 0 to 2 it follows the first two and four
// zeros follow it, with 3 five zeros follow the first three, with 4 five follow
// the first four, and with 5 to 9 four follow the first five and it stands
// behind them.
func ExpandE(short string) (string, error) {
	if n := len(short); n != 7 && n != 8 || !digits(short) || short[0] > '1' {
		return "", fmt.Errorf("UPC-E %q is not 0 or 1 and six digits, with or without a check digit", short)
	}
	s, six := short[:1], short[1:7]
	switch last := six[5]; {
	case last <= '2':
		s += six[:2] + six[5:] + "0000" + six[2:5]
	case last == '3':
		s += six[:3] + "00000" + six[3:5]
	case last == '4':
		s += six[:4] + "00000" + six[4:5]
	default:
		s += six[:5] + "0000" + six[5:]
	}
	s += string(Check(s))
	if len(short) == 8 && short[7] != s[11] {
		return "", fmt.Errorf("UPC-E %q has a wrong digit: the last one does not check the others", short)
	}
	return s, nil
}

// CompressE gives the 8 digits of the UPC-E that stands for a GTIN-12; false
// when the code cannot be printed so short, or is no GTIN-12. Where two ways
// would do it is the one with the lowest last digit.
func CompressE(long string) (string, bool) {
	if len(long) != 12 || !Valid(long) || long[0] > '1' {
		return "", false
	}
	d, zeros := long[1:11], func(from, to int) bool { return strings.Trim(long[1+from:1+to], "0") == "" }
	six := ""
	switch {
	case d[2] <= '2' && zeros(3, 7):
		six = d[:2] + d[7:10] + d[2:3]
	case zeros(3, 8):
		six = d[:3] + d[8:10] + "3"
	case zeros(4, 9):
		six = d[:4] + d[9:10] + "4"
	case d[9] >= '5' && zeros(5, 9):
		six = d[:5] + d[9:10]
	default:
		return "", false
	}
	return long[:1] + six + long[11:], true
}
