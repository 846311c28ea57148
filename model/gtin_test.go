package model

import (
	"strings"
	"testing"
)

// FuzzIsGTIN tries what is known of check digits, by the GS1 General
// Specifications, on whatever a scanner may send. That a GTIN-12 is a GTIN-13
// with a zero in front is theirs, too; which errors are found is arithmetic:
// weights of 1 and 3 tell any single wrong digit, and two neighbours that
// changed places unless they are five apart.
func FuzzIsGTIN(f *testing.F) {
	for _, code := range []string{"6291041500213", "7300011000017", "042100005264", "0042100005264", "", "6123", "٠٤٢١٠٠٠٠٥٢٦٤", "04210000526\x00", "+42100005264"} {
		f.Add(code)
	}
	f.Fuzz(func(t *testing.T, code string) {
		good := IsGTIN(code)
		digits := strings.Trim(code, "0123456789") == ""
		if good && (!digits || len(code) != 12 && len(code) != 13) {
			t.Fatalf("%q is taken for a barcode", code)
		}
		if len(code) == 12 && good != IsGTIN("0"+code) {
			t.Fatalf("%q and the same behind a zero are told apart", code)
		}
		if !digits || len(code) != 12 && len(code) != 13 {
			return
		}
		valid := 0
		for d := '0'; d <= '9'; d++ {
			if IsGTIN(code[:len(code)-1] + string(d)) {
				valid++
			}
		}
		if valid != 1 {
			t.Fatalf("%d check digits fit %q, want one", valid, code[:len(code)-1])
		}
		if !good {
			return
		}
		for i := range code {
			for d := byte('0'); d <= '9'; d++ {
				if other := code[:i] + string(d) + code[i+1:]; other != code && IsGTIN(other) {
					t.Fatalf("%q passes for %q", other, code)
				}
			}
			if i > 0 {
				other := code[:i-1] + code[i:i+1] + code[i-1:i] + code[i+1:]
				apart := int(code[i]) - int(code[i-1])
				if IsGTIN(other) != (apart%5 == 0) {
					t.Fatalf("%q for %q: two neighbours %d apart changed places", other, code, apart)
				}
			}
		}
	})
}
