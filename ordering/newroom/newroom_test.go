package newroom_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/newroom"
	"example.org/tuckrow/ordering/sample"
)

func bare(boxes ...float64) *model.ShelfSpec {
	s := model.ShelfSpec{Settings: model.DefaultSettings()}
	s.Settings.Working, s.Settings.Divider, s.Settings.RangeCardEvery, s.Settings.PublisherCardFrom = model.Space{}, 0, 0, 0
	for i, mm := range boxes {
		s.Boxes = append(s.Boxes, model.BoxSpec{Name: fmt.Sprint(i + 1), Length: model.MM(mm)})
	}
	return &s
}

func tens(t interface{ Fatal(...any) }, n int, added model.Date) *model.Collection {
	add := &model.Add{}
	for i := range n {
		add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(100 + i), Thickness: model.MM(10), Added: added})
	}
	c := model.NewCollection()
	for _, ch := range []model.Change{&model.SetShelf{Spec: *bare(100, 100)}, add} {
		next, _, err := c.Apply(ch, "2026-03-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

// Fifteen of 10 mm need two boxes of 100 mm, by hand; in boxes of 50 mm three,
// of which there are four; with five more a year for three years thirty need
// three of 100 mm.
func TestOtherBoxesAndGrowth(t *testing.T) {
	c := tens(t, 15, "2026-02-01")
	for _, x := range []struct {
		q          newroom.Question
		boxes, got int
		copies     int
	}{
		{newroom.Question{}, 2, 0, 15},
		{newroom.Question{Shelf: bare(50, 50, 50, 50)}, 3, 0, 15},
		{newroom.Question{Shelf: bare(50, 50)}, 3, 1, 15},
		{newroom.Question{BoxLength: 50 * model.Millimetre}, 3, 3, 15}, // none of today's is as short
		{newroom.Question{BoxLength: 100 * model.Millimetre, Years: 3, PerYear: 5}, 3, 1, 30},
		{newroom.Question{Years: 3, PerYear: 5}, 3, 1, 30},
		{newroom.Question{Years: 3, On: "2026-03-01"}, 2, 0, 15}, // a list typed in one winter is no growth
		{newroom.Question{Years: 3, PerYear: 5, On: "2026-03-01"}, 3, 1, 30},
		{newroom.Question{Shelf: bare(300), Years: 3, PerYear: 5}, 1, 0, 30},
	} {
		a, err := newroom.Ask(c, x.q)
		if err != nil {
			t.Fatal(err)
		}
		if a.Then.Boxes != x.boxes || a.Then.NewBoxes != x.got || a.Then.Copies != x.copies || a.Today.Boxes != 2 || a.Today.Copies != 15 {
			t.Errorf("%+v gives %+v, want %d boxes, %d of them new, for %d copies", x.q, a, x.boxes, x.got, x.copies)
		}
	}
	if _, err := newroom.Ask(c, newroom.Question{Years: 51}); !model.IsInput(err) {
		t.Errorf("51 years give %v", err)
	}
}

// Five that came in the year after the first listing come again each year, and a
// pace that was said goes before that.
func TestGrowthIsWhatCameAfterTheFirstListing(t *testing.T) {
	c := tens(t, 15, "2024-02-01")
	add := &model.Add{}
	for i := range 5 {
		add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(200 + i), Thickness: model.MM(10), Added: "2025-09-01"})
	}
	grown := func(ch model.Change, perYear, copies int, given bool) {
		t.Helper()
		next, _, err := c.Apply(ch, "2026-03-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
		a, err := newroom.Ask(c, newroom.Question{Years: 2, On: "2026-03-01"})
		if err != nil || a.PerYear != perYear || a.Then.Copies != copies || a.Grows.Given != given || !a.Grows.Known {
			t.Errorf("two years on there are %+v: %v", a, err)
		}
	}
	grown(add, 5, 30, false)
	grown(&model.SetPerYear{Copies: 9}, 9, 38, true)
}

// The room of today is what the engine plans, and a year more never needs less.
func TestMoreNeedsNoLess(t *testing.T) {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	plan := ordering.Arrange(c).Split(ordering.Fewest)
	rapid.Check(t, func(t *rapid.T) {
		per, years := rapid.IntRange(1, 60).Draw(t, "per year"), rapid.IntRange(0, 4).Draw(t, "years")
		less, err := newroom.Ask(c, newroom.Question{Years: years, PerYear: per})
		if err != nil {
			t.Fatal(err)
		}
		more, err := newroom.Ask(c, newroom.Question{Years: years + 1, PerYear: per})
		if err != nil {
			t.Fatal(err)
		}
		if less.Today.Boxes != plan.Used() || more.Then.Boxes < less.Then.Boxes || more.Then.Binders < less.Then.Binders || more.Then.Hooks < less.Then.Hooks || more.Then.Copies != less.Then.Copies+per {
			t.Fatalf("%d a year: after %d years %+v, after one more %+v", per, years, less.Then, more.Then)
		}
	})
}
