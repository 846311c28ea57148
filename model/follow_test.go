package model

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// Whatever stands where after whatever rows were recorded, taken back, and taken
// off the shelf: what is followed is what would be worked out afresh.
func TestWhatMovesIsFollowed(t *testing.T) {
	const copies, boxes = 3 * chunkRows, 5
	spec, add := ShelfSpec{Settings: DefaultSettings()}, &Add{}
	for b := range boxes {
		spec.Boxes = append(spec.Boxes, BoxSpec{Name: fmt.Sprint(b), Length: MM(380)})
	}
	for i := range copies {
		add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(i), ""))
	}
	c := do(t, NewCollection(), &SetShelf{Spec: spec}, add)
	r := rand.New(rand.NewPCG(4, 4))
	for round := range 60 {
		var ch Change
		rows := map[string][]Accession{}
		for range 1 + r.IntN(200) {
			b := fmt.Sprint(r.IntN(boxes))
			rows[b] = append(rows[b], Accession(1+r.IntN(copies)))
		}
		stand, seen := &Stand{}, map[Accession]bool{}
		for b := range boxes {
			row := NamedRow{Box: fmt.Sprint(b)}
			for _, a := range rows[row.Box] {
				if !seen[a] {
					row.Copies = append(row.Copies, a)
				}
				seen[a] = true
			}
			stand.Rows = append(stand.Rows, row)
		}
		switch ch = stand; r.IntN(4) {
		case 0:
			ch = &Tick{Copies: []Accession{Accession(1 + r.IntN(copies))}, Step: StepSleeve}
		case 1:
			ch = &Remove{Copies: []Accession{Accession(1 + r.IntN(copies))}}
		}
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			continue // the copy was removed before
		}
		if c = next; round%3 == 0 {
			c = c.ApplyDelta(delta.Inverse())
		}
		mustBeAsAfresh(t, c)
	}
}

func mustBeAsAfresh(t *testing.T, c *Collection) {
	t.Helper()
	fresh, err := Build(c.Rev(), c.Counters(), c.Records())
	if err != nil {
		t.Fatal(err)
	}
	if c.Steps() != fresh.Steps() {
		t.Fatalf("steps %v, counted afresh %v", c.Steps(), fresh.Steps())
	}
	for a := range c.Counters().Copy + 1 {
		s1, ok1 := c.Standing(a)
		s2, ok2 := fresh.Standing(a)
		if s1 != s2 || ok1 != ok2 {
			t.Fatalf("copy %d stands at %v, looked up afresh %v", a, s1, s2)
		}
	}
}
