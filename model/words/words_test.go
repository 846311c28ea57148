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
		// What is not seen is no name, and no second spelling of one.
		{"\u200d", ""}, {"cape\u200d", "cape"}, {"\u200ccape", "cape"}, {"wide \u200d coat", "wide coat"}, {"\u3164", ""},
		{"a\u2067b\u2069\u2060\ufeff", "ab"}, {"one\u0085two\u2028three", "one two three"}, {"\x9bm\x7f", "m"},
		{"q" + strings.Repeat("\u0301", 40) + "r", "q" + strings.Repeat("\u0301", mostMarks) + "r"},
		{"👩\u200d🧵", "👩\u200d🧵"},
	} {
		if got := Clean(x.in); got != x.want {
			t.Errorf("Clean(%q) = %q, want %q", x.in, got, x.want)
		}
	}
}

// awkward text is what cleaning could fall over: marks in long rows and in an
// order that normal form C changes, joiners at edges, broken bytes.
var awkward = rapid.Custom(func(t *rapid.T) string {
	pieces := []string{"a", "e", " ", "\t", "\u0301", "\u0327", strings.Repeat("\u0301", 40), "\u034f", "\u200d", "\u200c", "\u200b", "\u3164", "\xff", "\x1b", "\u202e", "각", "\u1100", "\u1161", "क", "्", "が", "\u3099", "ß"}
	return strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t, "pieces"), "")
})

func TestCleanTextHoldsNothingToClean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), awkward).Draw(t, "s")
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
		{"Φόρεμα", "φορεμα"}, {"٣", "٣"}, {"ΡΟΥΧΟΣ", "ρουχοσ"}, {"ρούχος", "ρουχοσ"},
		{"l´ourlet", "lourlet"}, {"lʼourlet", "lourlet"}, {"l’ourlet", "lourlet"}, {"l'ourlet", "lourlet"},
		{"8–14", "8 14"}, {"8−14", "8 14"},
		// A vowel sign is no accent: these two are different words.
		{"कि", "कि"}, {"कु", "कु"}, {"ผู", "ผู"},
		{"שָׁלוֹם", "שלום"}, // points are
		{"--", ""},
	} {
		if got := Fold(x.in); got != x.want {
			t.Errorf("Fold(%q) = %q, want %q", x.in, got, x.want)
		}
	}
}

func TestFoldingAgainChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), awkward).Draw(t, "s")
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

// Whole names are compared too, and they can be long.
func TestCloseOfLongText(t *testing.T) {
	long := strings.Repeat("lined coat with cape ", 12)
	for _, x := range []struct {
		a, b string
		want bool
	}{
		{long + "a", long + "b", true},
		{"x" + long + "a", "y" + long + "b", true},
		{"xyz" + long, "abc" + long, false},
		{"x" + long + "ab", long + "ba", true},
	} {
		if got := Close(x.a, x.b); got != x.want {
			t.Errorf("Close(%q, %q) = %v, want %v", x.a, x.b, got, x.want)
		}
	}
}

// Nearly all that is typed is clean ASCII and looked up over and over: it costs
// no memory.
func TestCleanASCIIIsNotCopied(t *testing.T) {
	if n := testing.AllocsPerRun(100, func() {
		if Clean("Wrap dress, view B") != "Wrap dress, view B" || Fold("wrapdress") != "wrapdress" || !Close("wrapdress", "wrpadress") {
			t.Error("clean text was changed, or a swap not seen")
		}
	}); n != 0 {
		t.Errorf("cleaning, folding and comparing ASCII allocated %v times", n)
	}
}

func BenchmarkClean(b *testing.B) {
	for _, s := range []string{"Wrap dress and cape", "Élégante robe à fleurs"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if Clean(s) != s {
					b.Fatalf("%q was changed", s)
				}
			}
		})
	}
}

func BenchmarkFold(b *testing.B) {
	for s, want := range map[string]string{"Wrap dress and cape": "wrap dress and cape", "Élégante robe à fleurs": "elegante robe a fleurs"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if Fold(s) != want {
					b.Fatalf("%q folds to %q", s, Fold(s))
				}
			}
		})
	}
}

func BenchmarkClose(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if !Close("nightgowns", "ngihtgwons") {
			b.Fatal("two swaps were not seen")
		}
	}
}

// TestCloseAgainstTheDistance compares Close, which counts before it compares,
// with the distance by its definition: the least number of letters put in, left
// out or made others, and of neighbours swapped, no letter being in two swaps.
func TestCloseAgainstTheDistance(t *testing.T) {
	distance := func(a, b []rune) int {
		d := make([][]int, len(a)+1)
		for i := range d {
			d[i] = make([]int, len(b)+1)
			for j := range d[i] {
				switch {
				case i == 0 || j == 0:
					d[i][j] = i + j
				case a[i-1] == b[j-1]:
					d[i][j] = d[i-1][j-1]
				default:
					d[i][j] = 1 + min(d[i-1][j], d[i][j-1], d[i-1][j-1])
				}
				if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
					d[i][j] = min(d[i][j], d[i-2][j-2]+1)
				}
			}
		}
		return d[len(a)][len(b)]
	}
	letter := rapid.SampledFrom([]rune("abcdeé한А1"))
	close, far := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SliceOfN(letter, 0, 14).Draw(t, "a")
		b := append([]rune(nil), a...)
		for range rapid.IntRange(0, 4).Draw(t, "errors") {
			at := rapid.IntRange(0, len(b)).Draw(t, "at")
			r := letter.Draw(t, "letter")
			switch k := rapid.IntRange(0, 2).Draw(t, "what"); {
			case k == 0 || at == len(b):
				b = append(b[:at:at], append([]rune{r}, b[at:]...)...)
			case k == 1:
				b = append(b[:at:at], b[at+1:]...)
			case at > 0:
				b[at-1], b[at] = b[at], b[at-1]
			}
		}
		most, short := 1, min(len(a), len(b))
		if short >= 9 {
			most = 2
		}
		want := string(a) == string(b) || short >= 4 && distance(a, b) <= most
		if got := Close(string(a), string(b)); got != want {
			t.Fatalf("Close(%q, %q) = %v, and the distance is %d", string(a), string(b), got, distance(a, b))
		}
		if want {
			close++
		} else {
			far++
		}
	})
	if close == 0 || far == 0 {
		t.Errorf("%d were close and %d were not: both are to be tried", close, far)
	}
}
