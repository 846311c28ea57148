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

// What a refiling calls for stays to be made until it is noted, whatever is
// moved meanwhile; labels may be made before the envelopes are moved or after.
func TestLabelsAreOutstandingUntilTheyAreMade(t *testing.T) {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	apply := func(ch model.Change) {
		t.Helper()
		if c, _, err = c.Apply(ch, "2026-01-10"); err != nil {
			t.Fatal(err)
		}
	}
	l := ordering.Arrange(c)
	p := l.Split(ordering.Fewest)
	apply(p.Decision())
	decided := ordering.Arrange(c)
	want := decided.Outstanding()
	if len(want.Labels) == 0 || len(want.Cards) == 0 {
		t.Fatal("the split asks for nothing")
	}
	first := want.Labels[0].Holding.Box.Name

	moves := decided.Refile()
	apply(moves.Done())
	refiled := ordering.Arrange(c)
	got := refiled.Outstanding()
	sameRedo(t, "after the refiling", got, want)
	apply(refiled.SignsMade(first))
	for _, x := range ordering.Arrange(c).Outstanding().Labels {
		if x.Holding.Box.Name == first {
			t.Errorf("the label of box %s is still to be made", first)
		}
	}
	apply(ordering.Arrange(c).SignsMade())
	if r := ordering.Arrange(c).Outstanding(); len(r.ByBox()) != 0 {
		t.Errorf("all is made, and there are %d labels and %d cards left", len(r.Labels), len(r.Cards))
	}

	// The labels first.
	c = decided.Collection()
	apply(decided.SignsMade())
	if r := ordering.Arrange(c).Outstanding(); len(r.ByBox()) != 0 {
		t.Errorf("all is made before the refiling, and there are %d labels and %d cards left", len(r.Labels), len(r.Cards))
	}
	moves = ordering.Arrange(c).Refile()
	apply(moves.Done())
	if r := ordering.Arrange(c).Outstanding(); len(r.ByBox()) != 0 {
		t.Errorf("all was made before the refiling, and there are %d labels and %d cards left", len(r.Labels), len(r.Cards))
	}
}

func sameRedo(t *testing.T, when string, got, want ordering.Redo) {
	t.Helper()
	texts := func(r ordering.Redo) (out []string) {
		for _, x := range r.Labels {
			out = append(out, x.Holding.Box.Name+": "+x.Was+" -> "+x.Is)
		}
		for _, x := range r.Cards {
			out = append(out, x.Box.Name+": "+x.Text+" from "+x.From)
		}
		for _, x := range r.Spare {
			out = append(out, x.Box+": spare "+x.Text)
		}
		slices.Sort(out)
		return out
	}
	if g, w := texts(got), texts(want); !slices.Equal(g, w) {
		t.Errorf("%s there is to be made\n%s\nwant\n%s", when, strings.Join(g, "\n"), strings.Join(w, "\n"))
	}
}

// What is to be made is counted apart from what is there and only moves.
func TestRedoInWords(t *testing.T) {
	label, printed, moved := ordering.NewLabel{}, ordering.NewCard{}, ordering.NewCard{From: "3"}
	for _, x := range []struct {
		r    ordering.Redo
		want string
	}{
		{ordering.Redo{}, ""},
		{ordering.Redo{Labels: []ordering.NewLabel{label}}, "1 label to make"},
		{ordering.Redo{Labels: []ordering.NewLabel{label, label}, Cards: []ordering.NewCard{printed, moved, printed}, Spare: []ordering.OldCard{{}}}, "2 labels and 2 cards to make, 1 to move"},
		{ordering.Redo{Cards: []ordering.NewCard{moved, moved}}, "2 cards to move"},
		{ordering.Redo{Spare: []ordering.OldCard{{}}}, "1 card to take out"},
	} {
		if got := x.r.Text(); got != x.want {
			t.Errorf("%q, want %q", got, x.want)
		}
	}
}
