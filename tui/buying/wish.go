package buying

import (
	"cmp"
	"fmt"
	"strings"
	"unicode"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/form"
)

// The labels of the form.
const (
	publisherLabel = "publisher"
	numberLabel    = "number"
	nameLabel      = "name"
	sizesLabel     = "sizes"
	categoryLabel  = "category"
	orderedLabel   = "ordered"
	expectedLabel  = "expected"
	fromLabel      = "from"
	notesLabel     = "notes"
)

func (s *Screen) fields() []form.Field {
	return []form.Field{
		{Label: publisherLabel, Hint: "as on the sleeve; it may be a new one", Names: s.desk.Publishers},
		{Label: numberLabel, Hint: "as on the sleeve; a number or a name is needed"},
		{Label: nameLabel, Hint: "a number or a name is needed"},
		{Label: sizesLabel, Hint: "the size range wanted, like 10-16 or H5"},
		{Label: categoryLabel, Hint: "of garment, by its first letters", Names: s.desk.Categories},
		{Label: orderedLabel, Hint: "the day, like 2025-11-28; nothing: only wanted"},
		{Label: expectedLabel, Hint: "the day, like 2025-12-18, on which it should be here"},
		{Label: fromLabel, Hint: "who sends it"},
		{Label: notesLabel, Hint: "what for, at which price, what to look at"},
	}
}

// wanted names the form of a new wish.
func wanted(query string) string { return "want " + words.Clean(query) }

// fill opens the form of a wish, as it was left if it was.
func (s *Screen) fill(w model.Wish) {
	title, name := "Wanted", wanted(s.query.Value())
	if w.ID != 0 {
		title, name = "Wish: "+w.Heading(), fmt.Sprintf("wish %d", w.ID)
	}
	s.form = s.forms.Open(name, title, s.fields(), []string{w.Publisher, w.Number, w.Name, w.SizeRange, w.Category, string(w.Ordered), string(w.Expected), w.From, w.Notes})
	s.filled, s.stage = name, filling
}

// want opens the form of a new wish, with what the question says.
func (s *Screen) want() {
	text := words.Clean(s.query.Value())
	if s.answer.Coded {
		text = s.answer.Reads
	}
	begun := s.forms.Begun(wanted(s.query.Value()))
	if s.fill(s.wishOf(text)); !begun {
		s.form.ToEmpty()
	}
}

// order opens the form of a wish to say that it is on the way.
func (s *Screen) order() {
	w := s.wish()
	if w == nil {
		return
	}
	s.fill(*w)
	if s.form.Value(orderedLabel) == "" {
		s.form.Set(orderedLabel, string(s.desk.Today()))
	}
	s.form.To(expectedLabel)
}

// wishOf takes a question apart: first a publisher, by the beginning of its name,
// then what has digits in it, then the name.
func (s *Screen) wishOf(text string) (w model.Wish) {
	rest := strings.Fields(text)
	for n := min(3, len(rest)); n > 0; n-- {
		if names := s.desk.Publishers(strings.Join(rest[:n], " ")); len(names) > 0 && !digits(rest[0]) {
			w.Publisher, rest = names[0], rest[n:]
			break
		}
	}
	for len(rest) > 0 && digits(rest[0]) {
		w.Number, rest = strings.TrimSpace(w.Number+" "+rest[0]), rest[1:]
	}
	w.Name = strings.Join(rest, " ")
	return w
}

func digits(word string) bool { return strings.ContainsFunc(word, unicode.IsDigit) }

// save notes the wish as the form has it.
func (s *Screen) save() {
	if s.saves != 0 {
		return
	}
	v := s.form.Value
	w := model.Wish{Publisher: v(publisherLabel), Number: v(numberLabel), Name: v(nameLabel), SizeRange: v(sizesLabel), Category: v(categoryLabel),
		Ordered: model.Date(v(orderedLabel)), Expected: model.Date(v(expectedLabel)), From: v(fromLabel), Notes: v(notesLabel)}
	if _, err := fmt.Sscanf(s.filled, "wish %d", &w.ID); err == nil {
		if old := s.desk.Collection().Wishes().Get(uint32(w.ID)); old != nil {
			w.Since = old.Since
		}
	}
	s.saves = s.write(&model.Want{Wish: w})
}

// state says in a word how far a wish is, and state in full in a few.
func (s *Screen) state(w *model.Wish) (short, full string) {
	from := ""
	if w.From != "" {
		from = " from " + w.From
	}
	today := s.desk.Today()
	switch {
	case s.desk.Index.Granted(w) != nil:
		return "here already", "listed already: take the wish off the list with ctrl+d, or ctrl+a lists a further copy"
	case w.Expected != "" && w.Expected < today:
		return "late, " + string(w.Expected), fmt.Sprintf("late: it was expected on %s%s", w.Expected, from)
	case w.Expected != "":
		return "due " + string(w.Expected), fmt.Sprintf("on the way since %s, expected on %s%s", cmp.Or(w.Ordered, "a day not noted"), w.Expected, from)
	case w.OnTheWay():
		return "on the way", fmt.Sprintf("on the way since %s%s", w.Ordered, from)
	}
	return "wanted", "wanted since " + string(w.Since)
}
