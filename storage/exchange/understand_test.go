package exchange

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
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

// A cell beside what every row needs costs no row where the sheet is cleaned: a day is
// read where the column tells how, the rest is for the notes, and the row is rejected
// only where that is not taken. Without cleaning it is rejected as ever.
func TestACellThatCannotBeReadCostsNoRow(t *testing.T) {
	file := rows("Maker,No,Got on,Condition", "Quillon,1,12.6.2019,uncut", "Quillon,2,03/04/2019,uncut", "Quillon,3,2019-06-12,good", ",4,2019-06-12,uncut")
	told := map[string]string{"got on": "added", "condition": "cut"}
	for _, x := range []struct {
		take []clean.Kind
		want string
	}{
		{nil, ""},
		{[]clean.Kind{clean.Day}, "1 2019-06-12"},
		{[]clean.Kind{clean.Day, clean.Aside}, "1 2019-06-12; 2  Got on: 03/04/2019; 3 2019-06-12 Condition: good"},
	} {
		im, err := ReadToClean(strings.NewReader(file), told, false)
		if err != nil {
			t.Fatal(err)
		}
		all := im.Propose(model.NewCollection())
		im.Settle(slices.DeleteFunc(all, func(p clean.Proposal) bool { return !slices.Contains(x.take, p.Kind) }))
		var got []string
		for _, en := range im.Entries {
			got = append(got, strings.TrimSpace(en.Number+" "+string(en.Added)+" "+en.Notes))
		}
		if now := strings.Join(got, "; "); now != x.want || len(im.Entries)+len(im.Rejected) != 4 {
			t.Errorf("with %q there are %q, want %q; rejected %s", x.take, now, x.want, rejected(im))
		}
	}
	im, err := ReadCSV(strings.NewReader(file), told)
	if err != nil || len(im.Entries) != 0 || len(im.Rejected) != 4 {
		t.Errorf("without cleaning %v, %d entries, rejected %s", err, len(im.Entries), rejected(im))
	}
}

// A hook that is none, is not on its row or is beside a box costs no row either, and
// the other rows hang and stand as they say.
func TestAHookThatCannotBeCostsNoRow(t *testing.T) {
	had := after(t, model.NewCollection(), &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Hooks: []model.HookSpec{{Name: "door", Hooks: 3, Each: 3}}}})
	file := rows("Publisher,Number,Box,Hangs on", "Quillon,1,1,door 2", "Quillon,2,,door", "Quillon,3,,door 4", "Quillon,4,1,the door", "Quillon,5,,door", "Quillon,6,,door 3", "Quillon,7,1,")
	im, err := ReadToClean(strings.NewReader(file), map[string]string{"hangs on": "hook"}, false)
	if err != nil {
		t.Fatal(err)
	}
	all := im.Propose(had)
	var why []string
	for _, p := range all {
		why = append(why, p.Why)
		if p.Kind != clean.Aside {
			t.Errorf("%+v is proposed", p)
		}
	}
	if want := []string{"it cannot be while the copy stands in a box too", "it is not a row and a hook from 1 to 9999", "it is not on that row", "it is not a row and a hook from 1 to 9999"}; !slices.Equal(why, want) {
		t.Errorf("proposed is for %q, want %q", why, want)
	}
	im.Settle(all)
	c := after(t, had, im.Plan(had, "", "file.csv").Change)
	var got []string
	for _, cp := range c.Copies().All() {
		en := c.EntryOf(cp)
		got = append(got, en.Number+" "+en.Box+"|"+en.Hook+"|"+en.Notes)
	}
	if want := []string{"1 1||Hangs on: door 2", "2 ||Hangs on: door", "3 ||Hangs on: door 4", "4 1||Hangs on: the door", "5 ||Hangs on: door", "6 |door 3|", "7 1||"}; !slices.Equal(got, want) {
		t.Errorf("there are %q, want %q; rejected %s", got, want, rejected(im))
	}

	im, err = ReadToClean(strings.NewReader(file), map[string]string{"hangs on": "hook"}, false)
	if err != nil {
		t.Fatal(err)
	}
	im.Settle(nil) // what is not taken is rejected, as it is without cleaning
	if n := len(im.Plan(had, "", "file.csv").Change.Entries); n != 2 || len(im.Rejected) != 5 {
		t.Errorf("with nothing taken %d rows are planned, rejected %s", n, rejected(im))
	}
}
