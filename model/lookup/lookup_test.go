package lookup

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

const day model.Date = "2026-03-01"

func listed(publisher, number, name, category, size string, year int) model.Entry {
	return model.Entry{Publisher: publisher, Number: number, Name: name, Category: category, SizeRange: size, Year: year}
}

func cupboard(t testing.TB, entries ...model.Entry) *model.Collection {
	t.Helper()
	c, _, err := model.NewCollection().Apply(&model.Add{Entries: entries}, day)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func small(t testing.TB) *model.Collection {
	return cupboard(t,
		listed("Harrow & Pell", "6123 H5", "Wrap dress", "Dresses", "", 0),
		listed("Harrow & Pell", "6123 A6", "Wrap dress", "Dresses", "", 0),
		listed("Harrow & Pell", "4107", "Tea gown", "Dresses", "10-16", 1974),
		listed("Quillon", "K-0220", "Hooded cape", "Coats", "", 1988),
		listed("Quillon", "220", "Trousers", "Trousers", "", 2004),
		listed("Œuvre libre", "", "Café apron", "Aprons", "", 0),
		listed("The Lirrel Loom", "", "Wrap skirt", "Skirts", "", 0),
	)
}

// headings lists what was found, to compare.
func headings(c *model.Collection, ids []model.PatternID) string {
	var out []string
	for _, id := range ids {
		out = append(out, c.Pattern(id).Heading())
	}
	return strings.Join(out, " | ")
}

func TestFind(t *testing.T) {
	c := small(t)
	x := New(c)
	for _, q := range []struct {
		query, want string
		guessed     bool
	}{
		{"4107", "4107 Tea gown", false},
		{"04107", "4107 Tea gown", false},
		{"K220", "K-0220 Hooded cape", false},
		{"k-220", "K-0220 Hooded cape", false},
		{"0220", "K-0220 Hooded cape | 220 Trousers", false},
		{"6123 h5", "6123 H5 Wrap dress", false},
		{"harrow tea", "4107 Tea gown", false},
		{"har 41", "4107 Tea gown", false},
		{"cape", "K-0220 Hooded cape", false},
		{"coats", "K-0220 Hooded cape", false},
		{"oeuvre", "Café apron", false},
		{"cafe", "Café apron", false},
		{"CAFÉ APRON", "Café apron", false},
		{"wrap", "6123 H5 Wrap dress | 6123 A6 Wrap dress | Wrap skirt", false},
		{"wrpa skirt", "Wrap skirt", true},
		{"trosuers", "220 Trousers", true},
		{"umbrella", "", true},
		{"", "", false},
		{"&", "", false},
	} {
		f := x.Find(q.query, 10)
		if got := headings(c, f.Patterns); got != q.want || f.Guessed != q.guessed {
			t.Errorf("Find(%q) = %q, guessed %v, want %q, %v", q.query, got, f.Guessed, q.want, q.guessed)
		}
		if f.Total != len(f.Patterns) {
			t.Errorf("Find(%q): total %d, given %d", q.query, f.Total, len(f.Patterns))
		}
	}
}

func TestFindPutsWholeWordsFirst(t *testing.T) {
	c := cupboard(t, listed("Quillon", "2200", "a", "", "", 0), listed("Quillon", "22", "b", "", "", 0), listed("Quillon", "220", "c", "", "", 0))
	f := New(c).Find("22", 2)
	if got := headings(c, f.Patterns); got != "22 b | 2200 a" || f.Total != 3 {
		t.Errorf("got %q of %d, want 22 first, two of three given", got, f.Total)
	}
}

func TestKin(t *testing.T) {
	c := small(t)
	x := New(c)
	for _, q := range []struct {
		en   model.Entry
		want string
	}{
		{listed("Harrow & Pell", "4107", "", "", "10-16", 1974), "0 4107 Tea gown"},
		{listed("harrow & pell", "04107", "", "", "", 0), "1 4107 Tea gown"},
		{listed("Harrow & Pell", "4107", "", "", "18-24", 1974), "2 4107 Tea gown"},
		{listed("Harrow & Pell", "4107", "", "", "10-16", 1999), "3 4107 Tea gown"},
		{listed("Harrow & Pell", "6123 B9", "", "", "", 0), "2 6123 H5 Wrap dress; 2 6123 A6 Wrap dress"},
		{listed("Harrow & Pell", "6123 H5", "", "", "", 0), "1 6123 H5 Wrap dress; 2 6123 A6 Wrap dress"},
		{listed("Harrow & Pell", "9999", "Tea gwon", "", "", 0), "4 4107 Tea gown"},
		{listed("Quillon", "9999", "Tea gown", "", "", 0), ""},
		{listed("Quillon", "K220", "", "", "", 0), "1 K-0220 Hooded cape"},
		{listed("Quillon", "M220", "", "", "", 0), ""},
		{listed("Nobody yet", "4107", "Tea gown", "", "", 0), ""},
		{listed("", "4107", "", "", "", 0), ""},
		{listed("The Lirrel Loom", "", "wrap skirt", "", "", 0), "4 Wrap skirt"},
	} {
		var got []string
		for _, k := range x.Kin(q.en) {
			got = append(got, fmt.Sprintf("%d %s", k.Tie, k.Pattern.Heading()))
		}
		if s := strings.Join(got, "; "); s != q.want {
			t.Errorf("Kin(%s %s %q %s %d) = %q, want %q", q.en.Publisher, q.en.Number, q.en.Name, q.en.SizeRange, q.en.Year, s, q.want)
		}
	}
}

func TestHave(t *testing.T) {
	c := small(t)
	x := New(c)
	for _, q := range []struct {
		query  string
		answer Answer
		want   string
	}{
		{"harrow 4107", Own, "4107 Tea gown"},
		{"harrow 6123 h5", Own, "6123 H5 Wrap dress"},
		{"harrow 6123 z9", Close, "6123 H5 Wrap dress | 6123 A6 Wrap dress"},
		{"harrow 410", None, ""},
		{"harrow 4108", None, ""},
		{"tea gown", Own, "4107 Tea gown"},
		{"harrow tea gown", Own, "4107 Tea gown"},
		{"tea", Close, "4107 Tea gown"},
		{"hooded caep", Close, "K-0220 Hooded cape"},
		{"umbrella", None, ""},
		{"", None, ""},
	} {
		answer, owned := x.Have(q.query)
		var ids []model.PatternID
		for _, o := range owned {
			ids = append(ids, o.Pattern)
			if o.Why == "" {
				t.Errorf("Have(%q) does not say why", q.query)
			}
		}
		if got := headings(c, ids); answer != q.answer || got != q.want {
			t.Errorf("Have(%q) = %s %q, want %s %q", q.query, answer, got, q.answer, q.want)
		}
	}
}

// An index that has followed changes answers like a new one.
func TestFollowing(t *testing.T) {
	words := []string{"Wrap", "dress", "Cape", "apron", "Café"}
	rapid.Check(t, func(t *rapid.T) {
		draw := func() model.Entry {
			return model.Entry{
				Publisher: rapid.SampledFrom([]string{"Quillon", "Harrow & Pell", "The Lirrel Loom"}).Draw(t, "publisher"),
				Number:    rapid.SampledFrom([]string{"", "1", "K1", "22 H5", "220"}).Draw(t, "number"),
				Name:      rapid.SampledFrom(words).Draw(t, "w1") + " " + rapid.SampledFrom(words).Draw(t, "w2"),
				Category:  rapid.SampledFrom([]string{"", "Coats", "Dresses"}).Draw(t, "category"),
			}
		}
		c := model.NewCollection()
		x := New(c)
		at := rapid.IntRange(0, 5).Draw(t, "kept") // an index that others grow from is not altered by it
		keptOf, kept := c, x
		for i := range rapid.IntRange(1, 12).Draw(t, "changes") {
			var ch model.Change = &model.Add{Entries: []model.Entry{draw()}}
			if last := c.Counters().Copy; last > 0 && c.Copy(last) != nil {
				switch rapid.IntRange(0, 4).Draw(t, "what") {
				case 0:
					ch = &model.Remove{Copies: []model.Accession{last}}
				case 1:
					en := draw()
					en.Accession = last
					ch = &model.Revise{Entry: en}
				case 2:
					en := draw()
					en.Pattern = c.Copy(last).Pattern
					ch = &model.Add{Entries: []model.Entry{en}}
				}
			}
			next, delta, err := c.Apply(ch, day)
			if err != nil {
				t.Fatal(err)
			}
			c = next
			x = x.Next(model.Commit{Collection: c, Delta: delta})
			if i == at {
				keptOf, kept = c, x
			}
		}
		answersLike(t, x, c, draw())
		answersLike(t, kept, keptOf, draw())
	})
}

// answersLike compares an index with a new one of the same collection.
func answersLike(t *rapid.T, x *Index, c *model.Collection, en model.Entry) {
	fresh := New(c)
	for _, q := range []string{"wrap", "cape dress", "220", "k1", "quil", "h5", "coats", "drses"} {
		a, b := x.Find(q, 100), fresh.Find(q, 100)
		slices.Sort(a.Patterns)
		slices.Sort(b.Patterns)
		if !slices.Equal(a.Patterns, b.Patterns) {
			t.Fatalf("Find(%q) = %v, a new index finds %v", q, a.Patterns, b.Patterns)
		}
	}
	if a, b := x.Kin(en), fresh.Kin(en); len(a) != len(b) {
		t.Fatalf("Kin = %d, a new index finds %d", len(a), len(b))
	}
	for id := range c.Patterns().All() {
		if a, b := x.Copies(model.PatternID(id)), fresh.Copies(model.PatternID(id)); !slices.Equal(a, b) {
			t.Fatalf("pattern %d has copies %v, in a new index %v", id, a, b)
		}
	}
}

// 04252614 is the UPC-E of 042100005264 (published).
func TestACodeIsFoundHoweverItIsPrinted(t *testing.T) {
	for _, printed := range []string{"04252614", "042100005264", "0042100005264", "0 42100 00526 4"} {
		en := listed("Quillon", "526", "", "", "", 0)
		en.Barcode = printed
		x := New(cupboard(t, en, listed("Quillon", "527", "", "", "", 0)))
		for _, scanned := range []string{"04252614", "042100005264", "0042100005264"} {
			if f := x.Find(scanned, 10); len(f.Patterns) != 1 || f.Guessed {
				t.Errorf("printed %q, scanned %s: found %v", printed, scanned, f.Patterns)
			}
		}
	}
}
