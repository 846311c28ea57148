package ordering_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"slices"
	"sort"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/filing"
)

// The scales: a household, a large private collection, and the largest public
// archive (checks.md, "Scale").
var scales = []int{500, 5_000, 60_000}

func eachScale(b *testing.B, run func(b *testing.B, c *model.Collection)) {
	for _, n := range scales {
		c := cupboard(b, n)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			b.ReportAllocs()
			run(b, c)
		})
	}
}

// cupboard is a collection of n copies by two large publishers, with a section
// each, and forty small ones; one in ten has no number, one in twenty is tagged
// into a section of its own. Most stand in boxes, in the order they came in.
func cupboard(b *testing.B, n int) *model.Collection {
	rnd := rand.New(rand.NewPCG(1, uint64(n)))
	shelf := bareShelf()
	shelf.Settings = model.DefaultSettings()
	shelf.Sections = []model.SectionSpec{
		{Title: "Harrow & Pell", Publishers: []string{"Harrow & Pell"}},
		{Title: "Quillon", Publishers: []string{"Quillon"}},
		{Title: "Inherited", Tags: []string{"old"}, NewBox: true},
		{Title: "Small houses", Publishers: []string{"*"}},
	}
	add := &model.Add{}
	for i := range n {
		en := model.Entry{Publisher: []string{"Harrow & Pell", "Quillon", "House " + fmt.Sprint(rnd.IntN(40))}[rnd.IntN(3)]}
		en.Name = []string{"Wrap dress", "Shift dress", "Cape", "Three-piece suit", "Apron"}[rnd.IntN(5)] + " " + fmt.Sprint(rnd.IntN(n))
		if rnd.IntN(10) > 0 {
			en.Number = []string{"", "K", "M-"}[rnd.IntN(3)] + fmt.Sprint(1+rnd.IntN(9999)) + []string{"", "", " H5", "A"}[rnd.IntN(4)]
		}
		if rnd.IntN(20) == 0 {
			en.Tags = []string{"old"}
		}
		en.Year, en.SizeRange = 1950+rnd.IntN(60), []string{"", "8-14", "10-16"}[rnd.IntN(3)]
		en.Cut = []model.Cut{model.Uncut, model.PartlyCut}[rnd.IntN(2)]
		if rnd.IntN(10) > 0 {
			if i%45 == 0 || len(shelf.Boxes) == 0 {
				shelf.Boxes = append(shelf.Boxes, model.BoxSpec{Name: fmt.Sprint(len(shelf.Boxes) + 1), Length: model.MM(380)})
			}
			en.Box = shelf.Boxes[len(shelf.Boxes)-1].Name
		}
		add.Entries = append(add.Entries, en)
	}
	c := model.NewCollection()
	for _, ch := range []model.Change{&model.SetShelf{Spec: shelf}, add} {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			b.Fatal(err)
		}
		c = next
	}
	return c
}

func BenchmarkArrange(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		for b.Loop() {
			ordering.Arrange(c)
		}
	})
}

// readyKeys makes keys of the same data by the same rules, beforehand: what
// BenchmarkSortKeys sorts is what BenchmarkArrange has to make and sort.
func readyKeys(c *model.Collection) [][]byte {
	var keys [][]byte
	for _, cp := range c.Copies().All() {
		p := c.Pattern(cp.Pattern)
		pub := c.Publisher(p.Publisher)
		section := byte(3)
		if len(p.Tags) > 0 {
			section = 2
		} else if i := slices.Index([]string{"Harrow & Pell", "Quillon"}, pub.Name); i >= 0 {
			section = byte(i)
		}
		key := binary.BigEndian.AppendUint32([]byte{0, section}, uint32(pub.ID))
		n := model.ParseNumber(p.Number, pub.Numbers)
		if n.Empty() {
			key = filing.AppendName(append(key, 1), p.Filing())
		} else {
			key = filing.AppendNumber(append(key, 0), n, pub.Numbers)
		}
		key = binary.BigEndian.AppendUint16(key, uint16(p.Year))
		key = filing.AppendSize(filing.AppendSize(key, n.Size), p.SizeRange)
		keys = append(keys, binary.BigEndian.AppendUint32(key, uint32(cp.Accession)))
	}
	return keys
}

