package fit

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

const inch = model.Length(2540)

// Source says where a chart is from, and so how far to trust it.
type Source string

// The sources.
const (
	Own      Source = "sleeve"   // the pattern's own chart
	Standard Source = "standard" // the misses' table, a default
	Older    Source = "older"    // the misses' table, moved to an older size 12
)

// Chart is the sizes of a pattern and the bodies they are drawn for.
type Chart struct {
	Source Source
	Says   string // in words: "the sleeve's own chart"
	Sizes  []model.Size
}

// misses is the misses' table (two copies agree to 20; shared/checks.md,
// "Sewing"), in inches: size, bust, waist, hip.
var misses = []struct {
	name             string
	bust, waist, hip float64
}{
	{"6", 30.5, 23, 32.5}, {"8", 31.5, 24, 33.5}, {"10", 32.5, 25, 34.5}, {"12", 34, 26.5, 36},
	{"14", 36, 28, 38}, {"16", 38, 30, 40}, {"18", 40, 32, 42}, {"20", 42, 34, 44},
}

// era is how a size number was meant in some years. Size 12 was bust 30 before
// 1956, 32 from 1956, 34 from late 1967 (shared/checks.md, "Sewing").
type era struct {
	from, to int // years, both included; late 1967 is in two
	size12   float64
	says     string
}

var eras = []era{
	{1, 1955, 30, "as sized before 1956"},
	{1956, 1967, 32, "as sized from 1956 to 1967"},
	{1967, 9999, 34, "as sized from late 1967 on"},
}

// Charts gives the chart of a pattern: its own, or what its size range says. It
// gives several where the year leaves open what the numbers mean, and none
// where nothing is known.
func Charts(p *model.Pattern) []Chart {
	if len(p.Sizes) > 0 {
		sizes := p.Sizes
		if names, ok := within(p.SizeRange, namesOf(sizes)); ok {
			sizes = only(sizes, names)
		}
		return []Chart{{Own, "the sleeve's own chart", sizes}}
	}
	if s, ok := bustOf(p.SizeRange); ok {
		return []Chart{{Own, "the bust that the sleeve gives", []model.Size{s}}}
	}
	names, known := within(p.SizeRange, missesNames())
	if !known {
		return nil
	}
	var out []Chart
	for _, e := range eras {
		if p.Year == 0 || p.Year >= e.from && p.Year <= e.to {
			out = append(out, e.chart(names))
		}
	}
	return out
}

// chart is the table as it was meant in an era. Of the older ones only size 12
// and its bust are known; that the other sizes were as far apart as now is a
// guess, and waist and hip are left out.
func (e era) chart(names []string) Chart {
	c := Chart{Source: Standard, Says: "the misses' table, " + e.says}
	moved := e.size12 - 34
	if moved != 0 {
		c.Source = Older
		c.Says += fmt.Sprintf(": size 12 was bust %.0f in, the others are guessed from it", e.size12)
	}
	for _, m := range misses {
		if !slices.Contains(names, m.name) {
			continue
		}
		s := model.Size{Name: m.name, Bust: inches(m.bust + moved)}
		if moved == 0 {
			s.Waist, s.Hip = inches(m.waist), inches(m.hip)
		}
		c.Sizes = append(c.Sizes, s)
	}
	return c
}

func inches(f float64) model.Length { return model.Length(f * float64(inch)) }

func missesNames() []string {
	out := make([]string, len(misses))
	for i, m := range misses {
		out[i] = m.name
	}
	return out
}

func namesOf(sizes []model.Size) []string {
	out := make([]string, len(sizes))
	for i, s := range sizes {
		out[i] = s.Name
	}
	return out
}

func only(sizes []model.Size, names []string) []model.Size {
	return slices.DeleteFunc(slices.Clone(sizes), func(s model.Size) bool { return !slices.Contains(names, s.Name) })
}

// bustOf reads a size that is given as a bust: "bust 34", in inches unless it is
// too much for inches.
func bustOf(text string) (model.Size, bool) {
	var number string
	for w := range strings.FieldsSeq(words.Fold(text)) {
		switch {
		case w == "bust" || w == "in" || w == "cm":
		case number == "" && strings.Trim(w, "0123456789") == "":
			number = w
		default:
			return model.Size{}, false
		}
	}
	n, err := strconv.Atoi(number)
	if err != nil || n > 200 || !strings.Contains(words.Fold(text), "bust") {
		return model.Size{}, false
	}
	const mostInches = 60 // a bust of 60 cm is a small child's
	unit := inch
	if n > mostInches {
		unit = 10 * model.Millimetre
	}
	return model.Size{Name: words.Clean(text), Bust: model.Length(n) * unit}, true
}
