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

// A batch that is dropped takes nothing with it, in one step that undo takes back.
func TestADroppedBatchLeavesItsCopies(t *testing.T) {
	one, two := entry("Quillon", "K7", "Coat"), entry("Quillon", "K8", "Cape")
	one.Batch, two.Batch = "hall drawer", "attic"
	c := do(t, NewCollection(), &Add{Entries: []Entry{one, one, two}}, &SetBatch{Batch: "hall drawer", Source: "a neighbour"})
	drop := &DropBatch{Batch: "Hall  drawer"}
	if got := drop.Title(c); got != "dropped the batch Hall drawer; 2 copies stay listed" {
		t.Errorf("the title is %q", got)
	}
	next, delta, err := c.Apply(drop, "2026-03-01")
	if err != nil {
		t.Fatal(err)
	}
	if next.BatchNamed("hall drawer") != nil || next.Copies().Len() != 3 || next.Copy(1).Batch != 0 || next.Copy(3).Batch == 0 || next.Check() != nil {
		t.Errorf("left are %+v and %+v: %v", next.Copy(1), next.Copy(3), next.Check())
	}
	back := next.ApplyDelta(delta.Inverse())
	if b := back.BatchNamed("hall drawer"); b == nil || b.Source != "a neighbour" || back.Copy(2).Batch != b.ID {
		t.Error("undo does not bring the batch back")
	}
	if _, _, err := next.Apply(drop, ""); !IsInput(err) {
		t.Errorf("dropping it again gives %v", err)
	}
}

// The day of a count stays with the box when envelopes come and go.
func TestTheDayOfACountStays(t *testing.T) {
	c := do(t, NewCollection(), &SetShelf{Spec: ShelfSpec{Settings: DefaultSettings(), Boxes: []BoxSpec{{Name: "1", Length: MM(300)}, {Name: "2", Length: MM(300)}}}},
		&Add{Entries: []Entry{entry("Quillon", "K7", "Coat"), entry("Quillon", "K8", "Cape")}}, &Stand{Rows: []NamedRow{{"1", []Accession{1}}}})
	on := func(day Date, ch Change) {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	if c.Counted(1) != "" {
		t.Error("nobody has counted yet")
	}
	on("2026-03-01", &Count{Boxes: []string{"1", "2"}})
	on("2026-03-02", &Stand{Rows: []NamedRow{{"1", []Accession{1, 2}}}})
	if c.Counted(1) != "2026-03-01" || c.Counted(2) != "" {
		t.Errorf("counted on %q and %q", c.Counted(1), c.Counted(2))
	}
	on("2026-03-03", &Stand{Rows: []NamedRow{{"1", []Accession{2, 1}}}, Read: true})
	if c.Counted(1) != "2026-03-03" {
		t.Errorf("read on %q", c.Counted(1))
	}
	if _, _, err := c.Apply(&Count{Boxes: []string{"9"}}, ""); !IsInput(err) {
		t.Errorf("box 9 gives %v", err)
	}
}

// What a batch is noted to be is one step, and a guess that is not given stays.
func TestSetBatchKeepsTheGuess(t *testing.T) {
	forty, none, wrong := 40, 0, -1
	c := do(t, NewCollection(), &SetBatch{Batch: "attic", Source: "a neighbour", About: &forty}, &SetBatch{Batch: "attic", Notes: "dry"})
	if b := c.BatchNamed("attic"); b.Expected != 40 || b.Notes != "dry" || b.Source != "" {
		t.Errorf("it is %+v", b)
	}
	if b := do(t, c, &SetBatch{Batch: "attic", About: &none}).BatchNamed("attic"); b.Expected != 0 {
		t.Errorf("it is %+v", b)
	}
	if _, _, err := c.Apply(&SetBatch{Batch: "attic", About: &wrong}, day); !IsInput(err) {
		t.Errorf("a guess of %d: %v", wrong, err)
	}
	for text, want := range map[string]int{"": 0, " 120 ": 120, "0": 0} {
		if n, err := ParseAbout(text); n != want || err != nil {
			t.Errorf("%q is read as %d, %v", text, n, err)
		}
	}
	for _, text := range []string{"many", "-1", "1.5"} {
		if n, err := ParseAbout(text); !IsInput(err) {
			t.Errorf("%q is read as %d, %v", text, n, err)
		}
	}
}
