package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// spilling is three boxes of 50 mm with ten envelopes of 5 mm in the first two,
// so no room, and five in the third; the pile holds what is asked for.
func spilling(t failer, pile ...model.Entry) *ordering.Layout {
	var entries []model.Entry
	for i := range 25 {
		entries = append(entries, entry("Quillon", fmt.Sprint(100+10*i), 5))
	}
	row := func(from, to int) (out []model.Accession) {
		for a := from; a <= to; a++ {
			out = append(out, model.Accession(a))
		}
		return out
	}
	return ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(50, 50, 50)},
		&model.Add{Entries: entries},
		&model.Stand{Rows: []model.NamedRow{{Box: "1", Copies: row(1, 10)}, {Box: "2", Copies: row(11, 20)}, {Box: "3", Copies: row(21, 25)}}},
		&model.Add{Entries: pile}))
}

func names(p ordering.Plan) (out []string) {
	for _, h := range p.Boxes {
		out = append(out, fmt.Sprintf("%s:%d", h.Box.Name, len(h.Items)))
	}
	return out
}

func TestThreeAnswersToASpill(t *testing.T) {
	l := spilling(t, entry("Quillon", "101", 5), entry("Quillon", "102", 5))
	answers := l.Answers()
	if len(answers) != len(ordering.Ways()) {
		t.Fatalf("%d answers, want %d", len(answers), len(ordering.Ways()))
	}
	push, insert := answers[0], answers[1]
	// Pushing on sends the last two of box 1 into box 2 and so on.
	if got := names(push.Plan); !slices.Equal(got, []string{"1:10", "2:10", "3:7"}) || push.Moved != 4 {
		t.Errorf("push on: %v, %d moved; want 10, 10, 7 with 4 moved", got, push.Moved)
	}
	// A box in between takes the two alone.
	if got := names(insert.Plan); !slices.Equal(got, []string{"1:10", "1a:2", "2:10", "3:5"}) || insert.Moved != 2 {
		t.Errorf("insert: %v, %d moved; want a box 1a with 2", got, insert.Moved)
	}
	if push.Room != 15*model.Millimetre || insert.Room != 65*model.Millimetre {
		t.Errorf("room left: push on %v, insert %v; want 15 mm and 65 mm", push.Room, insert.Room)
	}
	for _, a := range answers {
		c := do(t, l.Collection(), a.Decision())
		again := ordering.Arrange(c)
		if got, want := names(again.Target()), names(a.Plan); !slices.Equal(got, want) {
			t.Errorf("%s: decided on, the refiling would give %v, the answer said %v", a.Way, got, want)
		}
		moves := again.Refile()
		if len(moves.Pull) < a.Moved {
			t.Errorf("%s: %d change box but only %d are pulled", a.Way, a.Moved, len(moves.Pull))
		}
	}
}

func TestNothingSpillsNothingIsInserted(t *testing.T) {
	l := spilling(t, entry("Quillon", "999", 5))
	for _, a := range l.Answers()[:2] { // splitting afresh is another matter
		if a.Boxes != 3 || a.Moved != 0 || len(a.Decision().Boxes) != 0 {
			t.Errorf("%s: %d boxes, %d moved, new boxes %v; nothing need change", a.Way, a.Boxes, a.Moved, a.Decision().Boxes)
		}
	}
	empty := ordering.Arrange(model.NewCollection())
	for _, a := range empty.Answers() {
		if a.Boxes != 0 || a.Outlook != (ordering.Outlook{}) {
			t.Errorf("%s of nothing: %+v", a.Way, a)
		}
	}
}

// The place for the new box is the best of all places: trying each, with the
// walls as they stand, gives none with fewer envelopes that change box.
func TestTheNewBoxGoesWhereTheFewestMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pile []model.Entry
		for range rapid.IntRange(1, 4).Draw(t, "pile") {
			pile = append(pile, entry("Quillon", fmt.Sprint(rapid.IntRange(90, 360).Draw(t, "number")), 5))
		}
		l := spilling(t, pile...)
		insert := l.Answers()[1]
		if len(insert.Decision().Boxes) != 1 {
			return // none is needed, or more than one place comes into it
		}
		for _, b := range l.Collection().Shelf().Boxes {
			c := do(t, l.Collection(), &model.Decide{Boxes: []model.NewBox{{BoxSpec: model.BoxSpec{Name: "x", Length: b.Length}, After: b.Name}}})
			trial := ordering.Arrange(c)
			plan := trial.Target()
			if len(plan.Needs()) > 0 {
				continue // one box there is not enough
			}
			if d := l.Compare(plan); d.Moved < insert.Moved {
				t.Fatalf("behind box %s only %d change box, the answer has %d", b.Name, d.Moved, insert.Moved)
			}
		}
	})
}

func TestOutlook(t *testing.T) {
	// One box of 100 mm with ten envelopes of 5 mm: ten more fit, whatever
	// grows, and the eleventh does not.
	var entries []model.Entry
	for i := range 10 {
		entries = append(entries, entry("Quillon", fmt.Sprint(i), 5))
	}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(100)}, &model.Add{Entries: entries}))
	for _, a := range l.Answers() {
		if want := (ordering.Outlook{Likely: 10, Poor: 10, Even: 10}); a.Outlook != want {
			t.Errorf("%s: %+v, want %+v", a.Way, a.Outlook, want)
		}
	}
	// Two boxes alike, and only what files into the first has been growing:
	// half as much fits as if both grew.
	spec := bareShelf(100, 100)
	spec.Sections = []model.SectionSpec{{Title: "A", Publishers: []string{"A"}}, {Title: "B", Publishers: []string{"B"}, NewBox: true}}
	entries = nil
	for i := range 10 {
		old, now := entry("B", fmt.Sprint(i), 5), entry("A", fmt.Sprint(i), 5)
		old.Added, now.Added = "2020-01-01", "2026-01-01"
		entries = append(entries, old, now)
	}
	l = ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, &model.Add{Entries: entries}))
	o := l.Answers()[0].Outlook
	if o.Likely != 10 || o.Even != 20 {
		t.Errorf("only section A grows: %+v, want 10 likely and 20 evenly", o)
	}
	if again := l.Answers()[0].Outlook; again != o {
		t.Errorf("looked at twice it is %+v and %+v", o, again)
	}
}

// Copies of next to nothing in a box as long as a room are not counted to their end:
// from there on it says only that more fit. Nothing but a counting that ends ends this
// test.
func TestAnOutlookIsNotCountedWithoutEnd(t *testing.T) {
	for _, x := range []struct {
		box, copy float64
		want      string
	}{{100_000, 0.01, "more than 999"}, {1001 * 5, 5, "more than 999"}, {1000 * 5, 5, "999"}} {
		spec := bareShelf(x.box)
		l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, &model.Add{Entries: []model.Entry{entry("Quillon", "1", x.copy)}}))
		for _, a := range l.Answers() {
			if o := a.Outlook; o.Likely.String() != x.want || o.Poor.String() != x.want || o.Even.String() != x.want {
				t.Errorf("box of %v mm, %s: %s, %s, %s, want %s", x.box, a.Way, o.Likely, o.Poor, o.Even, x.want)
			}
		}
	}
}

func BenchmarkAnswers(b *testing.B) {
	for _, n := range []int{500, 5_000, 60_000} {
		b.Run(fmt.Sprintf("copies=%d", n), func(b *testing.B) {
			l := ordering.Arrange(sample.Cupboard(n))
			for b.Loop() {
				l.Answers()
			}
		})
	}
}
