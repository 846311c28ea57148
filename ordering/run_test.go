package ordering

import (
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
)

// A guess is to save looking, whatever it is, and not to change what is found.
func TestAGuessChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 120).Draw(t, "things")
		thick := rapid.SampledFrom([][]int{{1}, {0, 1, 2}, {1, 2, 3, 4}, {1, 1, 1, 30}, {0, 0, 0, 5, 90}}).Draw(t, "thick")
		takes := rapid.SliceOfN(rapid.SampledFrom(thick), n, n).Draw(t, "takes")
		cards := rapid.SliceOfN(rapid.IntRange(0, 1), n, n).Draw(t, "cards")
		opens := rapid.SliceOfN(rapid.IntRange(0, 30), n, n).Draw(t, "opens")
		before := model.Length(1)
		r := newRun(n, 60, func(i int) (head, inside model.Length) {
			inside = model.Length(takes[i])
			before = inside + min(before, model.Length(cards[i])) // what is left out in front takes as much
			return before, inside
		}, func(i int) bool { return opens[i] == 0 })
		size, guess := model.Length(rapid.IntRange(0, 60).Draw(t, "size")), rapid.IntRange(-5, n+5).Draw(t, "guess")
		for place := range n + 1 {
			if got, want := r.near(size, place, guess), r.to(size, place); got != want {
				t.Fatalf("from %d a holder of %d gets to %d, with the guess %d to %d", place, size, want, guess, got)
			}
			if got, want := r.fromNear(size, place, guess), r.from(size, place); got != want {
				t.Fatalf("to %d a holder of %d begins at %d, with the guess %d at %d", place, size, want, guess, got)
			}
		}
	})
}
