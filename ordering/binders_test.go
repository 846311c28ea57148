package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

func binderText(holdings []ordering.BinderHolding) (out []string) {
	for _, h := range holdings {
		text := fmt.Sprintf("%s %d of %d pockets:", h.Category, h.Nth, h.Binder.Pockets)
		if h.New {
			text = "new " + text
		}
		for i, p := range h.Pockets {
			for _, part := range h.Parts {
				if part.From == i {
					text += fmt.Sprintf(" [%s", part.Title)
					if part.Continued {
						text += " continued"
					}
					text += "]"
				}
			}
			text += " " + p.Pattern.Number
			if p.Home != nil {
				text += fmt.Sprintf("(%d see %s)", p.N, p.Home)
			}
		}
		out = append(out, text)
	}
	return out
}

// Sleeves of a category go by publisher and number whatever section their
// envelope is in, one pocket each however many copies there are; what spills
// goes into the next binder of the category, then into new ones.
func TestBinders(t *testing.T) {
	shelf := bareShelf(100)
	shelf.Binders = []model.BinderSpec{{Category: "Dresses", Pockets: 2}, {Category: "Coats", Pockets: 3}, {Category: "Dresses", Pockets: 1}}
	shelf.Sections = []model.SectionSpec{{Title: "Q", Publishers: []string{"Quillon"}}, {Title: "Rest", Publishers: []string{"*"}}}
	add := &model.Add{}
	put := func(publisher, number, category string, sleeve model.Sleeve) {
		en := entry(publisher, number, 1)
		en.Category, en.Sleeve = category, sleeve
		add.Entries = append(add.Entries, en)
	}
	put("Quillon", "12", "Dresses", model.SleeveInBinder)
	put("Quillon", "9", "Dresses", model.SleevePhotocopy)
	put("Harrow & Pell", "400", "Dresses", model.SleeveWaiting)
	put("Harrow & Pell", "30", "Dresses", model.SleeveInBinder)
	put("Harrow & Pell", "31", "Dresses", model.SleeveMissing)
	put("Harrow & Pell", "32", "Dresses", model.SleeveWithTissue)
	put("Ostrimel", "5", "Dresses", model.SleeveInBinder)
	put("Ostrimel", "6", "Hats", model.SleeveInBinder)
	put("Ostrimel", "7", "", model.SleeveInBinder)
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
	twice := entry("Quillon", "12", 1)
	twice.Pattern, twice.Category = c.Copy(1).Pattern, "Dresses"
	c = do(t, c, &model.Add{Entries: []model.Entry{twice}})
	want := []string{
		"Dresses 1 of 2 pockets: 30 31", "Dresses 2 of 1 pockets: 400", "new Dresses 3 of 1 pockets: 5", "new Dresses 4 of 1 pockets: 9", "new Dresses 5 of 1 pockets: 12",
		"Coats 1 of 3 pockets:", "new Hats 1 of 75 pockets: 6",
	}
	if got := binderText(ordering.Arrange(c).Binders()); !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
}

