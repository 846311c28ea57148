package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Published: next-fit of [3 6 2 1 5 7 2 4 1 9] into capacity 10 takes 5 boxes
// (checks.md, "Splits and spills", worked next-fit example).
func TestSplitPublishedNextFit(t *testing.T) {
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(10)})
	add := &model.Add{}
	for i, mm := range []float64{3, 6, 2, 1, 5, 7, 2, 4, 1, 9} {
		add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(101+i), mm))
	}
	p := ordering.Arrange(do(t, c, add)).Split(ordering.Fewest)
	want := [][]model.Accession{{1, 2}, {3, 4, 5}, {6, 7}, {8, 9}, {10}}
	if got := contents(p); !slices.EqualFunc(got, want, slices.Equal) || p.Used() != 5 {
		t.Errorf("split into %v, %d used, want %v", got, p.Used(), want)
	}
	for i, h := range p.Boxes {
		if h.New != (i > 0) || h.Box.Name != fmt.Sprint(i+1) || h.Usable != model.MM(10) {
			t.Errorf("box %d is %q, new %v, of %v; want the first only to be there, and new ones as long", i+1, h.Box.Name, h.New, h.Usable)
		}
	}
}

// checkPlan holds what every plan promises: filing order, loads, and nothing
// above what may be filled but one thing alone.
func checkPlan(t failer, c *model.Collection, row []model.Accession, p ordering.Plan) {
	t.Helper()
	var all []model.Accession
	for i := range p.Boxes {
		h := &p.Boxes[i]
		in := h.Contents()
		var sum model.Length
		for j, it := range h.Items {
			sum += it.Thickness
			checkCards(t, c, it, planned(c).at(c, it.Copy, j == 0))
			if want := front(c, in, j); it.Front != want {
				t.Fatalf("box %s: copy %d is %v from the front, want %v", h.Box.Name, it.Copy, it.Front, want)
			}
			if i := len(all) + j; j > 0 && startsBox(c, row, i) {
				t.Fatalf("box %s: copy %d begins a section that begins a box, but stands in the middle", h.Box.Name, it.Copy)
			}
		}
		for _, card := range h.Cards() {
			sum += card.Thickness
		}
		if h.Load != sum || h.Load != load(c, in) {
			t.Fatalf("box %s: load %v, contents and cards as reported make %v, measured anew %v", h.Box.Name, h.Load, sum, load(c, in))
		}
		if want := h.Box.Usable(c.Shelf().Settings); h.Usable != want {
			t.Fatalf("box %s: usable %v, want %v", h.Box.Name, h.Usable, want)
		}
		if h.Overfull() != (h.Load > h.Usable) || (h.Overfull() && len(in) != 1) {
			t.Fatalf("box %s: %v in it of %v usable, %d copies, overfull %v", h.Box.Name, h.Load, h.Usable, len(in), h.Overfull())
		}
		if h.New && len(in) == 0 {
			t.Fatalf("new box %s is empty", h.Box.Name)
		}
		all = append(all, in...)
	}
	if !slices.Equal(all, row) {
		t.Fatalf("the boxes one after another hold %v, filing order is %v", all, row)
	}
}

// tally is how good a split is: fewer new boxes first, then fewer in use.
type tally struct{ fresh, used int }

func (a tally) less(b tally) bool {
	return a.fresh < b.fresh || (a.fresh == b.fresh && a.used < b.used)
}

// fewestBoxes tries every split: any box may stay empty, a new one never does,
// and what no box takes may go alone into any.
func fewestBoxes(c *model.Collection, row []model.Accession) tally {
	boxes, set := c.Shelf().Boxes, c.Shelf().Settings
	fresh, most := newBox(c, row)
	best := tally{len(row) + 1, 0}
	var lay func(box, at, used int)
	lay = func(box, at, used int) {
		if at == len(row) {
			if so := (tally{max(0, box-len(boxes)), used}); so.less(best) {
				best = so
			}
			return
		}
		usable := fresh.Usable(set)
		if box < len(boxes) {
			usable = boxes[box].Usable(set)
			lay(box+1, at, used)
		}
		for to := at + 1; to <= len(row); to++ {
			l := load(c, row[at:to])
			if (to-1 > at && startsBox(c, row, to-1)) || (l > usable && (to > at+1 || l <= most)) {
				return
			}
			lay(box+1, to, used+1)
		}
	}
	lay(0, 0, 0)
	return best
}

// newBox is what a new box is like: as the last, unless that is too short for
// something that the longest takes, then as the longest. And it tells what the
// roomiest box takes.
func newBox(c *model.Collection, row []model.Accession) (fresh model.Box, most model.Length) {
	boxes, set := c.Shelf().Boxes, c.Shelf().Settings
	if len(boxes) == 0 {
		fresh = model.Box{Length: model.MM(380)}
		return fresh, fresh.Usable(set)
	}
	fresh = boxes[len(boxes)-1]
	longest := fresh
	for _, b := range boxes {
		if b.Length > longest.Length {
			longest = b
		}
	}
	most = longest.Usable(set)
	for _, a := range row {
		if l := load(c, []model.Accession{a}); l > fresh.Usable(set) && l <= most {
			return longest, most
		}
	}
	return fresh, most
}

