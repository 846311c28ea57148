package measure_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/measure"
)

const day model.Date = "2026-03-01"

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func do(t failer, c *model.Collection, changes ...model.Change) *model.Collection {
	t.Helper()
	for _, ch := range changes {
		next, _, err := c.Apply(ch, day)
		if err != nil {
			t.Fatalf("%s: %v", ch.Title(c), err)
		}
		c = next
	}
	return c
}

func cupboard(t failer, entries ...model.Entry) *model.Collection {
	s := model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "1", Length: model.MM(5000)}, {Name: "2", Length: model.MM(380)}}}
	return do(t, model.NewCollection(), &model.SetShelf{Spec: s}, &model.Add{Entries: entries})
}

// measured is a box of so many of each state, and the millimetres they took.
func measured(uncut, cut, bulky int, mm float64) model.Change {
	return &model.TakeMeasure{Measure: model.Measure{Box: "1", Uncut: uncut, Cut: cut, Bulky: bulky, Measured: model.MM(mm)}}
}

func TestTakeCountsWhatIsInTheBox(t *testing.T) {
	in := func(change func(*model.Entry)) model.Entry {
		en := model.Entry{Publisher: "Quillon", Number: "1", Box: "1"}
		change(&en)
		return en
	}
	c := cupboard(t,
		in(func(*model.Entry) {}),
		in(func(en *model.Entry) { en.Cut = model.Uncut }),
		in(func(en *model.Entry) { en.Cut = model.PartlyCut }),
		in(func(en *model.Entry) { en.Medium = model.Traced }),
		in(func(en *model.Entry) { en.Bulky, en.Cut = true, model.FullyCut }),
		in(func(en *model.Entry) { en.Thickness, en.Bulky = model.MM(7.5), true }),
		in(func(en *model.Entry) { en.Thickness = model.MM(2) }),
		in(func(en *model.Entry) { en.Bulky = true }),
		in(func(en *model.Entry) { en.Box = "2" }))
	c = do(t, c, &model.TakeOut{Copy: 8}) // an out card stands in its place
	l := ordering.Arrange(c)
	box, _ := c.Shelf().BoxNamed("1")
	got := measure.Take(l, box, -1, model.MM(60)).Measure
	want := model.Measure{Box: "1", Uncut: 2, Cut: 2, Bulky: 1, Own: 2, OwnTaken: model.MM(9.5), Cards: 1 + 1, Card: model.MM(0.5), Measured: model.MM(60)}
	if got != want {
		t.Errorf("counted %+v\nwant %+v", got, want)
	}
	if got := measure.Take(l, box, 5, model.MM(60)).Measure.Cards; got != 5 {
		t.Errorf("%d cards, 5 were counted", got)
	}
	if got, want := want.Estimate(model.DefaultSettings().Thickness), model.MM(2*5+2*10+20+9.5+1); got != want {
		t.Errorf("estimated at %s, want %s", got, want)
	}
}

