package collection

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/ordering/newroom"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/tui/form"
)

// question is what is asked about another room.
type question struct {
	years, perYear int              // 0 a year: by the pace of growth
	file           string           // with its furniture, as it was written; empty: as it is
	spec           *model.ShelfSpec // what is in that file
	boxes          string           // the length of all boxes, as it was written; empty: as they are
}

// answer is what came of a question.
type answer struct {
	rev uint64
	to  question
	newroom.Answer
	doubts func(write func(model.Length) string) []string // about the lengths asked for
	err    error
}

func (q question) put(c *model.Collection, on model.Date) *answer {
	out := &answer{rev: c.Rev(), to: q}
	var length model.Length
	if length, out.err = newroom.ParseBoxLength(q.boxes); out.err == nil {
		ask := newroom.Question{Years: q.years, PerYear: q.perYear, On: on, Shelf: q.spec, BoxLength: length}
		out.Answer, out.err = newroom.Ask(c, ask)
		out.doubts = func(write func(model.Length) string) []string { return ask.Doubts(c, write) }
	}
	return out
}

// roomRows sets today beside the other room.
func (s *Screen) roomRows() (out []row) {
	ask := func(s *Screen) *sheet { return s.roomSheet() }
	if s.answer == nil || s.answer.err != nil || s.answer.to != s.asked {
		return []row{{cols: []string{"not worked out yet", "", ""}, sheet: ask}}
	}
	then := s.answer.Then.Lines(s.theme.Length)
	for i, today := range s.answer.Today.Lines(s.theme.Length) {
		out = append(out, row{cols: []string{today[0], today[1], then[i][1]}, about: append([]string{today[0] + ": today " + today[1] + "; then " + then[i][1]}, s.aboutRoom()...), sheet: ask})
	}
	return out
}

// aboutRoom says what the comparison goes by.
func (s *Screen) aboutRoom() []string {
	q, with := s.asked, "with the boxes as they are"
	if q.file != "" {
		with = "with the furniture of " + filepath.Base(q.file)
	}
	switch {
	case q.boxes != "" && q.file != "":
		with += " and all boxes " + q.boxes + " long"
	case q.boxes != "":
		with = "with all boxes " + q.boxes + " long"
	}
	years := fmt.Sprintf("%d years", q.years)
	if q.years == 1 {
		years = "a year"
	}
	then := fmt.Sprintf("then: in %s, with %s a year, %s: an estimate", years, words.Count(s.answer.PerYear, "copy", "copies"), with)
	if q.years == 0 {
		then = "then: what there is, " + with
	} else if q.perYear == 0 && !s.answer.Grows.Known {
		then = "then: what there is, " + with + "; nothing grows, for growth is " + s.answer.Grows.Text() + "; enter takes a figure of yours"
	}
	doubts := s.answer.doubts(func(l model.Length) string { return l.Fine(s.theme.Units) })
	return append(doubts, then, "nothing is changed by asking; Shelf changes what there is", moving.Caution(s.answer.Then.Fullest))
}

// roomSheet is the form of the question about another room.
func (s *Screen) roomSheet() *sheet {
	perYear := ""
	if s.asked.perYear > 0 {
		perYear = strconv.Itoa(s.asked.perYear)
	}
	return &sheet{"room", "What the collection would need; nothing is changed", []form.Field{
		{Label: yearsLabel, Hint: fmt.Sprintf("how many years on, 0 to %d", newroom.MostYears)},
		{Label: growthLabel, Hint: "copies that a year brings; nothing: as many as came in the last one"},
		{Label: fileLabel, Hint: "a shelf file with the other furniture: tuckrow shelf show prints one to begin with; nothing: as it is"},
		{Label: boxesLabel, Hint: "all boxes of this length inside, like 500 mm or 20 in; nothing: as they are"},
	}, []string{strconv.Itoa(s.asked.years), perYear, s.asked.file, s.asked.boxes}, s.onQuestion}
}

// onQuestion takes the question over.
func (s *Screen) onQuestion(v func(string) string) (model.Change, error) {
	ask, err := question{file: v(fileLabel), boxes: v(boxesLabel)}, error(nil)
	if ask.years, err = strconv.Atoi(v(yearsLabel)); err != nil || ask.years < 0 || ask.years > newroom.MostYears {
		return nil, model.Inputf("%q is not a number of years; give 0 to %d", v(yearsLabel), newroom.MostYears)
	}
	if text := v(growthLabel); text != "" {
		if ask.perYear, err = strconv.Atoi(text); err != nil || ask.perYear < 0 {
			return nil, model.Inputf("%q is not a number of copies; give a whole number, like 60", text)
		}
	}
	if ask.file != "" {
		if ask.spec, err = readShelf(ask.file); err != nil {
			return nil, err
		}
	}
	if ask.boxes != "" {
		if _, err := newroom.ParseBoxLength(ask.boxes); err != nil {
			return nil, err
		}
	}
	s.asked = ask
	return nil, nil
}

// readShelf reads the shelf file of that name.
func readShelf(name string) (*model.ShelfSpec, error) {
	path, err := form.Path(name)
	if err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("%w; check the name of the shelf file and that you may read it", err)
	}
	spec, err := exchange.ReadShelf(f)
	_ = f.Close() // it was only read
	if err != nil {
		return nil, fmt.Errorf("%q: %w", name, err)
	}
	return &spec, nil
}
