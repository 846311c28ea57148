package ordering_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// alike are copies of so many millimetres in boxes that are alike.
func alike(t failer, boxes int, length float64, mm ...float64) *ordering.Layout {
	lengths := make([]float64, boxes)
	for i := range lengths {
		lengths[i] = length
	}
	return ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(lengths...)}, pile(mm...)))
}

// sizesOf tells what is in each box in use, in millimetres.
func sizesOf(p ordering.Plan) (loads []float64) {
	for _, h := range p.Boxes {
		if len(h.Items) > 0 {
			loads = append(loads, h.Load.MM())
		}
	}
	return loads
}

// Published linear partitions: the smallest possible fullest part (checks.md,
// "Splits and spills"; the last from memory). Boxes are so long that the parts
// wanted are the fewest that will do.
func TestSplitEvenPublishedPartitions(t *testing.T) {
	for _, c := range []struct {
		source  string
		mm      []float64
		length  float64
		boxes   int
		fullest float64
		loads   []float64 // where the source gives the parts
	}{
		{"Skiena's example", []float64{100, 200, 300, 400, 500, 600, 700, 800, 900}, 2000, 3, 1700, []float64{1500, 1300, 1700}},
		{"nine alike", []float64{100, 100, 100, 100, 100, 100, 100, 100, 100}, 400, 3, 300, []float64{300, 300, 300}},
		{"eleven unlike", []float64{9, 2, 6, 3, 8, 5, 8, 1, 7, 3, 4}, 25, 3, 21, []float64{20, 21, 15}},
		{"from memory", []float64{7, 2, 5, 10, 8}, 20, 2, 18, nil},
	} {
		fewest := sizesOf(alike(t, c.boxes+1, c.length, c.mm...).Split(ordering.Even))
		// All would go into one of these boxes, and so many are asked for.
		over := sizesOf(alike(t, 2, 10_000, c.mm...).SplitWith(ordering.Even, ordering.Options{Boxes: c.boxes}))
		for _, loads := range [][]float64{fewest, over} {
			if len(loads) != c.boxes || slices.Max(loads) != c.fullest || c.loads != nil && !slices.Equal(loads, c.loads) {
				t.Errorf("%s: %v, want %d boxes, the fullest %v: %v", c.source, loads, c.boxes, c.fullest, c.loads)
			}
		}
	}
}

// Published raggedness: "aaa bb cc ddddd" in lines of 6, squares of the room
// left with the last line counted: filling greedily 17, best 11 (checks.md,
// "Splits and spills"). A word and the space behind it are a thing of one more,
// in boxes of one more. For so many lines the room left in all is the same, so
// its squares add up to the least exactly when the squares of the loads do.
func TestSplitEvenPublishedRaggedness(t *testing.T) {
	for _, c := range []struct {
		goal ordering.Goal
		want float64
	}{{ordering.Fewest, 17}, {ordering.Even, 11}} {
		sum := 0.0
		for _, x := range sizesOf(alike(t, 3, 7, 4, 3, 3, 6).Split(c.goal)) {
			sum += (7 - x) * (7 - x)
		}
		if sum != c.want {
			t.Errorf("%s: squares of the room left are %v, published are %v", c.goal, sum, c.want)
		}
	}
}

// Every goal has an answer for every corner, and says what could not be met.
func TestSplitCorners(t *testing.T) {
	noRoom := bareShelf(50, 50)
	noRoom.Settings.Working = model.Space{Fixed: model.MM(60)}
	for _, c := range []struct {
		name     string
		changes  []model.Change
		want     string // for every goal
		findings int
	}{
		{"nothing at all", nil, "[]", 0},
		{"boxes and nothing to file", []model.Change{&model.SetShelf{Spec: bareShelf(50, 50)}}, "[[] []]", 0},
		{"no boxes", []model.Change{pile(5, 5)}, "[[1 2]]", 0},
		{"fewer boxes than are needed", []model.Change{&model.SetShelf{Spec: bareShelf(10)}, pile(10, 10, 10)}, "[[1] [2] [3]]", 0},
		{"one thing thicker than any box", []model.Change{&model.SetShelf{Spec: bareShelf(50, 50)}, pile(50, 70, 50)}, "[[1] [2] [3]]", 1},
		{"all of each box kept free to work", []model.Change{&model.SetShelf{Spec: noRoom}, pile(5, 5, 5)}, "[[1] [2] [3]]", 3},
	} {
		for _, g := range ordering.Goals() {
			for _, months := range []int{0, 12, 1 << 40} {
				cupboard := do(t, model.NewCollection(), c.changes...)
				l := ordering.Arrange(cupboard)
				p := l.SplitWith(g, ordering.Options{GrowthMonths: months})
				checkPlan(t, cupboard, accessions(l.Row()), p)
				got := fmt.Sprint(contents(p))
				if got != c.want || len(p.Findings) != c.findings {
					t.Errorf("%s, goal %s, %d months: %s and findings %q, want %s and %d", c.name, g, months, got, p.Findings, c.want, c.findings)
				}
				for _, boxes := range []int{1, 3, 1 << 40} { // whether they can be or not
					p := l.SplitWith(g, ordering.Options{GrowthMonths: months, Boxes: boxes})
					checkPlan(t, cupboard, accessions(l.Row()), p)
				}
			}
		}
	}
}

// What cannot be laid into so many boxes is said, and laid as it can be.
func TestSplitSaysWhatCannotBeSpread(t *testing.T) {
	locked := bareShelf(30, 30, 30)
	locked.Boxes[1].Locked = true
	stands := &model.Stand{Rows: []model.NamedRow{{Box: "2", Copies: []model.Accession{1, 2, 3}}}}
	for _, c := range []struct {
		boxes   int
		changes []model.Change
		want    string
		says    string
	}{
		{2, []model.Change{&model.SetShelf{Spec: bareShelf(10)}, pile(10, 10, 10)}, "[[1] [2] [3]]", "as few boxes as asked for (2); this is the even split over 3"},
		{9, []model.Change{&model.SetShelf{Spec: bareShelf(30)}, pile(10, 10, 10)}, "[[1] [2] [3]]", "there are only 3 envelopes for the boxes asked for (9)"},
		{2, []model.Change{&model.SetShelf{Spec: locked}, pile(10, 10, 10), stands}, "[[] [1 2 3] []]", "no split puts something into each of the boxes asked for (2)"},
	} {
		p := ordering.Arrange(do(t, model.NewCollection(), c.changes...)).SplitWith(ordering.Even, ordering.Options{Boxes: c.boxes})
		if got := fmt.Sprint(contents(p)); got != c.want || len(p.Findings) != 1 || !strings.Contains(p.Findings[0], c.says) {
			t.Errorf("over %d boxes: %s and %q, want %s and %q", c.boxes, got, p.Findings, c.want, c.says)
		}
	}
}
