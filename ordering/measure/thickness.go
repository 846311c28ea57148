package measure

import (
	"math"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// Handful is how many envelopes the measurements must tell of a state alone. A
// ruler at a pressed row is read to some 2 mm, so a handful gives a thickness to
// some 0.4 mm (common practice, no source).
const Handful = 5

// Take counts what is in a box, for its contents having been pressed together
// and measured. What is out is not counted: it is not in the box. Cards are
// those that belong there, and one out card for each copy that is out, unless
// cards says how many there are; -1 when nobody counted them.
func Take(l *ordering.Layout, box model.Box, cards int, mm model.Length) *model.TakeMeasure {
	c := l.Collection()
	h := l.StandingIn(box.ID)
	m := model.Measure{Box: box.Name, Card: c.Shelf().Settings.Divider, Cards: len(h.Cards()), Measured: mm}
	var counts [model.States]int
	for _, it := range h.Items {
		cp := c.Copy(it.Copy)
		switch {
		case cp.Out != nil || c.Shelf().LiesApart(cp): // an out card or a dummy
			m.Cards++
		case cp.Thickness > 0:
			m.Own++
			m.OwnTaken += cp.Thickness
		default:
			counts[model.StateOf(cp)]++
		}
	}
	m.Uncut, m.Cut, m.Bulky = counts[model.StateUncut], counts[model.StateCut], counts[model.StateBulky]
	if cards >= 0 {
		m.Cards = cards
	}
	return &model.TakeMeasure{Measure: m}
}

// Fit is what all measurements together say.
type Fit struct {
	Present, Fitted model.Thickness    // Fitted is in tenths of a millimetre
	Kept            [model.States]bool // not fitted: as it is at present
	Rows            []Row
	// The root of the mean square of how far estimates are off, by the present
	// thicknesses and by those fitted; 0 without measurements.
	Before, After model.Length
}

// Row is one measurement and what it was estimated at.
type Row struct {
	*model.Measure
	Before, After model.Length
}

// Far tells whether a measurement is less than half of what it was estimated at, or
// more than double (our choice, no source): it can be true, or a slip.
func (r Row) Far() bool { return 2*r.Measured < r.Before || r.Measured > 2*r.Before }

// tenth is what a fitted thickness is rounded to.
const tenth = model.Millimetre / 10

// ThicknessOf fits the thickness of each state to the measurements there are.
func ThicknessOf(c *model.Collection) Fit {
	f := Fit{Present: c.Shelf().Settings.Thickness}
	for _, m := range c.Measures().All() {
		f.Rows = append(f.Rows, Row{Measure: m})
	}
	var a [][]float64
	for _, r := range f.Rows {
		n := r.Counts()
		a = append(a, []float64{float64(n[0]), float64(n[1]), float64(n[2])})
	}
	f.fit(a, separable(a))
	for i := range f.Rows {
		r := &f.Rows[i]
		r.Before, r.After = r.Estimate(f.Present), r.Estimate(f.Fitted)
	}
	f.Before = f.off(func(r *Row) model.Length { return r.Before })
	f.After = f.off(func(r *Row) model.Length { return r.After })
	return f
}

// separable picks the states that measurements can tell apart, that of which
// most was measured first.
func separable(a [][]float64) []int {
	var total [model.States]float64
	for _, row := range a {
		for s, n := range row {
			total[s] += n
		}
	}
	order := []int{0, 1, 2}
	slices.SortStableFunc(order, func(i, j int) int { return int(total[j] - total[i]) })
	var in []int
	for _, s := range order {
		if with := append(slices.Clone(in), s); toldApart(a, with, Handful) {
			in = with
		}
	}
	return in
}

// fit fits the states named and keeps the others; a state that comes out as
// nothing is kept too, since no envelope is as thin as that.
func (f *Fit) fit(a [][]float64, in []int) {
	for {
		by := [model.States]model.Length{f.Present.Uncut, f.Present.Cut, f.Present.Bulky}
		x := f.solve(a, in)
		f.Kept = [model.States]bool{true, true, true}
		thin := -1
		for i, s := range in {
			by[s] = model.Length(math.Round(model.MM(x[i]).MM()/tenth.MM())) * tenth
			f.Kept[s] = false
			if by[s] == 0 {
				thin = i
			}
		}
		if thin < 0 {
			f.Fitted = model.ThicknessBy(by)
			return
		}
		in = slices.Delete(slices.Clone(in), thin, thin+1)
	}
}

// solve fits the states named to what is left of each measurement when the
// rest is taken off.
func (f *Fit) solve(a [][]float64, in []int) []float64 {
	rows, b := make([][]float64, len(a)), make([]float64, len(a))
	for r := range a {
		b[r] = (f.Rows[r].Measured - f.Rows[r].Known()).MM()
		for s, n := range a[r] {
			if !slices.Contains(in, s) {
				b[r] -= n * f.Present.Of(model.State(s)).MM()
			}
		}
		for _, s := range in {
			rows[r] = append(rows[r], a[r][s])
		}
	}
	return NonNegative(rows, b, len(in))
}

func (f *Fit) off(estimate func(*Row) model.Length) model.Length {
	if len(f.Rows) == 0 {
		return 0
	}
	sum := 0.0
	for i := range f.Rows {
		d := (estimate(&f.Rows[i]) - f.Rows[i].Measured).MM()
		sum += d * d
	}
	return model.MM(math.Sqrt(sum / float64(len(f.Rows))))
}

// Adopt is the change that takes the fitted thicknesses over; nil when they are
// the present ones.
func (f *Fit) Adopt() *model.Adopt {
	if f.Fitted == f.Present {
		return nil
	}
	return &model.Adopt{Thickness: f.Fitted}
}
