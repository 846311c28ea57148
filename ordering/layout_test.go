package ordering_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// The order is total: whatever order things come in, they come to stand alike.
// Only copies that are alike in all that is filed stand as they arrived.
func TestArrangeIsTheSameWhateverTheOrderOfArrival(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shelf := drawShelf(t, 2, roomy, true)
		var entries []model.Entry
		for range rapid.IntRange(0, 12).Draw(t, "copies") {
			entries = append(entries, drawEntry(t))
		}
		file := func(entries []model.Entry) (row []string) {
			// Publishers have their numbers already: two that file alike go by them.
			c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf})
			for _, h := range houses {
				c = do(t, c, &model.Add{Entries: []model.Entry{entry(h, "0", 1)}})
			}
			c = do(t, c, &model.Add{Entries: entries})
			row = []string{}
			for _, it := range ordering.Arrange(c).Row() {
				row = append(row, title(c, it.Pattern))
			}
			return row
		}
		want := file(entries)
		if got := file(rapid.Permutation(entries).Draw(t, "arrival")); !slices.Equal(got, want) {
			t.Fatalf("got  %v\nwant %v", got, want)
		}
	})
}

// title says of a pattern all that files it: 7 and 07 are one number, and the
// name counts only where there is no number or numbers are not filed.
func title(c *model.Collection, p *model.Pattern) string {
	n := model.ParseNumber(p.Number, c.Publisher(p.Publisher).Numbers)
	number, name := fmt.Sprint(n.Prefix, n.Parts, n.Suffix, n.Size), ""
	if len(n.Parts) == 0 {
		number = n.Printed
	}
	if n.Empty() || c.Publisher(p.Publisher).Numbers == model.Unnumbered {
		name = p.Name
	}
	return fmt.Sprintf("%d/%q/%q/%d/%q", p.Publisher, number, name, p.Year, p.SizeRange)
}

// drawChange makes a random change; it may be refused.
func drawChange(t *rapid.T, c *model.Collection) model.Change {
	some := func() model.Accession {
		return model.Accession(rapid.IntRange(1, max(1, int(c.Counters().Copy))).Draw(t, "copy"))
	}
	en := drawEntry(t)
	if rapid.IntRange(0, 5).Draw(t, "new house") == 0 {
		en.Publisher = rapid.SampledFrom(houses).Draw(t, "house")
	}
	switch rapid.IntRange(0, 14).Draw(t, "change") {
	case 0, 1:
		if boxes := c.Shelf().Boxes; len(boxes) > 0 {
			en.Box, en.Position = boxes[0].Name, rapid.IntRange(0, 3).Draw(t, "position")
		}
		return &model.Add{Entries: []model.Entry{en}}
	case 2:
		en.Pattern = model.PatternID(rapid.IntRange(0, int(c.Counters().Pattern)).Draw(t, "pattern"))
		return &model.Add{Entries: []model.Entry{en, drawEntry(t)}}
	case 3, 4:
		en.Accession = some()
		return &model.Revise{Entry: en}
	case 5:
		return &model.Remove{Copies: []model.Accession{some()}}
	case 6:
		return &model.Tick{Copies: []model.Accession{some()}, Step: model.StepEnvelope}
	case 7:
		return &model.SetShelf{Spec: drawShelf(t, 3, mixed, true)}
	case 8:
		if rapid.Bool().Draw(t, "out") {
			return &model.TakeOut{Copy: some(), To: "Ida"}
		}
		return &model.PutBack{Copy: some()}
	case 9:
		return &model.Hang{Copy: some(), Hook: "door 2"}
	case 10:
		return &model.Stand{Missing: []model.Accession{some()}}
	case 11:
		return &model.Rename{Kind: model.NamedPublisher, Old: rapid.SampledFrom(houses).Draw(t, "old"), New: rapid.SampledFrom([]string{"Aa Umbrow", "Tallowby"}).Draw(t, "new")}
	case 12:
		return &model.SetShelf{Spec: drawBoxes(t, c.ShelfSpec())}
	case 13:
		if boxes := c.Shelf().Boxes; len(boxes) > 0 {
			return &model.Decide{Boxes: []model.NewBox{{BoxSpec: model.BoxSpec{Name: fmt.Sprint("more ", c.Counters().Box), Length: 40 * model.Millimetre}, After: boxes[0].Name}}}
		}
	}
	return drawStands(t, c)
}

