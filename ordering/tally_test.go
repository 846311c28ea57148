package ordering

import (
	"slices"
	"testing"

	"example.org/tuckrow/model"
	"pgregory.net/rapid"
)

// drawSplit draws a row by its measures alone: many things that stand beside
// their like, some that only the longest holders take and some that none does,
// some that begin a box, some holders that keep a label.
func drawSplit(t *rapid.T) *split {
	n, alike := rapid.IntRange(0, 25).Draw(t, "things"), rapid.IntRange(1, 9).Draw(t, "alike in ten")
	s := &split{twin: make([]bool, n+1)}
	for range rapid.IntRange(1, 6).Draw(t, "holders") {
		s.holders = append(s.holders, holder{size: model.Length(rapid.SampledFrom([]int{3, 4, 5, 6, 8, 13, 20}).Draw(t, "size"))})
	}
	most := slices.MaxFunc(s.holders, func(a, b holder) int { return int(a.size - b.size) }).size
	head, opens, thick := make([]model.Length, n), make([]bool, n), []int{0, 1, 1, 2, 3, 4, 12, 22}
	if rapid.Bool().Draw(t, "thin") {
		thick = thick[:5] // all goes into every holder
	}
	for i := range n {
		head[i] = model.Length(rapid.SampledFrom(thick).Draw(t, "thick"))
		opens[i] = rapid.IntRange(0, 19).Draw(t, "opens") == 0
		s.twin[i] = i > 0 && !opens[i] && rapid.IntRange(0, 9).Draw(t, "twin") < alike
	}
	s.run = newRun(n, most, func(i int) (model.Length, model.Length) { return head[i], head[i] }, func(i int) bool { return opens[i] })
	s.sizes.usable, s.together = most, s.run.together(s.twin)
	for t0 := range s.holders {
		h := &s.holders[t0]
		if rapid.IntRange(0, 7).Draw(t, "keeps a label") == 0 {
			for range 2 {
				from := rapid.IntRange(0, n).Draw(t, "from")
				if to := rapid.IntRange(from, n).Draw(t, "to"); to > from && s.fits(h.size, from, to) {
					h.pieces = append(h.pieces, span{from, to})
				}
			}
		}
	}
	return s
}

// A tally gives for each wall at each place what trying every place gives, as
// far as no more twins are parted than it allows for, and the same walls.
func TestTallyIsWhatTryingEveryPlaceGives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for range 20 { // the rarest cases come up once in a thousand rows
			checkTally(t, drawSplit(t))
		}
	})
}

func checkTally(t *rapid.T, s *split) {
	s.addFresh()
	spans := make([][]span, len(s.holders)+1)
	for i := range spans {
		spans[i] = []span{{0, s.count()}}
		if cut := rapid.IntRange(0, s.count()).Draw(t, "cut"); i > 0 && i < len(s.holders) && cut > 1 {
			spans[i] = []span{{0, cut - 2}, {cut, s.count()}}
		}
	}
	spans[len(s.holders)] = []span{{s.count(), s.count()}}
	w := s.walls
	w.begins = func(int, int) cost { return cost{1, 0} }
	w.ends = func(_, at int) cost { return cost{0, s.parts(at)} }
	w.free(spans)
	want := w.solve()
	way := want.less(never)
	if !way {
		want.first = int64(len(s.holders))
	}
	y := s.tally(spans, int(want.first))
	if y == nil {
		if way {
			t.Fatalf("no way was found; by every place the row costs %v", want)
		}
		return
	}
	for i, n := range w.nodes {
		for place := range s.count() + 1 {
			is := never
			if here, at := n.find(place); here != nil && here.rest[at].less(never) {
				is = here.rest[at]
			}
			if got := costAt(y.at[i], place); got != is && is.second <= y.budget {
				t.Fatalf("from wall %d at %d the rest costs %v, by every place %v", i, place, got, is)
			}
		}
	}
	if !slices.Equal(y.walk(), w.walk()) {
		t.Fatalf("walls %v, by every place %v", y.walk(), w.walk())
	}
}

// What is found without looking at what parts twins is what a tally finds; and
// it is found wherever nothing stands in its way.
func TestApartIsWhatATallyGives(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		for range 20 {
			s := drawSplit(t)
			thickest, free := model.Length(0), !s.locked()
			for i := range s.count() {
				thickest = max(thickest, s.load(i, i+1))
			}
			for _, h := range s.holders {
				free = free && h.size >= thickest
			}
			s.framed(func(f *frame) bool {
				ends := s.apart(f)
				f = f.back(&s.walls, nil)
				y := s.tally(f.spans(), f.used)
				if y == nil {
					if ends != nil {
						t.Fatalf("walls %v, where a tally finds no way", ends)
					}
					return false
				}
				none := costAt(y.at[0], 0).second == 0
				switch {
				case ends != nil && !slices.Equal(ends, y.walk()):
					t.Fatalf("walls %v, by a tally %v", ends, y.walk())
				case ends == nil && none && free && len(y.chains) == 0:
					t.Fatalf("no walls, by a tally %v", y.walk())
				}
				found += b2i(ends != nil)
				return true
			})
		}
	})
	if found == 0 {
		t.Error("in no row was a split found that parts no twins")
	}
}
