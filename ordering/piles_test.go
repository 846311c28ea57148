package ordering_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// unsorted is a cupboard with one long box and copies on the pile, so many of each
// number.
func unsorted(t failer, ofEach []int) *ordering.Layout {
	ch := &model.Add{}
	for i, n := range ofEach {
		for range n {
			ch.Entries = append(ch.Entries, entry("Quillon", fmt.Sprint(1000+i), 1))
		}
	}
	return ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: bareShelf(90_000)}, ch))
}

func ones(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = 1
	}
	return out
}

func TestPilesAreAsManyAsATableTakes(t *testing.T) {
	for _, c := range []struct{ envelopes, piles int }{
		{0, 0}, {1, 0}, {ordering.PileFrom, 0}, {ordering.PileFrom + 1, 6}, {64, 8}, {100, 10}, {144, 12}, {5000, 12},
	} {
		l := unsorted(t, ones(c.envelopes))
		m := l.Refile()
		piles := l.Piles(&m)
		if len(piles) != c.piles {
			t.Errorf("%d envelopes: %d piles, want %d", c.envelopes, len(piles), c.piles)
			continue
		}
		sum, least, most := 0, c.envelopes, 0
		for _, p := range piles {
			sum, least, most = sum+p.Count, min(least, p.Count), max(most, p.Count)
			if got := m.Insert[sum-1].Item; got != p.UpTo {
				t.Errorf("%d envelopes: a pile ends at copy %d, its text says copy %d", c.envelopes, got.Copy, p.UpTo.Copy)
			}
		}
		if len(piles) > 0 && (sum != c.envelopes || most-least > 1) {
			t.Errorf("%d envelopes: the piles hold %d, the smallest %d, the largest %d", c.envelopes, sum, least, most)
		}
	}
}

// Counted by hand: twenty of each publisher, and ten of each that are inherited.
func TestPilesAreCutByWhatIsPrinted(t *testing.T) {
	ch := &model.Add{}
	for i := range 60 {
		en := entry([]string{"Harrow & Pell", "Quillon"}[i%2], fmt.Sprint(4000+i), 1)
		if i >= 40 {
			en.Tags = []string{"old"}
		}
		ch.Entries = append(ch.Entries, en)
	}
	spec := bareShelf(90_000)
	spec.Sections = []model.SectionSpec{{Title: "Harrow & Pell", Publishers: []string{"Harrow & Pell"}}, {Title: "Inherited", Tags: []string{"old"}}}
	l := ordering.Arrange(do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, ch))
	m := l.Refile()
	var got []string
	for _, p := range l.Piles(&m) {
		got = append(got, fmt.Sprintf("%d up to %s", p.Count, l.UpTo(p)))
	}
	want := "[7 up to Harrow & Pell 4012 7 up to Harrow & Pell 4026 7 up to Harrow & Pell 4040 (Inherited) 7 up to Harrow & Pell 4054 (Inherited)" +
		" 8 up to Quillon 4051 (Inherited) 8 up to Quillon 4007 (All others) 8 up to Quillon 4023 (All others) 8 up to Quillon 4039 (All others)]"
	if fmt.Sprint(got) != want {
		t.Errorf("the piles are\n%v\nwant\n%v", got, want)
	}
}

// Piles are as equal as can be without cutting a number apart: no other way of
// cutting has a smaller sum of squares.
func TestPilesAreEven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ofEach := rapid.SliceOfN(rapid.IntRange(1, 20), 3, 12).Draw(t, "of each number")
		l := unsorted(t, ofEach)
		m := l.Refile()
		piles := l.Piles(&m)
		total := 0
		for _, n := range ofEach {
			total += n
		}
		if total <= ordering.PileFrom {
			if piles != nil {
				t.Fatalf("%d envelopes are dealt into %d piles", total, len(piles))
			}
			return
		}
		got, ends := 0, map[int]bool{0: true}
		for i, sum := 0, 0; i < len(ofEach); i++ {
			sum += ofEach[i]
			ends[sum] = true
		}
		sum := 0
		for _, p := range piles {
			got += p.Count * p.Count
			if sum += p.Count; !ends[sum] {
				t.Fatalf("a pile ends behind %d envelopes, in the middle of a number; of each there are %v", sum, ofEach)
			}
		}
		if want := leastSquares(ofEach, len(piles)); sum != total || got != want {
			t.Fatalf("%v in %d piles: %d in them, squares %d; the least is %d", ofEach, len(piles), sum, got, want)
		}
	})
}

// leastSquares tries every way to cut a row of groups into k piles.
func leastSquares(groups []int, k int) int {
	if k == 1 {
		sum := 0
		for _, n := range groups {
			sum += n
		}
		return sum * sum
	}
	best := -1
	sum := 0
	for i := 0; i+k <= len(groups); i++ {
		sum += groups[i]
		if s := sum*sum + leastSquares(groups[i+1:], k-1); best < 0 || s < best {
			best = s
		}
	}
	return best
}

func BenchmarkPiles(b *testing.B) {
	for _, n := range scales {
		l := unsorted(b, ones(n))
		m := l.Refile()
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for b.Loop() {
				l.Piles(&m)
			}
		})
	}
}
