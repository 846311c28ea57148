package model

import (
	"strings"
	"testing"
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
		{"6123A", Consecutive, "|6123|A|"},
		{"6123 H5", Consecutive, "|6123||H5"},
		{"6123H5", Consecutive, "|6123||H5"},
		{"6123A H5", Consecutive, "|6123|A|H5"},
		{"6123 (8-14)", Consecutive, "|6123||8-14"},
		{"6123 8-14", Consecutive, "|6123||8-14"},
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
		{"K123", "k-123", "K 0123"},
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

func FuzzParseNumber(f *testing.F) {
	for _, s := range []string{"K-0123 H5", "04/2019 112", "٦١٢٣", "6123 (8-14)", "\xff1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, scheme := range []Scheme{Consecutive, PrefixFirst, Issue, BookPage, Unnumbered} {
			n := ParseNumber(s, scheme)
			for _, p := range n.Parts {
				if p == "" || strings.Trim(p, "0123456789") != "" || (p != "0" && p[0] == '0') {
					t.Fatalf("ParseNumber(%q, %s): part %q is no plain number", s, scheme, p)
				}
			}
			if utf8.ValidString(s) && !utf8.ValidString(n.Prefix+n.Suffix+n.Size) {
				t.Fatalf("ParseNumber(%q, %s) broke a letter: %+v", s, scheme, n)
			}
		}
	})
}
