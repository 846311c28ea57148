package split

import (
	"testing"

	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// BenchmarkWork is what is worked out aside, at 60,000 copies.
func BenchmarkWork(b *testing.B) {
	l := ordering.Arrange(sample.Cupboard(60_000))
	q := whatIf{}.length(l.Collection(), l.Collection().Shelf().Boxes[0].Name, l.Collection().Shelf().Boxes[0].Length*2)
	for _, r := range []struct {
		name string
		request
	}{
		{"fewest", request{goal: ordering.Fewest}}, {"even", request{goal: ordering.Even}}, {"least moved", request{goal: ordering.LeastMoved}},
		{"what if", request{goal: ordering.Fewest, what: q}}, {"answers", request{way: ordering.PushOn}},
	} {
		b.Run(r.name, func(b *testing.B) {
			for b.Loop() {
				work(l, r.request)
			}
		})
	}
}
