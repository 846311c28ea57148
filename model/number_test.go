package model

import (
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestParseNumber(t *testing.T) {
	for _, x := range []struct {
		in     string
		scheme Scheme
		want   string // prefix | parts | suffix | size
	}{
		{"6123", Consecutive, "|6123||"},
		{"K123", Consecutive, "K|123||"},
		{"k-124", Consecutive, "K|124||"},
		{"K 0123", Consecutive, "K|123||"},
		{"007", Consecutive, "|7||"},
		{"000", Consecutive, "|0||"},
		{"No. 123", Consecutive, "|123||"},
		{"Nr 123", Consecutive, "|123||"},
		{"№ 123", Consecutive, "|123||"},
		{"#123", Consecutive, "|123||"},
		{"No. K123", Consecutive, "K|123||"}, // a word for number is no prefix, and hides none
		{"nr.K-123", Consecutive, "K|123||"},
		{"Nº 123", Consecutive, "|123||"},
		{"N.º 123", Consecutive, "|123||"},
		{"N° 123", Consecutive, "|123||"},
		{"Número 123", Consecutive, "|123||"},
		{"No123", Consecutive, "|123||"},
		{"N 123", Consecutive, "N|123||"}, // without an ordinal sign, N is a letter like others
		{"NOK 123", Consecutive, "NOK|123||"},
		{"K.L. 123", Consecutive, "KL|123||"},
		{"6123A", Consecutive, "|6123|A|"},
		{"6123 A", Consecutive, "|6123||A"}, // a suffix touches the digits
		{"6123-A", Consecutive, "|6123||A"},
		{"6123 H5", Consecutive, "|6123||H5"},
		{"6123H5", Consecutive, "|6123||H5"},
		{"6123A H5", Consecutive, "|6123|A|H5"},
		{"6123 (8-14)", Consecutive, "|6123||8-14"},
		{"6123 8-14", Consecutive, "|6123||8-14"},
		{"6123 (8 – 14)", Consecutive, "|6123||8-14"},
		{"6123 ٨-١٤", Consecutive, "|6123||8-14"},
		{"6123 h5 (8-14) uncut", Consecutive, "|6123||H5 8-14 UNCUT"},
		{"6123 14½", Consecutive, "|6123||14½"},
		{"6123 44+", Consecutive, "|6123||44+"},
		{"6123-8-14", Consecutive, "|6123,8,14||"}, // no space: parts of the number
		{"6123–5", Consecutive, "|6123,5||"},
		{"1,234", Consecutive, "|1,234||"},
		{"12/5", Consecutive, "|12,5||"},
		{"12.5", Consecutive, "|12,5||"},
		{"123456789012345678901234567890", Consecutive, "|123456789012345678901234567890||"},
		{"٦١٢٣", Consecutive, "|6123||"}, // Arabic-Indic digits
		{"６１２３", Consecutive, "|6123||"}, // full width digits
		{"Ж12", Consecutive, "Ж|12||"},
		{"Apron", Consecutive, "|||"},
		{"", Consecutive, "|||"},
		{"K123", PrefixFirst, "K|123||"},
		{"04/2019 112", Issue, "|2019,4,112||"},
		{"2019-04-112", Issue, "|2019,4,112||"},
		{"2019/4 #112", Issue, "|2019,4,112||"},
		{"04/19 112", Issue, "|4,19,112||"}, // a year of two digits is not guessed at
		{"2019/4 112a", Issue, "|2019,4,112|A|"},
		{"2019/4 112A (34-42)", Issue, "|2019,4,112|A|34-42"},
		{"112 (4/2019)", Issue, "|2019,4,112||"},
		{"07-08/2019 112", Issue, "|2019,7,8,112||"}, // one issue for two months
		{"12 1234", Issue, "|12,1234||"},             // four digits that are no year
		{"3 p. 45b (8-14)", BookPage, "|3,45|B|8-14"},
		{"3 p. 45", BookPage, "|3,45||"},
		{"Book 3, page 45", BookPage, "|3,45||"},
		{"3/45", BookPage, "|3,45||"},
		{"6123", Unnumbered, "|||"},
	} {
		n := ParseNumber(x.in, x.scheme)
		if got := strings.Join([]string{n.Prefix, strings.Join(n.Parts, ","), n.Suffix, n.Size}, "|"); got != x.want {
			t.Errorf("ParseNumber(%q, %s) = %s, want %s", x.in, x.scheme, got, x.want)
		}
		if n.Printed != x.in {
			t.Errorf("ParseNumber(%q) does not keep what is printed: %q", x.in, n.Printed)
		}
	}
}

func TestNumberKey(t *testing.T) {
	for _, same := range [][]string{
		{"6123", "06123", "No. 6123", "6123 H5", "6123 A6"},
		{"K123", "k-123", "K 0123", "No. K123"},
		{"Apron", "apron"},
	} {
		for _, s := range same[1:] {
			if a, b := ParseNumber(same[0], Consecutive).Key(), ParseNumber(s, Consecutive).Key(); a != b {
				t.Errorf("%q has key %q, %q has %q; they are one number", same[0], a, s, b)
			}
		}
	}
	for _, x := range [][2]string{{"6123", "6124"}, {"K123", "M123"}, {"123", "123A"}, {"12/5", "125"}} {
		if a, b := ParseNumber(x[0], Consecutive).Key(), ParseNumber(x[1], Consecutive).Key(); a == b {
			t.Errorf("%q and %q have one key %q; they are two numbers", x[0], x[1], a)
		}
	}
}

// Styles of a magazine that differ by a letter are two numbers, however little
// else is known about them.
func TestIssueKeyHoldsTheSuffix(t *testing.T) {
	a, b := ParseNumber("2019/4 112A", Issue).Key(), ParseNumber("2019/4 112B", Issue).Key()
	if a == b {
		t.Errorf("112A and 112B have one key %q; they are two styles", a)
	}
	if c := ParseNumber("04/2019 112a", Issue).Key(); a != c {
		t.Errorf("two ways of printing one style have keys %q and %q", a, c)
	}
}

func TestParseScheme(t *testing.T) {
	for in, want := range map[string]Scheme{"": Consecutive, "consecutive": Consecutive, "prefix-first": PrefixFirst, "issue": Issue, "book": BookPage, "none": Unnumbered} {
		if got, err := ParseScheme(in); got != want || err != nil {
			t.Errorf("ParseScheme(%q) = %q, %v, want %q", in, got, err, want)
		}
	}
	_, err := ParseScheme("by colour")
	if err == nil {
		t.Fatal("a scheme that does not exist was accepted")
	}
	for _, part := range []string{`"by colour"`, "consecutive, prefix-first, issue, book, none"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("the error does not hold %s: %v", part, err)
		}
	}
}

