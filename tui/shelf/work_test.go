package shelf

import (
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// BenchmarkAside is what is worked out aside, of 60,000 copies, when nothing
// of it is known yet.
func BenchmarkAside(b *testing.B) {
	c := sample.Cupboard(60_000)
	box := c.Shelf().Boxes[0].ID
	for name, j := range map[string]job{"cupboard": {sums: true, box: box}, "effect": {change: newDraft(c).change()}, "stranger": {read: &reader{box: box}, texts: []string{"Zz Umbrow 77"}}} {
		b.Run(name, func(b *testing.B) {
			for range b.N {
				b.StopTimer()
				j.l = ordering.Arrange(c)
				if j.read != nil {
					j.read = &reader{box: box}
				}
				b.StartTimer()
				j.do()
			}
		})
	}
}

// A reader that is told of readings in any order of taking and taking back says
// what a new one says.
func TestReaderFollows(t *testing.T) {
	c := sample.Cupboard(200)
	l, box := ordering.Arrange(c), c.Shelf().Boxes[0].ID
	r := &reader{box: box}
	for _, texts := range [][]string{{"#1"}, {"#1", "#2"}, {"#1", "-"}, {}, {"Zz 7", "#2", "#2"}, {"#2"}, {"#2", "#9", "#3"}} {
		got, want := r.follow(l, texts), (&reader{box: box}).follow(l, texts)
		if len(got.Findings) != len(texts) || len(got.Missing) != len(want.Missing) {
			t.Fatalf("%q: %d findings, %d missing, a new reader misses %d", texts, len(got.Findings), len(got.Missing), len(want.Missing))
		}
		for i := range want.Findings {
			if got.Findings[i].Kind != want.Findings[i].Kind || got.Findings[i].Copy != want.Findings[i].Copy {
				t.Errorf("%q: %+v, a new reader says %+v", texts, got.Findings[i], want.Findings[i])
			}
		}
	}
	if (&reader{box: model.BoxID(9999)}).follow(l, []string{"#1"}) != nil {
		t.Error("a box that is not there is read")
	}
}
