// Package fit says whether a pattern fits a person: which size by each measure,
// between which two, whether it is still left after cutting, and how sure that
// is.
//
// The usual way in is [Try] with a person, a pattern and a copy of it, which
// gives an [Answer]; [Answer.Words] says it in words.
//
// Promised: the sleeve's own chart is used where there is one; else a default,
// and then the answer says so. A size number of a year that is not known says
// nothing certain, and the answer says what it would be in each case. Nothing
// is said of measures that were not taken, or that a chart does not give.
// Lengths are [model.Length].
package fit

import (
	"slices"

	"example.org/tuckrow/model"
)

// Measure is a measure of a body that charts give.
type Measure string

// The measures.
const (
	Bust  Measure = "bust"
	Waist Measure = "waist"
	Hip   Measure = "hip"
)

// Measures lists them, from above down.
func Measures() []Measure { return []Measure{Bust, Waist, Hip} }

// ofPerson and ofSize give a measure, 0 where it is not known.
func (m Measure) ofPerson(p *model.Person) model.Length {
	return map[Measure]model.Length{Bust: p.Bust, Waist: p.Waist, Hip: p.Hip}[m]
}

func (m Measure) ofSize(s model.Size) model.Length {
	return map[Measure]model.Length{Bust: s.Bust, Waist: s.Waist, Hip: s.Hip}[m]
}

// Verdict says whether a pattern fits.
type Verdict string

// The verdicts.
const (
	Fits    Verdict = "fits"
	Blend   Verdict = "blend" // one size here, another there: to be drawn from one into the other
	No      Verdict = "no"
	Unknown Verdict = "unknown"
)

// Sure says how sure an answer is.
type Sure string

// How sure.
const (
	Printed   Sure = "as printed"   // by the sleeve's own chart
	ByDefault Sure = "by a default" // by a table that this publisher need not have kept to
	Rough     Sure = "rough"        // by a guess of how older sizes ran
	NotSure   Sure = "not known"
)

// Match is the size by one measure.
type Match struct {
	Measure      Measure
	Body         model.Length
	Size         string // the nearest; empty: too far from any
	Lower, Upper string // between which two; the same when it is just that; empty at an end
	Left         bool   // whether that size is left in the copy
}

// Reading is what a pattern comes to by one chart.
type Reading struct {
	Chart   Chart
	Matches []Match
	Verdict Verdict
}

// Answer says whether a copy of a pattern fits a person.
type Answer struct {
	Verdict  Verdict
	Sure     Sure
	Readings []Reading // several where the year leaves open what the sizes mean
	Lacks    string    // what is not known, in words; empty: nothing
}

// Try judges a copy by the measures given; nil is all of them. Without a copy
// every size of the pattern counts as there.
func Try(who *model.Person, p *model.Pattern, cp *model.Copy, by []Measure) Answer {
	if by == nil {
		by = Measures()
	}
	charts := Charts(p)
	switch {
	case len(charts) == 0 && p.SizeRange == "":
		return Answer{Verdict: Unknown, Sure: NotSure, Lacks: "the sizes of the sleeve are not noted"}
	case len(charts) == 0:
		return Answer{Verdict: Unknown, Sure: NotSure, Lacks: "what body " + p.SizeRange + " is drawn for is not known; note the sleeve's chart"}
	}
	a := Answer{}
	leftKnown := true
	for _, c := range charts {
		left, known := leftOf(c, cp)
		leftKnown = leftKnown && known
		a.Readings = append(a.Readings, read(who, c, left, by))
	}
	a.Verdict, a.Sure = a.Readings[0].Verdict, sureOf(charts[0].Source)
	for _, r := range a.Readings {
		if r.Verdict != a.Verdict {
			a.Verdict, a.Sure = Unknown, NotSure
		}
	}
	switch {
	case len(a.Readings[0].Matches) == 0:
		a.Verdict, a.Sure, a.Lacks = Unknown, NotSure, "no measure was taken that the chart gives"
	case len(charts) > 1:
		a.Sure, a.Lacks = NotSure, "the year, and so what the size numbers mean"
	case !leftKnown && a.Verdict != No:
		a.Verdict, a.Sure, a.Lacks = Unknown, NotSure, "it was cut, and which sizes are left is not noted"
	case p.DatedBy == "guess" && charts[0].Source != Own:
		a.Sure = Rough
	}
	return a
}

func sureOf(s Source) Sure {
	return map[Source]Sure{Own: Printed, Standard: ByDefault, Older: Rough}[s]
}

// leftOf lists the sizes that are left in a copy; false where that is not known.
// A pattern of one size has no other to be cut away.
func leftOf(c Chart, cp *model.Copy) ([]string, bool) {
	all := namesOf(c.Sizes)
	switch {
	case cp == nil || len(all) == 1:
		return all, true
	case cp.Left != "":
		left, ok := within(cp.Left, all)
		return left, ok
	}
	return all, cp.Cut != model.FullyCut && cp.Cut != model.PartlyCut
}

// read judges by one chart.
func read(who *model.Person, c Chart, left []string, by []Measure) Reading {
	r := Reading{Chart: c, Verdict: Fits}
	for _, m := range by {
		sizes := slices.DeleteFunc(slices.Clone(c.Sizes), func(s model.Size) bool { return m.ofSize(s) == 0 })
		if m.ofPerson(who) == 0 || len(sizes) == 0 {
			continue
		}
		match := nearest(m, m.ofPerson(who), sizes)
		match.Left = slices.Contains(left, match.Size)
		r.Matches = append(r.Matches, match)
	}
	for _, m := range r.Matches {
		switch {
		case !m.Left:
			r.Verdict = No
		case m.Size != r.Matches[0].Size && r.Verdict == Fits:
			r.Verdict = Blend
		}
	}
	if len(r.Matches) == 0 {
		r.Verdict = Unknown
	}
	return r
}

// nearest finds the size whose measure comes nearest, of two as near the larger,
// which can be taken in. Beyond the smallest and the largest a body may lie half
// a step off, as far as it would between two (our choice, no source).
func nearest(m Measure, body model.Length, sizes []model.Size) Match {
	slices.SortStableFunc(sizes, func(a, b model.Size) int { return int(m.ofSize(a) - m.ofSize(b)) })
	out := Match{Measure: m, Body: body}
	best := -1
	for i, s := range sizes {
		at := m.ofSize(s)
		if at <= body {
			out.Lower = s.Name
		}
		if at >= body && out.Upper == "" {
			out.Upper = s.Name
		}
		if best < 0 || apart(at, body) <= apart(m.ofSize(sizes[best]), body) {
			best = i
		}
	}
	step := 2 * inch // that of the misses' table from 12 on
	if n := len(sizes); n > 1 && best == 0 {
		step = m.ofSize(sizes[1]) - m.ofSize(sizes[0])
	} else if n > 1 && best == n-1 {
		step = m.ofSize(sizes[n-1]) - m.ofSize(sizes[n-2])
	}
	inside := out.Lower != "" && out.Upper != ""
	if inside || 2*apart(m.ofSize(sizes[best]), body) <= step {
		out.Size = sizes[best].Name
	}
	return out
}

func apart(a, b model.Length) model.Length { return max(a-b, b-a) }
