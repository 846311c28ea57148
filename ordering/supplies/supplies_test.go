package supplies

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

type failer interface{ Fatal(...any) }

func after(t failer, c *model.Collection, on model.Date, changes ...model.Change) *model.Collection {
	for _, ch := range changes {
		next, _, err := c.Apply(ch, on)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

func shelf() *model.SetShelf {
	spec := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(20)}},
		Binders: []model.BinderSpec{{Category: "Dresses", Pockets: 2}}, Hooks: []model.HookSpec{{Name: "door", Hooks: 1, Each: 2}}}
	spec.Settings.Working, spec.Settings.RangeCardEvery, spec.Settings.PublisherCardFrom = model.Space{}, 0, 0
	return &model.SetShelf{Spec: spec}
}

// Seven dresses of 5 mm and a card of 0.5 mm at the head of each box go into
// boxes of 20 mm: 3 | 3 | 1, so two new boxes and three cards. Seven sleeves
// take four binders of 2, so three new ones. Three that hang take two hooks of
// 2, so one new one.
func TestWhatIsNeeded(t *testing.T) {
	var entries []model.Entry
	for i := range 7 {
		entries = append(entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(i + 1), Category: "Dresses", Cut: model.Uncut, Added: "2025-09-01"})
	}
	for i := range 3 {
		entries = append(entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(i + 10), Medium: model.Printed, Added: "2025-09-01"})
	}
	c := after(t, model.NewCollection(), "2026-03-01", shelf(), &model.Add{Entries: entries},
		&model.Tick{Copies: []model.Accession{1, 2}, Step: model.StepSleeve}, &model.Tick{Copies: []model.Accession{1}, Step: model.StepEnvelope},
		&model.TakeOut{Copy: 7}, &model.SetStock{Item: model.EnvelopeStock, Have: 20}, &model.SetStock{Item: model.BoxStock, Have: 1})
	want := map[model.StockItem]string{
		model.EnvelopeStock: "20, need 6, short 0", model.PocketStock: "0, need 5, short 5", model.CardStock: "0, need 3, short 3", model.BoxStock: "1, need 2, short 1",
		model.BinderStock: "0, need 3, short 3", model.HookStock: "0, need 1, short 1", model.OutCardStock: "0, need 1, short 1",
	}
	lines := List(ordering.Arrange(c), "2026-03-01")
	if len(lines) != len(want) {
		t.Errorf("%d supplies are listed, want %d", len(lines), len(want))
	}
	for _, x := range lines {
		if got := fmt.Sprintf("%d, need %d, short %d", x.Have, x.Need, x.Short); got != want[x.Item] {
			t.Errorf("%s: %s, want %s", x.Item, got, want[x.Item])
		}
	}
	// All of it was listed half a year ago: that is no pace.
	for _, x := range lines {
		if x.Months != NotKnown || x.PerYear != 0 {
			t.Errorf("%.2f %s a year, what is over lasts %d months", x.PerYear, x.Item, x.Months)
		}
	}
	// By the twenty a year that the owner speaks of, seven in ten of which go into
	// envelopes, the 14 envelopes that are over last a year.
	c = after(t, c, "2026-03-01", &model.SetPerYear{Copies: 20})
	if x := List(ordering.Arrange(c), "2026-03-01")[0]; x.Months != 12 || x.PerYear != 14 {
		t.Errorf("%.2f envelopes a year, what is over lasts %d months", x.PerYear, x.Months)
	}
}