// A sub-divider takes what a tag names, else what the last word does that it is
// called by; what none takes stands behind all. A part that spills is continued.
// What is for several garments has a see-also entry in the further categories: a
// line, or a pocket where the owner wants one.
func TestSubDividersAndSeeAlso(t *testing.T) {
	shelf := bareShelf(100)
	shelf.Binders = []model.BinderSpec{
		{Category: "Coats", Pockets: 3, SubDividers: []string{"Coats", "Jackets & blazers"}},
		{Category: "Coats", Pockets: 9, SubDividers: []string{"JACKETS  & Blazers", "Capes"}},
		{Category: "Dresses", Pockets: 5, SeeAlso: model.ByPocket},
	}
	add := &model.Add{}
	put := func(number, name, category string, tag string, also ...string) {
		en := entry("Quillon", number, 1)
		en.Name, en.Category, en.Also, en.Sleeve = name, category, also, model.SleeveInBinder
		if tag != "" {
			en.Tags = []string{tag}
		}
		add.Entries = append(add.Entries, en)
	}
	put("1", "Cape", "Coats", "", "Dresses")
	put("2", "Blazer jacket coat", "Coats", "")    // the last word
	put("3", "Coat dress", "Dresses", "", "Coats") // by the coat: no word of a sub-divider is last but that
	put("4", "Coat", "Coats", "blazer", "Hats")    // no tag is called so: by its name
	put("5", "Coat", "Coats", "jackets & blazers") // the owner's choice
	put("6", "Swagger jacket", "Coats", "")
	put("7", "Poncho", "Coats", "")
	put("8", "Jackets", "Coats", "")
	put("9", "Wrap dress", "Dresses", "")
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
	want := []string{
		"Coats 1 of 3 pockets: [Coats] 2 3(0 see Dresses, pocket 2) 4 [Jackets & blazers] 5",
		"Coats 2 of 9 pockets: [Jackets & blazers continued] 6 8 [Capes] 1 [All others] 7",
		"Dresses 1 of 5 pockets: 1(1 see Coats 2, pocket 3) 3 9",
	} // Hats has one line and no binder: none is needed for it
	if got := binderText(ordering.Arrange(c).Binders()); !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
}

// A see-also entry that is a photocopy has a pocket, in a binder where such entries
// are lines as well, and in one that has to be got for it.
func TestAPhotocopyHasAPocketOfItsOwn(t *testing.T) {
	shelf := bareShelf(100)
	shelf.Binders = []model.BinderSpec{{Category: "Coats", Pockets: 9}, {Category: "Dresses", Pockets: 9}}
	one, two := entry("Quillon", "1", 1), entry("Quillon", "2", 1)
	one.Category, one.Also, one.Sleeve = "Coats", []string{"Dresses", "Hats"}, model.SleeveInBinder
	two.Category, two.Sleeve = "Dresses", model.SleeveInBinder
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, &model.Add{Entries: []model.Entry{one, two}})
	for _, x := range []struct {
		change model.Change
		want   []string
	}{
		{&model.Photocopy{Pattern: 1, Category: "dresses"}, []string{"Coats 1 of 9 pockets: 1", "Dresses 1 of 9 pockets: 1(1 see Coats, pocket 1) 2"}},
		{&model.Photocopy{Pattern: 1, Category: "Hats"}, []string{"Coats 1 of 9 pockets: 1", "Dresses 1 of 9 pockets: 1(1 see Coats, pocket 1) 2", "new Hats 1 of 75 pockets: 1(1 see Coats, pocket 1)"}},
		{&model.Photocopy{Pattern: 1, Category: "Dresses", Out: true}, []string{"Coats 1 of 9 pockets: 1", "Dresses 1 of 9 pockets: 1(0 see Coats, pocket 1) 2", "new Hats 1 of 75 pockets: 1(1 see Coats, pocket 1)"}},
	} {
		c = do(t, c, x.change)
		if got := binderText(ordering.Arrange(c).Binders()); !slices.Equal(got, x.want) {
			t.Errorf("%s: got\n%q\nwant\n%q", x.change.Title(c), got, x.want)
		}
	}
}

