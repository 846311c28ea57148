package exchange

import (
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// anyMeasured is a cupboard with measurements and paces, some dropped again.
var anyMeasured = rapid.Custom(func(rt *rapid.T) *model.Collection {
	c := anyCupboard.Draw(rt, "cupboard")
	for range rapid.IntRange(0, 4).Draw(rt, "measurements") {
		n := func(label string) int { return rapid.IntRange(0, 60).Draw(rt, label) }
		m := model.Measure{Box: "attic σ", Uncut: 1 + n("uncut"), Cut: n("cut"), Bulky: n("bulky"), Own: n("own"), OwnTaken: model.Length(n("own taken")),
			Cards: n("cards"), Card: model.Length(n("card")), Measured: model.Length(rapid.IntRange(1, 38_000).Draw(rt, "measured"))}
		c = after(rt, c, &model.TakeMeasure{Measure: m},
			&model.Stand{Took: &model.Took{Pulled: n("pulled"), Inserted: 1 + n("inserted"), Seconds: 1 + n("seconds")}})
	}
	if id := c.Counters().Measure; id > 0 && rapid.Bool().Draw(rt, "drop") {
		c = after(rt, c, &model.DropMeasure{ID: id})
	}
	return c
})

// Measurements and paces go out and come back like the rest, and so do their
// numbers.
func TestMeasurementsGoRound(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := anyMeasured.Draw(rt, "cupboard")
		lines := jsonlOf(rt, c)
		whole, err := ReadJSONL(strings.NewReader(lines))
		if err != nil {
			rt.Fatalf("%v, of\n%s", err, lines)
		}
		if got := jsonlOf(rt, whole); got != lines {
			rt.Fatalf("came back as\n%s\nit was\n%s", got, lines)
		}
		if whole.Counters() != c.Counters() {
			rt.Fatalf("the highest numbers came back as %+v, they were %+v", whole.Counters(), c.Counters())
		}
	})
}
