package desk

import (
	"fmt"
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

// What was prepared aside of a large change is laid on the desk as it is, is the
// same as what following gives, and goes on with the next change.
func TestALargeChangeIsPreparedAside(t *testing.T) {
	add := &model.Add{}
	for i := range large {
		add.Entries = append(add.Entries, model.Entry{Publisher: "Quillon", Number: fmt.Sprint(i + 1), Name: "Cape"})
	}
	made := func(c *model.Collection, ch model.Change) model.Commit {
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			t.Fatal(err)
		}
		return model.Commit{Collection: next, Delta: delta}
	}
	d, slow := New(model.NewCollection()), New(model.NewCollection())
	first := made(d.Collection(), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Name: "Coat"}}})
	d.Prepare(first) // too small to be worth it
	if d.ahead != nil {
		t.Error("a small change was prepared")
	}
	second := made(first.Collection, add)
	third := made(second.Collection, &model.Add{Entries: []model.Entry{{Publisher: "Harrow & Pell", Name: "Cape"}}})
	d.Prepare(second)
	d.Follow(first) // it comes after, as screens are slower
	if d.Collection() != first.Collection || d.ahead == nil {
		t.Fatal("what is prepared came too early")
	}
	ready := d.ahead
	d.Follow(second)
	if d.Layout != ready.Layout || d.Index != ready.Index || d.Known != ready.Known || d.ahead != nil {
		t.Error("what was prepared is not on the desk")
	}
	d.Follow(third)
	for _, x := range []model.Commit{first, second, third} {
		slow.Follow(x)
	}
	if a, b := d.Index.Find("cape", 9000), slow.Index.Find("cape", 9000); a.Total != large+1 || !slices.Equal(a.Patterns, b.Patterns) {
		t.Errorf("%d are found, following finds %d", a.Total, b.Total)
	}
	for _, a := range []model.Accession{1, 2, large, large + 2} {
		if x, y := d.Layout.Slot(a), slow.Layout.Slot(a); x.Section != y.Section || x.Position != y.Position {
			t.Errorf("copy %d has its slot at %+v, following gives %+v", a, x, y)
		}
	}
	if got, want := d.Publishers("qu"), slow.Publishers("qu"); !slices.Equal(got, want) {
		t.Errorf("publishers %q, want %q", got, want)
	}
}
