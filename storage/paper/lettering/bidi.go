package lettering

import (
	"slices"

	tbidi "github.com/go-text/typesetting/bidi"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/text/unicode/bidi"
)

// levels are the embedding levels of a text (Unicode Standard Annex 9): even
// where it runs from left to right, odd where it runs from right to left.
type levels struct {
	base int8
	of   []int8
}

func (s *Setter) levels(text []rune) levels {
	l := levels{of: make([]int8, len(text))}
	first := slices.IndexFunc(text, func(r rune) bool { return class(r) == bidi.L || rightToLeft(r) })
	dir := tbidi.LeftToRight
	if first >= 0 && rightToLeft(text[first]) { // rules P2 and P3
		l.base, dir = 1, tbidi.RightToLeft
	}
	runs := s.bidi.Segment(text, dir)
	for n := range runs.NumRuns() {
		run := runs.Run(n)
		level, from := int8(run.Level), run.Start
		// A number behind what runs from right to left and the text behind that
		// number come as one run.
		if level == 2 && l.base == 0 {
			from = numberEnd(text, run.Start, run.End)
			set(l.of[run.Start:from], 2)
			level = 0
		}
		set(l.of[from:run.End], level)
	}
	return l
}

func set(of []int8, level int8) {
	for i := range of {
		of[i] = level
	}
}

// numberEnd is where the last number before the first letter ends.
func numberEnd(text []rune, from, to int) int {
	end := from
	for i := from; i < to && class(text[i]) != bidi.L; i++ {
		if c := class(text[i]); c == bidi.EN || c == bidi.AN {
			end = i + 1
		}
	}
	return end
}

func class(r rune) bidi.Class {
	p, _ := bidi.LookupRune(r)
	return p.Class()
}

func rightToLeft(r rune) bool {
	c := class(r)
	return c == bidi.R || c == bidi.AL
}

// cut parts a run where the level changes within it.
func (l levels) cut(in shaping.Input) []shaping.Input {
	var out []shaping.Input
	for from := in.RunStart; from < in.RunEnd; {
		to := from + 1
		for to < in.RunEnd && l.of[to] == l.of[from] {
			to++
		}
		part := in
		part.RunStart, part.RunEnd = from, to
		out, from = append(out, part), to
	}
	return out
}

type leveled struct {
	Run
	level int8
}

// seen puts runs in the order in which they are seen (rule L2): from the
// highest level down to 1, what is at that level or above is turned round.
func seen(runs []leveled) []Run {
	highest := int8(0)
	for _, r := range runs {
		highest = max(highest, r.level)
	}
	for level := highest; level > 0; level-- {
		for from := 0; from < len(runs); from++ {
			to := from
			for to < len(runs) && runs[to].level >= level {
				to++
			}
			slices.Reverse(runs[from:to])
			from = max(from, to)
		}
	}
	out := make([]Run, len(runs))
	for i, r := range runs {
		out[i] = r.Run
	}
	return out
}
