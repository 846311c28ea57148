package ordering_test

import (
	"cmp"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// What follows tries every split of a small row and weighs each by the
// definitions, straight from the collection and in fractions.

// weighed is a split with all that goals look at.
type weighed struct {
	ends          []int // where each box ends, in the row
	lost          []int // locked boxes that lose their label
	fresh, used   int
	twins         int
	fullest, sum  *big.Rat // largest share, and the sum of the squares
	moved, labels int
}

// weigher weighs splits of one row.
type weigher struct {
	c      *model.Collection
	l      *ordering.Layout
	row    []model.Accession
	fresh  model.Box
	most   model.Length
	growth []*big.Rat // what is expected at each item
	labels []string   // of boxes as they stand
}

func newWeigher(c *model.Collection, months int) *weigher {
	w := &weigher{c: c, l: ordering.Arrange(c)}
	w.row = accessions(w.l.Row())
	w.fresh, w.most = newBox(c, w.row)
	w.fresh.ID = 0 // it is none of those that are there
	w.growth = expectedGrowth(c, w.row, months)
	for _, b := range c.Shelf().Boxes {
		w.labels = append(w.labels, labelOf(c, c.Row(b.ID)))
	}
	return w
}

// labelOf says anew what stands on a box: publisher and number, or name, of the
// first and the last.
func labelOf(c *model.Collection, in []model.Accession) string {
	if len(in) == 0 {
		return "empty"
	}
	p, q := c.PatternOf(in[0]), c.PatternOf(in[len(in)-1])
	from, to := c.Publisher(p.Publisher).Name+" "+cmp.Or(p.Number, p.Name), cmp.Or(q.Number, q.Name)
	if p.ID == q.ID {
		return from
	}
	if p.Publisher != q.Publisher {
		to = c.Publisher(q.Publisher).Name + " " + to
	}
	return from + " to " + to
}

// expectedGrowth is, by the definition: what a section gained in the year before
// the newest arrival, a month; times months, times the mean thickness; spread
// over the copies of the section. To whole hundredths of a millimetre: the
// section's, and each stretch of it from its front, rounded down.
func expectedGrowth(c *model.Collection, row []model.Accession, months int) []*big.Rat {
	newest := model.Date("")
	for _, a := range row {
		newest = max(newest, c.Copy(a).Added)
	}
	year := time.Time{}
	if day, err := time.Parse(time.DateOnly, string(newest)); err == nil {
		year = day.AddDate(-1, 0, 0)
	}
	out := make([]*big.Rat, len(row))
	for i, a := range row {
		gained, n, before, thick := int64(0), int64(0), int64(0), int64(0)
		for j, b := range row {
			if sectionTitle(c, a) != sectionTitle(c, b) {
				continue
			}
			n++
			thick += int64(c.Shelf().Takes(c.Copy(b)))
			if j < i {
				before++
			}
			if day, err := time.Parse(time.DateOnly, string(c.Copy(b).Added)); err == nil && day.After(year) {
				gained++
			}
		}
		all := gained * int64(months) * thick / (12 * n)
		out[i] = big.NewRat(all*(before+1)/n-all*before/n, 1)
	}
	return out
}

// twins tells two copies of one pattern, and one number in two size ranges.
func twins(c *model.Collection, a, b model.Accession) bool {
	p, q := c.PatternOf(a), c.PatternOf(b)
	if p.ID == q.ID {
		return true
	}
	scheme := c.Publisher(p.Publisher).Numbers
	m, n := model.ParseNumber(p.Number, scheme), model.ParseNumber(q.Number, scheme)
	return p.Publisher == q.Publisher && sectionTitle(c, a) == sectionTitle(c, b) && p.Number != "" && q.Number != "" &&
		m.Key() == n.Key() && (m.Size != n.Size || p.SizeRange != q.SizeRange)
}

// weigh judges where boxes end.
func (w *weigher) weigh(ends []int) weighed {
	boxes, set := w.c.Shelf().Boxes, w.c.Shelf().Settings
	x := weighed{ends: slices.Clone(ends), fullest: new(big.Rat), sum: new(big.Rat)}
	from := 0
	for i, to := range ends {
		in, box := w.row[from:to], w.fresh
		if i < len(boxes) {
			box = boxes[i]
			if box.Locked && w.labels[i] != "empty" && labelOf(w.c, in) != w.labels[i] {
				x.lost = append(x.lost, i)
			}
			x.labels += b2i(labelOf(w.c, in) != w.labels[i])
		} else {
			x.fresh, x.labels = x.fresh+1, x.labels+1
		}
		for _, a := range in {
			if s, ok := w.c.Standing(a); ok && s.Box != box.ID {
				x.moved++
			}
		}
		if to > from {
			x.used++
			x.twins += b2i(from > 0 && twins(w.c, w.row[from-1], w.row[from]))
			w.share(&x, in, from, box.Usable(set))
		}
		from = to
	}
	return x
}

// share adds how full a box is, unless no box takes what is in it.
func (w *weigher) share(x *weighed, in []model.Accession, from int, usable model.Length) {
	l := load(w.c, in)
	if len(in) == 1 && l > w.most || l == 0 && usable == 0 {
		return
	}
	heavy := new(big.Rat).SetInt64(int64(l))
	for i := range in {
		heavy.Add(heavy, w.growth[from+i])
	}
	if usable == 0 {
		usable = 1 // no box of no room holds anything but what no box takes
	}
	share := heavy.Quo(heavy, new(big.Rat).SetInt64(int64(usable)))
	if share.Cmp(x.fullest) > 0 {
		x.fullest.Set(share)
	}
	x.sum.Add(x.sum, new(big.Rat).Mul(share, share))
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// all goes through every split: any box may stay empty, a new one never does,
// and what no box takes may go alone into any. The split whose first wall is
// furthest along the row comes first.
func (w *weigher) all(visit func(weighed)) {
	boxes, set := w.c.Shelf().Boxes, w.c.Shelf().Settings
	var lay func(ends []int, at int)
	lay = func(ends []int, at int) {
		if len(ends) >= len(boxes) && at == len(w.row) {
			visit(w.weigh(ends))
			return
		}
		box, shelved := w.fresh, len(ends) < len(boxes)
		if shelved {
			box = boxes[len(ends)]
		}
		for to := len(w.row); to > at; to-- {
			l, fits := load(w.c, w.row[at:to]), true
			for i := at + 1; i < to; i++ {
				fits = fits && !startsBox(w.c, w.row, i)
			}
			if fits && (l <= box.Usable(set) || to == at+1 && l > w.most) {
				lay(append(slices.Clone(ends), to), to)
			}
		}
		if shelved {
			lay(append(slices.Clone(ends), at), at)
		}
	}
	lay(nil, 0)
}

// better compares by a goal; less than 0 is better. Locks come first.
func better(g ordering.Goal, a, b weighed) int {
	boxes := cmp.Or(cmp.Compare(a.fresh, b.fresh), cmp.Compare(a.used, b.used))
	parted := cmp.Compare(a.twins, b.twins)
	locks := cmp.Compare(len(a.lost), len(b.lost))
	switch g {
	case ordering.Even:
		return cmp.Or(locks, boxes, a.fullest.Cmp(b.fullest), a.sum.Cmp(b.sum), parted)
	case ordering.LeastMoved:
		return cmp.Or(locks, cmp.Compare(a.moved, b.moved), cmp.Compare(a.labels, b.labels), boxes, parted)
	}
	return cmp.Or(locks, boxes, parted)
}

// checkBest compares a plan with the best of all splits.
func checkBest(t failer, c *model.Collection, g ordering.Goal, months int) {
	t.Helper()
	w := newWeigher(c, months)
	p := w.l.SplitWith(g, ordering.Options{GrowthMonths: months})
	checkPlan(t, c, w.row, p)
	if p.Goal != g {
		t.Fatalf("the goal of the plan is %q, asked was for %q", p.Goal, g)
	}
	ends := endsOf(p)
	got := w.weigh(ends)
	var best *weighed
	lost := len(got.lost)
	w.all(func(x weighed) {
		lost = min(lost, len(x.lost))
		if len(x.lost) > 0 && !slices.Equal(x.lost, got.lost) {
			return // which labels are lost is settled first
		}
		if best == nil || better(g, x, *best) < 0 {
			best = &x
		}
	})
	if best == nil || len(got.lost) != lost {
		t.Fatalf("%v: %d locked boxes lose their label, %d would do", ends, len(got.lost), lost)
	}
	if better(g, *best, got) != 0 {
		t.Fatalf("goal %s, %d months: %s\nbetter is %s", g, months, got.text(), best.text())
	}
	if !slices.Equal(ends, best.ends) {
		t.Fatalf("goal %s: %s\nas good, and fuller in front: %s", g, got.text(), best.text())
	}
	said := 0
	for _, f := range p.Findings {
		said += strings.Count(f, "cannot keep its label")
	}
	if said != len(got.lost) {
		t.Fatalf("%d locked boxes lose their label, the findings are %q", len(got.lost), p.Findings)
	}
	if d := w.l.Compare(p); d != (ordering.Difference{Moved: got.moved, Labels: got.labels}) {
		t.Fatalf("compared is %+v, counted anew %d moved and %d labels", d, got.moved, got.labels)
	}
}

func (x weighed) text() string {
	return fmt.Sprintf("%v: labels lost %v, new %d, used %d, twins %d, fullest %s, squares %s, moved %d, labels %d",
		x.ends, x.lost, x.fresh, x.used, x.twins, x.fullest.RatString(), x.sum.RatString(), x.moved, x.labels)
}

// drawCupboard draws a small collection of which some stand, in filing order or
// not, with boxes of several lengths, some of them locked.
func drawCupboard(t *rapid.T, locked bool) *model.Collection {
	spec := drawShelf(t, 4, mixed, true)
	for i := range spec.Boxes {
		spec.Boxes[i].Locked = locked && rapid.IntRange(0, 2).Draw(t, "locked") > 0
	}
	c := do(t, model.NewCollection(), &model.SetShelf{Spec: spec})
	add := &model.Add{}
	for range rapid.IntRange(0, 7).Draw(t, "copies") {
		en := drawEntry(t)
		en.Added = rapid.SampledFrom([]model.Date{"2024-01-31", "2025-03-01", "2025-03-02", "2026-03-01"}).Draw(t, "added")
		add.Entries = append(add.Entries, en)
	}
	c = do(t, c, add)
	switch rapid.IntRange(0, 3).Draw(t, "stands") {
	case 0:
	case 1:
		c = do(t, c, drawStands(t, c))
	default:
		c = do(t, c, drawInOrder(t, c))
	}
	return c
}

// drawInOrder stands copies in filing order, wherever walls are, and leaves some
// on the pile.
func drawInOrder(t *rapid.T, c *model.Collection) model.Change {
	ch := &model.Stand{}
	row, at := accessions(ordering.Arrange(c).Row()), 0
	for _, b := range c.Shelf().Boxes {
		to := rapid.IntRange(at, len(row)).Draw(t, "wall")
		r := model.NamedRow{Box: b.Name}
		for _, a := range row[at:to] {
			if rapid.IntRange(0, 4).Draw(t, "pile") > 0 {
				r.Copies = append(r.Copies, a)
			}
		}
		ch.Rows, at = append(ch.Rows, r), to
	}
	return ch
}

// drawTwins draws a row of one publisher, on the pile, of which most stand beside
// their like, thin ones and thick ones, so that walls must part some and short
// boxes do not take all.
func drawTwins(t *rapid.T) *model.Collection {
	spec := bareShelf()
	spec.Settings.Divider = 0
	for i := range rapid.IntRange(1, 4).Draw(t, "boxes") {
		spec.Boxes = append(spec.Boxes, model.BoxSpec{Name: string(rune('a' + i)), Length: mixed(t)})
	}
	add := &model.Add{}
	for range rapid.IntRange(0, 9).Draw(t, "copies") {
		add.Entries = append(add.Entries, model.Entry{
			Publisher: "Quillon",
			Number:    rapid.SampledFrom([]string{"7", "8", "9"}).Draw(t, "number"),
			SizeRange: rapid.SampledFrom([]string{"8-14", "10-16"}).Draw(t, "size"),
			Thickness: model.MM(float64(rapid.IntRange(1, 6).Draw(t, "mm"))),
		})
	}
	return do(t, model.NewCollection(), &model.SetShelf{Spec: spec}, add)
}

func TestSplitNoOtherIsBetter(t *testing.T) {
	for _, g := range ordering.Goals() {
		t.Run(string(g), func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { checkBest(t, drawCupboard(t, false), g, 0) })
		})
		t.Run(string(g)+" with locked boxes", func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { checkBest(t, drawCupboard(t, true), g, 0) })
		})
	}
	for _, g := range []ordering.Goal{ordering.Fewest, ordering.Even} {
		t.Run(string(g)+" with many twins", func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) { checkBest(t, drawTwins(t), g, 0) })
		})
	}
	t.Run("even with growth", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			checkBest(t, drawCupboard(t, rapid.Bool().Draw(t, "locks")), ordering.Even, rapid.IntRange(1, 36).Draw(t, "months"))
		})
	})
}

// endsOf is where each box of a plan ends, in the row.
func endsOf(p ordering.Plan) []int {
	var ends []int
	at := 0
	for i := range p.Boxes {
		at += len(p.Boxes[i].Items)
		ends = append(ends, at)
	}
	return ends
}
