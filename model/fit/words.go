package fit

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
)

// Words says an answer in words, a line for each chart and what it rests on.
func (a Answer) Words(s model.Settings) []string {
	var out []string
	for _, r := range a.Readings {
		if len(r.Matches) > 0 {
			out = append(out, r.words(s)+" ("+r.Chart.Says+")")
		}
	}
	if a.Lacks != "" {
		out = append(out, "not known: "+a.Lacks)
	}
	return out
}

func (r Reading) words(s model.Settings) string {
	said := make([]string, len(r.Matches))
	for i, m := range r.Matches {
		said[i] = m.words(s)
	}
	return strings.Join(said, "; ")
}

// words says a match: "bust 92 cm: between 14 and 16, nearer 14".
func (m Match) words(s model.Settings) string {
	out := fmt.Sprintf("%s %s: ", m.Measure, s.Tape(m.Body))
	switch {
	case m.Lower == m.Upper:
		out += m.Size
	case m.Lower == "" && m.Size == "":
		out += "smaller than " + m.Upper
	case m.Upper == "" && m.Size == "":
		out += "larger than " + m.Lower
	case m.Lower == "" || m.Upper == "":
		out += m.Size
	default:
		out += fmt.Sprintf("between %s and %s, nearer %s", m.Lower, m.Upper, m.Size)
	}
	if m.Size != "" && !m.Left {
		out += ", which is not left"
	}
	return out
}
