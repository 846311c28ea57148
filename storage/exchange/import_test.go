package exchange

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"golang.org/x/text/encoding/charmap"
)

// The same table as spreadsheets save it must be the same cupboard.
func TestFilesAsSpreadsheetsSaveThem(t *testing.T) {
	plain := "publisher,number,name,year\nÉlan Küpper,6123,\"Wrap dress, long\",1974\nQuillon,K12,Größe’s cape,\n"
	want := csvOf(t, first(taken(t, model.NewCollection(), plain, "")))
	latin, err := charmap.Windows1252.NewEncoder().String(plain)
	if err != nil {
		t.Fatal(err)
	}
	for name, file := range map[string]string{
		"byte order mark": "\ufeff" + plain,
		"CRLF":            strings.ReplaceAll(plain, "\n", "\r\n"),
		"semicolons":      "publisher;number;name;year\nÉlan Küpper;6123;Wrap dress, long;1974\nQuillon;K12;Größe’s cape;\n",
		"tabs":            "publisher\tnumber\tname\tyear\nÉlan Küpper\t6123\tWrap dress, long\t1974\nQuillon\tK12\tGröße’s cape\t\n",
		"Windows-1252":    latin,
		"all of it":       "\ufeffsep=;\r\npublisher;number;name;year\r\nÉlan Küpper;6123;Wrap dress, long;1974\r\n;;;\r\nQuillon;K12;\"Größe’s\r\ncape\";\r\n;;;\r\n",
	} {
		c, im, _ := taken(t, model.NewCollection(), file, "")
		if got := csvOf(t, c); got != want || len(im.Rejected) > 0 {
			t.Errorf("%s: gave\n%s\nwant\n%s\nrejected %s", name, got, want, rejected(im))
		}
	}
	for name, file := range map[string]string{"empty": "", "open quote": "publisher,number\n\"Quillon,1\n", "workbook": "PK\x03\x04\x00\x00"} {
		_, err := ReadCSV(strings.NewReader(file), nil)
		if !model.IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", name, err)
		}
	}
}

func first(c *model.Collection, _ *Import, _ Planned) *model.Collection { return c }

func TestRowsAreRejectedWithTheirReason(t *testing.T) {
	shelf := &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Hooks: []model.HookSpec{{Name: "door", Hooks: 3, Each: 3}}, Oversize: []model.BoxSpec{{Name: "long", Length: model.MM(700)}}}}
	had := after(t, model.NewCollection(), shelf, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "1"}}})
	file := rows("publisher,number,year,accession,box,hook,pattern",
		"Quillon,2,1974,,,,",
		",3,,,,,",
		"Quillon,,,,,,",
		"Quillon,4,1974?,,,,",
		"Quillon,5,,,,,,,",
		"Quillon,6,,1,,,",
		"Quillon,7,,20,,,",
		"Quillon,8,,20,,,",
		"Quillon,9,,,1,door 1,",
		"Quillon,10,,,,door 4,",
		"Quillon,11,,,,door,",
		"Quillon,12,,,,wall 10000,",
		"Quillon,13,,,,,7",
		"Quillon,14,,,,,7",
		"Quillon,15,,,,Door 3,",
		"Quillon,16,,,Long,,")
	c, im, p := taken(t, had, file, "")
	for line, want := range map[int]string{3: "publisher", 4: "number", 5: "1974?", 6: "2 cells more", 7: "given to another copy", 9: "on line 8", 10: "empty one of box and hook",
		11: "hooks 1 to 3", 12: `like "door 3"`, 13: "9999", 15: "like line 14", 17: "oversize"} {
		found := false
		for _, r := range im.Rejected {
			found = found || r.Line == line && strings.Contains(r.Reason, want)
		}
		if !found {
			t.Errorf("line %d is not rejected for %q; rejected are\n%s", line, want, rejected(im))
		}
	}
	if len(im.Rejected) != 12 || len(p.Change.Entries) != 4 || c.Copies().Len() != 5 {
		t.Fatalf("%d rejected, %d planned, %d copies; want 12, 4, 5:\n%s", len(im.Rejected), len(p.Change.Entries), c.Copies().Len(), rejected(im))
	}
	again := im.Plan(had, "", "file.csv")
	if len(im.Rejected) != 12 || len(again.Change.Entries) != 4 {
		t.Errorf("planned again, %d are rejected and %d planned", len(im.Rejected), len(again.Change.Entries))
	}
	mendAndTakeIn(t, c, im)
}

