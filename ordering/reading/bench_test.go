package reading_test

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/ordering/sample"
)

// The scales: a household, a large private collection, and the largest public
// archive (checks.md, "Scale").
var scales = []int{500, 5_000, 60_000}

// aBox is how many envelopes a well filled box of the demo holds, and more.
const aBox = 150

// readABox fills a box of a cupboard and reads it but for its last envelope.
func readABox(b *testing.B, n int) (r *reading.Reader, last string) {
	c := sample.Cupboard(n)
	box, full := c.Shelf().Boxes[0], &model.Stand{}
	row := model.NamedRow{Box: box.Name}
	for _, it := range ordering.Arrange(c).Row()[:aBox] {
		row.Copies = append(row.Copies, it.Copy)
	}
	full.Rows = append(full.Rows, row)
	c = do(b, c, full)
	r = reading.New(ordering.Arrange(c), box)
	for _, a := range row.Copies[:aBox-1] {
		r.Read(fmt.Sprintf("#%d", a))
	}
	return r, c.PatternOf(row.Copies[aBox-1]).Heading()
}

// BenchmarkRead is the last of 150 envelopes being read by what is on it.
func BenchmarkRead(b *testing.B) {
	for _, n := range scales {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r, last := readABox(b, n)
			for b.Loop() {
				r.Read(last)
				r.Unread()
			}
		})
	}
}

// BenchmarkReadStranger is one that is recorded nowhere, for which the cupboard is
// gone through.
func BenchmarkReadStranger(b *testing.B) {
	for _, n := range scales {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			r, _ := readABox(b, n)
			for b.Loop() {
				r.Read("Zz Umbrow 77")
				r.Unread()
			}
		})
	}
}

// BenchmarkFirstStranger is the same, the first that is read in a box.
func BenchmarkFirstStranger(b *testing.B) {
	for _, n := range scales {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			c := sample.Cupboard(n)
			l := ordering.Arrange(c)
			for b.Loop() {
				reading.New(l, c.Shelf().Boxes[0]).Read("Zz Umbrow 77")
			}
		})
	}
}