// What came more than a year ago is no pace, and without a day there is none.
func TestThePaceIsThatOfTheLastYear(t *testing.T) {
	old := model.Entry{Publisher: "Quillon", Number: "1", Added: "2020-01-01"}
	fresh := model.Entry{Publisher: "Quillon", Number: "2", Added: "2026-02-01"}
	l := ordering.Arrange(after(t, model.NewCollection(), "2026-03-01", &model.Add{Entries: []model.Entry{old, old, old, fresh}}, &model.SetStock{Item: model.EnvelopeStock, Have: 16}))
	if x := List(l, "2026-03-01")[0]; x.PerYear != 1 || x.Months != 144 {
		t.Errorf("%v envelopes a year, what is over lasts %d months", x.PerYear, x.Months)
	}
	if x := List(l, "2026-03-01"); x[len(x)-1].Months != NoEnd {
		t.Errorf("out cards last %d months", x[len(x)-1].Months)
	}
	if x := List(l, "2026-01-01")[0]; x.PerYear != 0 || x.Months != NoEnd {
		t.Errorf("before it came %v envelopes a year, what is over lasts %d months", x.PerYear, x.Months)
	}
	if x := List(l, "")[0]; x.PerYear != 0 || x.Months != NotKnown {
		t.Errorf("without a day %v envelopes a year, what is over lasts %d months", x.PerYear, x.Months)
	}
}

// What is got and used is not needed again: once the plan is carried out and the
// sleeves are in, nothing is short of what it asked for.
func TestWhatIsDoneIsNotNeeded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		entries := sample.Copies(rapid.IntRange(1, 60).Draw(t, "copies"), uint64(rapid.IntRange(1, 1000).Draw(t, "seed")))
		c := after(t, model.NewCollection(), "2026-03-01", shelf(), &model.Add{Entries: entries})
		l := ordering.Arrange(c)
		ch := &model.Stand{Done: true}
		for _, b := range l.Target().Boxes {
			if b.New {
				ch.Boxes = append(ch.Boxes, model.BoxSpec{Name: b.Box.Name, Length: b.Box.Length})
			}
			row := model.NamedRow{Box: b.Box.Name}
			for _, it := range b.Items {
				row.Copies = append(row.Copies, it.Copy)
			}
			ch.Rows = append(ch.Rows, row)
		}
		var all []model.Accession
		for a := range c.Copies().All() {
			all = append(all, model.Accession(a))
		}
		c = after(t, c, "2026-03-01", ch, &model.Tick{Copies: all, Step: model.StepSleeve})
		filed := ordering.Arrange(c)
		for _, x := range List(filed, "2026-03-01") { // the cards of the boxes may wait to be made
			if n := filed.Outstanding().ToPrint(); x.Item == model.CardStock && x.Need != n {
				t.Fatalf("%d cards are needed, and %d are to be made", x.Need, n)
			}
		}
		c = after(t, c, "2026-03-01", filed.SignsMade())
		for _, x := range List(ordering.Arrange(c), "2026-03-01") {
			switch x.Item {
			case model.EnvelopeStock, model.PocketStock, model.CardStock, model.BoxStock:
				if x.Need != 0 {
					t.Fatalf("all is filed, and %d %s are needed", x.Need, x.Item)
				}
			}
		}
	})
}

// How a line is written, by hand.
func TestALineInWords(t *testing.T) {
	for _, x := range []struct {
		l             Line
		yearly, lasts string
	}{
		{Line{On: "2026-01-01", PerYear: 0.25, Months: 30}, "0.2", "30 months"}, {Line{On: "2026-01-01", PerYear: 1.64, Months: 0}, "1.6", "under a month"}, {Line{On: "2026-01-01", PerYear: 9.94, Months: 1}, "9.9", "1 month"},
		{Line{On: "2026-01-01", PerYear: 9.96, Months: 2}, "10", "2 months"}, {Line{On: "2026-01-01", PerYear: 119.7, Short: 3, Months: 0}, "120", "none left"}, {Line{PerYear: 0.2, Need: 0}, "0.2", "not counted"}, {Line{PerYear: 2, Need: 1, Short: 1}, "2.0", "not counted"},
		{Line{Months: NoEnd}, "0", ""}, {Line{Months: NotKnown}, "0", "not known yet"},
	} {
		if x.l.Yearly() != x.yearly || x.l.Lasts() != x.lasts {
			t.Errorf("%+v is written %q, %q; want %q, %q", x.l, x.l.Yearly(), x.l.Lasts(), x.yearly, x.lasts)
		}
	}
}
