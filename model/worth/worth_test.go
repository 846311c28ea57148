package worth

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

func after(t interface{ Fatal(...any) }, changes ...model.Change) *model.Collection {
	c := model.NewCollection()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, "2026-03-01")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	return c
}

func TestWhatTheFirstRuleSays(t *testing.T) {
	c := after(t, &model.Add{Entries: []model.Entry{
		{Publisher: "Quillon", Number: "1", Category: "Dresses", Tags: []string{"rare"}, Value: 9900},
		{Publisher: "Quillon", Number: "2", Category: "Dresses", Tags: []string{"Rare"}},
		{Publisher: "Quillon", Number: "3", Category: "Dresses"},
		{Publisher: "Quillon", Number: "4"},
		{Publisher: "Harrow & Pell", Number: "5"},
	}}, &model.SetWorth{Of: "quillon", Each: 250}, &model.SetWorth{Of: "Dresses", Each: 501}, &model.SetWorth{Of: "rare", Each: 2000}, &model.SetWorth{Of: "hats", Each: 100})
	want := "[{ true 0.00 99.00 [1]} {quillon false 2.50 2.50 [4]} {Dresses false 5.01 5.01 [3]} {rare false 20.00 20.00 [2]}] 126.51 [5]"
	got := Add(c)
	if s := fmt.Sprint(got.Groups, " ", got.Sum, " ", got.Unvalued); s != want {
		t.Errorf("got %s\nwant %s", s, want)
	}
}

func TestEveryCopyIsCountedOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom([]string{"Quillon", "Dresses", "rare", "", "Harrow & Pell"})
		var entries []model.Entry
		for i := range rapid.IntRange(1, 8).Draw(t, "copies") {
			en := model.Entry{Publisher: rapid.SampledFrom([]string{"Quillon", "Harrow & Pell"}).Draw(t, "publisher"), Number: fmt.Sprint(i), Category: rapid.SampledFrom([]string{"", "Dresses"}).Draw(t, "category"),
				Value: model.Money(rapid.SampledFrom([]int{0, 0, 7}).Draw(t, "value"))}
			if rapid.Bool().Draw(t, "tagged") {
				en.Tags = []string{"rare"}
			}
			entries = append(entries, en)
		}
		changes := []model.Change{&model.Add{Entries: entries}}
		for range rapid.IntRange(0, 4).Draw(t, "groups") {
			changes = append(changes, &model.SetWorth{Of: name.Draw(t, "of"), Each: model.Money(rapid.IntRange(1, 99).Draw(t, "each"))})
		}
		got := Add(after(t, changes...))
		seen, sum := map[model.Accession]bool{}, model.Money(0)
		for _, g := range got.Groups {
			for _, a := range g.Copies {
				if seen[a] {
					t.Fatalf("copy %d is counted twice", a)
				}
				seen[a] = true
			}
			if !g.Own && g.Sum != g.Each*model.Money(len(g.Copies)) {
				t.Fatalf("%d of %v each are %v", len(g.Copies), g.Each, g.Sum)
			}
			sum += g.Sum
		}
		if sum != got.Sum || len(seen)+len(got.Unvalued) != len(entries) {
			t.Fatalf("%v is not %v, or %d and %d are not %d", sum, got.Sum, len(seen), len(got.Unvalued), len(entries))
		}
	})
}
