package ordering_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// With many boxes to spare an even split does not look at all ways alike. What
// follows compares it with a search that does, by a plain table: what is best for so
// many things in the first so many boxes, of which so many are in use.

// many is a row and boxes in whole millimetres.
type many struct {
	sum   []int // of what stands in front of each thing
	sizes []int
	twin  []bool // it and what is in front are of one number
}

// wholeShare is a whole number of times all the lengths that are drawn.
const wholeShare = 1200

// drawMany draws things that go into some of many boxes of few lengths, in turn or
// at random, and of each number up to three size ranges.
func drawMany(t *testing.T, r *rand.Rand) (*model.Collection, *many) {
	spec, m, room := bareShelf(), &many{sum: []int{0}}, 0
	lengths := []int{40, 48, 50, 60, 75}
	r.Shuffle(len(lengths), func(i, j int) { lengths[i], lengths[j] = lengths[j], lengths[i] })
	lengths = lengths[:2+r.IntN(2)]
	turn := r.IntN(2) == 0
	for i := range 30 + r.IntN(30) {
		mm := lengths[i%len(lengths)]
		if !turn {
			mm = lengths[r.IntN(len(lengths))]
		}
		room, m.sizes = room+mm, append(m.sizes, mm)
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: fmt.Sprint(i + 1), Length: model.MM(float64(mm))})
	}
	add, number, size := &model.Add{}, 1000, 0
	for room = room * (40 + r.IntN(45)) / 100; room > 0; {
		mm := 3 + r.IntN(10)
		if size++; size > 3 || r.IntN(3) > 0 {
			number, size = number+1, 1
		}
		room, m.twin = room-mm, append(m.twin, size > 1)
		m.sum = append(m.sum, m.sum[len(m.sum)-1]+mm)
		en := entry("Quillon", fmt.Sprint(number), float64(mm))
		en.SizeRange = fmt.Sprint(size)
		add.Entries = append(add.Entries, en)
	}
	m.twin = append(m.twin, false)
	return do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, add), m
}

// best is the least, by how many boxes are in use, of what a way of putting boxes
// together makes: of what is made so far, with a box that holds a share and parts
// twins in front or not.
func (m *many) best(join func(so, share, parted int) int) []int {
	n := len(m.sum) - 1
	table := make([][]int, len(m.sizes)+1)
	for used := range table {
		table[used] = make([]int, n+1)
		for i := range table[used] {
			table[used][i] = math.MaxInt
		}
	}
	table[0][0] = 0
	for _, size := range m.sizes {
		for used := len(m.sizes); used > 0; used-- {
			for to := n; to > 0; to-- {
				for from := to - 1; from >= 0 && m.sum[to]-m.sum[from] <= size; from-- {
					if so := table[used-1][from]; so < math.MaxInt {
						table[used][to] = min(table[used][to], join(so, (m.sum[to]-m.sum[from])*wholeShare/size, b2i(m.twin[from])))
					}
				}
			}
		}
	}
	out := make([]int, len(table))
	for used := range table {
		out[used] = table[used][n]
	}
	return out
}

func TestEvenSplitIntoManyBoxesIsTheBest(t *testing.T) {
	for seed := range uint64(30) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			c, m := drawMany(t, rand.New(rand.NewPCG(seed, 1)))
			used, fullest, squares := 0, 0, 0
			p := ordering.Arrange(c).Split(ordering.Even)
			from := 0
			for i, to := range endsOf(p) {
				if to > from {
					share := (m.sum[to] - m.sum[from]) * wholeShare / m.sizes[i]
					used, fullest, squares = used+1, max(fullest, share), squares+share*share*1000+b2i(m.twin[from])
				}
				from = to
			}
			least := m.best(func(so, share, _ int) int { return max(so, share) })
			for fewer := range used {
				if least[fewer] < math.MaxInt {
					t.Fatalf("%d boxes are in use, %d would do", used, fewer)
				}
			}
			if fullest != least[used] {
				t.Fatalf("the fullest of %d boxes of %v is full to %d, %d would do", used, m.sizes, fullest, least[used])
			}
			even := m.best(func(so, share, parted int) int {
				if share > fullest {
					return math.MaxInt
				}
				return so + share*share*1000 + parted
			})
			if squares != even[used] {
				t.Fatalf("squares and twins parted come to %d, the least is %d", squares, even[used])
			}
		})
	}
}
