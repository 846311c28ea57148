package desk

import (
	"slices"
	"sync"
	"testing"

	"example.org/tuckrow/model"
)

const day model.Date = "2026-03-01"

func TestFirstLettersLeadToWhatIsUsedMost(t *testing.T) {
	d := New(model.NewCollection())
	enter := func(publisher, category, batch string) {
		t.Helper()
		en := model.Entry{Publisher: publisher, Number: "1", Category: category, Batch: batch}
		next, delta, err := d.Collection().Apply(&model.Add{Entries: []model.Entry{en}}, day)
		if err != nil {
			t.Fatal(err)
		}
		d.Follow(model.Commit{Collection: next, Delta: delta})
	}
	enter("Hask & Daughter", "Children", "hall drawer")
	enter("Harrow & Pell", "Coats", "attic")
	want := func(what string, got []string, want ...string) {
		t.Helper()
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", what, got, want)
		}
	}
	want("used alike, by the alphabet", d.Publishers("h"), "Harrow & Pell", "Hask & Daughter")
	enter("Hask & Daughter", "Coats", "hall drawer")
	want("the one used more first", d.Publishers("H"), "Hask & Daughter", "Harrow & Pell")
	want("a later word too", d.Publishers("pe"), "Harrow & Pell")
	want("categories", d.Categories("c"), "Coats", "Children")
	want("batches, the latest begun first", d.Batches("a"), "attic")
	want("nothing typed", d.Publishers(" "))
	enter("The Harrow Rooms", "", "")
	want("a beginning before a later word", d.Publishers("harrow"), "Harrow & Pell", "The Harrow Rooms")
	before := d.Layout
	d.Follow(model.Commit{Collection: d.Collection()}) // again
	if d.Layout != before {
		t.Error("a change that was followed already was followed again")
	}
}

// Whoever looks from another goroutine sees one revision, the same in both.
// The race detector sees the rest.
func TestLookingFromAside(t *testing.T) {
	d := New(model.NewCollection())
	var all sync.WaitGroup
	for range 2 {
		all.Go(func() {
			for n := 0; n < 100; {
				l, x := d.Now()
				n = l.Collection().Copies().Len()
				if found := x.Find("cape", 200).Total; found != n {
					t.Errorf("%d are found of %d", found, n)
				}
			}
		})
	}
	for range 100 {
		next, delta, err := d.Collection().Apply(&model.Add{Entries: []model.Entry{{Publisher: "Quillon", Name: "Cape"}}}, day)
		if err != nil {
			t.Fatal(err)
		}
		d.Follow(model.Commit{Collection: next, Delta: delta})
	}
	all.Wait()
}
