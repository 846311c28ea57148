package model

import (
	"fmt"
	"testing"
)

func TestAWishComesTrue(t *testing.T) {
	c := do(t, NewCollection(), &Want{Wish{Publisher: "Quillon", Number: "K9", Name: " Smock "}})
	if w := c.Wishes().Get(1); w.OnTheWay() || w.Since != day || w.Heading() != "Quillon K9 Smock" {
		t.Errorf("wanted is %+v, %q", w, w.Heading())
	}
	w := *c.Wishes().Get(1)
	w.Expected = "2026-04-01"
	if got := (&Want{w}).Title(c); got != "noted as on the way Quillon K9 Smock" {
		t.Errorf("the title is %q", got)
	}
	c = do(t, c, &Want{w})
	if w := c.Wishes().Get(1); !w.OnTheWay() || w.Ordered != day {
		t.Errorf("what is expected is not ordered: %+v", w)
	}
	en := c.Wishes().Get(1).Entry()
	en.Batch = "post"
	c = do(t, c, &Arrive{Wish: 1, Entry: en})
	if c.Wishes().Len() != 0 || c.Copies().Len() != 1 || c.PatternOf(1).Name != "Smock" {
		t.Errorf("%d wishes and %d copies are left", c.Wishes().Len(), c.Copies().Len())
	}
	if c = do(t, c, &Want{Wish{Name: "Cape"}}); c.Wishes().Get(2) == nil {
		t.Error("the number of a wish was given again")
	}
	for _, ch := range []Change{
		&Want{Wish{Publisher: "Quillon"}}, &Want{Wish{ID: 1, Name: "Smock"}}, &Want{Wish{Name: "Smock", Expected: "soon"}},
		&Arrive{Wish: 1, Entry: en}, &Arrive{Wish: 2, Entry: Entry{Name: "Cape"}},
	} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%s: got %v, want an error for the user", ch.Title(c), err)
		}
	}
}

func TestOverdue(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "")}}, &TakeOut{Copy: 1, To: "Bo", Due: "2026-03-10"})
	out := c.Copy(1).Out
	for on, want := range map[Date]bool{"2026-03-01": false, "2026-03-10": false, "2026-03-11": true, "2027-01-01": true} {
		if out.Overdue(on) != want {
			t.Errorf("due %s, overdue on %s: %v", out.Due, on, !want)
		}
	}
	if (&Out{Since: "2020-01-01"}).Overdue("2026-01-01") {
		t.Error("what has no day to be back is overdue")
	}
	if _, _, err := c.Apply(&TakeOut{Copy: 1, Due: "later"}, day); !IsInput(err) {
		t.Errorf("got %v, want an error for the user", err)
	}
}

// What is handed on is for what its new holder says; more can be said of the one
// who has it.
func TestHandingOn(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", "")}}, &TakeOut{Copy: 1, To: "Ada", For: "a hem", Due: "2026-05-01"})
	on := c.Copy(1).Out.Since
	for _, x := range []struct {
		says TakeOut
		want Out
	}{
		{TakeOut{Copy: 1, Due: "2026-06-01"}, Out{Since: on, To: "Ada", For: "a hem", Due: "2026-06-01"}},
		{TakeOut{Copy: 1, To: "Ada", For: "a cuff"}, Out{Since: on, To: "Ada", For: "a cuff", Due: "2026-05-01"}},
		{TakeOut{Copy: 1, To: "Bo"}, Out{Since: "2026-09-09", To: "Bo"}},
	} {
		next, _, err := c.Apply(&x.says, "2026-09-09")
		if err != nil || *next.Copy(1).Out != x.want {
			t.Errorf("%+v: %v, want %+v", x.says, err, x.want)
		}
	}
	if _, _, err := c.Apply(&TakeOut{Copy: 1}, "2026-09-09"); !IsInput(err) {
		t.Errorf("nothing new was said of what is out: %v", err)
	}
}

// What is late comes first, the longest due before the others; what is not, by how
// long it has been out.
func TestOutListIsByWhatIsLate(t *testing.T) {
	add := &Add{}
	for range 5 {
		add.Entries = append(add.Entries, Entry{Publisher: "Quillon", Name: "Cape"})
	}
	c, _, err := NewCollection().Apply(add, "2025-01-01")
	for a, out := range map[Accession]*Out{1: {Since: "2025-01-05"}, 2: {Since: "2025-03-01", Due: "2025-03-09"}, 3: {Since: "2025-02-01", Due: "2025-04-01"}, 5: {Since: "2025-01-02", Due: "2026-01-01"}} {
		if err == nil {
			var next *Collection
			if next, _, err = c.Apply(&TakeOut{Copy: a, Due: out.Due}, out.Since); err == nil {
				c = next
			}
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	for on, want := range map[Date]string{"2025-05-01": "[2 3 5 1]", "2025-03-20": "[2 5 1 3]", "": "[5 1 3 2]"} {
		var got []Accession
		for _, cp := range c.OutList(on) {
			got = append(got, cp.Accession)
		}
		if fmt.Sprint(got) != want {
			t.Errorf("on %q out are %v, want %s", on, got, want)
		}
	}
}
