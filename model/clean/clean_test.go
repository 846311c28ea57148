package clean_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
)

func listed(t testing.TB, publishers ...string) *model.Collection {
	t.Helper()
	add := &model.Add{}
	for _, p := range publishers {
		add.Entries = append(add.Entries, model.Entry{Publisher: p, Number: "1"})
	}
	c, _, err := model.NewCollection().Apply(add, "2026-03-01")
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func row(publisher, number, name string) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Name: name}
}

func shown(en model.Entry) string {
	return strings.Join([]string{en.Publisher, en.Number, en.Name, en.SizeRange, string(en.Cut), en.Notes}, "|")
}

// What a row becomes when all is taken. The rows are invented.
func TestWhatIsProposed(t *testing.T) {
	for _, x := range []struct {
		row  model.Entry
		want string // unaltered where it is empty
	}{
		{row("Harrow & Pell 6123", "", "Wrap dress"), "Harrow & Pell|6123|Wrap dress|||"},
		{row("Quillon #K-451", "", ""), "Quillon|K-451||||"},
		{row("Quillon: 6123 H5", "", ""), "Quillon|6123 H5||||"},
		{row("", "Quillon 451", "Cape"), "Quillon|451|Cape|||"},
		{row("Quillon", "quillon 451", "Cape"), "Quillon|451|Cape|||"},
		{row("Umbrow 54", "", "Cape"), ""}, // it is listed as such
		{row("Umbrow 54", "12", "Cape"), ""},
		{row("Quillon", "Averlock 451", "Cape"), ""}, // two publishers: that is for the owner
		{row("Quillon", "6123 (sleeve torn)", ""), "Quillon|6123||||sleeve torn"},
		{row("Quillon", "6123 - uncut", ""), "Quillon|6123|||uncut|"},
		{row("Quillon", "6123 H5, size 14", ""), "Quillon|6123 H5||14||"},
		{row("Quillon", "6123 H5", ""), ""},
		{row("Quillon", "04/2019 112", ""), ""}, // issue and style
		{row("Quillon", "p. 42", ""), ""},
		{row("Quillon", "6123 12", ""), ""},
		{row("Quillon", "12", "Wrap dress, sizes 10 - 16"), "Quillon|12|Wrap dress|10-16||"},
		{row("Quillon", "12", "Wrap dress (10-16)"), "Quillon|12|Wrap dress|10-16||"},
		{row("Quillon", "12", "Wrap dress size XL"), "Quillon|12|Wrap dress|XL||"},
		{row("Quillon", "12", "Wrap dress 1950s"), ""},
		{row("Quillon", "12", "A 2-in-1 coat"), ""},
		{row("Quillon", "12", "Overalls 14"), ""}, // it could be anything
		{row("Quillonn", "12", ""), "Quillon|12||||"},
		{row("The Quillon 77 (missing collar)", "", ""), "Quillon|77||||missing collar"},
		{row("Quillon 4107 missing sheet", "", ""), "Quillon|4107||||missing sheet"},
		{row("Quillon 4107 Missing sheet", "", ""), "Quillon|4107||||Missing sheet"}, // it is listed
		{row("Quillon K-451 H5, uncut", "", ""), "Quillon|K-451 H5|||uncut|"},
		{row("", "Quillon 6123 cut to 12", ""), "Quillon|6123||||cut to 12"},
		{row("Quillon", "Quillon 6123 - size 14", ""), "Quillon|6123||14||"},
		{row("Averlock 451 torn", "", ""), "Averlock|451||||torn"},
		{row("Averlock 451, Torn", "", ""), "Averlock|451||||Torn"},
		{row("Averlock 451 Torn", "", ""), ""},    // it could be its name
		{row("Salon 77 Marstow", "", "Cape"), ""}, // as this is
		{row("Umbrow 54 6123 torn", "", ""), "Umbrow 54|6123||||torn"},
		{row("Salon 77 6123", "", ""), "Salon 77|6123||||"},
		{row("", "Issue 3 p. 42", ""), ""},
		// of a magazine issue and style, of a book the page, as model.ParseNumber reads them
		{row("Stitchfold 05/2014 101", "", ""), "Stitchfold|05/2014 101||||"},
		{row("Stitchfold 2019-04-112", "", ""), "Stitchfold|2019-04-112||||"},
		{row("Stitchfold 2019/4 #112", "", "Cape"), "Stitchfold|2019/4 #112|Cape|||"},
		{row("", "Stitchfold, 7-8/2019 112A", ""), "Stitchfold|7-8/2019 112A||||"},
		{row("Stitchfold 05/2014 101 (sheet torn)", "", ""), "Stitchfold|05/2014 101||||sheet torn"},
		{row("Stitchfold 05/2014", "", "Cape"), "Stitchfold|05/2014|Cape|||"},
		{row("Quillon", "04/2019 112 torn", ""), "Quillon|04/2019 112||||torn"},
		{row("Marstow Cutting p. 42", "", "Cape"), "Marstow Cutting|p. 42|Cape|||"},
		{row("Marstow Cutting vol. 2 p. 42", "", "Cape"), "Marstow Cutting|vol. 2 p. 42|Cape|||"},
		{row("Quillon", "12 p. 42", ""), ""},
	} {
		c, rows := listed(t, "Quillon", "Umbrow 54"), []model.Entry{x.row}
		for _, p := range clean.Propose(c, rows) {
			p.Apply(rows)
		}
		if x.want == "" {
			x.want = shown(x.row)
		}
		if got := shown(rows[0]); got != x.want {
			t.Errorf("%q becomes %q, want %q", shown(x.row), got, x.want)
		}
	}
}

