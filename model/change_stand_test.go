package model

import (
	"strings"
	"testing"
)

// stood is two boxes of three, and one on the pile.
func stood(t *testing.T) *Collection {
	var add Add
	for _, n := range []string{"1", "2", "3", "4", "5", "6", "7"} {
		add.Entries = append(add.Entries, entry("Quillon", n, ""))
	}
	return do(t, NewCollection(), &SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Hooks: []HookSpec{{"door", 3, 3}},
		Boxes: []BoxSpec{{Name: "A", Length: MM(380)}, {Name: "B", Length: MM(380)}, {Name: "C", Length: MM(380)}, {Name: "D", Length: MM(380)}}}},
		&add, &Stand{Rows: []NamedRow{{"A", []Accession{1, 2, 3}}, {"B", []Accession{4, 5, 6}}}})
}

func TestStandSaysWhatWasDone(t *testing.T) {
	c := stood(t)
	for _, x := range []struct {
		ch   Stand
		want string
	}{
		{Stand{Rows: []NamedRow{{"A", []Accession{1, 3}}}}, "pulled 2 from box A"}, // copy 2 has the number 2
		{Stand{Rows: []NamedRow{{"A", []Accession{3}}, {"B", []Accession{4, 5}}}}, "pulled 3 from boxes A and B"},
		{Stand{Rows: []NamedRow{{"B", []Accession{4, 7, 5, 6}}}}, "put 7 into box B"},
		{Stand{Rows: []NamedRow{{"A", nil}, {"C", []Accession{1, 2, 3, 7}}}}, "pulled 3 from box A, put 4 into box C"},
		{Stand{Rows: []NamedRow{{"A", []Accession{1}}, {"B", []Accession{2}}, {"C", []Accession{3}}, {"D", []Accession{4}}}}, "pulled 5 from boxes A and B, put 3 into boxes B, C and D"},
		{Stand{Rows: []NamedRow{{"A", []Accession{1, 2}}}, Missing: []Accession{3}}, "noted 3 as not found"},
		{Stand{Missing: []Accession{3, 7}}, "noted 2 as not found"},
		{Stand{Rows: []NamedRow{{"A", []Accession{3, 2, 1}}}}, "put box A in order"},
		{Stand{Rows: []NamedRow{{"A", []Accession{1, 2, 3}}}, Done: true}, "closed the refiling"},
		{Stand{Rows: []NamedRow{{"A", []Accession{1, 2, 3}}}}, "recorded what stands in box A"},
		{Stand{Rows: []NamedRow{{"A", []Accession{2, 4}}}, Missing: []Accession{1, 3}, Read: true}, "recorded box A as found, 2 not found, 1 from elsewhere"},
		{Stand{Rows: []NamedRow{{"A", []Accession{1, 2, 3}}}, Back: []Accession{1}, Read: true}, "recorded box A as found, 1 back"},
		{Stand{Boxes: []BoxSpec{{Name: "E", Length: 1}}, Rows: []NamedRow{{"E", []Accession{7}}}}, "put 7 into box E"},
	} {
		if got := x.ch.Title(c); got != x.want {
			t.Errorf("%+v is titled %q, want %q", x.ch, got, x.want)
		}
	}
}

// A copy that was looked for and not found stands nowhere and is at no step,
// until it turns up, however that is noted.
func TestWhatIsMissing(t *testing.T) {
	c := do(t, stood(t), &Hang{Copy: 7, Hook: "door 1"}, &Stand{Rows: []NamedRow{{"A", []Accession{1, 3}}}, Missing: []Accession{2, 7}})
	if list := c.MissingList(); len(list) != 2 || list[0].Accession != 2 || list[0].Missing != day || c.StepOf(list[0]) != NotFound || c.Steps()[NotFound] != 2 {
		t.Fatalf("missing are %v", list)
	}
	if _, stands := c.Standing(2); stands || c.Copy(7).Hook != (Hook{}) {
		t.Error("what is missing has a place")
	}
	for _, ch := range []Change{
		&PutBack{Copy: 2}, &TakeOut{Copy: 2}, &Hang{Copy: 2, Hook: "door 2"},
		&Stand{Rows: []NamedRow{{"B", []Accession{4, 2, 5, 6}}}},
	} {
		next := do(t, c, ch)
		if next.Copy(2).Missing != "" || len(next.MissingList()) != 1 || next.StepOf(next.Copy(2)) == NotFound {
			t.Errorf("%s: it is missing still", ch.Title(c))
		}
	}
	if got := (&PutBack{Copy: 2}).Title(c); got != "found 2" {
		t.Errorf("the title is %q", got)
	}
	// What is known of it is corrected and kept with it.
	en := c.EntryOf(c.Copy(2))
	if en.Missing != day {
		t.Errorf("written down it is %+v", en)
	}
	en.Name = "Cape"
	if c = do(t, c, &Revise{Entry: en}); c.Copy(2).Missing != day || c.PatternOf(2).Name != "Cape" {
		t.Errorf("corrected it is %+v", c.Copy(2))
	}
	en.Accession, en.Pattern = 0, 0
	if c = do(t, c, &Add{Entries: []Entry{en}}); c.Copy(8).Missing != day {
		t.Errorf("entered again it is %+v", c.Copy(8))
	}
	if next := do(t, c, &TakeOut{Copy: 4}, &Stand{Missing: []Accession{4}}); next.Copy(4).Missing != "" || next.Copy(4).Out == nil {
		t.Errorf("what is out is missing: %+v", next.Copy(4))
	}
	en.Box = "A"
	if _, _, err := c.Apply(&Add{Entries: []Entry{en}}, day); !IsInput(err) || !strings.Contains(err.Error(), "missing") {
		t.Errorf("missing in a box gave %v", err)
	}
}