// drawBoxes has boxes stand in another order, be of another length or be locked,
// and leaves all else as it is.
func drawBoxes(t *rapid.T, spec model.ShelfSpec) model.ShelfSpec {
	spec.Boxes = rapid.Permutation(spec.Boxes).Draw(t, "boxes")
	for i := range spec.Boxes {
		spec.Boxes[i].Locked = rapid.Bool().Draw(t, "locked")
		spec.Boxes[i].Length += model.Length(rapid.IntRange(0, 2).Draw(t, "longer")) * 10 * model.Millimetre
	}
	return spec
}

// same compares a layout that followed changes with one made afresh.
func same(t failer, what string, got, want *ordering.Layout) {
	t.Helper()
	if got.Collection() != want.Collection() {
		t.Fatalf("%s: the layout is of another collection", what)
	}
	if !slices.Equal(accessions(got.Row()), accessions(want.Row())) {
		t.Fatalf("%s: row %v, afresh %v", what, accessions(got.Row()), accessions(want.Row()))
	}
	for i, it := range got.Row() {
		if shown(t, it) != shown(t, want.Row()[i]) || it.Pattern != want.Row()[i].Pattern {
			t.Fatalf("%s: item %+v, afresh %+v", what, it, want.Row()[i])
		}
	}
	if !slices.Equal(got.Sections(), want.Sections()) {
		t.Fatalf("%s: sections %v, afresh %v", what, got.Sections(), want.Sections())
	}
	if !slices.Equal(accessions(got.Waiting()), accessions(want.Waiting())) {
		t.Fatalf("%s: waiting %v, afresh %v", what, accessions(got.Waiting()), accessions(want.Waiting()))
	}
	for a := range got.Collection().Counters().Copy + 2 {
		if shown(t, got.Item(a)) != shown(t, want.Item(a)) || got.Rank(a) != want.Rank(a) {
			t.Fatalf("%s: copy %d is %+v at %d, afresh %+v at %d", what, a, got.Item(a), got.Rank(a), want.Item(a), want.Rank(a))
		}
		if g, w := got.Slot(a), want.Slot(a); shown(t, g) != shown(t, w) {
			t.Fatalf("%s: slot of copy %d is %q, afresh %q", what, a, g.Text(), w.Text())
		}
	}
	if g, w := contents(got.Target()), contents(want.Target()); !reflect.DeepEqual(g, w) {
		t.Fatalf("%s: target %v, afresh %v", what, g, w)
	}
	if g, w := shown(t, got.Standing()), shown(t, want.Standing()); g != w {
		t.Fatalf("%s: there stands %s, afresh %s", what, g, w)
	}
	for _, goal := range ordering.Goals() {
		if g, w := shown(t, got.Split(goal)), shown(t, want.Split(goal)); g != w {
			t.Fatalf("%s: split %s %s, afresh %s", what, goal, g, w)
		}
	}
}

// shown is all that others can see of a value. Keys are not among it: a
// publisher that came later has a rank between two others, and afresh one like
// any.
func shown(t failer, v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(b)
}

func TestNextIsWhatArrangeGives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 6, drawShelf(t, 3, mixed, true))
		l := ordering.Arrange(c)
		for range rapid.IntRange(1, 8).Draw(t, "changes") {
			ch := drawChange(t, c)
			next, delta, err := c.Apply(ch, day)
			if err != nil {
				continue // refused: there is nothing to follow
			}
			before := accessions(l.Row())
			after := l.Next(model.Commit{Collection: next, Delta: delta})
			same(t, ch.Title(c), after, ordering.Arrange(next))
			if !slices.Equal(accessions(l.Row()), before) {
				t.Fatalf("%s: the layout before was altered", ch.Title(c))
			}
			if rapid.IntRange(0, 3).Draw(t, "undone") == 0 {
				back := next.ApplyDelta(delta.Inverse())
				after = after.Next(model.Commit{Collection: back, Delta: delta.Inverse()})
				same(t, "undo "+ch.Title(c), after, ordering.Arrange(back))
				next = back
			}
			c, l = next, after
		}
	})
}

