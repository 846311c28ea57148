package words

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
	"pgregory.net/rapid"
)

func TestClean(t *testing.T) {
	for _, x := range []struct{ in, want string }{
		{"Wrap dress", "Wrap dress"},
		{"  Wrap \t\n dress ", "Wrap dress"},
		{"Cafe\u0301", "Café"},
		{"red\x1b[31m coat\x07", "red[31m coat"},
		{"a\u202eb\u200bc", "abc"},
		{"bad \xff byte", "bad byte"},
		{"می\u200cخواهم", "می\u200cخواهم"}, // the joiner belongs to the spelling
		{"\u00a0", ""},
	} {
		if got := Clean(x.in); got != x.want {
			t.Errorf("Clean(%q) = %q, want %q", x.in, got, x.want)
		}
	}
}

func TestCleanTextHoldsNothingToClean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		c := Clean(s)
		if Clean(c) != c {
			t.Fatalf("%q cleans to %q, and that to %q", s, c, Clean(c))
		}
		if !utf8.ValidString(c) || !norm.NFC.IsNormalString(c) || strings.ContainsFunc(c, unicode.IsControl) {
			t.Fatalf("%q cleans to %q, which is not clean", s, c)
		}
	})
}

func TestFold(t *testing.T) {
	for _, x := range []struct{ in, want string }{
		{"Harrow & Pell", "harrow pell"},
		{"HARROW-PELL", "harrow pell"},
		{"Straße", "strasse"}, {"Œuvre", "oeuvre"}, {"Ørsta", "orsta"}, {"Łódka", "lodka"},
		{"Café", "cafe"}, {"Cafe\u0301", "cafe"},
		{"Dot's coat (8/10)", "dots coat 8 10"},
		{"Φόρεμα", "φορεμα"}, {"٣", "٣"},
		{"--", ""},
	} {
		if got := Fold(x.in); got != x.want {
			t.Errorf("Fold(%q) = %q, want %q", x.in, got, x.want)
		}
	}
}

func TestFoldingAgainChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "s")
		if f := Fold(s); Fold(f) != f {
			t.Fatalf("%q folds to %q, and that to %q", s, f, Fold(f))
		}
	})
}

// The quick way for ASCII must be the slow way.
func TestFoldASCII(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringMatching(`[ -~]{0,20}`).Draw(t, "s")
		quick, ok := foldASCII(s)
		// A letter outside ASCII sends Fold the slow way.
		slow := strings.TrimSuffix(Fold(s+" φ"), "φ")
		if !ok || quick != strings.TrimSuffix(slow, " ") {
			t.Fatalf("%q folds to %q the quick way, %q the slow way", s, quick, slow)
		}
	})
}

// bruteDistance is the optimal string alignment distance by its definition.
func bruteDistance(a, b []rune) int {
	if len(a) == 0 || len(b) == 0 {
		return len(a) + len(b)
	}
	cost := 1
	if a[0] == b[0] {
		cost = 0
	}
	d := min(bruteDistance(a[1:], b)+1, bruteDistance(a, b[1:])+1, bruteDistance(a[1:], b[1:])+cost)
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		d = min(d, bruteDistance(a[2:], b[2:])+1)
	}
	return d
}

func TestDistance(t *testing.T) {
	word := rapid.StringMatching(`[abc]{1,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := []rune(word.Draw(t, "a")), []rune(word.Draw(t, "b"))
		if got, want := distance(a, b, 100), bruteDistance(a, b); got != want {
			t.Fatalf("%q to %q: %d, want %d", string(a), string(b), got, want)
		}
		most := rapid.IntRange(0, 3).Draw(t, "most")
		if got, want := distance(a, b, most) <= most, bruteDistance(a, b) <= most; got != want {
			t.Fatalf("%q to %q within %d: %v, want %v", string(a), string(b), most, got, want)
		}
	})
}

func TestClose(t *testing.T) {
	for _, x := range []struct {
		a, b string
		want bool
	}{
		{"dress", "drees", true}, {"dress", "derss", true}, {"dress", "dres", true}, {"dress", "dressy", true},
		{"dress", "drossy", false}, {"cape", "cope", true}, {"hat", "het", false},
		{"nightgown", "nihgtgonw", true}, {"waistcoat", "wastcot", false}, {"waistcoats", "wastcots", false}, {"nightgowns", "ngihtgwons", true},
	} {
		if got := Close(x.a, x.b); got != x.want {
			t.Errorf("Close(%q, %q) = %v, want %v", x.a, x.b, got, x.want)
		}
		if got := Close(x.b, x.a); got != x.want {
			t.Errorf("Close(%q, %q) = %v, want %v", x.b, x.a, got, x.want)
		}
	}
}