// Every decimal digit of Unicode is worth what its name says. The rows of ten
// begin where the digit before is no digit, or ten further.
func TestDigitValue(t *testing.T) {
	want := byte('0')
	for r := rune(0); r <= unicode.MaxRune; r++ {
		if !unicode.IsDigit(r) {
			if want != '0' {
				t.Fatalf("%U ends a row of digits too early", r-1)
			}
			continue
		}
		if got := DigitValue(r); got != want {
			t.Fatalf("DigitValue(%U) = %c, want %c", r, got, want)
		}
		if want++; want > '9' {
			want = '0'
		}
	}
}

func BenchmarkParseNumber(b *testing.B) {
	for _, s := range []string{"6123", "K6123 H5", "No. K-0123 (8 – 14)"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if n := ParseNumber(s, Consecutive); len(n.Parts) != 1 {
					b.Fatalf("%q was not read: %+v", s, n)
				}
			}
		})
	}
}

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"K-0123 H5", "04/2019 112", "112 (4/2019)", "1 2 (3) 2019", "٦١٢٣", "6123 (8-14)", "\xff1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		groups := slices.Collect(DigitGroups(s))
		for _, scheme := range []Scheme{Consecutive, PrefixFirst, Issue, BookPage, Unnumbered} {
			n := ParseNumber(s, scheme)
			for _, p := range n.Parts {
				if p == "" || strings.Trim(p, "0123456789") != "" || (p != "0" && p[0] == '0') {
					t.Fatalf("ParseNumber(%q, %s): part %q is no plain number", s, scheme, p)
				}
			}
			if len(n.Parts) > 0 && !slices.Contains(n.Parts, groups[0]) || slices.ContainsFunc(n.Parts, func(p string) bool { return !slices.Contains(groups, p) }) {
				t.Fatalf("ParseNumber(%q, %s) has parts %q of the groups %q", s, scheme, n.Parts, groups)
			}
			if again := ParseNumber(s, scheme); again.Key() != n.Key() || n.Printed != s {
				t.Fatalf("ParseNumber(%q, %s) is not the same twice: %+v, %+v", s, scheme, n, again)
			}
			if strings.ContainsFunc(s, isDigit) != (len(n.Parts) > 0) && scheme != Unnumbered {
				t.Fatalf("ParseNumber(%q, %s) has parts %q", s, scheme, n.Parts)
			}
			if utf8.ValidString(s) && !utf8.ValidString(n.Prefix+n.Suffix+n.Size) {
				t.Fatalf("ParseNumber(%q, %s) broke a letter: %+v", s, scheme, n)
			}
		}
	})
}
