package sheet

import "example.org/tuckrow/storage/paper/lettering"

// RuleLength is how long the rule on each sheet is, in millimetres: what it
// measures on paper shows whether the printer kept the scale.
const RuleLength = 50

const (
	ruleText = "50 mm · print at 100 %, not fitted to the page"
	// Where no printer leaves paper white, and what the rule takes (from memory:
	// desk printers keep 3 to 5 mm free).
	edge, ruleHigh = 5.0, 4.0
	ruleWide       = 106.0
)

// AddRule draws the rule, with a mark each centimetre and a word beside it,
// where nothing else is: at the foot, else at the head, else along a side.
// False when there is no such place.
func (s *Sheet) AddRule(set *lettering.Setter) bool {
	for _, flat := range []Rect{
		{edge + 5, s.H - edge - ruleHigh, ruleWide, ruleHigh},
		{edge + 5, edge, ruleWide, ruleHigh},
	} {
		if s.free(flat) {
			s.ruleAt(set, flat, false)
			return true
		}
	}
	for _, down := range []Rect{
		{edge, edge + 5, ruleHigh, ruleWide},
		{s.W - edge - ruleHigh, edge + 5, ruleHigh, ruleWide},
	} {
		if s.free(down) {
			s.ruleAt(set, down, true)
			return true
		}
	}
	return false
}

// free tells whether an area is on the sheet and on no label or card.
func (s *Sheet) free(r Rect) bool {
	if r.X < 0 || r.Y < 0 || r.X+r.W > s.W || r.Y+r.H > s.H {
		return false
	}
	for _, p := range s.Places {
		if r.X < p.X+p.W && p.X < r.X+r.W && r.Y < p.Y+p.H && p.Y < r.Y+r.H {
			return false
		}
	}
	return true
}

func (s *Sheet) ruleAt(set *lettering.Setter, r Rect, down bool) {
	line := func(along, across, toAlong, toAcross float64) {
		if down {
			s.Rule(r.X+r.W-across, r.Y+along, r.X+r.W-toAcross, r.Y+toAlong)
		} else {
			s.Rule(r.X+along, r.Y+across, r.X+toAlong, r.Y+toAcross)
		}
	}
	base, half := ruleHigh/2, hairline/2
	line(0, base, RuleLength, base)
	for mm := 0.0; mm <= RuleLength; mm += 10 {
		reach := 0.6
		if mm == 0 || mm == RuleLength {
			reach = 1.5
		}
		// The outer edges of the end marks are what is 50 mm apart.
		at := min(max(mm, half), RuleLength-half)
		line(at, base-reach, at, base+reach)
	}
	style := lettering.Style{Size: 6, Least: 6}
	if down {
		s.SetDown(set.Fit(ruleText, style, lettering.Room{W: ruleWide, H: ruleHigh}), Rect{r.X, r.Y + RuleLength + 3, r.W - 0.7, r.H}, Left)
	} else {
		s.Set(set.Fit(ruleText, style, lettering.Room{W: ruleWide, H: ruleHigh}), Rect{r.X + RuleLength + 3, r.Y + 0.7, r.W, r.H}, Left)
	}
}