// BenchmarkSortKeys is the yardstick for BenchmarkArrange: it sorts ready-made
// keys with sort.Slice and nothing more.
func BenchmarkSortKeys(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		ready := readyKeys(c)
		keys := make([][]byte, len(ready))
		for b.Loop() {
			copy(keys, ready)
			sort.Slice(keys, func(i, j int) bool { return bytes.Compare(keys[i], keys[j]) < 0 })
		}
	})
}

// BenchmarkNext follows one more copy, by a publisher that is there.
func BenchmarkNext(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		next, delta, err := c.Apply(&model.Add{Entries: []model.Entry{entry("Quillon", "4107", 5)}}, day)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			l.Next(model.Commit{Collection: next, Delta: delta})
		}
	})
}

// BenchmarkNextPublisher follows one more copy, by a publisher that is new.
func BenchmarkNextPublisher(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		next, delta, err := c.Apply(&model.Add{Entries: []model.Entry{entry("Ostrimel", "4107", 5)}}, day)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			l.Next(model.Commit{Collection: next, Delta: delta})
		}
	})
}

func BenchmarkSplit(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		for b.Loop() {
			l.Split(ordering.Fewest)
		}
	})
}

// BenchmarkSplitUnlikeBoxes splits into boxes of two lengths, where it pays to
// look at leaving some empty.
func BenchmarkSplitUnlikeBoxes(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		spec := c.ShelfSpec()
		for i := range spec.Boxes {
			spec.Boxes[i].Length += model.MM(float64(100 * (i % 2)))
		}
		next, _, err := c.Apply(&model.SetShelf{Spec: spec}, day)
		if err != nil {
			b.Fatal(err)
		}
		l := ordering.Arrange(next)
		for b.Loop() {
			l.Split(ordering.Fewest)
		}
	})
}

func BenchmarkGapFor(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		for b.Loop() {
			l.GapFor("Quillon", &model.Pattern{Number: "4107"})
		}
	})
}

func BenchmarkSlot(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		for b.Loop() {
			l.Slot(c.Counters().Copy / 2)
		}
	})
}

// The yardstick must sort what Arrange sorts: the same row must come out.
func TestReadyKeysFileAsArrangeDoes(t *testing.T) {
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: func() model.ShelfSpec {
		s := bareShelf()
		s.Sections = []model.SectionSpec{{Title: "H", Publishers: []string{"Harrow & Pell"}}, {Title: "Q", Publishers: []string{"Quillon"}}, {Title: "Old", Tags: []string{"old"}}}
		return s
	}()}, &model.Add{Entries: []model.Entry{
		entry("Quillon", "12", 1), entry("Harrow & Pell", "7 H5", 1), entry("Ostrimel", "3", 1), {Publisher: "Quillon", Name: "Cape"},
		{Publisher: "Quillon", Number: "9", Tags: []string{"old"}}, entry("Quillon", "9", 1), entry("Harrow & Pell", "7", 1),
	}})
	keys := readyKeys(c)
	sort.Slice(keys, func(i, j int) bool { return bytes.Compare(keys[i], keys[j]) < 0 })
	var got []string
	for _, k := range keys {
		got = append(got, fmt.Sprint(binary.BigEndian.Uint32(k[len(k)-4:])))
	}
	var want []string
	for _, it := range ordering.Arrange(c).Row() {
		want = append(want, fmt.Sprint(it.Copy))
	}
	if !slices.Equal(got, want) {
		t.Errorf("keys file %s, Arrange %s", strings.Join(got, " "), strings.Join(want, " "))
	}
}

// BenchmarkCards deals the cards of the row, range cards and all.
func BenchmarkCards(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		for b.Loop() {
			if l.DealRow() < 1 {
				b.Fatal("no cards")
			}
		}
	})
}

// BenchmarkStandingCards deals the cards in the boxes as they stand.
func BenchmarkStandingCards(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		for b.Loop() {
			if l.DealBoxes() < 1 {
				b.Fatal("no cards")
			}
		}
	})
}

// BenchmarkEntry follows an entry onto the pile and shows where it would stand.
func BenchmarkEntry(b *testing.B) {
	eachScale(b, func(b *testing.B, c *model.Collection) {
		l := ordering.Arrange(c)
		l.GapFor("Quillon", &model.Pattern{Number: "4107"})
		next, delta, err := c.Apply(&model.Add{Entries: []model.Entry{entry("Quillon", "4107", 5)}}, day)
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			l.Next(model.Commit{Collection: next, Delta: delta}).GapFor("Quillon", &model.Pattern{Number: "4108"})
		}
	})
}
