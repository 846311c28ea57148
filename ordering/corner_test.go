package ordering_test

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// askAll asks a layout for everything it can say, and holds it to what every
// plan promises.
func askAll(t *testing.T, c *model.Collection) (*ordering.Layout, ordering.Moves) {
	t.Helper()
	l := ordering.Arrange(c)
	row := accessions(l.Row())
	split := l.Split(ordering.Fewest)
	checkPlan(t, c, row, split)
	checkStanding(t, l)
	m := l.Refile()
	checkPlan(t, c, row, m.Plan)
	if rows := carryOut(t, c, m); !slices.EqualFunc(rows, contents(m.Plan), slices.Equal) {
		t.Fatalf("the moves give %v, planned is %v", rows, contents(m.Plan))
	}
	checkDone(t, c, m)
	for a := range c.Counters().Copy + 2 {
		checkSlot(t, l, a)
	}
	l.GapFor("Quillon", &model.Pattern{Number: "150"})
	l.GapFor("Ostrimel", &model.Pattern{Name: "Cape"})
	for i := range split.Boxes {
		if l.Label(&split.Boxes[i]) == "" {
			t.Fatalf("box %q has no label", split.Boxes[i].Box.Name)
		}
	}
	// A split that is settled is what is refiled to.
	decided := ordering.Arrange(do(t, c, split.Decision()))
	if got, want := contents(decided.Target()), contents(split); len(row) > 0 && !sameBoxes(got, want) {
		t.Fatalf("settled is %v, but refiled to %v", want, got)
	}
	checkDone(t, decided.Collection(), decided.Refile())
	return l, m
}

func sameBoxes(a, b [][]model.Accession) bool {
	return slices.EqualFunc(a, b, func(x, y []model.Accession) bool { return slices.Equal(x, y) })
}

// pile enters copies of so many millimetres, numbered 101 and on, none of them
// in a box.
func pile(mm ...float64) *model.Add {
	add := &model.Add{}
	for i, x := range mm {
		add.Entries = append(add.Entries, entry("Quillon", fmt.Sprint(101+i), x))
	}
	return add
}

func TestCorners(t *testing.T) {
	onHooks := bareShelf(50)
	onHooks.Hooks = []model.HookSpec{{Name: "door", Hooks: 4, Each: 3}}
	hung := pile(5, 5)
	hung.Entries[0].Medium, hung.Entries[1].Home = model.Printed, model.HomeHook
	noRoom := bareShelf(50, 50)
	noRoom.Settings.Working = model.Space{Fixed: model.MM(60)}
	for _, c := range []struct {
		name    string
		changes []model.Change
		want    string // the boxes after refiling
	}{
		{"nothing at all", nil, "[]"},
		{"boxes and nothing to file", []model.Change{&model.SetShelf{Spec: bareShelf(50, 50)}}, "[[] []]"},
		{"no boxes, no sections", []model.Change{pile(5, 5)}, "[[1 2]]"},
		{"everything on hooks", []model.Change{&model.SetShelf{Spec: onHooks}, hung}, "[[]]"},
		{"one thing thicker than any box", []model.Change{&model.SetShelf{Spec: bareShelf(50, 50)}, pile(5, 70, 5)}, "[[1] [2] [3]]"},
		{"nothing but things thicker than any box", []model.Change{&model.SetShelf{Spec: bareShelf(50)}, pile(70, 80)}, "[[1] [2]]"},
		{"first box too short for anything", []model.Change{&model.SetShelf{Spec: bareShelf(2, 50)}, pile(5, 5)}, "[[] [1 2]]"},
		{"last box too short for what comes then", []model.Change{&model.SetShelf{Spec: bareShelf(50, 2)}, pile(30, 30, 30)}, "[[1] [] [2] [3]]"},
		{"only the first box takes it, and it is behind", []model.Change{&model.SetShelf{Spec: bareShelf(50, 10)}, pile(5, 48)}, "[[1] [] [2]]"},
		{"all of each box kept free to work", []model.Change{&model.SetShelf{Spec: noRoom}, pile(5, 5, 5)}, "[[1] [2] [3]]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, m := askAll(t, do(t, model.NewCollection(), c.changes...))
			if got := fmt.Sprint(contents(m.Plan)); got != c.want {
				t.Errorf("refiled to %s, want %s", got, c.want)
			}
		})
	}
}

