package model

import (
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
)

const day Date = "2026-03-01"

// do applies changes one after another and fails the test when one is refused.
func do(t *testing.T, c *Collection, changes ...Change) *Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		if err := next.Check(); err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		c = next
	}
	return c
}

func entry(publisher, number, name string) Entry {
	return Entry{Publisher: publisher, Number: number, Name: name}
}

func oneBox() *SetShelf {
	return &SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Boxes: []BoxSpec{{Name: "1", Length: MM(380)}}}}
}

// dump writes a collection down, to compare two.
func dump(t *testing.T, c *Collection) string {
	t.Helper()
	var b strings.Builder
	for r := range c.Records() {
		line, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		k, id := r.Key()
		b.WriteString(k.String() + " " + string(rune('0'+id%10)) + " " + string(line) + "\n")
	}
	return b.String()
}

func TestAddEntersPublisherCategoryAndBatchOnce(t *testing.T) {
	a := entry("Harrow & Pell", "6123", "Wrap dress")
	a.Category, a.Batch = "Dresses", "hall drawer"
	b := entry("harrow and  pell", "6124", "")
	b.Publisher = "HARROW & PELL" // however it is written
	b.Category, b.Batch = "dresses", "Hall Drawer"
	c := do(t, NewCollection(), &Add{Entries: []Entry{a}}, &Add{Entries: []Entry{b}})
	if c.Publishers().Len() != 1 || c.Categories().Len() != 1 || c.Batches().Len() != 1 {
		t.Errorf("got %d publishers, %d categories, %d batches, want 1 each", c.Publishers().Len(), c.Categories().Len(), c.Batches().Len())
	}
	if got := c.Copy(2).Added; got != day {
		t.Errorf("a copy without a date is of %q, want the day of the change", got)
	}
	if got := c.Publisher(1).Name; got != "Harrow & Pell" {
		t.Errorf("the publisher is called %q, want the first spelling", got)
	}
}

func TestAddIsAllOrNone(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "")}})
	before := dump(t, c)
	_, _, err := c.Apply(&Add{Entries: []Entry{entry("Quillon", "2", ""), entry("Quillon", "", "")}}, day)
	var bad *EntryError
	if !errors.As(err, &bad) || bad.Index != 1 || !IsInput(err) {
		t.Fatalf("got error %v, want an EntryError for the second entry", err)
	}
	if dump(t, c) != before || c.Copies().Len() != 1 {
		t.Error("a refused change altered the collection it was applied to")
	}
}

func TestAccessionNumbersAreNeverGivenTwice(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", "")}})
	c = do(t, c, &Remove{Copies: []Accession{2}})
	next, delta, err := c.Apply(&Add{Entries: []Entry{entry("Quillon", "3", "")}}, day)
	if err != nil {
		t.Fatal(err)
	}
	if next.Copy(3) == nil || next.Copy(2) != nil {
		t.Errorf("after copy 2 was removed the next one must be 3")
	}
	undone := next.ApplyDelta(delta.Inverse())
	if last := do(t, undone, &Add{Entries: []Entry{entry("Quillon", "4", "")}}); last.Copy(4) == nil {
		t.Errorf("after copy 3 was undone the next one must be 4")
	}
	taken := entry("Quillon", "5", "")
	taken.Accession = 1
	if _, _, err := next.Apply(&Add{Entries: []Entry{taken}}, day); err == nil {
		t.Error("an accession number that is in use was given again")
	}
}

func TestFurtherCopyOfAPattern(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "220", "Cape")}})
	second := entry("Quillon", "220", "Cape")
	second.Pattern = 1
	second.Cut = FullyCut
	c = do(t, c, &Add{Entries: []Entry{second, entry("Quillon", "220", "Cape")}})
	if c.Copy(2).Pattern != 1 {
		t.Errorf("copy 2 is of pattern %d, want 1", c.Copy(2).Pattern)
	}
	if c.Copy(3).Pattern == 1 {
		t.Error("two patterns were merged though nobody said that they are one")
	}
	c = do(t, c, &Remove{Copies: []Accession{1}})
	if c.Pattern(1) == nil {
		t.Error("a pattern went though a copy of it is left")
	}
	if c = do(t, c, &Remove{Copies: []Accession{2}}); c.Pattern(1) != nil {
		t.Error("a pattern stayed though no copy of it is left")
	}
}

func TestEveryChangeIsUndoneByTheInverseOfItsDelta(t *testing.T) {
	_, changes := every(t)
	c := NewCollection()
	for _, ch := range changes {
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			t.Fatal(err)
		}
		back := next.ApplyDelta(delta.Inverse())
		if got, want := dump(t, back), dump(t, c); got != want {
			t.Errorf("%s: undone gives\n%s\nwant\n%s", ch.Title(c), got, want)
		}
		if again := back.ApplyDelta(delta); dump(t, again) != dump(t, next) {
			t.Errorf("%s: undone and done again differs", ch.Title(c))
		}
		c = next
	}
}

