package lettering

import (
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Widths of characters as another reader of TrueType files has them,
// golang.org/x/image/font/sfnt. The Core 14 fonts are not used on paper, so
// their published widths have no part here.
func TestWidthsAreThoseOfTheFont(t *testing.T) {
	for weight, name := range map[Weight]string{Regular: "NotoSans-Regular.ttf", Bold: "NotoSans-Bold.ttf"} {
		other, err := sfnt.Parse(Faces(weight)[0].Data())
		if err != nil {
			t.Fatal(err)
		}
		var b sfnt.Buffer
		s := New()
		for _, r := range "0123456789-.,&ABCMWabcimwÅéßžŁΩλЖщ…“№" {
			g, err := other.GlyphIndex(&b, r)
			if err != nil || g == 0 {
				t.Fatalf("%s has no %q: %v", name, r, err)
			}
			advance, err := other.GlyphAdvance(&b, g, fixed.I(int(other.UnitsPerEm())), font.HintingNone)
			if err != nil {
				t.Fatal(err)
			}
			want := float64(advance) / 64 / float64(other.UnitsPerEm())
			l := s.Line(string(r), weight)
			if math.Abs(l.Width-want) > 1e-6 || len(l.Runs) != 1 || l.Runs[0].Face.File != name {
				t.Errorf("%s: %q is %v ems wide, sfnt says %v", name, r, l.Width, want)
			}
		}
	}
}

// What a text looks like from left to right, as GNU FriBidi 1.0.8 prints it
// (fribidi --nopad --nobreak).
func TestTextOfBothDirectionsIsInTheOrderInWhichItIsSeen(t *testing.T) {
	s := New()
	for text, want := range map[string]string{
		"6123 Wrap dress":      "6123 Wrap dress",
		"abc שמלה 123 def":     "abc 123 הלמש def",
		"שמלה 123 abc ערב":     "ברע abc 123 הלמש",
		"שמלה 6123-H5":         "H5-6123 הלמש",
		"Dress (שמלה) 12":      "Dress (הלמש) 12",
		"שמלה (ארוכה) 12":      "12 (הכורא) הלמש",
		"12 שמלה":              "הלמש 12",
		"abc שמלה, 123 כן":     "abc ןכ 123 ,הלמש",
		"Quillon שמלה 6123 H5": "Quillon 6123 הלמש H5",
	} {
		l, seen := s.Line(text, Regular), ""
		for _, r := range l.Runs {
			for _, g := range r.Glyphs {
				shape := g.Of
				for _, bracket := range "()" { // stands for one, and can look like the other
					if id, _ := r.Face.font().NominalGlyph(bracket); uint16(id) == g.ID {
						shape = string(bracket)
					}
				}
				seen += shape
			}
		}
		if seen != want || l.Text != text {
			t.Errorf("%q is seen as %q, want %q", text, seen, want)
		}
	}
}

// Arabic letters take the shape that their neighbours ask for, so a word is not
// as wide as its letters one by one, and none of them is lost.
func TestArabicIsJoined(t *testing.T) {
	s := New()
	const word = "فستان"
	l, apart := s.Line(word, Regular), 0.0
	shapes := map[uint16]bool{}
	for _, r := range word {
		one := s.Line(string(r), Regular)
		apart += one.Width
		shapes[one.Runs[0].Glyphs[0].ID] = true
	}
	joined := 0
	for _, g := range l.Runs[0].Glyphs {
		if !shapes[g.ID] {
			joined++
		}
	}
	if l.Width >= apart || joined < 3 || len(l.Missing) > 0 {
		t.Errorf("%q is %.3f ems wide, its letters one by one %.3f; %d shapes are joined", word, l.Width, apart, joined)
	}
}

// One text in each script that the package says it covers, in both weights.
func TestEveryScriptThatIsPromisedIsCovered(t *testing.T) {
	s := New()
	for _, text := range []string{"Žluťoučký Ångström", "Σχέδιο φορέματος", "Выкройка", "שמלת מעטפת", "فستان سهرة", "Զգեստ", "კაბა",
		"फ़्रॉक क्षत्रिय", "ชุดเดรสผู้หญิง", "連衣裙 连衣裙", "ワンピース", "원피스"} {
		for _, w := range []Weight{Regular, Bold} {
			if l := s.Line(text, w); len(l.Missing) > 0 || l.Width == 0 {
				t.Errorf("%q is %v ems wide and lacks %q", text, l.Width, l.Missing)
			}
		}
	}
}

// What no font has is shown as a box, as wide as one, and said.
func TestWhatNoFontHasIsShownAndSaid(t *testing.T) {
	s := New()
	with, without := s.Line("silk 🧵 thread", Regular), s.Line("silk  thread", Regular)
	if string(with.Missing) != "🧵" || with.Width < without.Width+0.3 {
		t.Errorf("missing %q, %v ems wide; without it %v", string(with.Missing), with.Width, without.Width)
	}
}
