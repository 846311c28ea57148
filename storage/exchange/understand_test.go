package exchange

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
)

// A table is understood as often as one likes, each time by what is told, and stays
// as it is.
func TestATableIsUnderstoodAnew(t *testing.T) {
	table, err := ReadTable(strings.NewReader("House,No.,What\nQuillon,1,Cape\nQuillon,2,Coat\n"))
	if err != nil {
		t.Fatal(err)
	}
	for range 2 {
		told := map[string]string{}
		Tell(told, "What", "name")
		im, err := Understand(table, told, true)
		if err != nil {
			t.Fatal(err)
		}
		im.Settle(nil)
		if len(im.Entries) != 2 || im.Entries[0].Name != "Cape" || im.Entries[0].Publisher != "Quillon" {
			t.Errorf("it is understood as %+v", im.Entries)
		}
		im.Entries[0].Name = "altered"
	}
	im, err := Understand(table, nil, true)
	if err != nil || im.Entries[0].Name != "" || im.Entries[0].Number != "1" {
		t.Errorf("with nothing told it is %+v, %v", im, err)
	}
}

// What columns are is said whether or not the file could be used; and what is
// missing is said so that others can say it in their words.
func TestRecogniseSaysWhatColumnsAre(t *testing.T) {
	for _, x := range []struct {
		header           string
		want             []string
		publisher, title bool
	}{
		{"House,No.,What", []string{"publisher", "number", ""}, false, false},
		{"What,Why", []string{"", ""}, true, true},
		{"House,Why", []string{"publisher", ""}, false, true},
		{"Titel,Sz,Yr", []string{"name", "size_range", "year"}, true, false},
	} {
		table, err := ReadTable(strings.NewReader(x.header + "\n"))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Recognise(table, nil)
		if err != nil || !slices.Equal(got, x.want) {
			t.Errorf("%s: %q, %v; want %q", x.header, got, err, x.want)
		}
		_, err = Understand(table, nil, true)
		missing, ok := errors.AsType[*MissingError](err)
		if ok != (x.publisher || x.title) || ok && (missing.Publisher != x.publisher || missing.Title != x.title || !model.IsInput(err)) {
			t.Errorf("%s: %v", x.header, err)
		}
	}
	if _, err := ReadTable(strings.NewReader("")); !model.IsInput(err) {
		t.Errorf("an empty file: %v", err)
	}
}
