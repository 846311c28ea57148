package model

import (
	"slices"
	"strings"
	"testing"
)

// furnished is a cupboard with one of everything that has a name.
func furnished(t *testing.T) *Collection {
	spec := ShelfSpec{
		Settings:   DefaultSettings(),
		Sections:   []SectionSpec{{Title: "Quillon", Publishers: []string{"Quillon"}}, {Title: "Rest", Publishers: []string{"*"}}},
		Boxes:      []BoxSpec{{Name: "A", Length: MM(380)}, {Name: "B", Length: MM(300)}},
		Publishers: []PublisherSpec{{Name: "Quillon", FilesAs: "Qillon"}},
		Binders:    []BinderSpec{{Category: "Dresses", Pockets: 75}},
		Hooks:      []HookSpec{{"door", 12, 3}},
	}
	one, two, hung := entry("Quillon", "1", "Cape"), entry("Harrow & Pell", "2", "Coat"), entry("Quillon", "", "Apron")
	one.Category, one.Batch, two.Category, hung.Hook = "Dresses", "hall drawer", "Coats", "door 3"
	c := do(t, NewCollection(), &SetShelf{Spec: spec}, &Add{Entries: []Entry{one, two, hung}},
		&Stand{Rows: []NamedRow{{"A", []Accession{1}}, {"B", []Accession{2}}}}, &Decide{Firsts: []NamedWall{{"A", 1}, {"B", 2}}})
	return c
}

// namedSo writes down what a cupboard is, but for numbers given since.
func namedSo(t *testing.T, c *Collection, swap ...string) string {
	return strings.NewReplacer(swap...).Replace(dump(t, c))
}

func TestARenamedThingKeepsAllThatBelongsToIt(t *testing.T) {
	c := furnished(t)
	for _, x := range []struct{ r, was string }{
		{"box A", `"name":"A"`}, {"section Rest", `"title":"Rest"`}, {"hooks door", `"name":"door"`},
		{"publisher Quillon", `"name":"Quillon"`}, {"category Dresses", `"name":"Dresses"`}, {"batch hall drawer", `"name":"hall drawer"`},
	} {
		kind, old, _ := strings.Cut(x.r, " ")
		next := do(t, c, &Rename{Kind: Named(kind), Old: strings.ToUpper(old), New: " Something  else "})
		key := strings.SplitAfter(x.was, ":")[0]
		if got, want := dump(t, next), namedSo(t, c, x.was, key+`"Something else"`); got != want || got == dump(t, c) {
			t.Errorf("%s renamed gives\n%s\nwant\n%s", x.r, got, want)
		}
		if next.Counters() != c.Counters() {
			t.Errorf("%s renamed: numbers were given, %+v", x.r, next.Counters())
		}
	}
}

func TestWhatIsRenamedIsFoundByItsNewName(t *testing.T) {
	c := do(t, furnished(t), &Rename{NamedPublisher, "Quillon", "Quilon"}, &Rename{NamedCategory, "Dresses", "Frocks"}, &Rename{NamedBatch, "hall drawer", "hall"})
	en := entry("QUILON", "7", "")
	en.Category, en.Batch = "frocks", "Hall"
	next := do(t, c, &Add{Entries: []Entry{en}})
	if next.Publishers().Len() != 2 || next.Categories().Len() != 2 || next.Batches().Len() != 1 {
		t.Errorf("an entry by the new names made others: %d publishers, %d categories, %d batches", next.Publishers().Len(), next.Categories().Len(), next.Batches().Len())
	}
	if next = do(t, c, &Add{Entries: []Entry{entry("Quillon", "8", "")}}); next.Publishers().Len() != 3 {
		t.Error("the old name leads to the publisher still")
	}
}