func TestEveryChangeIsWrittenDownAndRead(t *testing.T) {
	_, changes := every(t)
	seen := map[reflect.Type]bool{}
	for _, ch := range changes {
		b, err := EncodeChange(ch)
		if err != nil {
			t.Fatal(err)
		}
		back, err := DecodeChange(b)
		if err != nil || !reflect.DeepEqual(back, ch) {
			t.Errorf("%s came back as %#v (%v)", b, back, err)
		}
		seen[reflect.TypeOf(ch)] = true
	}
	if len(seen) != len(verbs) {
		t.Errorf("%d kinds of change were tried, there are %d", len(seen), len(verbs))
	}
	if _, err := DecodeChange([]byte(`{"do":"juggle","with":{}}`)); err == nil {
		t.Error("a change that is not known was read")
	}
}

// What a collection takes along from the one before must be what it would work
// out afresh.
func TestWhatIsTakenAlongIsTrue(t *testing.T) {
	_, changes := every(t)
	c := NewCollection()
	for _, ch := range changes {
		c = do(t, c, ch)
		fresh, err := Build(c.Rev(), c.Counters(), c.Records())
		if err != nil {
			t.Fatal(err)
		}
		if c.Steps() != fresh.Steps() {
			t.Errorf("%s: steps %v, counted afresh %v", ch.Title(c), c.Steps(), fresh.Steps())
		}
		for a := range c.Copies().All() {
			s1, ok1 := c.Standing(Accession(a))
			s2, ok2 := fresh.Standing(Accession(a))
			if s1 != s2 || ok1 != ok2 {
				t.Errorf("%s: copy %d stands at %v, looked up afresh %v", ch.Title(c), a, s1, s2)
			}
		}
		for _, p := range fresh.Publishers().All() {
			if c.PublisherNamed(p.Name) != c.Publisher(p.ID) {
				t.Errorf("%s: publisher %q is not found by name", ch.Title(c), p.Name)
			}
		}
	}
}

func TestStepsOfACopy(t *testing.T) {
	c := do(t, NewCollection(), oneBox(), &Add{Entries: []Entry{entry("Quillon", "1", "")}})
	for _, want := range []struct {
		step Step
		ch   Change
	}{
		{StepSleeve, &Tick{Copies: []Accession{1}, Step: StepSleeve}},
		{StepEnvelope, &Tick{Copies: []Accession{1}, Step: StepEnvelope}},
		{StepGroup, &Tick{Copies: []Accession{1}, Step: StepGroup}},
		{StepBox, &Stand{Rows: []NamedRow{{"1", []Accession{1}}}}},
		{Filed, &Tick{Copies: []Accession{1}, Step: StepEnvelope, Undone: true}},
		{StepEnvelope, &Tick{Copies: []Accession{1}, Step: StepSleeve, Undone: true}},
	} {
		if got := c.StepOf(c.Copy(1)); got != want.step || c.Steps()[want.step] != 1 {
			t.Errorf("the copy is at step %s (counts %v), want %s", got, c.Steps(), want.step)
		}
		c = do(t, c, want.ch)
	}
	if _, _, err := c.Apply(&Tick{Copies: []Accession{1}, Step: StepBox}, day); !IsInput(err) {
		t.Errorf("ticking the box step gave %v; a copy is in a box when it stands in one", err)
	}
}

func TestInsertAtPositions(t *testing.T) {
	c := do(t, NewCollection(), oneBox())
	at := func(number string, position int) Entry {
		en := entry("Quillon", number, "")
		en.Box, en.Position = "1", position
		return en
	}
	c = do(t, c, &Add{Entries: []Entry{at("c", 3), at("a", 1), at("z", 0), at("b", 2)}})
	if got := numbers(c); !slices.Equal(got, []string{"a", "b", "c", "z"}) {
		t.Errorf("the box holds %v, want a b c z", got)
	}
	c = do(t, c, &Add{Entries: []Entry{at("new2", 2), at("new4", 4)}})
	if got := numbers(c); !slices.Equal(got, []string{"a", "new2", "b", "new4", "c", "z"}) {
		t.Errorf("the box holds %v, want the new ones at places 2 and 4", got)
	}
}

func numbers(c *Collection) []string {
	var out []string
	for _, a := range c.Row(1) {
		out = append(out, c.PatternOf(a).Number)
	}
	return out
}

func TestShelfKeepsWhatStandsWhereTheNameStays(t *testing.T) {
	c := do(t, NewCollection(), &SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Boxes: []BoxSpec{{Name: "1", Length: MM(380)}, {Name: "2", Length: MM(380)}}}},
		&Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", "")}},
		&Stand{Rows: []NamedRow{{"1", []Accession{1}}, {"2", []Accession{2}}}})
	c = do(t, c, &SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Boxes: []BoxSpec{{Name: "new", Length: MM(100)}, {Name: "2", Length: MM(500)}}}})
	if _, ok := c.Standing(1); ok {
		t.Error("copy 1 stands in a box that is no longer there")
	}
	s, ok := c.Standing(2)
	if b, _ := c.Shelf().Box(s.Box); !ok || b.Name != "2" || b.Length != MM(500) {
		t.Errorf("copy 2 stands in %v, want box 2 with its new length", b)
	}
}

