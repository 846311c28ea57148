package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Published values (checks.md, "Moves"): the fewest pulls that bring a row into
// order are its length less its longest non-decreasing subsequence.
func TestRefilePublishedRows(t *testing.T) {
	for _, c := range []struct {
		row   []int
		pulls int
	}{
		{[]int{1, 2, 5, 3, 4, 7, 6}, 2},
		{[]int{3, 5, 7, 1, 9, 8}, 2},
		{[]int{4, 3, 2, 5, 1}, 3},
		{[]int{0, 8, 4, 12, 2, 10, 6, 14, 1, 9, 5, 13, 3, 11, 7, 15}, 16 - 6}, // longest 6
	} {
		ch := &model.Add{}
		for _, n := range c.row {
			en := entry("Quillon", fmt.Sprint(100+n), 1)
			en.Box = "1"
			ch.Entries = append(ch.Entries, en)
		}
		cupboard := do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(380)}, ch)
		m := ordering.Arrange(cupboard).Refile()
		if len(m.Pull) != c.pulls || m.Kept != len(c.row)-c.pulls || len(m.Insert) != c.pulls {
			t.Errorf("%v: %d pulled, %d kept, %d put in; want %d pulled", c.row, len(m.Pull), m.Kept, len(m.Insert), c.pulls)
		}
		carryOut(t, cupboard, m)
	}
}

// carryOut does by hand what moves say, step by step, and gives what then
// stands in the plan's boxes. Each step must find what it was told it would.
func carryOut(t failer, c *model.Collection, m ordering.Moves) [][]model.Accession {
	t.Helper()
	pulled := map[model.Accession]bool{}
	at, boxes := 0, c.Shelf().Boxes
	for _, b := range boxes { // one walk, from front to back
		for i, a := range c.Row(b.ID) {
			if at < len(m.Pull) && m.Pull[at].Item.Copy == a {
				if p := m.Pull[at]; p.Box.ID != b.ID || p.Position != i+1 {
					t.Fatalf("copy %d is to be pulled from box %q place %d, but stands in %q place %d", a, p.Box.Name, p.Position, b.Name, i+1)
				}
				pulled[a] = true
				at++
			}
		}
	}
	if at != len(m.Pull) {
		t.Fatalf("pull %d of %d does not stand where the walk comes by", at+1, len(m.Pull))
	}
	rows := make([][]model.Accession, len(m.Plan.Boxes))
	for i, b := range boxes {
		rows[i] = slices.DeleteFunc(slices.Clone(c.Row(b.ID)), func(a model.Accession) bool { return pulled[a] })
	}
	box := 0
	for _, in := range m.Insert {
		a := in.Item.Copy
		if _, stood := c.Standing(a); stood != pulled[a] || in.FromPile == stood {
			t.Fatalf("copy %d is put in: stood in a box %v, was pulled %v, said to be from the pile %v", a, stood, pulled[a], in.FromPile)
		}
		if in.Box < box {
			t.Fatalf("copy %d goes into box %d, behind where the walk is, %d", a, in.Box, box)
		}
		box = in.Box
		row, i := rows[box], in.Position-1
		if i > len(row) {
			t.Fatalf("copy %d is to be at place %d of %v", a, in.Position, row)
		}
		if got, want := neighbour(row, i-1), of(in.Behind); got != want {
			t.Fatalf("copy %d is to be put behind copy %d, but finds copy %d in %v", a, want, got, row)
		}
		if got, want := neighbour(row, i), of(in.Before); got != want {
			t.Fatalf("copy %d is to be put before copy %d, but finds copy %d in %v", a, want, got, row)
		}
		rows[box] = slices.Insert(row, i, a)
		delete(pulled, a)
	}
	for _, p := range m.Pull {
		if pulled[p.Item.Copy] != p.Leaves {
			t.Fatalf("copy %d is left over %v, but leaves its box for good %v", p.Item.Copy, pulled[p.Item.Copy], p.Leaves)
		}
	}
	return rows
}

func neighbour(row []model.Accession, i int) model.Accession {
	if i < 0 || i >= len(row) {
		return 0
	}
	return row[i]
}

func of(it *ordering.Item) model.Accession {
	if it == nil {
		return 0
	}
	return it.Copy
}