// Of what is behind a number, part of a publisher's name is told from a remark by
// the other rows.
func TestAPublisherIsKnownByTheOtherRows(t *testing.T) {
	rows := []model.Entry{row("Averlock 451 Torn", "", ""), row("Averlock 452", "", ""), row("Salon 77 Marstow", "", "Cape")}
	for _, p := range clean.Propose(listed(t), rows) {
		p.Apply(rows)
	}
	if got, want := shown(rows[0])+" "+shown(rows[2]), "Averlock|451||||Torn Salon 77 Marstow||Cape|||"; got != want {
		t.Errorf("they become %q, want %q", got, want)
	}
	// Where the remark is refused, it stays with the number.
	rows = []model.Entry{row("Quillon 4107 missing sheet", "", "")}
	for _, p := range clean.Propose(listed(t, "Quillon"), rows) {
		if p.Kind == clean.Merged {
			p.Apply(rows)
		}
	}
	if got := shown(rows[0]); got != "Quillon|4107 missing sheet||||" {
		t.Errorf("it becomes %q", got)
	}
}

// A publisher that is not listed yet is spelled as most rows have it; one
// proposal stands for all rows of a spelling, those too that come of another.
func TestSpellingsGoByTheMost(t *testing.T) {
	rows := []model.Entry{row("Harow & Pell", "1", ""), row("Harrow & Pell", "2", ""), row("Harrow & Pell", "3", ""), row("Harrow and Pell 77", "", ""), row("Harow & Pell", "5", ""), row("Tessarow", "6", ""), row("Harrow & Pell", "7", "")}
	var got []string
	for _, p := range clean.Propose(listed(t), rows) {
		got = append(got, fmt.Sprint(p.Kind, " ", p.Rows, p.Edits))
	}
	want := []string{"merged [3] [{publisher Harrow and Pell 77 Harrow and Pell} {number  77}]", "spelling [0 4] [{publisher Harow & Pell Harrow & Pell}]", "spelling [3] [{publisher Harrow and Pell Harrow & Pell}]"}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
	// What is refused takes nothing along with it.
	all := clean.Propose(listed(t), rows)
	kept := slices.Clone(rows)
	for _, p := range all {
		if p.Kind == clean.Spelling {
			p.Apply(kept)
		}
	}
	if kept[3].Publisher != "Harrow and Pell 77" || kept[0].Publisher != "Harrow & Pell" {
		t.Errorf("without the first proposal the rows are %q", []string{kept[0].Publisher, kept[3].Publisher})
	}
}

// All spellings of one publisher become the one that most rows have: those that
// differ in capitals alone, those that are like a spelling that gives way, and those
// that are in a cell with a number.
func TestAllSpellingsBecomeTheOneOfMostRows(t *testing.T) {
	for _, x := range []struct {
		listed, cells string
		want          string // of every row
	}{
		{"", "FERNLOW & SONS, Fernlow and Sons, Fernlow & Sons, Fernlow & Sons, Fernlow & Sons", "Fernlow & Sons"},
		{"", "Fernlow and Sons 77, FERNLOW & SONS 78, Fernlow & Sons, Fernlow & Sons", "Fernlow & Sons"},
		{"", "Fernlow & Sons, Fernlow & Sons, Fernlow & Sons, Fernlo & Sons, Fernlo & Sons, Fernlo & Son", "Fernlow & Sons"}, // each is like the one before it
		{"Fernlow & Sons", "Fernlo & Sons, Fernlow and Sons, Fernlow and Sons, Fernlo & Son", "Fernlow & Sons"},
	} {
		c, rows := listed(t), []model.Entry(nil)
		if x.listed != "" {
			c = listed(t, x.listed)
		}
		for i, cell := range strings.Split(x.cells, ", ") {
			en := row(cell, "", "")
			if !strings.Contains(cell, "7") {
				en.Number = fmt.Sprint(100 + i)
			}
			rows = append(rows, en)
		}
		for _, p := range clean.Propose(c, rows) {
			p.Apply(rows)
		}
		for i, en := range rows {
			if en.Publisher != x.want || en.Number == "" {
				t.Errorf("of %q row %d becomes %q, want %q", x.cells, i+1, shown(en), x.want)
			}
		}
	}
}

// Whatever is in a row: proposing alters nothing, and no word of it is lost when
// all is taken but the spelling of publishers.
func TestNothingIsLost(t *testing.T) {
	cell := rapid.StringMatching(`(Quillon|Harrow & Pell|Wrap dress|size|sizes|uncut|\(torn\)|#|-|,|[1-9][0-9]{0,4}|10-16|H5|K-12|S-L)( (Quillon|6123|uncut|size|10 - 16|H5|\(10-16\)|14|torn|-))*`)
	rapid.Check(t, func(t *rapid.T) {
		c := model.NewCollection()
		var rows []model.Entry
		for range rapid.IntRange(1, 4).Draw(t, "rows") {
			rows = append(rows, row(cell.Draw(t, "publisher"), rapid.OneOf(rapid.Just(""), cell).Draw(t, "number"), cell.Draw(t, "name")))
		}
		was := slices.Clone(rows)
		all := clean.Propose(c, rows)
		if !reflect.DeepEqual(rows, was) {
			t.Fatalf("proposing made %v of %v", rows, was)
		}
		for _, p := range all {
			if p.Kind != clean.Spelling {
				p.Apply(rows)
			}
		}
		for i := range rows {
			after := strings.ToLower(shown(rows[i]))
			for _, w := range strings.FieldsFunc(strings.ToLower(shown(was[i])), func(r rune) bool { return strings.ContainsRune(" -–,;:#|()", r) }) {
				if !strings.Contains(after, w) && !slices.Contains([]string{"size", "sizes"}, w) {
					t.Fatalf("%q is lost: %q became %q", w, shown(was[i]), shown(rows[i]))
				}
			}
		}
	})
}
