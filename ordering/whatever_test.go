package ordering_test

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	drawn "example.org/tuckrow/model/alike"
	"example.org/tuckrow/ordering"
)

// happened makes changes of every kind, some of them undone, and has each followed.
func happened(t *rapid.T, follow func(what string, commit model.Commit)) {
	c := model.NewCollection()
	step := func(ch model.Change) {
		next, delta, err := c.Apply(ch, day)
		if err != nil {
			return // refused: there is nothing to follow
		}
		follow(ch.Title(c), model.Commit{Collection: next, Delta: delta})
		if c = next; rapid.IntRange(0, 3).Draw(t, "undone") == 3 {
			c = next.ApplyDelta(delta.Inverse())
			follow("undo", model.Commit{Collection: c, Delta: delta.Inverse()})
		}
	}
	step(drawn.Furniture())
	for range 3 {
		step(&model.Add{Entries: []model.Entry{drawn.Entry(t, c)}})
	}
	for range rapid.IntRange(1, 25).Draw(t, "changes") {
		step(drawn.Change(t, c))
	}
}

// Whatever happens to a cupboard: the layout that follows says of everything what
// one made afresh does.
func TestNextAfterWhateverHappens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := ordering.Arrange(model.NewCollection())
		happened(t, func(what string, commit model.Commit) {
			l = l.Next(commit)
			fresh := ordering.Arrange(commit.Collection)
			same(t, what, l, fresh)
			for i, of := range [][2]any{
				{l.Binders(), fresh.Binders()}, {l.Hooks(), fresh.Hooks()}, {l.Oversize(), fresh.Oversize()},
				{l.Refile(), fresh.Refile()}, {l.Piles(ptr(l.Refile())), fresh.Piles(ptr(fresh.Refile()))}, {l.Answers(), fresh.Answers()},
				{l.Found(), fresh.Found()}, {l.Outstanding(), fresh.Outstanding()}, {l.ByNumber(), fresh.ByNumber()}, {l.ToCarry(), fresh.ToCarry()},
			} {
				if got, want := shown(t, of[0]), shown(t, of[1]); got != want {
					t.Fatalf("%s: %d: there is %s, afresh %s", what, i, got, want)
				}
			}
			if moves := l.Refile(); len(moves.Pull)+len(moves.Insert) > 0 {
				for _, cp := range commit.Collection.Copies().All() {
					if got, want := l.GapFor("Quillon", commit.Collection.Pattern(cp.Pattern)), fresh.GapFor("Quillon", commit.Collection.Pattern(cp.Pattern)); shown(t, got) != shown(t, want) {
						t.Fatalf("%s: gap of copy %d %v, afresh %v", what, cp.Accession, got, want)
					}
				}
			}
		})
	})
}

func ptr[T any](v T) *T { return &v }
