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
		for _, p := range h.Patterns {
			text += " " + p.Number
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
		"Dresses 1 of 2 pockets: 30 400", "Dresses 2 of 1 pockets: 5", "new Dresses 3 of 1 pockets: 9", "new Dresses 4 of 1 pockets: 12",
		"Coats 1 of 3 pockets:", "new Hats 1 of 75 pockets: 6",
	}
	if got := binderText(ordering.Arrange(c).Binders()); !slices.Equal(got, want) {
		t.Errorf("got\n%q\nwant\n%q", got, want)
	}
}

// What hangs goes onto the hooks in filing order, so many each; each copy that
// belongs on a hook hangs once, and no other.
func TestHooks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		spec := drawShelf(t, 2, roomy, false)
		spec.Hooks = append(spec.Hooks, rapid.SampledFrom([][]model.HookSpec{nil, {{Name: "wall", Hooks: 2, Each: 1}}}).Draw(t, "more hooks")...)
		c := drawCollection(t, 20, spec)
		hooks, shelf := ordering.Arrange(c).Hooks(), c.Shelf()
		var hung []model.Accession
		for i, h := range hooks {
			if len(h.Items) > h.Row.Each || h.New && len(h.Items) == 0 || h.New != (h.Row.ID == 0) {
				t.Fatalf("hook %d of row %q holds %d of %d, new %v", h.N, h.Row.Name, len(h.Items), h.Row.Each, h.New)
			}
			if len(h.Items) < h.Row.Each && i+1 < len(hooks) && len(hooks[i+1].Items) > 0 {
				t.Fatalf("hook %d of row %q has room, and the next is in use", h.N, h.Row.Name)
			}
			hung = append(hung, accessions(h.Items)...)
		}
		there, belong := 0, 0
		for _, r := range shelf.Hooks {
			there += r.Hooks
		}
		for _, cp := range c.Copies().All() {
			belong += b2i(shelf.Hangs(cp))
		}
		if len(hooks) < there || len(hung) != belong {
			t.Fatalf("%d hooks of %d, %d copies of %d that hang", len(hooks), there, len(hung), belong)
		}
		// The same copies in boxes stand in the order in which they hang.
		var inBoxes []model.Accession
		boxed := c
		for _, a := range hung {
			if !shelf.Hangs(c.Copy(a)) {
				t.Fatalf("copy %d hangs and belongs in a box", a)
			}
			en := boxed.EntryOf(boxed.Copy(a))
			en.Home = model.HomeBox
			boxed = do(t, boxed, &model.Revise{Entry: en})
		}
		for _, a := range accessions(ordering.Arrange(boxed).Row()) {
			if shelf.Hangs(c.Copy(a)) {
				inBoxes = append(inBoxes, a)
			}
		}
		if !slices.Equal(hung, inBoxes) {
			t.Fatalf("on hooks %v, in filing order %v", hung, inBoxes)
		}
	})
}
