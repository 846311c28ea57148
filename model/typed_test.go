package model

import (
	"strings"
	"testing"
)

// What is measured with a tape has a unit; anything else a tape says is no length.
// The question offers the units that the thing is measured in.
func TestMeasuredWithATape(t *testing.T) {
	for text, want := range map[string]Length{"92 cm": MM(920), "36 in": MM(914.4), `36"`: MM(914.4), "2 1/4 yd": MM(2057.4), "1.4m": MM(1400), "0": 0,
		"5 ft 6 in": MM(1676.4), "5'6": MM(1676.4), `5′6″`: MM(1676.4)} {
		if l, err := ParseBody("height", text); err != nil || l != want {
			t.Errorf("%q is %v, %v, want %v", text, l, err, want)
		}
	}
	for _, text := range []string{"92", "2.2", "36 1/2", "long", "92 cmm", "-3 cm"} {
		if l, err := ParseBody("bust", text); !IsInput(err) {
			t.Errorf("%q is %v, %v, want to be asked", text, l, err)
		}
	}
	if _, err := ParseBody("bust", "92"); err.Error() != `bust: 92 of what? write "92 cm" or "92 in"` {
		t.Errorf("it is asked: %v", err)
	}
	if _, err := ParseCloth("length", "2"); err.Error() != `length: 2 of what? write "2 cm", "2 in", "2 m" or "2 yd"` {
		t.Errorf("it is asked: %v", err)
	}
}

// What a person writes without a unit is asked for; in a file of ours it is
// millimetres.
func TestWhatIsTypedHasUnits(t *testing.T) {
	for _, x := range []struct{ field, text, asks string }{
		{"cloth_needed", "A | 8-14 | 45 | 2 yd", `45 of what? write "45 cm", "45 in", "45 m" or "45 yd"`},
		{"size_chart", "10 | 32 | 25 | 34", `32 of what? write "32 cm" or "32 in"`},
		{"size_chart", "10-14", "no measure of size"},
		{"size_chart", "10 | 32 in; 12", `no measure of size "12"`},
		{"size_chart", "10 | large", "is not a length"},
		{"sizes_left", "abc", "names no size"},
		{"sizes_left", "?", "names no size"},
		{"year", "87", "four digits"},
		{"year", "19744", "four digits"},
		{"year", "long ago", "four digits"},
	} {
		had := Entry{Year: 1950, Sizes: []Size{{"8", MM(800), 0, 0}}, Needs: []Need{{"", "", MM(1140), MM(2000), ""}}}
		en := had
		f, _ := FieldNamed(x.field)
		if err := f.Type(&en, x.text); !IsInput(err) || !strings.Contains(err.Error(), x.asks) {
			t.Errorf("%s %q gives %v, want it to ask %q", x.field, x.text, err, x.asks)
		}
		if en.Year != had.Year || SizesText(en.Sizes) != SizesText(had.Sizes) || NeedsText(en.Needs) != NeedsText(had.Needs) {
			t.Errorf("%s %q left %+v", x.field, x.text, en)
		}
	}
	for _, text := range []string{"10-12", "S-M", "xl", "Toddler", "petite", ""} {
		en := Entry{SizeRange: "Petite", Sizes: []Size{{Name: "Toddler"}}}
		f, _ := FieldNamed("sizes_left")
		if err := f.Type(&en, text); err != nil || en.Left != text {
			t.Errorf("sizes left %q: %q, %v", text, en.Left, err)
		}
	}
	var en Entry
	for field, text := range map[string]string{"size_chart": "10 | 32 in; 12 | | 66.5 cm", "cloth_needed": "A | 10 | 45 in | 2 1/4 yd", "year": "1974"} {
		f, _ := FieldNamed(field)
		if err := f.Type(&en, text); err != nil {
			t.Errorf("%s %q: %v", field, text, err)
		}
	}
	if got := SizesText(en.Sizes) + "; " + NeedsText(en.Needs); got != "10 | 812.8; 12 | | 665; A | 10 | 1143 | 2057.4" || en.Year != 1974 {
		t.Errorf("got %q, %d", got, en.Year)
	}
}

// What a form shows can be left as it is, even what nobody could type now, and
// what was altered beside it is read.
func TestWhatAFormShowsIsReadAgain(t *testing.T) {
	en := Entry{Year: 87, Sizes: []Size{{"10", Length(82551), Length(63500), 0}, {Name: "12"}}, Needs: []Need{{"A", "", MM(1143), MM(2057.4), "lining"}}}
	was := en
	for _, f := range Fields() {
		if err := f.Type(&en, f.Typed(&en)); err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
	}
	if en.Year != was.Year || SizesText(en.Sizes) != SizesText(was.Sizes) || NeedsText(en.Needs) != NeedsText(was.Needs) {
		t.Errorf("it became %+v", en)
	}
	chart, _ := FieldNamed("size_chart")
	if got := chart.Typed(&en); got != "10 | 82.551 cm | 63.5 cm; 12" {
		t.Errorf("the chart is shown as %q", got)
	}
	var other Entry
	if err := chart.Type(&other, "10 | 82.551 cm | 63.5 cm"); err != nil || SizesText(other.Sizes) != "10 | 825.51 | 635" {
		t.Errorf("read as %q, %v", SizesText(other.Sizes), err)
	}
	// A day that cannot be read leaves nothing behind.
	due, _ := FieldNamed("out_due")
	if err := due.Set(&other, "next week"); err == nil || other.Out != nil {
		t.Errorf("%v, and it is out: %+v", err, other.Out)
	}
}
