package model

import (
	"encoding/json"
	"strings"
	"testing"
)

func TestLength(t *testing.T) {
	for _, x := range []struct {
		text string
		want Length
	}{
		{"380", 38000}, {"5 mm", 500}, {"0,5", 50}, {"38 cm", 38000},
		// 1 in = 25.4 mm exactly (NBS, from 1 July 1959): 6.5 in is 165.1 mm.
		{"6.5 in", 16510}, {"9.5in", 24130}, {"6 1/2 in", 16510}, {"1/2 in", 1270}, {`8 3/8"`, 21273},
	} {
		if got, err := ParseLength(x.text); err != nil || got != x.want {
			t.Errorf("ParseLength(%q) = %v, %v, want %v", x.text, got, err, x.want)
		}
	}
	for _, bad := range []string{"", "-1", "wide", "1e9", "NaN", "5 ell", "8 3/8", "8 3/0 in", "8 / in", "1 2 3/4 in", "-1/2 in"} {
		if got, err := ParseLength(bad); err == nil {
			t.Errorf("ParseLength(%q) = %v, want an error", bad, got)
		}
	}
	for _, l := range []Length{0, 50, 500, 1234567} {
		b, err := json.Marshal(l)
		var back Length
		if err != nil || json.Unmarshal(b, &back) != nil || back != l {
			t.Errorf("%v went through JSON as %s and came back as %v", l, b, back)
		}
	}
}

// What is shown in inches is the nearest eighth, reads back as that, and is
// never further off than half of one.
func TestLengthInTheOwnersUnit(t *testing.T) {
	for _, x := range []struct {
		l              Length
		mm, inch, fine string
	}{
		{0, "0 mm", `0"`, `0"`}, {50, "1 mm", `0"`, `0.02"`}, {MM(5), "5 mm", `1/4"`, `0.2"`},
		{MM(165.1), "165 mm", `6 1/2"`, `6.5"`}, {MM(212), "212 mm", `8 3/8"`, `8.35"`}, {MM(-38), "-38 mm", `-1 1/2"`, `-1.5"`},
	} {
		if mm, inch, fine := x.l.In(Millimetres), x.l.In(Inches), x.l.Fine(Inches); mm != x.mm || inch != x.inch || fine != x.fine {
			t.Errorf("%v is shown as %q, %q and %q, want %q, %q and %q", x.l, mm, inch, fine, x.mm, x.inch, x.fine)
		}
	}
	for l := Length(0); l < MM(1000); l += 37 {
		back, err := ParseLength(l.In(Inches))
		if off := back - l; err != nil || off < -Inch/16-1 || off > Inch/16+1 {
			t.Fatalf("%v is shown as %q, which reads as %v (%v)", l, l.In(Inches), back, err)
		}
	}
}

func TestSpace(t *testing.T) {
	for _, x := range []struct {
		text string
		of   Length // of a box of 380 mm
	}{{"15%", MM(57)}, {"60mm", MM(60)}, {"0%", 0}, {"0mm", 0}, {"12.5%", MM(47.5)}} {
		s, err := ParseSpace(x.text)
		if err != nil || s.Of(MM(380)) != x.of {
			t.Errorf("%q of 380 mm is %v (%v), want %v", x.text, s.Of(MM(380)), err, x.of)
		}
		if again, err := ParseSpace(s.String()); err != nil || again != s {
			t.Errorf("%q is written %q, which reads as %v (%v)", x.text, s, again, err)
		}
	}
	for _, bad := range []string{"", "100%", "-5%", "some", "NaN%"} {
		if _, err := ParseSpace(bad); err == nil {
			t.Errorf("ParseSpace(%q) gave no error", bad)
		}
	}
}

// Check digits as published: GS1 gives 629104150021 -> 3, GS1 Sweden
// 730001100001 -> 7; UPC-A is GTIN-12, with a leading 0 it is a GTIN-13;
// 042100005264 is a published UPC-A.
func TestGTIN(t *testing.T) {
	for _, good := range []string{"6291041500213", "7300011000017", "042100005264", "0042100005264"} {
		if !IsGTIN(good) {
			t.Errorf("IsGTIN(%q) is false", good)
		}
		for d := byte('0'); d <= '9'; d++ {
			other := good[:len(good)-1] + string(d)
			if other != good && IsGTIN(other) {
				t.Errorf("IsGTIN(%q) is true with a wrong check digit", other)
			}
		}
	}
	for _, bad := range []string{"", "6123", "629104150021", "62910415002133", "629104150021X"} {
		if IsGTIN(bad) {
			t.Errorf("IsGTIN(%q) is true", bad)
		}
	}
}

