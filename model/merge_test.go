package model

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// alike is a collection written down without what only a queue's order, or the
// list of what was merged, tells.
func alike(t interface{ Fatal(...any) }, c *Collection) string {
	var lines []string
	for r := range c.Records() {
		switch r := r.(type) {
		case *Queue:
			for _, q := range r.Items {
				lines = append(lines, fmt.Sprintf("queued %+v", q))
			}
			continue
		case *Pattern:
			p := *r
			p.Merged = nil
			lines = append(lines, fmt.Sprintf("pattern %+v", p))
			continue
		}
		lines = append(lines, fmt.Sprintf("%T %+v", r, r))
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// told is a collection of six patterns and of things that name them.
var told = rapid.Custom(func(t *rapid.T) *Collection {
	text := rapid.SampledFrom([]string{"", "", "a", "b"})
	var changes []Change
	for i := range 6 {
		en := Entry{Publisher: rapid.SampledFrom([]string{"Quillon", "Harrow & Pell"}).Draw(t, "publisher"), Number: fmt.Sprint(i % 3), Name: text.Draw(t, "name"),
			Category: text.Draw(t, "category"), SizeRange: text.Draw(t, "sizes"), Year: rapid.SampledFrom([]int{0, 1960}).Draw(t, "year"), Barcode: text.Draw(t, "code"),
			Tags: rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"old", "torn", "play"}), 0, 2, rapid.ID).Draw(t, "tags")}
		if rapid.Bool().Draw(t, "charted") {
			en.Sizes = []Size{{Name: fmt.Sprint(10 + i)}}
		}
		entries := []Entry{en}
		if rapid.Bool().Draw(t, "second copy") {
			again := en
			again.Pattern = PatternID(i + 1)
			entries = append(entries, again)
		}
		changes = append(changes, &Add{Entries: entries})
	}
	any := rapid.Custom(func(t *rapid.T) PatternID { return PatternID(rapid.IntRange(1, 6).Draw(t, "pattern")) })
	for range rapid.IntRange(0, 6).Draw(t, "links") {
		a, b := any.Draw(t, "a"), any.Draw(t, "b")
		if a != b {
			changes = append(changes, &SetLink{A: a, B: b, Kind: rapid.SampledFrom([]LinkKind{SeeAlso, Reissue}).Draw(t, "kind")})
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "sewing") {
		changes = append(changes, &Sewn{Make{Pattern: any.Draw(t, "made")}}, &Enqueue{Item: Queued{Pattern: any.Draw(t, "queued"), Notes: text.Draw(t, "notes")}})
	}
	return applied(t, NewCollection(), changes...)
})

func applied(t *rapid.T, c *Collection, changes ...Change) *Collection {
	for _, ch := range changes {
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		if err := next.Check(); err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		if back := next.ApplyDelta(delta.Inverse()); alike(t, back) != alike(t, c) {
			t.Fatalf("%s: undone it is\n%s\nit was\n%s", ch.Title(c), alike(t, back), alike(t, c))
		}
		c = next
	}
	return c
}

