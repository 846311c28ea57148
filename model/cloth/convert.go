package cloth

import (
	"fmt"
	"math"

	"example.org/tuckrow/model"
)

const (
	inch = model.Length(2540)
	yard = 36 * inch
	// eighth is the step in which the chart counts.
	eighth = yard / 8
)

// widths are the columns of the chart, in inches from and to.
var widths = [...]struct{ from, to float64 }{{35, 36}, {39, 39}, {41, 41}, {44, 45}, {50, 50}, {52, 54}, {58, 60}}

// chart says how many eighths of a yard serve as well at each width, a row for
// each length at the narrowest. It is the conversion chart of the extension
// services (two copies agree; shared/checks.md, "Sewing").
var chart = [...][len(widths)]float64{
	{14, 12, 12, 11, 10, 9, 8}, // 1 3/4 yd at 35-36 in
	{16, 14, 14, 13, 12, 11, 10},
	{18, 16, 16, 14, 13, 12, 11},
	{20, 18, 18, 17, 14, 14, 13},
	{23, 20, 20, 18, 16, 15, 14},
	{25, 22, 22, 20, 18, 16, 15},
	{27, 24, 23, 22, 19, 18, 16},
	{30, 26, 25, 23, 21, 19, 18},
	{34, 28, 27, 25, 22, 21, 19},
	{36, 30, 29, 27, 24, 22, 21},
	{38, 32, 31, 29, 26, 23, 22},
	{40, 34, 33, 31, 27, 25, 23},
}

// more is what the chart adds for a large difference of width, cloth that runs
// one way, or sleeves cut in one. That it is added once for each of these, and
// what is a large difference, is our choice: half the narrowest width.
const (
	more            = 2 * eighth
	largeDifference = 18.0 // inches
)

// Estimate is a length of cloth that should do at another width.
type Estimate struct {
	Length model.Length // not rounded to what shops sell
	Why    []string     // what it rests on, in words
}

// Convert estimates how much cloth of one width does for what is asked for at
// another; widths are told in the owner's unit. The error says why there is no
// estimate.
func Convert(need, from, to model.Length, oneWay bool, set model.Settings) (Estimate, error) {
	a, whyA := column(from, set)
	b, whyB := column(to, set)
	if a < 0 {
		return Estimate{}, fmt.Errorf("the chart knows no cloth of %s, as the sleeve asks for; it begins at 35 in, 89 cm", set.Tape(from))
	}
	if b < 0 {
		return Estimate{}, fmt.Errorf("the chart knows no cloth as narrow as %s; it begins at 35 in, 89 cm", set.Tape(to))
	}
	e := Estimate{Length: need, Why: []string{"an estimate by the conversion chart"}}
	if a != b {
		eighths, whyRow := along(float64(need)/float64(eighth), a, b)
		e.Length = model.Length(math.Ceil(eighths*float64(eighth) - 1e-6))
		e.Why = append(e.Why, together(whyA, whyB, whyRow)...)
	}
	if math.Abs(inches(from)-inches(to)) >= largeDifference {
		e.Length += more
		e.Why = append(e.Why, "1/4 yd (23 cm) added for the large difference of width")
	}
	if oneWay {
		e.Length += more
		e.Why = append(e.Why, "1/4 yd (23 cm) added for cloth that runs one way")
	}
	return e, nil
}

// inches is a width in whole inches: sleeves call 115 cm what is 45 in (common
// practice, no source).
func inches(width model.Length) float64 { return math.Round(float64(width) / float64(inch)) }

// column is where a width stands in the chart: whole numbers are its columns,
// what is between them lies between two; below 0: it is narrower than any.
func column(width model.Length, set model.Settings) (at float64, why string) {
	w, last := inches(width), len(widths)-1
	switch {
	case w < widths[0].from:
		return -1, ""
	case w > widths[last].to:
		return float64(last), fmt.Sprintf("%s is wider than the chart goes, and taken for 58-60 in", set.Tape(width))
	}
	for i, c := range widths {
		if w >= c.from && w <= c.to {
			return float64(i), ""
		}
		if next := widths[min(i+1, last)]; w > c.to && w < next.from {
			return float64(i) + (w-c.to)/(next.from-c.to), fmt.Sprintf("%s lies between two columns of the chart", set.Tape(width))
		}
	}
	return -1, "" // not reached: the columns lie one behind the other
}

// along goes down the chart at one width to where a length lies, and reads it
// off at another. Between two rows the length is divided in proportion; above
// and below the chart the proportion of its first and last row goes on.
func along(eighths, from, to float64) (float64, string) {
	last := len(chart) - 1
	first, end := at(0, from), at(last, from)
	switch {
	case eighths < first:
		return eighths * at(0, to) / first, "the length is shorter than the chart goes, and converted in proportion"
	case eighths > end:
		return eighths * at(last, to) / end, "the length is longer than the chart goes, and converted in proportion"
	}
	for r := range last {
		a, b := at(r, from), at(r+1, from)
		if eighths > b {
			continue
		}
		if eighths == a {
			return at(r, to), ""
		}
		why := "the length lies between two rows of the chart"
		if eighths == b {
			why = ""
		}
		return at(r, to) + (eighths-a)/(b-a)*(at(r+1, to)-at(r, to)), why
	}
	return eighths, "" // not reached: the last row was looked at
}

// at reads a row of the chart at a column or between two.
func at(row int, column float64) float64 {
	i := int(column)
	if float64(i) == column {
		return chart[row][i]
	}
	return chart[row][i] + (column-float64(i))*(chart[row][i+1]-chart[row][i])
}

// together lists the reasons that there are, each once.
func together(why ...string) []string {
	var out []string
	for _, w := range why {
		if w != "" && (len(out) == 0 || out[len(out)-1] != w) {
			out = append(out, w)
		}
	}
	return out
}