func TestCornersOfDecidedSplits(t *testing.T) {
	empty := []model.NamedRow{{Box: "1"}, {Box: "2"}, {Box: "3"}, {Box: "4"}}
	short := bareShelf(60)
	for _, c := range []struct {
		name    string
		changes []model.Change
		want    string
	}{
		{"the first copies of all boxes were removed", []model.Change{decide(1, 5, 9, 13), &model.Remove{Copies: []model.Accession{1, 5, 9, 13}}},
			"[[2 3 4] [6 7 8] [10 11 12] [14 15 16]]"},
		{"all was removed", []model.Change{decide(1, 5, 9, 13), &model.Remove{Copies: []model.Accession{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}}},
			"[[] [] [] []]"},
		{"boxes were emptied", []model.Change{decide(1, 5, 9, 13), &model.Stand{Rows: empty}},
			"[[1 2 3 4] [5 6 7 8] [9 10 11 12] [13 14 15 16]]"},
		{"boxes were emptied and nothing was decided", []model.Change{&model.Stand{Rows: empty}},
			"[[1 2 3 4 5 6] [7 8 9 10 11 12] [13 14 15 16] []]"},
		{"boxes that were decided on are gone", []model.Change{decide(1, 5, 9, 13), &model.SetShelf{Spec: short}},
			"[[1 2 3 4 5 6] [7 8 9 10 11 12] [13 14 15 16]]"},
		{"walls against the order, of which one can hold: box 4 begins at copy 1", []model.Change{decide(13, 9, 5, 1)},
			"[[] [] [] [1 2 3 4 5 6] [7 8 9 10 11 12] [13 14 15 16]]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, m := askAll(t, do(t, fourBoxes(t), c.changes...))
			if got := fmt.Sprint(contents(m.Plan)); got != c.want {
				t.Errorf("refiled to %s, want %s", got, c.want)
			}
		})
	}
}

// A copy that stands in a box and belongs on a hook is pulled, does not go back
// in, and takes its room until then.
func TestCornerStandsInABoxButBelongsOnAHook(t *testing.T) {
	c := fourBoxes(t)
	en := c.EntryOf(c.Copy(6))
	en.Home = model.HomeHook
	l, m := askAll(t, do(t, c, &model.Revise{Entry: en}))
	if len(m.Pull) != 1 || m.Pull[0].Item.Copy != 6 || !m.Pull[0].Leaves || m.Pull[0].Position != 2 || len(m.Insert) != 0 {
		t.Errorf("pull %+v and put in %+v, want only copy 6 to leave", m.Pull, m.Insert)
	}
	if h := l.Slot(6).Holding; h == nil || h.Load != model.MM(40) {
		t.Errorf("copy 6 stands in %+v, want a box with all four still counted", h)
	}
	if l.Item(6) != nil || l.Rank(6) != -1 {
		t.Error("copy 6 belongs on a hook and is in the row all the same")
	}
}

// A layout asked twice says the same, and asking alters nothing.
func TestAskingTwice(t *testing.T) {
	l := ordering.Arrange(do(t, fourBoxes(t), pile(10, 10)))
	if a, b := l.Refile(), l.Refile(); !reflect.DeepEqual(a, b) {
		t.Errorf("refiling is %+v, then %+v", a, b)
	}
	if a, b := l.Split(ordering.Fewest), l.Split(ordering.Fewest); !reflect.DeepEqual(a, b) {
		t.Errorf("splitting is %+v, then %+v", a, b)
	}
}