// What was merged, one into another in whatever order, comes apart again into
// just what it was, field by field, link by link, copy by copy.
func TestMergingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := told.Draw(t, "collection")
		was := []string{alike(t, c)}
		var kept []PatternID
		for range rapid.IntRange(1, 5).Draw(t, "merges") {
			there := slices.Collect(patternsOf(c))
			keep := rapid.SampledFrom(there).Draw(t, "keep")
			gone := rapid.SampledFrom(slices.DeleteFunc(there, func(p PatternID) bool { return p == keep })).Draw(t, "gone")
			copies := c.Copies().Len()
			c = applied(t, c, &Merge{Keep: keep, Gone: gone})
			if c.Pattern(gone) != nil || c.Copies().Len() != copies {
				t.Fatalf("%d is still there, or copies are lost", gone)
			}
			was, kept = append(was, alike(t, c)), append(kept, keep)
		}
		// Publishers that turn out to be one do not stand in the way.
		houses := rapid.Bool().Draw(t, "one house") && c.Publishers().Len() == 2
		if houses {
			c = applied(t, c, &MergePublishers{Keep: 1, Gone: 2})
		}
		for i, keep := range slices.Backward(kept) {
			c = applied(t, c, &Unmerge{Pattern: keep})
			if got := alike(t, c); !houses && got != was[i] {
				t.Fatalf("taken apart it is\n%s\nit was\n%s", got, was[i])
			}
		}
		if c.Patterns().Len() != 6 {
			t.Fatalf("%d patterns are left of 6", c.Patterns().Len())
		}
		for _, p := range c.Patterns().All() {
			if len(p.Merged) > 0 {
				t.Fatalf("pattern %d still says what was merged into it", p.ID)
			}
		}
	})
}

func patternsOf(c *Collection) func(func(PatternID) bool) {
	return func(yield func(PatternID) bool) {
		for id := range c.Patterns().All() {
			if !yield(PatternID(id)) {
				return
			}
		}
	}
}

// Copies parted into a pattern of their own say all that they said, and merged
// again it is as before.
func TestPartingLosesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := told.Draw(t, "collection")
		for _, cp := range c.Copies().All() {
			others := 0
			for _, x := range c.Copies().All() {
				others += map[bool]int{true: 1}[x.Pattern == cp.Pattern]
			}
			ch := &SplitPattern{Copies: []Accession{cp.Accession}}
			if others < 2 {
				if _, _, err := c.Apply(ch, day); !IsInput(err) {
					t.Fatalf("the only copy was parted from its pattern: %v", err)
				}
				continue
			}
			parted := applied(t, c, ch)
			fresh := *parted.PatternOf(cp.Accession)
			old := *c.Pattern(cp.Pattern)
			if fresh.ID == old.ID || parted.Patterns().Len() != 7 {
				t.Fatalf("copy %d is still of pattern %d", cp.Accession, fresh.ID)
			}
			fresh.ID, fresh.Links, old.Links = old.ID, nil, nil
			if fmt.Sprintf("%+v", fresh) != fmt.Sprintf("%+v", old) {
				t.Fatalf("the new one says %+v, the old one %+v", fresh, old)
			}
			if again := applied(t, parted, &Merge{Keep: cp.Pattern, Gone: parted.Copy(cp.Accession).Pattern}); alike(t, again) != alike(t, c) {
				t.Fatalf("merged again it is\n%s\nit was\n%s", alike(t, again), alike(t, c))
			}
		}
	})
}

// What was said of the one kept since the merge stays when it is taken apart.
func TestWhatWasSaidSinceStays(t *testing.T) {
	a, b := entry("Quillon", "1", ""), entry("Quillon", "2", "Cape")
	b.Year, b.Tags = 1960, []string{"old"}
	c := do(t, NewCollection(), &Add{Entries: []Entry{a, b}}, &Merge{Keep: 1, Gone: 2})
	if p := c.Pattern(1); p.Name != "Cape" || p.Number != "1" || p.Year != 1960 || !slices.Equal(p.Tags, []string{"old"}) {
		t.Errorf("merged it says %+v", p)
	}
	en := c.EntryOf(c.Copy(1))
	en.Year, en.Tags = 1961, []string{"old", "torn"}
	c = do(t, c, &Revise{en}, &Unmerge{Pattern: 1})
	if p := c.Pattern(1); p.Name != "" || p.Number != "1" || p.Year != 1961 || !slices.Equal(p.Tags, []string{"torn"}) {
		t.Errorf("taken apart the one says %+v", p)
	}
	if p := c.Pattern(2); p.Name != "Cape" || p.Year != 1960 || c.Copy(2).Pattern != 2 {
		t.Errorf("taken apart the other says %+v", p)
	}
}

