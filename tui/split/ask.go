package split

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/frame"
)

// question is what is asked for.
type question int

const (
	lengthAsked question = iota // of the chosen box
	growthAsked                 // in months
	boxesAsked                  // to spread over
)

// ask opens the field for a number.
func (s *Screen) ask(what question) {
	s.asks, s.stage = what, asking
	s.field.SetValue("")
	s.field.Focus()
}

// askView is the field for a number.
func (s *Screen) askView() string {
	text := map[question]string{lengthAsked: "length of box " + s.box, growthAsked: "months of growth", boxesAsked: "over how many boxes; 0: as few as can be"}[s.asks]
	t := s.theme
	return t.Focus.Render(" "+cells.Cut(text, max(1, s.w-14))+" ") + " " + t.Input(s.field, max(1, min(20, s.w-20)))
}

// answerNumber takes what was typed.
func (s *Screen) answerNumber() {
	q := s.want
	var err error
	switch text := strings.TrimSpace(s.field.Value()); s.asks {
	case lengthAsked:
		var l model.Length
		if l, err = model.ParseLength(text); err == nil && l <= 0 {
			err = model.Inputf("a box of %q is none; give its length inside, front to back, like \"380 mm\" or \"15 in\"", text)
		}
		q.what = q.what.length(s.desk.Collection(), s.box, l)
	case growthAsked:
		q, err = s.evenly(text, ordering.MostGrowth, "months to plan for", func(w *whatIf) *int { return &w.months })
	case boxesAsked:
		q, err = s.evenly(text, mostBoxes, "boxes", func(w *whatIf) *int { return &w.over })
	}
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return
	}
	s.stage = planning
	s.try(q)
}

// mostBoxes is more than anybody has.
const mostBoxes = 9999

// evenly is what is wanted with a number that only an even split looks at.
func (s *Screen) evenly(text string, most int, what string, of func(*whatIf) *int) (request, error) {
	q := s.want
	n, err := strconv.Atoi(text)
	if err != nil || n < 0 || n > most {
		return q, model.Inputf("%q is not a number of %s; give 0 to %d", text, what, most)
	}
	q.what = q.what.copied()
	if *of(&q.what) = n; n > 0 {
		q.goal, q.way = ordering.Even, ""
	}
	return q, nil
}
