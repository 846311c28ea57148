package lookup

import (
	"encoding/json"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/alike"
)

// Whatever happens to a cupboard: the index that follows answers as one made
// afresh does.
func TestFollowingWhateverHappens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := model.NewCollection()
		x := New(c)
		step := func(ch model.Change) {
			next, delta, err := c.Apply(ch, day)
			if err != nil {
				return
			}
			x = x.Next(model.Commit{Collection: next, Delta: delta})
			if c = next; rapid.IntRange(0, 3).Draw(t, "undone") == 3 {
				c = next.ApplyDelta(delta.Inverse())
				x = x.Next(model.Commit{Collection: c, Delta: delta.Inverse()})
			}
			answersAll(t, ch, x, New(c), c)
		}
		step(alike.Furniture())
		for range 3 {
			step(&model.Add{Entries: []model.Entry{alike.Entry(t, c)}})
		}
		for range rapid.IntRange(1, 25).Draw(t, "changes") {
			step(alike.Change(t, c))
		}
	})
}

func answersAll(t *rapid.T, ch model.Change, x, fresh *Index, c *model.Collection) {
	said := func(v any) string {
		b, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	queries := []string{"coats", "quillon", "1", "K1", "quilon", "σ", "i", "unidentified", "daughter coats"}
	for _, q := range queries {
		a, b := x.Find(q, 100), fresh.Find(q, 100)
		once, _ := Find(c, q, 100)
		slices.Sort(a.Patterns)
		slices.Sort(b.Patterns)
		slices.Sort(once.Patterns)
		if !slices.Equal(a.Patterns, b.Patterns) || !slices.Equal(a.Patterns, once.Patterns) {
			t.Fatalf("%+v: Find(%q) = %v, a new index finds %v, without one there is %v", ch, q, a.Patterns, b.Patterns, once.Patterns)
		}
		answerA, ownedA := x.Have(q)
		answerB, ownedB := fresh.Have(q)
		if answerA != answerB || len(ownedA) != len(ownedB) {
			t.Fatalf("%+v: Have(%q) = %v %v, of a new index %v %v", ch, q, answerA, ownedA, answerB, ownedB)
		}
	}
	if a, b := said(x.Twins()), said(fresh.Twins()); a != b {
		t.Fatalf("%+v: twins %s, of a new index %s", ch, a, b)
	}
	if a, b := said(x.Houses()), said(fresh.Houses()); a != b {
		t.Fatalf("%+v: houses %s, of a new index %s", ch, a, b)
	}
	for _, w := range c.Wishes().All() {
		if a, b := x.Granted(w), fresh.Granted(w); a != b {
			t.Fatalf("%+v: the wish %+v is granted by %v, in a new index by %v", ch, w, a, b)
		}
	}
	for _, p := range c.Patterns().All() {
		en := c.TitleOf(p)
		if a, b := len(x.Kin(en)), len(fresh.Kin(en)); a != b {
			t.Fatalf("%+v: pattern %d has %d kin, in a new index %d", ch, p.ID, a, b)
		}
		if a, b := x.Copies(p.ID), fresh.Copies(p.ID); !slices.Equal(a, b) || len(a) == 0 {
			t.Fatalf("%+v: pattern %d has copies %v, in a new index %v", ch, p.ID, a, b)
		}
		la, oka := x.Listed(en)
		lb, okb := fresh.Listed(en)
		if ln, okn := NumbersOf(c).Of(en); oka != okb || oka != okn || oka && (la.Pattern != lb.Pattern || la.Pattern != ln.Pattern) {
			t.Fatalf("%+v: pattern %d is listed as %v, in a new index as %v, by numbers alone as %v", ch, p.ID, la, lb, ln)
		}
	}
}