func TestSplitNoOtherUsesFewerBoxes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 7, drawShelf(t, 4, mixed, true))
		l := ordering.Arrange(c)
		row, p := accessions(l.Row()), l.Split(ordering.Fewest)
		checkPlan(t, c, row, p)
		if got, want := (tally{len(p.Needs()), p.Used()}), fewestBoxes(c, row); got != want {
			t.Fatalf("%v: %d new boxes and %d in use, the best split has %d and %d", contents(p), got.fresh, got.used, want.fresh, want.used)
		}
		fresh, most := newBox(c, row)
		for i := range p.Boxes {
			h := &p.Boxes[i]
			if h.New && h.Box.Length != fresh.Length {
				t.Fatalf("new box %s is %v long, want %v", h.Box.Name, h.Box.Length, fresh.Length)
			}
			if h.Overfull() && h.Load <= most {
				t.Fatalf("box %s holds %v of %v, though a box takes %v", h.Box.Name, h.Load, h.Usable, most)
			}
		}
	})
}

// Where all boxes are alike each is filled before the next is opened.
func TestSplitFillsBoxesThatAreAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := mixed(t)
		c := drawCollection(t, 12, drawShelf(t, 4, func(*rapid.T) model.Length { return length }, true))
		l := ordering.Arrange(c)
		row, p := accessions(l.Row()), l.Split(ordering.Fewest)
		checkPlan(t, c, row, p)
		for i := 1; i < len(row); i++ {
			if twins(c, row[i-1], row[i]) {
				return // a box may end earlier so as not to part them
			}
		}
		at := 0
		for i := range p.Boxes {
			h := &p.Boxes[i]
			at += len(h.Items)
			if at == len(row) {
				break
			}
			more := append(h.Contents(), row[at])
			if len(h.Items) == 0 || (load(c, more) <= h.Usable && !startsBox(c, row, at)) {
				t.Fatalf("box %s holds %v of %v, and copy %d would go in as well", h.Box.Name, h.Load, h.Usable, row[at])
			}
		}
	})
}

// A short box is left empty when that saves a box, and only then.
func TestSplitLeavesAShortBoxEmpty(t *testing.T) {
	for _, c := range []struct {
		boxes, mm []float64
		want      string
	}{
		{[]float64{13, 7, 20}, []float64{5, 8, 3, 6}, "[[1 2] [] [3 4]]"},          // filling takes three
		{[]float64{10, 100}, []float64{5, 60}, "[[] [1 2]]"},                       // filling takes two
		{[]float64{10, 100}, []float64{5, 98}, "[[1] [2]]"},                        // both take two: filled from the front
		{[]float64{10, 100, 10}, []float64{5, 98, 60}, "[[1] [2] [] [3]]"},         // 60 comes behind the only box that takes it: a new one as long
		{[]float64{100, 10}, []float64{90, 20, 5}, "[[1] [] [2 3]]"},               // likewise
		{[]float64{6, 7, 100, 10}, []float64{5, 6, 98}, "[[1] [2] [3] []]"},        // two would do, one of them new: not for that
		{[]float64{4, 50, 50}, []float64{3, 20, 20, 20, 20}, "[[] [1 2 3] [4 5]]"}, // the short box at the front
		{[]float64{10, 100, 100}, []float64{5, 60}, "[[] [1 2] []]"},               // of two that would do, the one in front
	} {
		add := &model.Add{}
		for i, mm := range c.mm {
			add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(101+i), mm))
		}
		l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(c.boxes...)}, add))
		if got := fmt.Sprint(contents(l.Split(ordering.Fewest))); got != c.want {
			t.Errorf("%v into %v gives %s, want %s", c.mm, c.boxes, got, c.want)
		}
	}
}

// The same with boxes that hold many.
func TestSplitLeavesAShortBoxOfManyEmpty(t *testing.T) {
	for _, c := range []struct {
		boxes []float64
		n     int
		want  []int
	}{
		{[]float64{30, 100, 100}, 200, []int{0, 100, 100}}, // filling takes three
		{[]float64{30, 100, 100}, 201, []int{30, 100, 71}},
		{[]float64{100, 30, 100, 30}, 230, []int{100, 30, 100, 0}},
		{[]float64{100, 30, 100, 17}, 199, []int{100, 0, 99, 0}},
		{[]float64{30, 100, 100}, 260, []int{0, 100, 100, 60}}, // one new box either way
	} {
		add := &model.Add{}
		for i := range c.n {
			add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(101+i), 1))
		}
		cupboard := do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(c.boxes...)}, add)
		l := ordering.Arrange(cupboard)
		p := l.Split(ordering.Fewest)
		checkPlan(t, cupboard, accessions(l.Row()), p)
		var got []int
		for _, h := range p.Boxes {
			got = append(got, len(h.Items))
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%d into %v: %v a box, want %v", c.n, c.boxes, got, c.want)
		}
	}
}
