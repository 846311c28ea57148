package ordering_test

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// checkOver compares an even plan over so many boxes with the best of all splits
// that put something into each of those boxes and into no other: those that the
// fewest would be, the first of the others, then new ones.
func checkOver(t failer, c *model.Collection, boxes, months int) {
	t.Helper()
	w := newWeigher(c, months)
	p := w.l.SplitWith(ordering.Even, ordering.Options{GrowthMonths: months, Boxes: boxes})
	checkPlan(t, c, w.row, p)
	got := w.weigh(endsOf(p))
	best := func(fits func(weighed) bool) *weighed {
		var best *weighed
		w.all(func(x weighed) {
			if slices.Equal(x.lost, got.lost) && fits(x) && (best == nil || better(ordering.Even, x, *best) < 0) {
				best = &x
			}
		})
		return best
	}
	want := best(func(weighed) bool { return true })
	if want == nil {
		t.Fatalf("no split loses the labels of just the boxes %v", got.lost)
	}
	fewest, m := want.used, min(boxes, len(w.row))
	if m > fewest {
		into := usedIn(want.ends)
		for i := 0; len(into) < m; i++ {
			if !slices.Contains(into, i) {
				into = append(into, i)
			}
		}
		slices.Sort(into)
		if over := best(func(x weighed) bool { return slices.Equal(usedIn(x.ends), into) }); over != nil {
			want = over
		}
	}
	if !slices.Equal(endsOf(p), want.ends) {
		t.Fatalf("over %d boxes, %d months: %s\nbest is %s", boxes, months, got.text(), want.text())
	}
	said := slices.ContainsFunc(p.Findings, func(f string) bool { return strings.Contains(f, "asked for") })
	if said != (got.used != boxes) && len(w.row) > 0 {
		t.Fatalf("%d boxes were asked for, %d are used, the findings are %q", boxes, got.used, p.Findings)
	}
}

// usedIn lists the boxes that hold something.
func usedIn(ends []int) []int {
	var used []int
	from := 0
	for i, to := range ends {
		if to > from {
			used = append(used, i)
		}
		from = to
	}
	return used
}

func TestEvenOverSoManyBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		months := rapid.SampledFrom([]int{0, 0, 12}).Draw(t, "months")
		checkOver(t, drawCupboard(t, rapid.Bool().Draw(t, "locks")), rapid.IntRange(1, 9).Draw(t, "boxes"), months)
	})
}