// Worked by hand: which states can be fitted, and to what.
func TestThicknessTable(t *testing.T) {
	for _, x := range []struct {
		name     string
		measures []model.Change
		want     model.Thickness
		kept     [model.States]bool
	}{
		{"nothing measured", nil, model.Thickness{Uncut: 500, Cut: 1000, Bulky: 2000}, [3]bool{true, true, true}},
		{"one box of one state", []model.Change{measured(50, 0, 0, 230)}, model.Thickness{Uncut: 460, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
		{"one box of two: the one of which there is more, the other kept", []model.Change{measured(40, 10, 0, 300)}, model.Thickness{Uncut: 500, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
		{"the same by cut ones", []model.Change{measured(10, 40, 0, 370)}, model.Thickness{Uncut: 500, Cut: 800, Bulky: 2000}, [3]bool{true, false, true}},
		{"two boxes, two states", []model.Change{measured(40, 10, 0, 40*4.6+10*8.2), measured(10, 30, 0, 10*4.6+30*8.2)}, model.Thickness{Uncut: 460, Cut: 820, Bulky: 2000}, [3]bool{false, false, true}},
		{"two boxes alike tell no more than one", []model.Change{measured(40, 10, 0, 300), measured(40, 10, 0, 300)}, model.Thickness{Uncut: 500, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
		{"nearly alike: the ruler would decide", []model.Change{measured(40, 10, 0, 300), measured(41, 9, 0, 290)}, model.Thickness{Uncut: 490, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
		{"three of each", []model.Change{measured(60, 0, 0, 252), measured(0, 30, 0, 270), measured(0, 0, 10, 180)}, model.Thickness{Uncut: 420, Cut: 900, Bulky: 1800}, [3]bool{}},
		{"fewer than a handful says nothing", []model.Change{measured(0, 0, 4, 40)}, model.Thickness{Uncut: 500, Cut: 1000, Bulky: 2000}, [3]bool{true, true, true}},
		{"least squares, not the last one", []model.Change{measured(50, 0, 0, 240), measured(50, 0, 0, 260)}, model.Thickness{Uncut: 500, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
		{"what comes out as nothing is kept", []model.Change{measured(50, 0, 0, 250), measured(50, 10, 0, 240)}, model.Thickness{Uncut: 390, Cut: 1000, Bulky: 2000}, [3]bool{false, true, true}},
	} {
		c := do(t, cupboard(t), x.measures...)
		f := measure.ThicknessOf(c)
		if f.Fitted != x.want || f.Kept != x.kept {
			t.Errorf("%s: fitted %v, kept %v; want %v, %v", x.name, f.Fitted, f.Kept, x.want, x.kept)
		}
	}
}

func TestHowFarEstimatesAreOff(t *testing.T) {
	c := do(t, cupboard(t), measured(50, 0, 0, 230), measured(50, 0, 0, 233))
	f := measure.ThicknessOf(c)
	// Present 5 mm: 250 against 230 and 233, off by 20 and 17. Fitted
	// (230+233)/100 = 4.63, rounded 4.6: 230, off by 0 and 3.
	if f.Rows[0].Before != model.MM(250) || f.Rows[1].After != model.MM(230) {
		t.Errorf("estimates before and after are %v", f.Rows)
	}
	if got, want := f.Before, model.MM(math.Sqrt((400+289)/2.)); got != want {
		t.Errorf("off by %s before, want %s", got, want)
	}
	if got, want := f.After, model.MM(math.Sqrt(9/2.)); got != want {
		t.Errorf("off by %s after, want %s", got, want)
	}
	next := do(t, c, f.Adopt())
	if got := next.Shelf().Settings.Thickness; got != f.Fitted {
		t.Errorf("the shelf goes by %v, adopted was %v", got, f.Fitted)
	}
	again := measure.ThicknessOf(next)
	if again.Adopt() != nil || again.Before != f.After {
		t.Errorf("adopted, there is something to adopt: %+v", again)
	}
}

// From measurements without any error, the true thicknesses come out.
func TestTrueThicknessComesOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := func(label string, lo, hi int) model.Length {
			return model.Length(rapid.IntRange(lo, hi).Draw(t, label)) * 10
		}
		truth := model.Thickness{Uncut: tenths("uncut", 10, 99), Cut: tenths("cut", 50, 150), Bulky: tenths("bulky", 100, 300)}
		c := cupboard(t)
		for range rapid.IntRange(0, 6).Draw(t, "measurements") {
			m := model.Measure{Box: "1", Uncut: rapid.IntRange(0, 60).Draw(t, "n"), Cut: rapid.IntRange(0, 30).Draw(t, "n"), Bulky: rapid.IntRange(0, 15).Draw(t, "n"),
				Own: 1, OwnTaken: model.MM(3), Cards: rapid.IntRange(0, 4).Draw(t, "cards"), Card: model.MM(0.5)}
			m.Measured = m.Estimate(truth)
			c = do(t, c, &model.TakeMeasure{Measure: m})
		}
		f := measure.ThicknessOf(c)
		if f.Kept == [model.States]bool{} && f.Fitted != truth {
			t.Fatalf("fitted %v, measured was %v", f.Fitted, truth)
		}
		for s := range model.States {
			if f.Kept[s] && f.Fitted.Of(s) != f.Present.Of(s) {
				t.Fatalf("%s is kept, and goes from %s to %s", s, f.Present.Of(s), f.Fitted.Of(s))
			}
		}
		if f.Fitted.Uncut <= 0 || f.Fitted.Cut <= 0 || f.Fitted.Bulky <= 0 {
			t.Fatalf("fitted %v", f.Fitted)
		}
	})
}

// The conditions of Karush, Kuhn and Tucker (any text on optimisation; from
// memory) are met by the non-negative least squares answer and by no other
// value: no x is below zero, the slope of the sum of squares is zero where x is
// not, and goes up where x is zero.
func TestNonNegativeMeetsItsConditions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unknowns := rapid.IntRange(1, 3).Draw(t, "unknowns")
		var a [][]float64
		var b []float64
		for range rapid.IntRange(0, 7).Draw(t, "equations") {
			row := make([]float64, unknowns)
			for i := range row {
				row[i] = float64(rapid.IntRange(0, 60).Draw(t, "count"))
			}
			a, b = append(a, row), append(b, float64(rapid.IntRange(-100, 800).Draw(t, "mm")))
		}
		x := measure.NonNegative(a, b, unknowns)
		for i, v := range x {
			if v < 0 {
				t.Fatalf("x[%d] = %v", i, v)
			}
			slope, size := 0.0, 1.0
			for r, row := range a {
				d := -b[r]
				for j := range row {
					d += row[j] * x[j]
				}
				slope += row[i] * d
				size += math.Abs(row[i]) * (math.Abs(b[r]) + math.Abs(d))
			}
			if off := slope / size; v > 0 && math.Abs(off) > 1e-6 || off < -1e-6 {
				t.Fatalf("x = %v: the slope by x[%d] is %v of %v, a %v, b %v", x, i, slope, size, a, b)
			}
		}
	})
}

// Against a grid: nothing that a grid of thicknesses can say is better.
func TestNonNegativeAgainstAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var a [][]float64
		var b []float64
		for range rapid.IntRange(1, 4).Draw(t, "equations") {
			a = append(a, []float64{float64(rapid.IntRange(0, 20).Draw(t, "n")), float64(rapid.IntRange(0, 20).Draw(t, "n")), float64(rapid.IntRange(0, 20).Draw(t, "n"))})
			b = append(b, float64(rapid.IntRange(-50, 400).Draw(t, "mm")))
		}
		off := func(x []float64) float64 {
			sum := 0.0
			for r, row := range a {
				d := row[0]*x[0] + row[1]*x[1] + row[2]*x[2] - b[r]
				sum += d * d
			}
			return sum
		}
		got := off(measure.NonNegative(a, b, 3))
		for i := 0; i < 24*24*24; i++ {
			x := []float64{float64(i % 24), float64(i / 24 % 24), float64(i / 24 / 24)}
			if s := off(x); s < got*(1-1e-9)-1e-9 {
				t.Fatalf("%v gives %v, found was %v, a %v, b %v", x, s, got, a, b)
			}
		}
	})
}

func timed(pulled, inserted, seconds int) model.Change {
	return &model.Stand{Took: &model.Took{Pulled: pulled, Inserted: inserted, Seconds: seconds}}
}

func TestPaceTable(t *testing.T) {
	if _, ok := measure.PaceOf(cupboard(t)); ok {
		t.Error("there is a pace though nothing was timed")
	}
	for _, x := range []struct {
		name         string
		timed        []model.Change
		pull, insert float64
	}{
		{"one refiling: the same for both", []model.Change{timed(20, 40, 600)}, 10, 10},
		{"two tell pulling from putting in", []model.Change{timed(20, 40, 20*6+40*15), timed(40, 10, 40*6+10*15)}, 6, 15},
		{"two alike do not", []model.Change{timed(20, 40, 600), timed(20, 40, 720)}, 11, 11},
		{"only put in", []model.Change{timed(0, 40, 400)}, 10, 10},
		// One pace for both: (40*600 + 80*600) / (40*40 + 80*80).
		{"pulling came out as taking no time", []model.Change{timed(0, 40, 600), timed(40, 40, 600)}, 9, 9},
	} {
		p, ok := measure.PaceOf(do(t, cupboard(t), x.timed...))
		if !ok || p.Timed != len(x.timed) || math.Abs(p.Pull-x.pull) > 1e-9 || math.Abs(p.Insert-x.insert) > 1e-9 {
			t.Errorf("%s: %+v, want %v and %v seconds", x.name, p, x.pull, x.insert)
		}
	}
	p := measure.Pace{Pull: 6, Insert: 15}
	if got := p.Minutes(10, 20); got != 6 {
		t.Errorf("10 pulled and 20 put in take %v minutes, want 6", got)
	}
}