// mendAndTakeIn writes the rejected rows, mends two of them in a spreadsheet's
// manner, and takes the file in again. The row that said other things of
// pattern 7 than its file did comes in by itself now, as a pattern of its own.
func mendAndTakeIn(t *testing.T, c *model.Collection, im *Import) {
	t.Helper()
	var b bytes.Buffer
	if err := im.WriteRejected(&b); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	mended := strings.NewReplacer("1974?", "1974", ",Quillon,8,,20,", ",Quillon,8,,,").Replace(text)
	if mended == text {
		t.Fatalf("there was nothing to mend in\n%s", text)
	}
	next, second, p := taken(t, c, mended, "")
	if len(p.Change.Entries) != 3 || len(second.Rejected) != 9 {
		t.Errorf("of the mended file %d are planned and %d rejected, want 3 and 9:\n%s", len(p.Change.Entries), len(second.Rejected), rejected(second))
	}
	if next.Copies().Len() != c.Copies().Len()+3 || len(second.Unused()) > 0 {
		t.Errorf("there are %d copies, and %q are not used", next.Copies().Len(), second.Unused())
	}
	var third bytes.Buffer
	if err := second.WriteRejected(&third); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(third.String(), "rejected_line"); n != 1 {
		t.Errorf("rejected again, the reasons are there %d times:\n%s", n, third.String())
	}
}

func TestWhatThePatternColumnMeans(t *testing.T) {
	had := after(t, model.NewCollection(), &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "1", Name: "Cape"}, {Publisher: "Quillon", Number: "2", Name: "Coat"}}})
	patterns := func(lines ...string) (numbers []model.PatternID, im *Import, p Planned) {
		t.Helper()
		c, im, p := taken(t, had, rows(append([]string{"publisher,number,name,pattern"}, lines...)...), "")
		for a, cp := range c.Copies().All() {
			if a > 2 {
				numbers = append(numbers, cp.Pattern)
			}
		}
		return numbers, im, p
	}
	for _, x := range []struct {
		name  string
		lines []string
		want  []model.PatternID
		known int
	}{
		{"no number: all the same is said, so it is one", []string{"Quillon,1,Cape,", "QUILLON,3,,", "Quillon,3,,"}, []model.PatternID{1, 3, 3}, 2},
		{"no number: another thing is said", []string{"Quillon,1,Cape II,"}, []model.PatternID{3}, 0},
		{"rows of one number", []string{"Quillon,9,,50", "Quillon,9,,50", "Quillon,9,,51"}, []model.PatternID{50, 50, 51}, 1},
		{"the number is used for the same here", []string{"Quillon,1,Cape,1", "Quillon,1,Cape,1"}, []model.PatternID{1, 1}, 2},
		{"the number is used for something else here", []string{"Quillon,9,,1", "Quillon,9,,1"}, []model.PatternID{3, 3}, 1},
		{"a number given out on the way", []string{"Quillon,8,,", "Quillon,9,,3"}, []model.PatternID{3, 4}, 0},
		{"signs are not folded away", []string{"!!,1,,", "??,1,,"}, []model.PatternID{3, 4}, 0},
	} {
		got, im, p := patterns(x.lines...)
		if len(got) != len(x.want) || len(im.Rejected) > 0 || p.Seconds != x.known {
			t.Errorf("%s: got patterns %v with %d known, want %v with %d; rejected %s", x.name, got, p.Seconds, x.want, x.known, rejected(im))
			continue
		}
		for i := range got {
			if got[i] != x.want[i] {
				t.Errorf("%s: got patterns %v, want %v", x.name, got, x.want)
			}
		}
	}
	if _, im, _ := patterns("Quillon,1,Cape,1", "Quillon,9,,1"); !strings.Contains(rejected(im), "3: it has pattern 1 like one that is listed already") {
		t.Errorf("rejected is %q", rejected(im))
	}
	if _, im, _ := taken(t, had, rows("publisher,number,category,also_in,photocopied_in,pattern", "Quillon,9,Hats,Coats,,7", "Quillon,9,Hats,Coats,coats,7"), ""); !strings.Contains(rejected(im), "3: it has pattern 7 like line 2") {
		t.Errorf("of a photocopy that only the second row tells of, rejected is %q", rejected(im))
	}
	if _, im, _ := patterns("Quillon,9,,7", "Quillon,9,Skirt,7"); !strings.Contains(rejected(im), "3: it has pattern 7 like line 2") {
		t.Errorf("rejected is %q", rejected(im))
	}
}

// Who takes a file in once more is asked whether that is meant; who bought a few
// patterns again is not.
func TestAFileThatIsTakenInTwice(t *testing.T) {
	file := rows("publisher,number,name", "Quillon,1,Cape", "Quillon,2,Coat", "Quillon,3,Hood")
	c, _, p := taken(t, model.NewCollection(), file, "")
	if said := p.Repeated(); said != "" {
		t.Errorf("at first it is said: %s", said)
	}
	if _, _, p = taken(t, c, file, ""); p.Repeated() != "3 of the 3 rows say nothing that is not listed: was this file taken in before?" {
		t.Errorf("the second time it is said: %q", p.Repeated())
	}
	if _, _, p = taken(t, c, rows("publisher,number,name", "Quillon,1,Cape", "Quillon,7,Cap", "Quillon,8,Tabard"), ""); p.Repeated() != "" {
		t.Errorf("of another file it is said: %s", p.Repeated())
	}
}

