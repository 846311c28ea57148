//go:build unix

package ordering_test

import (
	"fmt"
	"syscall"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
)

// drawer is as long as it takes for 60,000 copies to stand in 400.
const drawer = 1500 * model.Millimetre

// BenchmarkFill is the yardstick for the goals: one pass that fills box after
// box as what stands and what waits is pushed on.
func BenchmarkFill(b *testing.B) {
	benchCupboards(b, func(*model.ShelfSpec) {}, func(l *ordering.Layout) { l.Target() })
}

func BenchmarkGoals(b *testing.B) { benchGoals(b, func(*model.ShelfSpec) {}) }

// BenchmarkGoalsUnlikeBoxes splits into boxes of two lengths in turn, where it
// pays to look at leaving some empty; BenchmarkGoalsSpilling with no free room
// but at the end and one in a hundred on the pile, so that boxes spill all along.
func BenchmarkGoalsUnlikeBoxes(b *testing.B) {
	benchGoals(b, func(s *model.ShelfSpec) {
		for i := range s.Boxes {
			s.Boxes[i].Length += drawer / 4 * model.Length(i%2)
		}
	})
}

func BenchmarkGoalsSpilling(b *testing.B) {
	benchGoals(b, func(s *model.ShelfSpec) {
		for i := range s.Boxes {
			s.Boxes[i].Length -= drawer / 100
		}
	})
}

// BenchmarkRefile refiles to what stands and waits, pushed on.
func BenchmarkRefile(b *testing.B) {
	benchCupboards(b, func(*model.ShelfSpec) {}, func(l *ordering.Layout) { l.Refile() })
}

// BenchmarkGoalsFewInABox has 400 boxes of two lengths for 6,000 copies as well, a
// tenth as long: what grows with the copies alone.
func BenchmarkGoalsFewInABox(b *testing.B) {
	const n, length = 6_000, drawer / 10
	for _, g := range ordering.Goals() {
		b.Run(string(g), func(b *testing.B) {
			benchCupboard(b, n, length, func(s *model.ShelfSpec) {
				for i := range s.Boxes {
					s.Boxes[i].Length += length / 4 * model.Length(i%2)
				}
			}, func(l *ordering.Layout) { l.Split(g) })
		})
	}
}

func benchGoals(b *testing.B, alter func(*model.ShelfSpec)) {
	for _, g := range ordering.Goals() {
		b.Run(string(g), func(b *testing.B) { benchCupboards(b, alter, func(l *ordering.Layout) { l.Split(g) }) })
	}
}

// BenchmarkEvenOver spreads the row over one box in ten more than must be, and
// over twice as many.
func BenchmarkEvenOver(b *testing.B) {
	for _, more := range []int{10, 100} {
		b.Run(fmt.Sprint(more), func(b *testing.B) {
			benchCupboards(b, func(*model.ShelfSpec) {}, func(l *ordering.Layout) {
				fewest := len(l.Collection().Shelf().Boxes)
				l.SplitWith(ordering.Even, ordering.Options{Boxes: fewest + fewest*more/100})
			})
		})
	}
}

func benchCupboards(b *testing.B, alter func(*model.ShelfSpec), work func(*ordering.Layout)) {
	for _, n := range []int{6_000, 60_000} {
		benchCupboard(b, n, drawer, alter, work)
	}
}

func benchCupboard(b *testing.B, n int, length model.Length, alter func(*model.ShelfSpec), work func(*ordering.Layout)) {
	c := sample.CupboardOf(n, length)
	spec := c.ShelfSpec()
	alter(&spec)
	l := ordering.Arrange(do(b, c, &model.SetShelf{Spec: spec}))
	work(l) // what is kept with a layout is worked out once
	b.Run(fmt.Sprint(n), func(b *testing.B) {
		before := cpu(b)
		for b.Loop() {
			work(l)
		}
		b.ReportMetric(float64(cpu(b)-before)/float64(b.N), "cpu-ns/op")
	})
}

// cpu is the processor time that the program has used so far, in nanoseconds:
// unlike time by the clock it does not count what others do on the machine.
func cpu(b *testing.B) int64 {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return u.Utime.Nano() + u.Stime.Nano()
}