func TestANewBoxGoesBehindTheBoxNamed(t *testing.T) {
	c := do(t, NewCollection(), oneBox(), &Add{Entries: []Entry{entry("Quillon", "1", "")}},
		&Decide{Boxes: []NewBox{{BoxSpec: BoxSpec{Name: "2", Length: MM(100)}}}, Firsts: []NamedWall{{"2", 1}}},
		&Decide{Boxes: []NewBox{{BoxSpec{Name: "1a", Length: MM(100)}, "1"}}, Firsts: []NamedWall{{"1a", 1}}})
	var names []string
	for _, b := range c.Shelf().Boxes {
		names = append(names, b.Name)
	}
	if !slices.Equal(names, []string{"1", "1a", "2"}) {
		t.Errorf("the boxes stand %v, want 1a between 1 and 2", names)
	}
	if _, _, err := c.Apply(&Decide{Boxes: []NewBox{{BoxSpec{Name: "9", Length: 1}, "attic"}}}, day); !IsInput(err) {
		t.Errorf("a box behind one that is not there gave %v", err)
	}
}

func TestWhatCannotBeUsedIsRefusedWithWhatToDo(t *testing.T) {
	c := do(t, NewCollection(), oneBox(), &Add{Entries: []Entry{entry("Quillon", "1", "")}})
	spec := func(change func(*ShelfSpec)) Change {
		s := ShelfSpec{Settings: DefaultSettings()}
		change(&s)
		return &SetShelf{Spec: s}
	}
	inBox := entry("Quillon", "9", "")
	inBox.Box = "attic"
	for _, x := range []struct {
		ch   Change
		says string
	}{
		{&Add{Entries: []Entry{entry("", "1", "")}}, "publisher"},
		{&Add{Entries: []Entry{entry("Quillon", " ", "\t")}}, "give one of them"},
		{&Add{Entries: []Entry{inBox}}, `"attic"`},
		{&PutBack{Copy: 1}, "not out"},
		{&TakeOut{Copy: 99}, "99"},
		{&Remove{Copies: []Accession{99}}, "99"},
		{&Stand{Rows: []NamedRow{{"1", []Accession{1, 1}}}}, "two places"},
		{&Stand{Rows: []NamedRow{{"7", nil}}}, `"7"`},
		{&Stand{Rows: []NamedRow{{"1", []Accession{1}}}, Missing: []Accession{1}}, "say one of them"},
		{&Stand{Missing: []Accession{99}}, "99"},
		{&Hang{Copy: 1, Hook: "door 1"}, "no row of hooks"},
		{spec(func(s *ShelfSpec) { s.Boxes = []BoxSpec{{Name: "1"}} }), "no length"},
		{spec(func(s *ShelfSpec) { s.Boxes = []BoxSpec{{Name: "a", Length: 1}, {Name: "A", Length: 1}} }), "twice"},
		{spec(func(s *ShelfSpec) { s.Sections = []SectionSpec{{Title: "x"}} }), "holds nothing"},
		{spec(func(s *ShelfSpec) {
			s.Sections = []SectionSpec{{Title: "x", Publishers: []string{"Quillon"}}, {Title: "y", Publishers: []string{"quillon"}}}
		}), "leave it in one"},
		{spec(func(s *ShelfSpec) { s.Settings.Units = "ell" }), `"ell"`},
		{&Add{Entries: []Entry{entry(" * ", "1", "")}}, "all other publishers"},
		{&Rename{NamedPublisher, "Quillon", "*"}, "all other publishers"},
		{spec(func(s *ShelfSpec) { s.Publishers = []PublisherSpec{{Name: "*", Numbers: PrefixFirst}} }), "all other publishers"},
	} {
		_, _, err := c.Apply(x.ch, day)
		if err == nil || !IsInput(err) || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%T: got error %v, want one for the user that says %q", x.ch, err, x.says)
		}
	}
}

// A pattern that names only further categories has the first of them as its
// home, and no see-also entry there, however often it is named.
func TestASeeAlsoEntryIsNeverInTheOwnCategory(t *testing.T) {
	for _, also := range [][]string{{"Coats", "coats", "Capes"}, {"Coats", "COATS"}, {"Coats"}} {
		en := entry("Quillon", "K1", "Coat")
		en.Also = also
		c := do(t, NewCollection(), &Add{Entries: []Entry{en}})
		if err := c.Check(); err != nil {
			t.Errorf("of %q: %v", also, err)
		}
		if p := c.Pattern(1); c.Category(p.Category).Name != "Coats" || len(p.Also) != len(also)/3 {
			t.Errorf("of %q its home is %q, and %d are see-also entries", also, c.Category(p.Category).Name, len(p.Also))
		}
	}
}