func TestWhatCannotBeMerged(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", ""), entry("Quillon", "3", "")}}, &Merge{Keep: 1, Gone: 2}, &Remove{Copies: []Accession{2}})
	for _, ch := range []Change{
		&Merge{Keep: 1, Gone: 1}, &Merge{Keep: 1, Gone: 2}, &Merge{Keep: 9, Gone: 1}, &Unmerge{Pattern: 1}, &Unmerge{Pattern: 3}, &Unmerge{Pattern: 9},
		&SplitPattern{}, &SplitPattern{Copies: []Accession{9}}, &SplitPattern{Copies: []Accession{1, 3}},
		&SetLink{A: 1, B: 1}, &SetLink{A: 1, B: 9}, &SetLink{A: 9, B: 1}, &SetLink{A: 1, B: 3, Off: true}, &SetLink{A: 1, B: 3, Kind: "cousin"},
		&MergePublishers{Keep: 1, Gone: 1}, &MergePublishers{Keep: 1, Gone: 9},
	} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", ch.Title(c), err)
		}
	}
}

func TestLinksGoBothWays(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", ""), entry("Quillon", "3", "")}},
		&SetLink{A: 3, B: 1, Kind: Reissue}, &SetLink{A: 1, B: 2}, &SetLink{A: 2, B: 1, Kind: Reissue})
	if got := fmt.Sprint(c.Pattern(1).Links, c.Pattern(2).Links, c.Pattern(3).Links); got != "[{2 reissue} {3 reissue}] [{1 reissue}] [{1 reissue}]" {
		t.Errorf("the links are %s", got)
	}
	c = do(t, c, &SetLink{A: 1, B: 3, Off: true}, &Remove{Copies: []Accession{2}})
	if len(c.Pattern(1).Links)+len(c.Pattern(3).Links) != 0 {
		t.Errorf("links are left: %v, %v", c.Pattern(1).Links, c.Pattern(3).Links)
	}
}

func TestTwoSpellingsOfOneHouse(t *testing.T) {
	spec := ShelfSpec{Settings: DefaultSettings(), Sections: []SectionSpec{{Title: "one", Publishers: []string{"Harow & Pell"}}, {Title: "two", Publishers: []string{"Quillon", "Harrow & Pell"}}},
		Publishers: []PublisherSpec{{Name: "Harow & Pell", FilesAs: "Harrow and Pell"}}}
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Harrow & Pell", "1", ""), entry("Harow & Pell", "2", ""), entry("Quillon", "3", "")}}, &SetShelf{Spec: spec})
	right, wrong := c.PublisherNamed("Harrow & Pell").ID, c.PublisherNamed("Harow & Pell").ID
	c = do(t, c, &MergePublishers{Keep: right, Gone: wrong}, &Add{Entries: []Entry{entry("harow & pell", "4", "")}})
	if c.Publishers().Len() != 2 || c.PatternOf(2).Publisher != right || c.PatternOf(4).Publisher != right {
		t.Errorf("%d publishers are left, copy 4 is of %d", c.Publishers().Len(), c.PatternOf(4).Publisher)
	}
	if p := c.PublisherNamed("Harow & Pell"); p.ID != right || p.FilesAs != "Harrow and Pell" || !slices.Equal(p.Spellings, []string{"Harow & Pell"}) {
		t.Errorf("the one kept is %+v", p)
	}
	if s := c.Shelf().Sections; len(s) != 1 || s[0].Title != "two" || len(s[0].Publishers) != 2 {
		t.Errorf("the sections are %+v", s)
	}
	// Where only the wrong one had a section, the right one takes its place.
	spec.Sections = spec.Sections[:1]
	c = do(t, NewCollection(), &Add{Entries: []Entry{entry("Harrow & Pell", "1", ""), entry("Harow & Pell", "2", "")}}, &SetShelf{Spec: spec}, &MergePublishers{Keep: 1, Gone: 2})
	if s := c.Shelf().Sections; len(s) != 1 || !slices.Equal(s[0].Publishers, []PublisherID{1}) {
		t.Errorf("the sections are %+v", s)
	}
}

