package exchange

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/alike"
	"example.org/tuckrow/model/words"
	"pgregory.net/rapid"
)

// Whatever happens to a cupboard, and is taken: the change written down and read
// again does the same, taken back there is what was there before, and the cupboard
// comes back whole from each kind of file.
func TestWhateverHappensComesBack(t *testing.T) {
	taken := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		comesBack(rt, lived(rt, 40, func(c *model.Collection, ch model.Change) *model.Collection { return happened(rt, c, ch, taken) }))
	})
	t.Logf("changes taken and refused: %v", taken)
}

// lived is a cupboard in which anything has happened.
func lived(t *rapid.T, most int, do func(*model.Collection, model.Change) *model.Collection) *model.Collection {
	c := do(model.NewCollection(), alike.Furniture())
	for range 3 {
		c = do(c, &model.Add{Entries: []model.Entry{alike.Entry(t, c)}})
	}
	for range rapid.IntRange(1, most).Draw(t, "changes") {
		c = do(c, alike.Change(t, c))
	}
	return c
}

// A spreadsheet out of one cupboard goes into another, whatever is there: what is
// not rejected is stored, and all that it said of a copy, and of a pattern that is
// not listed there.
func TestOneCupboardGoesIntoAnother(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		do := func(c *model.Collection, ch model.Change) *model.Collection {
			if next, _, err := c.Apply(ch, day); err == nil {
				return next
			}
			return c
		}
		from, into := lived(rt, 15, do), lived(rt, 15, do)
		im, err := ReadCSV(strings.NewReader(csvOf(rt, from)), nil)
		if err != nil {
			rt.Fatal(err)
		}
		if rapid.Bool().Draw(rt, "new numbers") {
			for i := range im.Entries {
				im.Entries[i].Accession = 0
			}
		}
		p := im.Plan(into, "", "file.csv")
		next := after(rt, into, p.Change)
		if _, err := ReadJSONL(strings.NewReader(jsonlOf(rt, next))); err != nil {
			rt.Fatal(err)
		}
		if len(p.Change.Entries)+len(im.Rejected) != from.Copies().Len() || next.Copies().Len() != into.Copies().Len()+len(p.Change.Entries) {
			rt.Fatalf("of %d rows %d are taken and %d rejected, of %d copies there are %d", from.Copies().Len(), len(p.Change.Entries), len(im.Rejected), into.Copies().Len(), next.Copies().Len())
		}
		last := into.Counters().Copy
		for _, en := range p.Change.Entries {
			last = max(last+1, en.Accession)
			if en.Accession != 0 {
				last = max(into.Counters().Copy, last)
			}
			saidOf(rt, into, next, en, cmp.Or(en.Accession, last))
		}
	})
}

// saidOf compares what a row said with what is stored of it.
func saidOf(t *rapid.T, was, is *model.Collection, en model.Entry, a model.Accession) {
	cp := is.Copy(a)
	if cp == nil {
		t.Fatalf("%+v is not copy %d", en, a)
	}
	got := is.EntryOf(cp)
	listed := was.Pattern(got.Pattern) != nil
	for _, f := range model.Fields() {
		said, stored := f.Get(&en), f.Get(&got)
		switch f.Name {
		case "accession", "pattern", "position":
			continue
		case "publisher", "category", "batch", "box", "hook", "also_in", "photocopied_in": // as it is written there
			said, stored = words.Fold(said), words.Fold(stored)
		}
		ofPattern := slices.Contains([]string{"publisher", "number", "name", "category", "size_range", "year", "dated_by", "barcode", "tags", "also_in", "photocopied_in", "files_as", "pieces", "size_chart", "cloth_needed"}, f.Name)
		if said != stored && !(ofPattern && listed) {
			t.Fatalf("%s was %q and is %q, of\n%+v\nwhich is\n%+v", f.Name, said, stored, en, got)
		}
	}
}

