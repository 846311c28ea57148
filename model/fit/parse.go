package fit

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
)

// ParseMeasures reads names of measures with commas between; nothing gives nil.
func ParseMeasures(text string) ([]Measure, error) {
	var out []Measure
	for part := range strings.SplitSeq(text, ",") {
		if part = strings.ToLower(strings.TrimSpace(part)); part == "" {
			continue
		}
		if !slices.Contains(Measures(), Measure(part)) {
			return nil, model.Inputf("%q: there is no measure %q; use bust, waist or hip", text, part)
		}
		out = append(out, Measure(part))
	}
	return out, nil
}
