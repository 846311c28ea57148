package gtin

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Check digits as published. GS1 (check digit calculator): 629104150021 -> 3;
// GS1 Sweden: 730001100001 -> 7; International ISBN Agency and others:
// 978011000222 -> 4, 978030640615 -> 7; ISSN International Centre: ISSN
// 1144-875X is 977114487500 -> 7.
func TestPublishedCheckDigits(t *testing.T) {
	for body, want := range map[string]byte{
		"629104150021": '3', "730001100001": '7', "978011000222": '4', "978030640615": '7', "977114487500": '7',
	} {
		if got := Check(body); got != want {
			t.Errorf("Check(%s) = %c, want %c", body, got, want)
		}
	}
}

// UPC-E as published: 04252614 stands for 042100005264. The three others are
// worked examples of the rule for last digits 3, 4 and 5.
func TestPublishedUPCE(t *testing.T) {
	for short, long := range map[string]string{
		"04252614": "042100005264", "0123453": "012300000451", "0123454": "012340000053", "0123455": "012345000058",
	} {
		got, err := ExpandE(short)
		if err != nil || got != long {
			t.Errorf("ExpandE(%s) = %s, %v, want %s", short, got, err, long)
		}
		if back, ok := CompressE(long); !ok || !strings.HasPrefix(back, short) {
			t.Errorf("CompressE(%s) = %s, %v, want %s", long, back, ok, short)
		}
	}
	for _, bad := range []string{"", "2123453", "04252615", "123", "0425261a"} {
		if got, err := ExpandE(bad); err == nil {
			t.Errorf("ExpandE(%q) = %s, want an error", bad, got)
		}
	}
	if got, ok := CompressE("012345678905"); ok {
		t.Errorf("012345678905 has no zeros to leave out, and became %s", got)
	}
}

// The codes are those of the published values above; ISBN 0-306-40615-2 is the
// older form of 978030640615 + 7 (from memory).
func TestParse(t *testing.T) {
	for _, x := range []struct {
		text string
		want Code
	}{
		{"6291041500213", Code{GTIN13, "6291041500213", ""}},
		{"042100005264", Code{GTIN12, "0042100005264", ""}},
		{" 0 42100 00526 4 ", Code{GTIN12, "0042100005264", ""}},
		{"04252614", Code{UPCE, "0042100005264", ""}},
		{"978-0-306-40615-7", Code{ISBN13, "9780306406157", ""}},
		{"0-306-40615-2", Code{ISBN10, "9780306406157", ""}},
		{"1144-875X", Code{ISSN, "9771144875007", ""}},
		{"1144875x", Code{ISSN, "9771144875007", ""}},
		{"9771144875007 05", Code{ISSN, "9771144875007", "05"}},
		{"9771144875007+05", Code{ISSN, "9771144875007", "05"}},
		{"977114487500705", Code{ISSN, "9771144875007", "05"}},
		{"04210000526412345", Code{GTIN12, "0042100005264", "12345"}},
		{"9780306406157 51299", Code{ISBN13, "9780306406157", "51299"}},
		{"73513537", Code{GTIN8, "0000073513537", ""}}, // 7351353 -> 7 (from memory)
	} {
		got, err := Parse(x.text)
		if err != nil || got != x.want {
			t.Errorf("Parse(%q) = %+v, %v, want %+v", x.text, got, err, x.want)
		}
		if again, err := Parse(got.String()); err != nil || again.GTIN != got.GTIN || again.AddOn != got.AddOn {
			t.Errorf("%q has the normal form %s, which reads as %+v (%v)", x.text, got, again, err)
		}
	}
	for _, bad := range []string{"", "-", "X", "6123", "62910415002133", "6291041500214", "0306406153", "1144-8751",
		"9771144875007+123", "9771144875007+", "629104150021X", "12345678X", "K1234567", "+05", "１２３４５６７０"} {
		if got, err := Parse(bad); err == nil {
			t.Errorf("Parse(%q) = %+v, want an error", bad, got)
		} else if bad != "" && !strings.Contains(err.Error(), fmt.Sprintf("%q", bad)) {
			t.Errorf("Parse(%q): the error %q does not name it", bad, err)
		}
	}
}