func happened(t *rapid.T, c *model.Collection, ch model.Change, taken map[string]int) *model.Collection {
	line, err := model.EncodeChange(ch)
	if err != nil {
		t.Fatal(err)
	}
	next, delta, err := c.Apply(ch, day)
	if err != nil {
		if !model.IsInput(err) {
			t.Fatalf("%s gave %v", line, err)
		}
		taken[fmt.Sprintf("%T refused", ch)]++
		return c
	}
	taken[fmt.Sprintf("%T", ch)]++
	again, err := model.DecodeChange(line)
	if err != nil {
		t.Fatalf("%s: %v", line, err)
	}
	twice, _, err := c.Apply(again, day)
	if err != nil || jsonlOf(t, twice) != jsonlOf(t, next) {
		t.Fatalf("%s written down and read does otherwise (%v)", line, err)
	}
	strip := func(c *model.Collection) string { // what is counted only grows
		lines := strings.Split(jsonlOf(t, c), "\n")
		return strings.Join(lines[1:len(lines)-2], "\n")
	}
	if back := next.ApplyDelta(delta.Inverse()); strip(back) != strip(c) {
		t.Fatalf("%s taken back leaves\n%s\nthere was\n%s", line, strip(back), strip(c))
	}
	whole, err := ReadJSONL(strings.NewReader(jsonlOf(t, next)))
	if err != nil {
		t.Fatalf("after %s: %v\n%s", line, err, jsonlOf(t, next))
	}
	if got, want := jsonlOf(t, whole), jsonlOf(t, next); got != want {
		t.Fatalf("after %s it came back as\n%s\nit was\n%s", line, got, want)
	}
	t.Logf("taken: %s", line)
	asAfresh(t, next, whole)
	return next
}

// asAfresh checks that what is carried along from change to change is what is
// worked out of the records alone.
func asAfresh(t *rapid.T, c, fresh *model.Collection) {
	if c.Steps() != fresh.Steps() {
		t.Fatalf("steps %v, counted afresh %v", c.Steps(), fresh.Steps())
	}
	for a := range c.Counters().Copy + 1 {
		s1, ok1 := c.Standing(a)
		s2, ok2 := fresh.Standing(a)
		if s1 != s2 || ok1 != ok2 {
			t.Fatalf("copy %d stands at %v, looked up afresh %v", a, s1, s2)
		}
	}
	for _, p := range c.Publishers().All() {
		if got := c.PublisherNamed(p.Name); got == nil || got.ID != p.ID {
			t.Fatalf("looked up by its name %q, publisher %d is %+v", p.Name, p.ID, got)
		}
		for _, s := range slices.Concat([]string{p.Name}, p.Spellings) {
			if a, b := c.PublisherNamed(s), fresh.PublisherNamed(s); a == nil || b == nil || a.ID != b.ID {
				t.Fatalf("%q is %+v, looked up afresh %+v", s, a, b)
			}
		}
	}
	for _, k := range c.Categories().All() {
		if got := c.CategoryNamed(k.Name); got == nil || got.ID != k.ID {
			t.Fatalf("looked up by its name %q, category %d is %+v", k.Name, k.ID, got)
		}
	}
	for _, b := range c.Batches().All() {
		if got := c.BatchNamed(b.Name); got == nil || got.ID != b.ID {
			t.Fatalf("looked up by its name %q, batch %d is %+v", b.Name, b.ID, got)
		}
	}
	same, _, err := c.Apply(&model.SetShelf{Spec: c.ShelfSpec()}, day)
	if err != nil {
		t.Fatalf("the shelf as it is: %v", err)
	}
	if got, want := jsonlOf(t, same), jsonlOf(t, c); got != want {
		t.Fatalf("the shelf as it is makes\n%s\nof\n%s", got, want)
	}
}

// comesBack takes a cupboard out as a spreadsheet and as a shelf file, and in
// again where there is nothing.
func comesBack(t *rapid.T, c *model.Collection) {
	file := csvOf(t, c)
	back, im, p := taken(t, model.NewCollection(), file, "")
	if len(im.Rejected) > 0 || len(im.Unused()) > 0 {
		t.Fatalf("of an export, rows are rejected %+v and columns not used %q", im.Rejected, im.Unused())
	}
	if got := csvOf(t, back); got != file {
		t.Fatalf("CSV came back as\n%s\nit was\n%s\nplan %+v", got, file, p)
	}
	if harmless(t, file); shown(t, applied(t, c, shown(t, c))) != shown(t, c) {
		t.Fatalf("the shelf file applied gives\n%s\nit was\n%s", shown(t, applied(t, c, shown(t, c))), shown(t, c))
	}
}
