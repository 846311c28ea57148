package ordering_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Where bands are narrower than the row, what they leave out is no better: the
// search from narrow bands on comes to a split as good as the search everywhere.
func TestSplitLeastMovedFromNarrowBands(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCupboard(t, rapid.Bool().Draw(t, "locks"))
		w := newWeigher(c, 0)
		checkBands(t, w)
	})
	rapid.Check(t, func(t *rapid.T) {
		shelf := bareShelf()
		for i := range rapid.IntRange(1, 6).Draw(t, "boxes") {
			shelf.Boxes = append(shelf.Boxes, model.BoxSpec{Name: fmt.Sprint(i + 1), Length: model.MM(rapid.SampledFrom([]float64{20, 40, 50}).Draw(t, "length"))})
		}
		add := &model.Add{}
		for i := range rapid.IntRange(1, 60).Draw(t, "copies") {
			add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(101+i/2), rapid.SampledFrom([]float64{2, 3, 5}).Draw(t, "mm")))
		}
		c := do(t, model.NewCollection(), &model.SetShelf{Spec: shelf}, add)
		if rapid.IntRange(0, 3).Draw(t, "muddled") == 0 {
			c = do(t, c, drawStands(t, c))
		} else {
			c = do(t, c, drawInOrder(t, c))
		}
		checkBands(t, newWeigher(c, 0))
	})
}

func checkBands(t *rapid.T, w *weigher) {
	narrow, findings := w.l.MovedWithin(1, 1<<40)
	wide, _ := w.l.MovedWithin(1<<20, 1<<40)
	if len(findings) > 0 {
		t.Fatalf("nothing was to be left out, but %q", findings)
	}
	a, b := w.weigh(narrow), w.weigh(wide)
	if better(ordering.LeastMoved, a, b) != 0 {
		t.Fatalf("from narrow bands %s\nlooked for everywhere %s", a.text(), b.text())
	}
}

// Where too much would have to be looked at, the plan says what was not.
func TestSplitLeastMovedSaysWhatWasNotLookedAt(t *testing.T) {
	add := &model.Add{}
	for i := range 40 { // in three boxes by turns, so that nothing is in order
		en := entry("Quillon", fmt.Sprint(101+i), 1)
		en.Box = fmt.Sprint(1 + i%3)
		add.Entries = append(add.Entries, en)
	}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(20, 20, 20)}, add))
	ends, findings := l.MovedWithin(1, 3)
	if len(findings) != 1 || !strings.Contains(findings[0], "not looked at") || !slices.IsSorted(ends) || ends[len(ends)-1] != 40 {
		t.Errorf("split at %v, findings %q; want one that says what was not looked at", ends, findings)
	}
	if _, findings = l.MovedWithin(1, 1<<40); len(findings) != 0 {
		t.Errorf("all was looked at, but %q", findings)
	}
}
