package lookup_test

import (
	"fmt"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/ordering/sample"
)

func BenchmarkFind(b *testing.B) {
	for _, n := range []int{500, 5_000, 60_000} {
		c := sample.Cupboard(n)
		x := lookup.New(c)
		for _, q := range []string{"6123", "wrap dress", "w", "wrpa drses"} {
			b.Run(fmt.Sprintf("copies=%d/%s", n, q), func(b *testing.B) {
				for b.Loop() {
					x.Find(q, 100)
				}
			})
		}
		b.Run(fmt.Sprintf("copies=%d/kin", n), func(b *testing.B) {
			p := c.Pattern(1)
			en := model.Entry{Publisher: c.Publisher(p.Publisher).Name, Number: p.Number, Name: p.Name}
			for b.Loop() {
				x.Kin(en)
			}
		})
		b.Run(fmt.Sprintf("copies=%d/new", n), func(b *testing.B) {
			for b.Loop() {
				lookup.New(c)
			}
		})
	}
}