// A row of a number that is listed is no second pattern without a word: it is a
// further copy where it says nothing else of it, and is named either way.
func TestRowsOfNumbersThatAreListed(t *testing.T) {
	had := after(t, model.NewCollection(), &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "1", Name: "Cape", SizeRange: "8-14", Year: 1974}, {Publisher: "Quillon", Number: "2", Name: "Coat"}}})
	c, _, p := taken(t, had, rows("publisher,number,name,size_range,year", "quillon,1,cape,8 - 14,1974", "Quillon,1,,,", "Quillon,1,Cape,16-22,",
		"Quillon,1,Cape,,2008", "Quillon,2,Coat,8-14,", "Quillon,2,Coat,,", "Quillon,3,Coat,,"), "")
	want := []Again{
		{2, true, "Quillon 1 Cape; a further copy: nothing else is said of it"}, {3, true, "Quillon 1 Cape; a further copy: nothing else is said of it"},
		{4, false, "Quillon 1 Cape; a pattern of its own: size range 16-22, there 8-14"}, {5, false, "Quillon 1 Cape; a pattern of its own: year 2008, there 1974"},
		{6, false, "Quillon 2 Coat; a pattern of its own: size range 8-14, there none"}, {7, true, "Quillon 2 Coat; a further copy: nothing else is said of it"}}
	if !slices.Equal(p.Again, want) || p.Seconds != 3 {
		t.Errorf("%d further copies, and named are\n%+v, want 3 and\n%+v", p.Seconds, p.Again, want)
	}
	var patterns []model.PatternID
	for _, cp := range c.Copies().All() {
		patterns = append(patterns, cp.Pattern)
	}
	if want := []model.PatternID{1, 2, 1, 1, 3, 4, 5, 2, 6}; !slices.Equal(patterns, want) {
		t.Errorf("the copies are of the patterns %v, want %v", patterns, want)
	}
	if got := c.Pattern(1); got.Year != 1974 || got.SizeRange != "8-14" || got.Name != "Cape" {
		t.Errorf("the listed one became %+v", got)
	}
}

func TestBoxesAndHooksThatTheShelfLacks(t *testing.T) {
	had := after(t, model.NewCollection(), &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "2", Length: model.MM(100)}}}})
	c, im, p := taken(t, had, rows("publisher,number,box,position,hook",
		"Quillon,a,10,7,", "Quillon,b,2,3,", "Quillon,c,2,1,", "Quillon,d,Attic,,", "Quillon,e,attic,,", "Quillon,f,1,,",
		"Quillon,g,,,door 3", "Quillon,h,,,Door 5", "Quillon,i,σ,,", "Quillon,j,ς,,", "Quillon,k,10,2,", "Quillon,l,10,,"), "")
	if len(im.Rejected) > 0 {
		t.Fatalf("rejected: %s", rejected(im))
	}
	if got, want := strings.Join(p.NewName, ", "), "box 1, box 10, box Attic, box σ, hooks door"; got != want {
		t.Errorf("new are %s, want %s", got, want)
	}
	if row, ok := c.Shelf().HookRowNamed("door"); !ok || row.Hooks != 5 || len(c.Shelf().Hooks) != 1 {
		t.Errorf("the hooks are %v, want one row of 5", c.Shelf().Hooks)
	}
	for box, want := range map[string]string{"10": "k a l", "2": "c b", "Attic": "d e", "1": "f", "σ": "i j"} {
		b, err := c.Shelf().BoxNamed(box)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, a := range c.Row(b.ID) {
			got = append(got, c.PatternOf(a).Number)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("box %s holds %v, want %s: positions give the order, gaps close up", box, got, want)
		}
	}
}

func TestABatchForRowsThatNameNone(t *testing.T) {
	im, err := ReadCSV(strings.NewReader(rows("publisher,number,batch", "Quillon,1,", "Quillon,2,hall drawer")), nil)
	if err != nil {
		t.Fatal(err)
	}
	c := after(t, model.NewCollection(), im.Plan(model.NewCollection(), " parcel ", "f.csv").Change)
	if a, b := c.Batch(c.Copy(1).Batch).Name, c.Batch(c.Copy(2).Batch).Name; a != "parcel" || b != "hall drawer" {
		t.Errorf("the batches are %q and %q", a, b)
	}
}
