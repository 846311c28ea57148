package exchange

import (
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/table"
)

// Every spelling must be what a heading can come to, and lead to a field.
func TestSpellingsNameFields(t *testing.T) {
	for theirs, ours := range spellings {
		if _, ok := model.FieldNamed(ours); !ok {
			t.Errorf("%q leads to %q, which is no field", theirs, ours)
		}
		if headingKey(theirs) != theirs {
			t.Errorf("%q is never looked up: a heading like it comes to %q", theirs, headingKey(theirs))
		}
		if ourName(theirs) != "" {
			t.Errorf("%q is a name of ours", theirs)
		}
	}
}

func TestHeadingsAreGuessed(t *testing.T) {
	for heading, want := range map[string]string{
		"Publisher": "publisher", "COMPANY": "publisher", "Éditeur": "publisher", "Brand ": "publisher",
		"No.": "number", "Pattern #": "number", "#": "number", "pattern_number": "number", "Nummer": "number",
		"Title": "name", "Größe": "size_range", "Size Range": "size_range", "size-range": "size_range", "Cut/Uncut": "cut",
		"Thickness (mm)": "thickness_mm", "UPC": "barcode", "Lent to": "out_to", "out_since": "out_since", "price": "", "%": "", "": "",
	} {
		header := []string{heading, "publisher", "number", "name"}
		if want == "publisher" || want == "number" || want == "name" {
			header = slices.DeleteFunc(header, func(h string) bool { return h == want })
		}
		cols, err := match(&table.Table{Header: header}, nil, true)
		if err != nil {
			t.Errorf("%q: %v", heading, err)
			continue
		}
		if got := cols[0].field.Name; got != want {
			t.Errorf("the heading %q is taken for %q, want %q", heading, got, want)
		}
	}
}

// In a list that somebody kept by hand, a "Pattern" is what is on the sleeve: what
// the cells hold says which. In an export of ours it makes rows one pattern.
func TestWhatAPatternColumnHolds(t *testing.T) {
	for _, x := range []struct {
		name, header string
		rows         []string
		want         string
	}{
		{"names", "Company,No.,Pattern", []string{"Quillon,451,Wrap dress", "Quillon,452,Cape"}, "publisher,number,name"},
		{"names alone", "Company,Pattern", []string{"Quillon,Wrap dress", "Quillon,Cape 1950s"}, "publisher,name"},
		{"numbers", "Company,Pattern,Title", []string{"Quillon,451,Wrap dress", "Quillon,K-452 H5,Cape", "Quillon,453 torn,Cape"}, "publisher,number,name"},
		{"numbers, and no more", "Publisher,Pattern", []string{"Quillon,451", "Quillon,452"}, "publisher,number"},
		{"publisher and number", "Pattern,Description", []string{"Quillon 451,Wrap dress", "Harrow & Pell 6123,Cape"}, "number,name"},
		{"the same, beside the publisher", "Company,Pattern,What", []string{"Quillon,quillon 451,Wrap dress"}, "publisher,number,"},
		{"names that end in a number", "Company,Pattern", []string{"Quillon,Wrap dress 14", "Quillon,Apron 16"}, "publisher,name"},
		{"rows are counted", "No.,Company,Pattern", []string{"1,Quillon,451", "2,Quillon,452"}, ",publisher,number"},
		{"all is taken", "Company,No.,Title,Pattern", []string{"Quillon,451,Cape,x", "Quillon,452,Coat,y"}, "publisher,number,name,"},
		{"an export", "accession,publisher,number,name,pattern", []string{"1,Quillon,451,Cape,7", "2,Quillon,451,Cape,7"}, "accession,publisher,number,name,pattern"},
		{"ours, written by hand", "publisher,number,pattern", []string{"Quillon,9,50", "Quillon,9,50", "Quillon,8,"}, "publisher,number,pattern"},
		{"ours in part, with names", "publisher,number,pattern", []string{"Quillon,9,Cape", "Quillon,9,Coat"}, "publisher,number,name"},
		{"rejected rows of ours", "rejected_line,rejected_because,publisher,name,pattern", []string{"3,why,Quillon,Cape,7"}, ",,publisher,name,pattern"},
		{"nothing", "Company,Number,Pattern", []string{"Quillon,451,"}, "publisher,number,name"},
	} {
		t.Run(x.name, func(t *testing.T) {
			read, err := ReadTable(strings.NewReader(rows(append([]string{x.header}, x.rows...)...)))
			if err != nil {
				t.Fatal(err)
			}
			got, err := Recognise(read, nil)
			if is := strings.Join(got, ","); err != nil || is != x.want {
				t.Errorf("it is read as %s, %v; want %s", is, err, x.want)
			}
		})
	}
	im, err := ReadCSV(strings.NewReader("Company,No.,Pattern\nQuillon,451,Cape\n"), map[string]string{"pattern": "notes"})
	if err != nil || im.Entries[0].Notes != "Cape" || im.Entries[0].Name != "" {
		t.Errorf("told otherwise it is %+v, %v", im.Entries, err)
	}
}

