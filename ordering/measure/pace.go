package measure

import "example.org/tuckrow/model"

// Pace is how long the owner takes to refile.
type Pace struct {
	Timed        int     // refilings it was learned from
	Pull, Insert float64 // seconds for one envelope
}

// apart is how many envelopes the refilings must tell of pulling alone, and of
// putting in alone, before the two are given a pace each.
const apart = Handful

// PaceOf fits seconds to the refilings that were timed; false when none was.
// Where those cannot tell pulling from putting in, or one of them comes out as
// taking no time, both are given the same pace.
func PaceOf(c *model.Collection) (Pace, bool) {
	var a, same [][]float64
	var b []float64
	for _, p := range c.Paces().All() {
		a = append(a, []float64{float64(p.Pulled), float64(p.Inserted)})
		same = append(same, []float64{float64(p.Pulled + p.Inserted)})
		b = append(b, float64(p.Seconds))
	}
	if len(a) == 0 {
		return Pace{}, false
	}
	if toldApart(a, []int{0, 1}, apart) {
		if x := NonNegative(a, b, 2); x[0] > 0 && x[1] > 0 {
			return Pace{len(a), x[0], x[1]}, true
		}
	}
	x := NonNegative(same, b, 1)
	return Pace{len(a), x[0], x[0]}, true
}

// Minutes estimates how long a refiling takes.
func (p Pace) Minutes(pulled, inserted int) float64 {
	return (p.Pull*float64(pulled) + p.Insert*float64(inserted)) / 60
}