// A category whose name holds what separates names in a cell stays one.
func TestNamesInACell(t *testing.T) {
	for _, x := range []struct{ in, want, out string }{
		{"Coats; Hats", "Coats|Hats", "Coats; Hats"},
		{"Coats, capes; Hats", "Coats, capes|Hats", "Coats, capes; Hats"},
		{`"Hats; gloves";Coats`, "Hats; gloves|Coats", `"Hats; gloves"; Coats`},
		{`36" wide; 45" wide`, `36" wide|45" wide`, `"36"" wide"; "45"" wide"`},
		{`"Coats"; ; Coats;`, "Coats", "Coats"},
		{`"Hats; gloves`, "Hats; gloves", `"Hats; gloves"`}, // not closed
		{" ; ", "", ""},
	} {
		var en Entry
		f, _ := FieldNamed("also_in")
		if err := f.Set(&en, x.in); err != nil || strings.Join(en.Also, "|") != x.want || f.Get(&en) != x.out {
			t.Errorf("%q is read as %q and written as %q (%v), want %q and %q", x.in, en.Also, f.Get(&en), err, x.want, x.out)
		}
	}
}

// Each field must read what it writes, and leave the others alone.
func TestFieldsReadWhatTheyWrite(t *testing.T) {
	values := map[string]string{
		"accession": "12", "publisher": "Quillon", "number": "K-12 H5", "name": "Cape", "category": "Coats",
		"size_range": "10-16", "year": "1974", "dated_by": "postmark", "medium": "traced", "cut": "partly",
		"complete": "sleeve missing", "thickness_mm": "12.5", "sleeve": "with tissue", "envelope": "yes",
		"box": "2", "position": "7", "hook": "door 3", "batch": "hall", "barcode": "6291041500213",
		"tags": "old; inherited", "notes": "=1+1", "pattern": "3", "files_as": "Kape", "bulky": "yes",
		"home": "hook", "grouped": "yes", "added": "2026-02-28", "out_since": "2026-01-02", "out_to": "the neighbour", "out_for": "a hem", "out_due": "2026-02-02",
		"pages": "32", "square_side_mm": "100", "paper": "A4", "test_square_mm": "99.5", "assembled": "yes", "version": "2.1", "value": "12.50",
		"pieces": "front; back; collar", "pieces_found": "front; back | torn; collar | missing",
		"sizes_left": "10-12", "size_chart": "10 | 825.5 | 635 | 876.3; 12 | | | 914.4; L", "cloth_needed": "A | 10-14 | 1143 | 2057.4; | | 1150 | 2300; B | | 900 | 1500 | lining",
		"missing": "2026-02-27", "also_in": "Coats; Hats", "photocopied_in": "Coats; Hats",
	}
	for _, f := range Fields() {
		v, ok := values[f.Name]
		if !ok {
			t.Fatalf("field %q is not tried", f.Name)
		}
		var en Entry
		if err := f.Set(&en, v); err != nil || f.Get(&en) != v {
			t.Errorf("%s: set to %q it says %q (%v)", f.Name, v, f.Get(&en), err)
		}
		for _, g := range Fields() {
			if g.Name != f.Name && g.Get(&en) != "" {
				t.Errorf("setting %s made %s say %q", f.Name, g.Name, g.Get(&en))
			}
		}
		var empty Entry
		if err := f.Set(&empty, ""); err != nil || f.Get(&empty) != "" {
			t.Errorf("%s: set to nothing it says %q (%v)", f.Name, f.Get(&empty), err)
		}
	}
	for field, bad := range map[string]string{"year": "1974?", "cut": "maybe", "thickness_mm": "thick", "envelope": "perhaps",
		"added": "30.2.2026", "missing": "yesterday", "accession": "-1", "medium": "stone", "home": "attic", "sleeve": "lost", "value": "12.345", "pieces_found": "collar | eaten", "pages": "-1", "test_square_mm": "large", "size_chart": "10 | wide", "cloth_needed": "A | 10"} {
		var en Entry
		f, _ := FieldNamed(field)
		if err := f.Set(&en, bad); !IsInput(err) {
			t.Errorf("%s = %q gave %v, want an error for the user", field, bad, err)
		}
	}
}

func TestTagsHoldNoSeparators(t *testing.T) {
	en := Entry{Publisher: "Quillon", Number: "1", Tags: []string{"old; big", "a\u037eb", " ", "old big"}}
	if err := en.Normalise(); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(en.Tags, "|"); got != "old big|a b" {
		t.Errorf("tags are %q, want them without ; or what becomes one, each once", got)
	}
}