// Whatever is on the shelf: each sleeve has one pocket in its category unless it
// is kept in the envelope, each further category one entry, pockets are counted
// through, none is passed over that is free, and the parts cover a binder.
func TestBindersProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		shelf, kinds := bareShelf(500), []string{"Coats", "Dresses", "Hats"}
		for range rapid.IntRange(0, 5).Draw(t, "binders") {
			shelf.Binders = append(shelf.Binders, model.BinderSpec{
				Category: rapid.SampledFrom(kinds).Draw(t, "category"), Pockets: rapid.IntRange(1, 4).Draw(t, "pockets"),
				SubDividers: rapid.SliceOfNDistinct(rapid.SampledFrom([]string{"day", "evening", "play"}), 0, 3, rapid.ID).Draw(t, "parts"),
				SeeAlso:     rapid.SampledFrom([]model.Entered{model.ByLine, model.ByPocket}).Draw(t, "see also")})
		}
		add, sleeves := &model.Add{}, []model.Sleeve{model.SleeveWaiting, model.SleeveInBinder, model.SleevePhotocopy, model.SleeveWithTissue, model.SleeveMissing}
		for i := range rapid.IntRange(1, 25).Draw(t, "patterns") {
			en := entry("Quillon", fmt.Sprint(100-i), 1)
			en.Name = rapid.SampledFrom([]string{"Day slip", "Play evening", "Hat"}).Draw(t, "name")
			en.Category = rapid.SampledFrom(kinds).Draw(t, "home")
			en.Also = rapid.SliceOfNDistinct(rapid.SampledFrom(kinds), 0, 3, rapid.ID).Draw(t, "also")
			en.Sleeve = rapid.SampledFrom(sleeves).Draw(t, "sleeve")
			for _, also := range en.Also {
				if rapid.Bool().Draw(t, "photocopy") {
					en.Copied = append(en.Copied, also)
				}
			}
			add.Entries = append(add.Entries, en)
		}
		c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
		binders := ordering.Arrange(c).Binders()
		own, also := map[model.PatternID]int{}, map[model.PatternID]int{}
		for i, h := range binders {
			n, at := 0, 0
			for _, p := range h.Pockets {
				if p.N != 0 {
					if n++; p.N != n {
						t.Fatalf("%s: pocket %d comes as the %d.", h.Title(), p.N, n)
					}
				}
				if copied := slices.Contains(p.Pattern.Copied, h.Binder.Category); p.Photocopy != (copied && p.Home != nil) || p.Photocopy && p.N == 0 {
					t.Fatalf("%s, pocket %d: a photocopy of %s: %v, of which one is here: %v", h.Title(), p.N, p.Pattern.Heading(), p.Photocopy, copied)
				}
				if p.Home == nil {
					own[p.Pattern.ID]++
				} else {
					also[p.Pattern.ID]++
				}
			}
			if n > h.Binder.Pockets || n != h.Used() {
				t.Fatalf("%s has %d sleeves in %d pockets and says %d", h.Title(), n, h.Binder.Pockets, h.Used())
			}
			if i+1 < len(binders) && binders[i+1].Binder.Category == h.Binder.Category && binders[i+1].Used() > 0 && n < h.Binder.Pockets {
				t.Fatalf("%s has a pocket free, and the next is in use", h.Title())
			}
			for _, part := range h.Parts {
				if part.From != at || part.To <= at {
					t.Fatalf("%s: the part %q goes from %d to %d, behind %d", h.Title(), part.Title, part.From, part.To, at)
				}
				at = part.To
			}
			if len(h.Parts) > 0 && at != len(h.Pockets) {
				t.Fatalf("%s: its parts end at %d of %d", h.Title(), at, len(h.Pockets))
			}
		}
		for _, p := range c.Patterns().All() {
			want, sleeve := 1, c.Copy(model.Accession(p.ID)).Sleeve
			bound := slices.ContainsFunc(binders, func(h ordering.BinderHolding) bool { return h.Binder.Category == p.Category })
			if sleeve == model.SleeveWithTissue || sleeve == model.SleeveMissing && !bound {
				want = 0 // no binder is got for what has no sleeve
			}
			if own[p.ID] != want {
				t.Fatalf("%s has %d pockets of its own, want %d", p.Heading(), own[p.ID], want)
			}
			entries := 0
			for _, id := range p.Also {
				entries += b2i(slices.ContainsFunc(binders, func(h ordering.BinderHolding) bool { return h.Binder.Category == id }))
			}
			if also[p.ID] != entries {
				t.Fatalf("%s has %d see-also entries, want one in each of %d further categories with a binder", p.Heading(), also[p.ID], entries)
			}
		}
	})
}