// Taken apart out of turn, a link leads to where the other end has gone, and
// copies that went over to a third stay there.
func TestTakenApartOutOfTurn(t *testing.T) {
	var entries []Entry
	for i := range 4 {
		entries = append(entries, entry("Quillon", fmt.Sprint(i+1), ""))
	}
	again := entries[0]
	again.Pattern = 1
	c := do(t, NewCollection(), &Add{Entries: append(entries, again)}, &SetLink{A: 1, B: 3},
		&Merge{Keep: 2, Gone: 1}, &Merge{Keep: 4, Gone: 3}, &SplitPattern{Copies: []Accession{5}}, &Unmerge{Pattern: 2})
	if got := fmt.Sprint(c.Pattern(1).Links, c.Pattern(4).Links, c.Pattern(2).Links); !strings.HasPrefix(got, "[{4 see also}] [{1 see also}") {
		t.Errorf("the links are %s", got)
	}
	if c.Copy(1).Pattern != 1 || c.Copy(5).Pattern != 5 {
		t.Errorf("copy 1 is of pattern %d and copy 5 of pattern %d, want 1 and 5", c.Copy(1).Pattern, c.Copy(5).Pattern)
	}
	c = do(t, c, &Merge{Keep: 2, Gone: 1}, &Merge{Keep: 2, Gone: 5})
	if m := c.Pattern(2).Merged; len(m) != 2 || m[1].Kept.Merged != nil {
		t.Errorf("what was merged before is kept twice: %+v", m)
	}
}

// A number that a pattern had before it was merged leads to the one that it was
// merged into: a second with that number could never be taken out again.
func TestAFurtherCopyOfAMergedPattern(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", ""), entry("Quillon", "3", "")}},
		&Merge{Keep: 2, Gone: 3}, &Merge{Keep: 1, Gone: 2})
	for _, gone := range []PatternID{2, 3} {
		further := entry("Quillon", "", "whatever it says")
		further.Pattern = gone
		c = do(t, c, &Add{Entries: []Entry{further}})
		if got := c.PatternOf(c.Counters().Copy); got.ID != 1 {
			t.Errorf("a further copy of pattern %d is of pattern %d, want 1", gone, got.ID)
		}
	}
	if c = do(t, c, &Unmerge{1}); len(c.PatternOf(4).Merged) != 0 || c.PatternOf(2).ID != 2 {
		t.Error("it cannot be taken apart any more")
	}
}

// What is a publisher's name leads to it, also where it was a spelling of another
// before; and one publisher is in one section, by whatever spelling.
func TestNamesAndSpellingsOfHouses(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quilon", "2", ""), entry("Brack & Daughter", "3", "")}},
		&MergePublishers{Keep: 3, Gone: 2})
	named := do(t, c, &Rename{NamedPublisher, "Quillon", "Quilon"}, &Add{Entries: []Entry{entry("quilon", "4", "")}})
	if got := named.PublisherNamed("Quilon").ID; got != 1 || named.PatternOf(4).Publisher != 1 {
		t.Errorf("the name of publisher 1 leads to %d, and a new pattern is of %d", got, named.PatternOf(4).Publisher)
	}
	spec := ShelfSpec{Settings: DefaultSettings(), Sections: []SectionSpec{{Title: "a", Publishers: []string{"Brack & Daughter"}}, {Title: "b", Publishers: []string{"Quilon"}}}}
	if _, _, err := c.Apply(&SetShelf{Spec: spec}, day); !IsInput(err) || !strings.Contains(err.Error(), `publisher "Brack & Daughter" is in section "a" and in section "b"`) {
		t.Errorf("one publisher in two sections gives %v", err)
	}
	do(t, named, &SetShelf{Spec: spec}) // there they are two
}
