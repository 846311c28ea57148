package main

import (
	"fmt"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
)

// spillAnswer is one answer to a spill in JSON; lengths in mm.
type spillAnswer struct {
	Answer        ordering.Way `json:"answer"`
	BoxesUsed     int          `json:"boxes_used"`
	NewBoxes      []string     `json:"new_boxes"`
	Moved         int          `json:"moved"`
	LabelsChanged int          `json:"labels_changed"`
	CardsChanged  int          `json:"cards_changed"`
	Room          model.Length `json:"room_mm"`
	// More patterns until a box spills again; 1000 is more than 999.
	FitsLikely ordering.Fits `json:"fits_likely"` // in half of the trials
	FitsPoor   ordering.Fits `json:"fits_poor"`   // in nine trials of ten at least so many
	FitsEvenly ordering.Fits `json:"fits_evenly"` // if every part of the row grew alike
}

// allAnswers asks to see the answers side by side.
const allAnswers = "all"

// answers prints the three ways of taking the pile in, side by side.
func (a *app) answers(l *ordering.Layout) error {
	out, rows := []spillAnswer{}, [][]string{{"", "boxes", "new", "change box", "labels", "cards", "room left", "then fit (likely, at least, evenly)"}}
	for _, x := range l.Answers() {
		s := answerOf(l, &x)
		out = append(out, s)
		rows = append(rows, []string{string(s.Answer), strconv.Itoa(s.BoxesUsed), strconv.Itoa(len(s.NewBoxes)), envelopes(s.Moved),
			strconv.Itoa(s.LabelsChanged), strconv.Itoa(s.CardsChanged), s.Room.In(unitsOf(l.Collection())), fmt.Sprintf("%s, %s, %s", s.FitsLikely, s.FitsPoor, s.FitsEvenly)})
	}
	if a.json {
		return a.printJSON(out)
	}
	if err := columns(a.out, rows); err != nil {
		return err
	}
	a.printf(`push-on: what does not fit goes on into the next boxes.
insert:  a new box in between takes it.
afresh:  all boxes are split anew.
How many more fit before a box spills again is tried out by how the sections have
grown in the last year; it is an estimate. Decide with: tuckrow split --answer insert --apply
`)
	return nil
}

func answerOf(l *ordering.Layout, x *ordering.Answer) spillAnswer {
	s := spillAnswer{Answer: x.Way, BoxesUsed: x.Boxes, NewBoxes: []string{}, Moved: x.Moved, LabelsChanged: len(l.Redo(x.Plan).Labels), CardsChanged: x.Cards,
		Room: x.Room, FitsLikely: x.Outlook.Likely, FitsPoor: x.Outlook.Poor, FitsEvenly: x.Outlook.Even}
	for _, b := range x.Decision().Boxes {
		s.NewBoxes = append(s.NewBoxes, b.Name)
	}
	return s
}

// answerNamed finds the answer that the user chose.
func answerNamed(l *ordering.Layout, name string) (ordering.Answer, error) {
	for _, x := range l.Answers() {
		if string(x.Way) == name {
			return x, nil
		}
	}
	return ordering.Answer{}, model.Inputf("--answer %q is not known; use push-on, insert or afresh, or all to see them side by side", name)
}