func TestOlderForms(t *testing.T) {
	isbn, _ := Parse("9780306406157")
	if got, ok := isbn.ISBN10(); !ok || got != "0306406152" {
		t.Errorf("ISBN10 = %s, %v, want 0306406152", got, ok)
	}
	issn, _ := Parse("9771144875007")
	if got, ok := issn.ISSN(); !ok || got != "1144-875X" {
		t.Errorf("ISSN = %s, %v, want 1144-875X", got, ok)
	}
	for _, none := range []Code{issn, {GTIN: fill("979010000000")}} {
		if got, ok := none.ISBN10(); ok {
			t.Errorf("%v has no ISBN of ten digits, and gave %s", none, got)
		}
	}
	if got, ok := isbn.ISSN(); ok {
		t.Errorf("a book has no ISSN, and gave %s", got)
	}
}

// number draws so many digits.
func number(t *rapid.T, n int) string {
	return rapid.StringMatching(fmt.Sprintf("[0-9]{%d}", n)).Draw(t, "digits")
}

// printed draws a code of a kind as it is printed.
func printed(t *rapid.T, kind Kind) string {
	switch kind {
	case GTIN8:
		body := string(rune('1'+rapid.IntRange(0, 8).Draw(t, "first"))) + number(t, 6)
		return body + string(Check(body))
	case GTIN12, GTIN13:
		body := number(t, map[Kind]int{GTIN12: 11, GTIN13: 12}[kind])
		return body + string(Check(body))
	case ISBN10:
		body := number(t, 9)
		return body + string(check11(body))
	case ISSN:
		body := number(t, 7)
		return body[:4] + "-" + body[4:] + string(check11(body))
	}
	short := "0" + number(t, 6)
	long, _ := ExpandE(short)
	return short + long[11:]
}

// Any one wrong digit is caught: weights of 1 and 3 are prime to 10, those of 2
// to 10 are prime to 11. What that does not hold for says the package comment.
func TestAnyOneWrongDigitIsCaught(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]Kind{GTIN8, GTIN12, GTIN13, UPCE, ISBN10, ISSN}).Draw(t, "kind")
		code := printed(t, kind)
		if c, err := Parse(code); err != nil || c.Kind != kind && kind != GTIN13 {
			t.Fatalf("%s %s is read as %+v (%v)", kind, code, c, err)
		}
		for i := range len(code) {
			if kind == UPCE && i == 6 || i == 0 && (kind == UPCE || kind == GTIN8) {
				continue
			}
			for d := byte('0'); d <= '9'; d++ {
				if code[i] == d || code[i] == '-' {
					continue
				}
				wrong := code[:i] + string(d) + code[i+1:]
				if c, err := Parse(wrong); err == nil {
					t.Fatalf("%s %s with digit %d wrong, %s, is read as %+v", kind, code, i+1, wrong, c)
				}
			}
		}
	})
}

// Every UPC-E comes back from the code that it stands for, but for those of
// which a lower last digit gives the same code.
func TestUPCEBothWays(t *testing.T) {
	shorter := 0
	for n := range 1_000_000 {
		short := fmt.Sprintf("0%06d", n)
		long, err := ExpandE(short)
		if err != nil {
			t.Fatal(err)
		}
		back, ok := CompressE(long)
		if !ok {
			t.Fatalf("%s stands for %s, which does not become short again", short, long)
		}
		if back[:7] == short {
			continue
		}
		shorter++
		if again, err := ExpandE(back); err != nil || again != long || back[6] >= short[6] {
			t.Fatalf("%s stands for %s, which became %s", short, long, back)
		}
	}
	// Form 3 says the same as 0 to 2 where its third digit is one of them, form 4
	// the same as 3 where its fourth is 0, forms 5 to 9 the same as 4 where the
	// fifth is 0: 3/10, 1/10 and 5 times 1/10 of 100,000 each.
	if shorter != 30_000+10_000+50_000 {
		t.Errorf("%d codes have two forms, reckoned are 90000", shorter)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"6291041500213", "04252614", "0-306-40615-2", "1144-875X", "9771144875007 05", "", "X", "+12", "1144-8"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := Parse(text)
		if err != nil {
			return
		}
		if len(c.GTIN) != 13 || !Valid(c.GTIN) {
			t.Fatalf("%q is read as %+v, whose digits do not check", text, c)
		}
		if again, err := Parse(c.String()); err != nil || again.String() != c.String() {
			t.Fatalf("%q has the normal form %s, which reads as %v (%v)", text, c, again, err)
		}
	})
}
