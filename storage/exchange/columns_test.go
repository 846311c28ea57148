package exchange

import (
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
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
		cols, err := match(header, nil, true)
		if err != nil {
			t.Errorf("%q: %v", heading, err)
			continue
		}
		if got := cols[0].field.Name; got != want {
			t.Errorf("the heading %q is taken for %q, want %q", heading, got, want)
		}
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