// mostKept tries every choice of what may stay in a box: it must be wanted there
// and be in the planned order already.
func mostKept(row, plan []model.Accession) int {
	best := 0
	for set := range 1 << len(row) {
		last, n, good := -1, 0, true
		for i, a := range row {
			if set&(1<<i) != 0 {
				at := slices.Index(plan, a)
				good = good && at > last
				last, n = at, n+1
			}
		}
		if good {
			best = max(best, n)
		}
	}
	return best
}

// drawDecision settles a split, now and then one that makes little sense.
func drawDecision(t *rapid.T, c *model.Collection) *model.Collection {
	l := ordering.Arrange(c)
	switch rapid.IntRange(0, 2).Draw(t, "decided") {
	case 1:
		p := l.Split(ordering.Fewest)
		return do(t, c, p.Decision())
	case 2:
		ch := &model.Decide{}
		for _, b := range c.Shelf().Boxes {
			if n := c.Copies().Len(); n > 0 && rapid.Bool().Draw(t, "wall") {
				ch.Firsts = append(ch.Firsts, model.NamedWall{Box: b.Name, First: model.Accession(rapid.IntRange(1, n).Draw(t, "first"))})
			}
		}
		return do(t, c, ch)
	}
	return c
}

func TestRefileComesOutAsPlannedWithFewestPulls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 8, drawShelf(t, 3, mixed, true))
		c = drawDecision(t, do(t, c, drawStands(t, c)))
		l := ordering.Arrange(c)
		m := l.Refile()
		checkPlan(t, c, accessions(l.Row()), m.Plan)
		plan := contents(m.Plan)
		if rows := carryOut(t, c, m); !slices.EqualFunc(rows, plan, slices.Equal) {
			t.Fatalf("the moves give %v, planned is %v", rows, plan)
		}
		stood, kept := 0, 0
		for i, b := range c.Shelf().Boxes {
			if m.Plan.Boxes[i].Box.ID != b.ID {
				t.Fatalf("box %d of the plan is %q, on the shelf %q", i, m.Plan.Boxes[i].Box.Name, b.Name)
			}
			stood += len(c.Row(b.ID))
			kept += mostKept(c.Row(b.ID), plan[i])
		}
		if m.Kept != kept || len(m.Pull) != stood-kept {
			t.Fatalf("%d of %d kept and %d pulled, but %d could stay", m.Kept, stood, len(m.Pull), kept)
		}
		checkDone(t, c, m)
	})
}

// checkDone commits moves as carried out: what stands is the plan, and nothing
// is left to do.
func checkDone(t failer, c *model.Collection, m ordering.Moves) *model.Collection {
	t.Helper()
	after := do(t, c, m.Done())
	if got, want := len(after.Shelf().Boxes), len(m.Plan.Boxes); got != want {
		t.Fatalf("%d boxes on the shelf, %d in the plan", got, want)
	}
	for i, b := range after.Shelf().Boxes {
		if got, want := after.Row(b.ID), m.Plan.Boxes[i].Contents(); !slices.Equal(got, want) {
			t.Fatalf("box %q holds %v, planned was %v", b.Name, got, want)
		}
	}
	if len(after.Walls().Firsts) > 0 {
		t.Fatalf("the split is still to be carried out: %v", after.Walls().Firsts)
	}
	l := ordering.Arrange(after)
	again := l.Refile()
	if len(again.Pull)+len(again.Insert) > 0 || len(again.Plan.Needs()) > 0 {
		t.Fatalf("a second refiling pulls %d and puts in %d, to get %v", len(again.Pull), len(again.Insert), contents(again.Plan))
	}
	if d := l.Compare(again.Plan); d != (ordering.Difference{}) || len(l.Waiting()) > 0 {
		t.Fatalf("after refiling there is a difference of %+v and %d on the pile", d, len(l.Waiting()))
	}
	return after
}

// Compare counts envelopes that change box and labels that change.
func TestCompareCountsMovedAndLabels(t *testing.T) {
	add := &model.Add{}
	for i, box := range []string{"1", "1", "2", "2", ""} {
		en := entry("Quillon", fmt.Sprint(100+i), 5)
		en.Box = box
		add.Entries = append(add.Entries, en)
	}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(15, 10)}, add))
	p := l.Split(ordering.Fewest) // 100 101 102 | 103 104
	if got, want := l.Compare(p), (ordering.Difference{Moved: 1, Labels: 2}); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got, want := l.Label(&p.Boxes[0]), "Quillon 100 to 102"; got != want {
		t.Errorf("label %q, want %q", got, want)
	}
}
