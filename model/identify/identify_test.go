package identify_test

import (
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/identify"
)

// Size 12 was bust 30 before 1956, 32 from 1956, 34 from late 1967 (extension
// service charts, two copies).
func TestDatedByBust(t *testing.T) {
	for _, x := range []struct {
		size   string
		inches float64
		want   identify.Dating
		ok     bool
	}{
		{"12", 30, identify.Dating{To: 1955}, true},
		{"12", 32, identify.Dating{From: 1956, To: 1967}, true},
		{" 12 ", 34, identify.Dating{From: 1967}, true},
		{"12", 76 / 2.54, identify.Dating{To: 1955}, true}, // 76 cm, as printed
		{"12", 31, identify.Dating{}, false},
		{"14", 32, identify.Dating{}, false},
		{"12-14", 32, identify.Dating{}, false},
		{"", 30, identify.Dating{}, false},
	} {
		got, ok := identify.DatedByBust(x.size, model.MM(x.inches*25.4))
		if got != x.want || ok != x.ok {
			t.Errorf("size %q, bust %v in: %+v %v, want %+v %v", x.size, x.inches, got, ok, x.want, x.ok)
		}
	}
}

// A look is open until one of its fields says something; the publisher counts
// once the pattern is out of the bin. Every field that is named exists.
func TestOpenLooks(t *testing.T) {
	c, _, err := model.NewCollection().Apply(&model.Add{Entries: []model.Entry{
		{Publisher: "not known", Name: "Long gown", Tags: []string{"Unidentified"}},
		{Publisher: "Quillon", Number: "12", Name: "Gown", Year: 1950, SizeRange: "12", Barcode: "x", Category: "Dresses", Pieces: []string{"front"}},
		{Publisher: "Quillon", Number: "13"},
	}}, "2026-03-01")
	if err != nil {
		t.Fatal(err)
	}
	open := func(id model.PatternID) (out []string) {
		for _, l := range identify.Open(c, c.Pattern(id)) {
			out = append(out, l.At)
		}
		return out
	}
	if got, all := len(open(1)), len(identify.Checklist()); got != all {
		t.Errorf("%d looks are open for one of which nothing is known, want all %d", got, all)
	}
	if got := open(2); len(got) != 0 {
		t.Errorf("of one of which all is known are open: %q", got)
	}
	if got := strings.Join(open(3), "; "); strings.Contains(got, "tissue") || !strings.Contains(got, "copyright") && !strings.Contains(got, "sleeve and guide sheet") {
		t.Errorf("with publisher and number are open: %s", got)
	}
	if bin := identify.Bin(c); len(bin) != 1 || bin[0].ID != 1 {
		t.Errorf("in the bin are %v", bin)
	}
	for _, l := range identify.Checklist() {
		for _, f := range l.Notes {
			if _, ok := model.FieldNamed(f); !ok {
				t.Errorf("there is no field %q", f)
			}
		}
	}
}
