package ordering_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// fewestPulls tries every way to give each box a stretch of the filing order,
// and for each the best choice of what stays.
func fewestPulls(c *model.Collection, row []model.Accession) int {
	boxes := c.Shelf().Boxes
	var most func(box, at int) int
	most = func(box, at int) int {
		if box == len(boxes)-1 {
			return mostKept(c.Row(boxes[box].ID), row[at:])
		}
		best := 0
		for to := at; to <= len(row); to++ {
			best = max(best, mostKept(c.Row(boxes[box].ID), row[at:to])+most(box+1, to))
		}
		return best
	}
	stood := 0
	for _, b := range boxes {
		stood += len(c.Row(b.ID))
	}
	if len(boxes) == 0 {
		return 0
	}
	return stood - most(0, 0)
}

// longestInOrder is the length of a longest run in filing order over all boxes,
// by comparing each with all before it.
func longestInOrder(c *model.Collection, row []model.Accession) int {
	var ranks []int
	for _, b := range c.Shelf().Boxes {
		for _, a := range c.Row(b.ID) {
			if r := slices.Index(row, a); r >= 0 {
				ranks = append(ranks, r)
			}
		}
	}
	best, all := make([]int, len(ranks)), 0
	for i := range ranks {
		best[i] = 1
		for j := range i {
			if ranks[j] <= ranks[i] {
				best[i] = max(best[i], best[j]+1)
			}
		}
		all = max(all, best[i])
	}
	return all
}

// Where nothing spills and no wall was decided, no other plan needs fewer pulls.
func TestTargetWithRoomNeedsTheFewestPulls(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 6, drawShelf(t, 3, roomy, false))
		c = do(t, c, drawStands(t, c))
		l := ordering.Arrange(c)
		m, row, stood := l.Refile(), accessions(l.Row()), 0
		for _, b := range c.Shelf().Boxes {
			stood += len(c.Row(b.ID))
		}
		if got, want := len(m.Pull), stood-longestInOrder(c, row); got != want {
			t.Fatalf("%d pulled, want %d: all but a longest run in order", got, want)
		}
		if got, want := len(m.Pull), fewestPulls(c, row); got != want {
			t.Fatalf("%d pulled, another plan needs %d", got, want)
		}
	})
}

// A decided wall stays, or moves towards the front of the row because the box
// before it is full.
func TestTargetWallsOnlyMoveOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCollection(t, 10, drawShelf(t, 4, mixed, true))
		c = do(t, c, drawStands(t, c))
		l := ordering.Arrange(c)
		row := accessions(l.Row())
		if len(row) == 0 {
			return
		}
		wall, ch := map[string]int{}, &model.Decide{}
		ranks := rapid.SliceOfNDistinct(rapid.IntRange(0, len(row)-1), 0, len(c.Shelf().Boxes), rapid.ID[int]).Draw(t, "walls")
		slices.Sort(ranks)
		for i, r := range ranks {
			name := c.Shelf().Boxes[i].Name
			wall[name] = r
			ch.Firsts = append(ch.Firsts, model.NamedWall{Box: name, First: row[r]})
		}
		c = do(t, c, ch)
		p := ordering.Arrange(c).Target()
		checkPlan(t, c, row, p)
		checkWalls(t, c, row, p, wall)
	})
}

func checkWalls(t failer, c *model.Collection, row []model.Accession, p ordering.Plan, wall map[string]int) {
	at := 0
	for i := range p.Boxes {
		h := &p.Boxes[i]
		w, decided := wall[h.Box.Name]
		if decided && i > 0 && len(h.Items) > 0 && at != w {
			before := &p.Boxes[i-1]
			more := append(before.Contents(), row[at])
			if at > w || (load(c, more) <= before.Usable && !startsBox(c, row, at)) {
				t.Fatalf("box %q begins at %d, decided was %d, and the box before holds %v of %v", h.Box.Name, at, w, before.Load, before.Usable)
			}
		}
		at += len(h.Items)
	}
}

// fourBoxes holds four of 10 mm in each of four boxes of 40, in order.
func fourBoxes(t failer) *model.Collection {
	add := &model.Add{}
	for i := range 16 {
		en := entry("Quillon", fmt.Sprint(101+i), 10)
		en.Box = fmt.Sprint(i/4 + 1)
		add.Entries = append(add.Entries, en)
	}
	return do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(60, 60, 60, 60)}, add)
}

func decide(firsts ...model.Accession) *model.Decide {
	ch := &model.Decide{}
	for i, a := range firsts {
		ch.Firsts = append(ch.Firsts, model.NamedWall{Box: fmt.Sprint(i + 1), First: a})
	}
	return ch
}

// Where the copy at a wall is gone the box begins as it stands; where it has come
// to file elsewhere the wall is left out. The others hold.
func TestTargetDropsOnlyTheWallThatIsLost(t *testing.T) {
	moved := entry("Quillon", "999", 10)
	moved.Accession = 1
	for _, c := range []struct {
		name   string
		change model.Change
		want   string
	}{
		{"nothing", &model.Tick{Step: model.StepSleeve}, "[[1 2 3] [4 5 6 7] [8 9 10 11 12] [13 14 15 16]]"},
		{"the first copy of box 2 was removed", &model.Remove{Copies: []model.Accession{4}}, "[[1 2 3] [5 6 7] [8 9 10 11 12] [13 14 15 16]]"},
		{"the first copy of box 1 files last now", &model.Revise{Entry: moved}, "[[2 3] [4 5 6 7] [8 9 10 11 12] [13 14 15 16 1]]"},
	} {
		l := ordering.Arrange(do(t, fourBoxes(t), decide(1, 4, 8, 13), c.change))
		if got := fmt.Sprint(contents(l.Target())); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// What spills goes on into the next box and no further than it must.
func TestTargetPushesOn(t *testing.T) {
	c := fourBoxes(t)
	add := &model.Add{}
	for _, n := range []string{"102A", "102B", "102C"} {
		add.Entries = append(add.Entries, entry("Quillon", n, 10))
	}
	l := ordering.Arrange(do(t, c, add))
	if got, want := fmt.Sprint(contents(l.Target())), "[[1 2 17 18 19 3] [4 5 6 7 8] [9 10 11 12] [13 14 15 16]]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if m := l.Refile(); len(m.Pull) != 1 || len(m.Insert) != 4 {
		t.Errorf("%d pulled and %d put in, want 1 (copy 4) and 4", len(m.Pull), len(m.Insert))
	}
}
