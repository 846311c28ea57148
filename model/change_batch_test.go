package model

import "testing"

func TestExpectBeginsABatchAndKeepsItsDay(t *testing.T) {
	c := do(t, NewCollection(), &Expect{Batch: " hall  drawer", About: 120})
	b := c.BatchNamed("hall drawer")
	if b == nil || b.Expected != 120 || b.Begun != day {
		t.Fatalf("the batch is %+v, want hall drawer with about 120, begun %s", b, day)
	}
	en := entry("Quillon", "1", "")
	en.Batch = "Hall Drawer"
	c = do(t, c, &Add{Entries: []Entry{en}}, &Expect{Batch: "HALL drawer", About: 80})
	if b := c.Batch(c.Copy(1).Batch); b.Expected != 80 || b.Name != "hall drawer" || c.Batches().Len() != 1 {
		t.Errorf("the batch is %+v of %d, want one, by its first name, with about 80", b, c.Batches().Len())
	}
	for _, ch := range []*Expect{{Batch: " ", About: 3}, {Batch: "x", About: -1}, {Batch: "x", About: highest + 1}} {
		if _, _, err := c.Apply(ch, day); !IsInput(err) {
			t.Errorf("%+v gave %v, want an error for the user", ch, err)
		}
	}
}

func TestTickSaysWhereTheSleeveIs(t *testing.T) {
	c := do(t, NewCollection(), &Add{Entries: []Entry{entry("Quillon", "1", ""), entry("Quillon", "2", "")}})
	c = do(t, c, &Tick{Copies: []Accession{1}, Step: StepSleeve, Sleeve: SleeveMissing}, &Tick{Copies: []Accession{1, 2}, Step: StepSleeve})
	if a, b := c.Copy(1).Sleeve, c.Copy(2).Sleeve; a != SleeveMissing || b != SleeveInBinder {
		t.Errorf("the sleeves are %q and %q, want the first missing still and the second in its binder", a, b)
	}
	if _, _, err := c.Apply(&Tick{Copies: []Accession{1}, Step: StepSleeve, Sleeve: "attic"}, day); !IsInput(err) {
		t.Errorf("a sleeve in the attic gave %v", err)
	}
}
