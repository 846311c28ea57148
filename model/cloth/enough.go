package cloth

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model"
)

// Verdict says whether there is cloth enough.
type Verdict string

// The verdicts.
const (
	Enough  Verdict = "enough"
	Perhaps Verdict = "perhaps" // by an estimate that is closer than it is sure
	Short   Verdict = "short"
	Unknown Verdict = "unknown"
)

// margin is how close an estimate may come before it is no longer yes or no. Our
// choice: the step of the chart.
const margin = eighth

// Answer says whether a cloth is enough for one view and size.
type Answer struct {
	View, Size, For string // as on the sleeve
	Verdict         Verdict
	Need            model.Length // at the width of the cloth; 0: not known
	Spare           model.Length // what would be left; below 0: what is missing
	Printed         bool         // the sleeve says so; else it is an estimate
	Why             []string
}

// For answers for every view and size that a sleeve gives a need for, in the
// order in which it names them. Widths are told in the owner's unit.
func For(needs []model.Need, c *model.Cloth, set model.Settings) []Answer {
	var out []Answer
	done := map[[3]string]bool{}
	for _, n := range needs {
		key := [3]string{n.View, n.Size, n.For}
		if done[key] {
			continue
		}
		done[key] = true
		same := slices.DeleteFunc(slices.Clone(needs), func(x model.Need) bool { return [3]string{x.View, x.Size, x.For} != key })
		slices.SortStableFunc(same, func(a, b model.Need) int { return cmp.Compare(a.Width, b.Width) })
		out = append(out, answer(same, c, set))
	}
	return out
}

// answer judges the needs of one view and size, from the narrowest cloth on.
func answer(same []model.Need, c *model.Cloth, set model.Settings) Answer {
	a := Answer{View: same[0].View, Size: same[0].Size, For: same[0].For, Verdict: Unknown}
	var narrower, wider *model.Need
	for i := range same {
		n := &same[i]
		switch {
		case inches(n.Width) == inches(c.Width) && !c.OneWay:
			a.Printed, a.Why = true, []string{"as printed for this width"}
			a.settle(n.Length, c.Length, 0)
			return a
		case inches(n.Width) <= inches(c.Width):
			narrower = n
		case wider == nil:
			wider = n
		}
	}
	if narrower != nil && !c.OneWay && c.Length >= narrower.Length {
		a.Printed, a.Why = true, []string{"as printed for narrower cloth, " + set.Tape(narrower.Width)}
		a.settle(narrower.Length, c.Length, 0)
		return a
	}
	a.estimate(narrower, wider, c, set)
	return a
}

// estimate takes the larger of what the next narrower and the next wider cloth
// on the sleeve come to.
func (a *Answer) estimate(narrower, wider *model.Need, c *model.Cloth, set model.Settings) {
	var best *Estimate
	for _, n := range []*model.Need{narrower, wider} {
		if n == nil {
			continue
		}
		e, err := Convert(n.Length, n.Width, c.Width, c.OneWay, set)
		if err != nil {
			a.Why = append(a.Why, err.Error())
		} else if best == nil || e.Length > best.Length {
			best = &e
		}
	}
	if best != nil {
		a.Why = best.Why
		a.settle(best.Length, c.Length, margin)
	}
}

// settle gives the verdict for a need, which is sure but for a margin.
func (a *Answer) settle(need, have, margin model.Length) {
	a.Need, a.Spare = need, have-need
	switch {
	case a.Spare <= -margin && a.Spare < 0:
		a.Verdict = Short
	case a.Spare < margin:
		a.Verdict = Perhaps
	default:
		a.Verdict = Enough
	}
}
