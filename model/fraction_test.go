package model

import (
	"testing"

	"pgregory.net/rapid"
)

// 1 in = 25.4 mm and 1 yd = 0.9144 m exactly (NBS, from 1 July 1959).
func TestFractionsAreReadExactly(t *testing.T) {
	for text, want := range map[string]Length{
		"2 1/4 yd": 205740, "2¼yd": 205740, "2 ¼ yards": 205740, "1/8 yard": 11430, "2 2/3 yd": 243840, "3 yds": 274320,
		"32 1/2 in": 82550, `30½"`: 77470, "5/8 in": 1588, "2.3 m": 230000, "2,30 m": 230000, "1 1⁄2 yd": 137160,
		"5 ft 6 in": 167640, `5'6"`: 167640, "5 ft 6": 167640, "5'6": 167640, "5′ 6½″": 168910, "5 ft. 6 1/2 in": 168910, "6 feet": 182880, "5.5 ft": 167640, "5’ 6”": 167640,
	} {
		if got, err := ParseLength(text); err != nil || got != want {
			t.Errorf("ParseLength(%q) = %d, %v, want %d hundredths of a millimetre", text, got, err, want)
		}
	}
	for _, bad := range []string{"1/0 yd", "3/2 yd", "1 2 yd", "1/ yd", "/2 yd", "1 1/2/3 yd", "-1 1/2 yd", "1 -1/2 yd", "1/1000 yd", "yd", "99999999999 1/2 yd", "1.5 1/2 yd", "8 3/8", "1 1/2 m", "5 ft 12 in", "5.5 ft 6 in", "ft 6", "5 ft 6 cm", "5 ft -6", "5'6'", "-5 ft", "'", "5 ft six", "328 ft 11 in"} {
		if got, err := ParseLength(bad); err == nil {
			t.Errorf("ParseLength(%q) = %v, want an error", bad, got)
		}
	}
}

func TestClothAndTapeAreWrittenAsTheyArePrinted(t *testing.T) {
	for _, x := range []struct{ got, want string }{
		{Length(205740).Yards(), "2 1/4 yd"}, {Length(243840).Yards(), "2 2/3 yd"}, {Length(11430).Yards(), "1/8 yd"}, {Length(0).Yards(), "0 yd"},
		{MM(2300).Yards(), "2 5/8 yd"}, // 2.515 yd, and what is cut must be enough
		{MM(2300).Metres(), "2.30 m"}, {MM(2000).Metres(), "2.00 m"}, {MM(1234.5).Metres(), "1.2345 m"},
		{MM(920).Centimetres(), "92 cm"}, {MM(864).Centimetres(), "86.4 cm"}, {Length(82550).Inches(), "32 1/2 in"}, {MM(920).Inches(), "36 1/4 in"},
		{Settings{Units: "in"}.Cloth(91440), "1 yd"}, {Settings{Units: "mm"}.Cloth(91440), "0.92 m"},
		{Settings{Units: "in"}.ClothThere(MM(3000)), "3 1/4 yd"}, // 3.281 yd, and what there is must be there
		{Settings{Units: "in"}.ClothThere(91440), "1 yd"}, {Settings{Units: "in"}.ClothThere(MM(100)), "3 7/8 in"}, {Settings{Units: "in"}.ClothThere(0), "0 yd"},
		{Settings{Units: "mm"}.ClothThere(91440), "0.91 m"}, {Settings{Units: "mm"}.ClothThere(MM(3000)), "3.00 m"},
		{Settings{Units: "in"}.Tape(86360), "34 in"}, {Settings{Units: "mm"}.Tape(86360), "86.4 cm"},
	} {
		if x.got != x.want {
			t.Errorf("got %q, want %q", x.got, x.want)
		}
	}
}

// Every number of eighths and of thirds is written so that it is read again,
// and every length in metres.
func TestWrittenLengthsAreReadAgain(t *testing.T) {
	for n := range Length(800) {
		for _, l := range []Length{n * yard / 8, n / 8 * yard / 3} {
			if got, err := ParseLength(l.Yards()); err != nil || got != l {
				t.Errorf("%d is written %q and read as %d (%v)", l, l.Yards(), got, err)
			}
		}
		l := n * Inch / 8
		if n%2 == 0 { // an eighth of an Inch is half a hundredth of a millimetre off
			if got, err := ParseLength(l.Inches()); err != nil || got != l {
				t.Errorf("%d is written %q and read as %d (%v)", l, l.Inches(), got, err)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		l := Length(rapid.Int64Range(0, 10_000_000).Draw(t, "length"))
		if got, err := ParseLength(l.Metres()); err != nil || got != l {
			t.Fatalf("%d is written %q and read as %d (%v)", l, l.Metres(), got, err)
		}
		if got, err := ParseLength(l.Centimetres()); err != nil || got != l {
			t.Fatalf("%d is written %q and read as %d (%v)", l, l.Centimetres(), got, err)
		}
		if got, err := ParseLength(l.Yards()); err == nil && (got < l || got-l > yard/8) {
			t.Fatalf("%d is written %q, which is not enough, or too much", l, l.Yards())
		}
	})
}