// Beyond a few copies Next files afresh; either way it gives the same.
func TestNextAfterManyAtOnce(t *testing.T) {
	for _, n := range []int{1, 63, 64, 65, 66, 200} {
		c := do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(380)}, &model.Add{Entries: []model.Entry{entry("Quillon", "1", 1)}})
		l := ordering.Arrange(c)
		add := &model.Add{}
		for i := range n {
			add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(n-i), 1))
		}
		next, delta, err := c.Apply(add, day)
		if err != nil {
			t.Fatal(err)
		}
		got := accessions(l.Next(model.Commit{Collection: next, Delta: delta}).Row())
		if want := accessions(ordering.Arrange(next).Row()); !slices.Equal(got, want) || len(got) != n+1 {
			t.Errorf("%d at once: %v, want %v", n, got, want)
		}
	}
}

// Publishers that come one after another fit between those there are, until
// there is no rank left in one place; either way it gives the same.
func TestNextWithMoreAndMorePublishers(t *testing.T) {
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(380)}, &model.Add{Entries: []model.Entry{entry("A", "1", 1), entry("B", "1", 1)}})
	l := ordering.Arrange(c)
	for name := "A"; len(name) < 40; name += "a" {
		next, delta, err := c.Apply(&model.Add{Entries: []model.Entry{entry(name+"a", "1", 1)}}, day)
		if err != nil {
			t.Fatal(err)
		}
		l, c = l.Next(model.Commit{Collection: next, Delta: delta}), next
		same(t, name, l, ordering.Arrange(c))
		p := &model.Pattern{Number: "1"}
		if got, want := l.GapFor(name+"aa", p), ordering.Arrange(c).GapFor(name+"aa", p); shown(t, got) != shown(t, want) {
			t.Fatalf("%s: gap %v, afresh %v", name, got, want)
		}
	}
}

// Sections come as the owner lists them, then publishers by name, then numbers,
// then names, then year, size range and arrival (job.md, "Order").
func TestArrangeFilesByTheRule(t *testing.T) {
	shelf := bareShelf(380)
	shelf.Sections = []model.SectionSpec{
		{Title: "Inherited", Tags: []string{"old"}},
		{Title: "Quillon", Publishers: []string{"Quillon"}},
		{Title: "Small houses", Publishers: []string{"*"}},
	}
	shelf.Publishers = []model.PublisherSpec{{Name: "Tallowby", Numbers: model.Unnumbered}, {Name: "Zz Umbrow", FilesAs: "Ab Umbrow"}}
	want := []model.Entry{
		{Publisher: "Tallowby", Name: "Zouave jacket", Tags: []string{"OLD"}},
		{Publisher: "Quillon", Number: "9", Name: "Cape"},
		{Publisher: "Quillon", Number: "123", Name: "Wrap dress"},
		{Publisher: "Quillon", Number: "K123", Name: "Cape"},
		{Publisher: "Quillon", Number: "k-124", Year: 0, SizeRange: "16-20"},
		{Publisher: "Quillon", Number: "124K", Year: 1961, SizeRange: "8-14"},
		{Publisher: "Quillon", Number: "124K", Year: 1961, SizeRange: "10-16"},
		{Publisher: "Quillon", Number: "124K", Year: 1961, SizeRange: "10-16", Name: "as the one before, but later"},
		{Publisher: "Quillon", Number: "124K", Year: 1975},
		{Publisher: "Quillon", Name: "Apron"},
		{Publisher: "Zz Umbrow", Number: "5"},
		{Publisher: "Harrow & Pell", Number: "1"},
		{Publisher: "Tallowby", Number: "9", Name: "Apron"}, // by name only
		{Publisher: "Tallowby", Number: "V1", Name: "Cape"},
		{Publisher: "Tallowby", Number: "V2", Name: "Cape"},
		{Publisher: "Tallowby", Number: "1", Name: "Dress"},
	}
	// Arrival in an order of its own; the two that are alike stay as they came.
	arrival := []int{15, 3, 6, 0, 7, 12, 1, 9, 14, 2, 4, 11, 5, 8, 13, 10}
	add := &model.Add{}
	for _, i := range arrival {
		en := want[i]
		en.Notes = fmt.Sprint(i)
		add.Entries = append(add.Entries, en)
	}
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
	for i, it := range ordering.Arrange(c).Row() {
		if got := c.Copy(it.Copy).Notes; got != fmt.Sprint(i) {
			t.Errorf("place %d: %s %s, want %s %s", i+1, c.Publisher(it.Pattern.Publisher).Name, it.Pattern.Heading(), want[i].Publisher, want[i].Number+" "+want[i].Name)
		}
	}
}
