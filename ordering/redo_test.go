package ordering_test

import (
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// What is to be printed and what is to be moved, taken together with what
// stays, is what the plan calls for; and what stands is what stays, is moved or
// is left over.
func TestCardsToRedoAddUp(t *testing.T) {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	l := ordering.Arrange(c)
	for _, p := range []ordering.Plan{l.Target(), l.Split(ordering.Fewest), l.Split(ordering.Even), {Boxes: l.Standing()}} {
		r := l.Redo(p)
		planned, standing := texts(p.Boxes), texts(l.Standing())
		for _, c := range r.Cards {
			planned[c.Text]--
			if c.From != "" {
				standing[c.Text]--
			}
		}
		for _, c := range r.Spare {
			standing[c.Text]--
		}
		for text := range planned {
			if planned[text] != standing[text] {
				t.Errorf("%s: %d cards %q stay of those planned, and %d of those that stand", p.Goal, planned[text], text, standing[text])
			}
		}
		if d := l.Compare(p); d.Labels != len(r.Labels) {
			t.Errorf("%s: %d labels change, %d are to be printed", p.Goal, d.Labels, len(r.Labels))
		}
		for _, c := range r.Cards {
			if c.From == "" && slices.ContainsFunc(r.Spare, func(o ordering.OldCard) bool { return o.Text == c.Text }) {
				t.Errorf("%s: a card %q is printed while one is left over", p.Goal, c.Text)
			}
		}
	}
	if r := l.Redo(ordering.Plan{Boxes: l.Standing()}); len(r.Cards)+len(r.Labels)+len(r.Spare) != 0 {
		t.Errorf("what stands asks for %d cards and %d labels, and leaves %d cards over", len(r.Cards), len(r.Labels), len(r.Spare))
	}
}

func texts(boxes []ordering.Holding) map[string]int {
	n := map[string]int{}
	for i := range boxes {
		for _, c := range boxes[i].Cards() {
			n[c.Text]++
		}
	}
	return n
}

func TestPatternsByNumber(t *testing.T) {
	c := model.NewCollection()
	for _, e := range []model.Entry{
		{Publisher: "Quillon", Number: "20", Name: "Cape"}, {Publisher: "Harrow & Pell", Number: "6123"},
		{Publisher: "Quillon", Number: "K3"}, {Publisher: "Quillon", Name: "Apron"}, {Publisher: "Quillon", Number: "20", Name: "Cape", Pattern: 1},
	} {
		next, _, err := c.Apply(&model.Add{Entries: []model.Entry{e}}, "2026-01-02")
		if err != nil {
			t.Fatal(err)
		}
		c = next
	}
	var got []string
	for _, p := range ordering.Arrange(c).ByNumber() {
		got = append(got, p.Heading())
	}
	if want := "6123 | K3 | 20 Cape | Apron"; strings.Join(got, " | ") != want {
		t.Errorf("%q, want %q", got, want)
	}
}