// A column that is headed like one of ours and holds something else is not taken for
// it: nearly every row would be rejected.
func TestAColumnIsTakenForWhatItHolds(t *testing.T) {
	im, err := ReadCSV(strings.NewReader("Company,No.,Condition,Date\nQuillon,1,good,1974\nQuillon,2,worn,1980s\nQuillon,3,cut,1975\n"), nil)
	if err != nil || strings.Join(im.Columns, ",") != "publisher,number,,year" || strings.Join(im.Unused(), ",") != "Condition" {
		t.Fatalf("they are read as %v, unused %v (%v)", im.Columns, im.Unused(), err)
	}
	if len(im.Entries) != 2 || len(im.Rejected) != 1 {
		t.Errorf("%d rows are used, and rejected %s", len(im.Entries), rejected(im))
	}
	im, err = ReadCSV(strings.NewReader("Company,No.,Condition\nQuillon,1,uncut\nQuillon,2,good\n"), nil)
	if err != nil || im.Columns[2] != "cut" {
		t.Errorf("they are read as %v (%v)", im.Columns, err)
	}
}

// What is told goes before our own names, and those before guesses, in
// whatever order the columns stand.
func TestWhichColumnWins(t *testing.T) {
	for _, x := range []struct{ header, told, want string }{
		{"Title,name,publisher", "", ",name,publisher"},
		{"name,Title,publisher", "", "name,,publisher"},
		{"Company,Brand,number", "Brand=publisher", ",publisher,number"},
		{"Company,Brand,number", "", "publisher,,number"},
		{"publisher,name,note", "name=, note=name", "publisher,,name"},
		{"publisher,number,a=b", "a=b=notes", "publisher,number,notes"},
		{"publisher,number,%", "%=notes", "publisher,number,notes"},
		{"publisher,publisher,number", "", "publisher,,number"},
		{"publisher,number,rejected_line", "", "publisher,number,"},
	} {
		told, err := ParseColumns(x.told)
		if err != nil {
			t.Fatal(err)
		}
		im, err := ReadCSV(strings.NewReader(x.header+"\n"), told)
		if err != nil {
			t.Errorf("%s with %q: %v", x.header, x.told, err)
			continue
		}
		if got := strings.Join(im.Columns, ","); got != x.want {
			t.Errorf("%s with %q is read as %s, want %s", x.header, x.told, got, x.want)
		}
	}
}

func TestColumnsThatCannotBe(t *testing.T) {
	for _, x := range []struct {
		header, told string
		says         []string
	}{
		{"Company,Brand,number", "Company=publisher,Brand=publisher", []string{`"Company" and "Brand"`, "--columns 'Company='"}},
		{"name,number", "", []string{"publisher", `"name", "number"`, "--columns"}},
		{"publisher,year", "", []string{"the number or the name"}},
		{"publisher,number", "Firm=publisher", []string{`"firm"`, `"publisher", "number"`}},
	} {
		told, err := ParseColumns(x.told)
		if err != nil {
			t.Fatal(err)
		}
		_, err = ReadCSV(strings.NewReader(x.header+"\n1,2,3\n"), told)
		says(t, err, x.says...)
	}
	for text, want := range map[string]string{
		"Company": "theirs=ours", "=number": "theirs=ours", "No=nummer": `no column "nummer" of ours`, "No=number,no.=name": "twice",
	} {
		_, err := ParseColumns(text)
		says(t, err, want, "--columns")
	}
	if got, err := ParseColumns(" , "); err != nil || len(got) != 0 {
		t.Errorf("nothing told is read as %v (%v)", got, err)
	}
}

// A plain number is millimetres in an export of ours, and under a heading that says
// so; in somebody's own sheet it is asked for, and stays to be asked for in the file
// of what was rejected.
func TestLengthsOfSomebodysSheetNeedAUnit(t *testing.T) {
	for _, x := range []struct {
		heading, told, cell string
		want                string // empty: it is rejected
	}{
		{"cloth_needed", "", "A | 10 | 1143 | 2057.4", "A | 10 | 1143 | 2057.4"},
		{"Cloth needed (mm)", "Cloth needed (mm)=cloth_needed", "A | 10 | 1143 | 2057.4", "A | 10 | 1143 | 2057.4"},
		{"Fabric", "Fabric=cloth_needed", "A | 10 | 45 in | 2 1/4 yd", "A | 10 | 1143 | 2057.4"},
		{"Fabric", "Fabric=cloth_needed", "A | 10 | 45 | 2 1/4 yd", ""},
		{"Cloth needed", "", "A | 10 | 45 | 2 1/4 yd", ""},
	} {
		file := rows("publisher,number,"+x.heading, "Quillon,1,"+x.cell)
		c, im, _ := taken(t, model.NewCollection(), file, x.told)
		got := ""
		for _, p := range c.Patterns().All() {
			got = model.NeedsText(p.Needs)
		}
		if got != x.want || (x.want == "") != (len(im.Rejected) == 1) {
			t.Errorf("%q under %q is read as %q, rejected %s", x.cell, x.heading, got, rejected(im))
		}
		var b strings.Builder
		if err := im.WriteRejected(&b); err != nil {
			t.Fatal(err)
		}
		if len(im.Rejected) > 0 && !strings.Contains(b.String(), "number,"+x.heading) {
			t.Errorf("what is rejected stands under %q", b.String())
		}
	}
}