func TestARenameIsRefusedWhereTheNameIsTaken(t *testing.T) {
	c := furnished(t)
	for _, x := range []struct {
		ch   Change
		says string
	}{
		{&Rename{NamedBox, "A", "b"}, `another box is called "B"`},
		{&Rename{NamedSection, "rest", "QUILLON"}, `another section is called "Quillon"`},
		{&Rename{NamedPublisher, "Quillon", "harrow &  pell"}, "another publisher is called"},
		{&Rename{NamedCategory, "Dresses", "coats"}, "another category is called"},
		{&Rename{NamedBox, "C", "D"}, `there is no box "C"; there are "A", "B"`},
		{&Rename{NamedHooks, "wall", "D"}, `there is no row of hooks "wall"; there are "door"`},
		{&Rename{NamedPublisher, "Nobody", "D"}, `there is no publisher "Nobody"; there are "Quillon", "Harrow & Pell"`},
		{&Rename{NamedBatch, "attic", "D"}, `there is no batch "attic"; there are "hall drawer"`},
		{&Rename{NamedBox, "A", " \t"}, "not empty"},
		{&Rename{"drawer", "A", "B"}, "use box, section"},
		{&SetShelf{Spec: c.ShelfSpec(), Renames: []Rename{{NamedBox, "A", "X"}, {NamedBox, "a", "Y"}}}, "given two names"},
		{&SetShelf{Spec: c.ShelfSpec(), Renames: []Rename{{NamedBox, "Z", "X"}}}, `no box "Z"`},
		{&SetShelf{Spec: c.ShelfSpec(), Renames: []Rename{{NamedPublisher, "Quillon", "Harrow & Pell"}}}, "another publisher"},
	} {
		_, _, err := c.Apply(x.ch, day)
		if err == nil || !IsInput(err) || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%+v: got error %v, want one for the user that says %q", x.ch, err, x.says)
		}
	}
	// Another way to write its own name is none that is taken.
	if got := do(t, c, &Rename{NamedPublisher, "Harrow & Pell", "HARROW AND PELL"}, &Rename{NamedBox, "A", "a"}); got.Publisher(2).Name != "HARROW AND PELL" {
		t.Errorf("the publisher is called %q", got.Publisher(2).Name)
	}
}

// A shelf that is changed as a whole can rename pieces, exchange names, and
// give a name that has become free to another piece.
func TestAShelfIsChangedAndItsPiecesRenamedAtOnce(t *testing.T) {
	c := furnished(t)
	spec := c.ShelfSpec()
	spec.Boxes[0].Name, spec.Boxes[1].Name = "B", "A"
	spec.Sections[0].Title, spec.Sections[0].Publishers = "Pell first", []string{"Quilon"}
	spec.Publishers[0].Name, spec.Binders[0].Category, spec.Hooks[0].Name = "Quilon", "Frocks", "wall"
	next := do(t, c, &SetShelf{Spec: spec, Renames: []Rename{{NamedBox, "A", "B"}, {NamedBox, "B", "A"}, {NamedSection, "Quillon", "Pell first"},
		{NamedPublisher, "Quillon", "Quilon"}, {NamedCategory, "Dresses", "Frocks"}, {NamedHooks, "door", "wall"}}})
	want := namedSo(t, c, `"id":1,"name":"A"`, `"id":1,"name":"B"`, `"id":2,"name":"B"`, `"id":2,"name":"A"`, `"title":"Quillon"`, `"title":"Pell first"`,
		`"name":"Quillon"`, `"name":"Quilon"`, `"name":"Dresses"`, `"name":"Frocks"`, `"name":"door"`, `"name":"wall"`)
	if got := dump(t, next); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	// B is taken away and A gets its name; a new A comes.
	spec = c.ShelfSpec()
	spec.Boxes = []BoxSpec{{Name: "B", Length: MM(380)}, {Name: "A", Length: MM(100)}}
	next = do(t, c, &SetShelf{Spec: spec, Renames: []Rename{{NamedBox, "A", "B"}}})
	b, _ := next.Shelf().BoxNamed("B")
	a, _ := next.Shelf().BoxNamed("A")
	if b.ID != 1 || a.ID != 3 || !slices.Equal(next.Row(1), []Accession{1}) || next.Row(2) != nil || next.Row(3) != nil {
		t.Errorf("B is %+v, A is %+v; box 1 holds %v", b, a, next.Row(1))
	}
}

// A publisher that gets another name and files in the plain way again, both at
// once, has the other name.
func TestAPublisherRenamedAndFiledInThePlainWay(t *testing.T) {
	spec := furnished(t).ShelfSpec()
	spec.Publishers, spec.Sections[0].Publishers = nil, []string{"Quilon"}
	c := do(t, furnished(t), &SetShelf{Spec: spec, Renames: []Rename{{NamedPublisher, "Quillon", "Quilon"}}})
	if p := c.PublisherNamed("Quilon"); p == nil || p.ID != 1 || p.FilesAs != "" || c.Publishers().Len() != 2 {
		t.Errorf("it is %+v, one of %d", p, c.Publishers().Len())
	}
}
