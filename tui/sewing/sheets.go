package sewing

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

// sheet is a form with what it is about, and the change that comes of it.
type sheet struct {
	name, title string
	fields      []form.Field
	values      []string
	change      func(value func(label string) string) (model.Change, error)
	makes       model.PatternID // of which something made is noted; 0: nothing is, or it was before
}

// fill opens a form, as it was left if it was.
func (s *Screen) fill(x *sheet) {
	s.cut = 0
	begun := s.forms.Begun(x.name)
	s.sheet, s.form = x, s.forms.Open(x.name, x.title, x.fields, x.values)
	if x.makes != 0 && !begun {
		s.form.ToEmpty()
	}
}

// save makes the change that the form comes to.
func (s *Screen) save() {
	if s.saves != 0 {
		return
	}
	s.form.Settle()
	ch, err := s.sheet.change(s.form.Value)
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return
	}
	s.saves = s.write(ch)
}

// The labels that several forms have.
const (
	nameLabel  = "name"
	onLabel    = "on"
	forLabel   = "for"
	clothLabel = "cloth"
	notesLabel = "notes"
)

// makeSheet is the form of something made: a new one is of today.
func (s *Screen) makeSheet(m model.Make) *sheet {
	c, name := s.desk.Collection(), fmt.Sprintf("made %d", m.ID)
	title := c.CalledOr(m.Pattern, m.Title)
	if m.ID == 0 {
		m.On, title, name = s.desk.Today(), c.Called(m.Pattern), fmt.Sprintf("make of %d", m.Pattern)
		for _, q := range c.Queue() {
			if q.Pattern == m.Pattern {
				m.For, m.Cloth = q.For, q.Cloth
			}
		}
	}
	makes := m.Pattern
	if m.ID != 0 {
		makes = 0
	}
	return &sheet{name, "Made of " + title, []form.Field{
		{Label: onLabel, Hint: "the day, like 2025-12-08"},
		{Label: forLabel, Hint: "for whom", Names: s.people},
		{Label: "view", Hint: "as on the sleeve"},
		{Label: "size", Hint: "that was cut"},
		{Label: clothLabel, Hint: "what it was made from", Names: s.cloths},
		{Label: "changed", Hint: "what was changed on the pattern"},
		{Label: "next time", Hint: "what to do better"},
		{Label: notesLabel},
	}, []string{string(m.On), m.For, m.View, m.Size, m.Cloth, m.Changed, m.Better, m.Notes}, func(v func(string) string) (model.Change, error) {
		m.On, m.For, m.View, m.Size = model.Date(v(onLabel)), v(forLabel), v("view"), v("size")
		m.Cloth, m.Changed, m.Better, m.Notes = v(clothLabel), v("changed"), v("next time"), v(notesLabel)
		return &model.Sewn{Make: m}, nil
	}, makes}
}

// queueSheet is the form of what the queue says of a pattern.
func (s *Screen) queueSheet(q model.Queued) *sheet {
	return &sheet{fmt.Sprintf("queued %d", q.Pattern), "To sew: " + s.desk.Collection().CalledOr(q.Pattern, q.Title), []form.Field{
		{Label: forLabel, Hint: "for whom", Names: s.people},
		{Label: "by", Hint: "the day on which it is to be ready, like 2026-02-14"},
		{Label: clothLabel, Hint: "what it is to be made from", Names: s.cloths},
		{Label: notesLabel},
	}, []string{q.For, string(q.By), q.Cloth, q.Notes}, func(v func(string) string) (model.Change, error) {
		q.For, q.By, q.Cloth, q.Notes = v(forLabel), model.Date(v("by")), v(clothLabel), v(notesLabel)
		return &model.Enqueue{Item: q}, nil
	}, 0}
}

// goalSheet is the form of a goal.
func (s *Screen) goalSheet(g model.Goal) *sheet {
	title := "A goal: at least one of each of these"
	if g.ID != 0 {
		title = "Goal: " + g.Name
	}
	return &sheet{fmt.Sprintf("goal %d", g.ID), title, []form.Field{
		{Label: nameLabel, Hint: "what the goal is called"},
		{Label: "of", Hint: "categories, or words of a name, with ; between: at least one of each is to be made", Names: s.desk.Categories, Parted: true},
		{Label: "since", Hint: "the day from which on it counts; nothing: from today"},
	}, []string{g.Name, strings.Join(g.Of, "; "), string(g.Since)}, func(v func(string) string) (model.Change, error) {
		g.Name, g.Since, g.Of = v(nameLabel), model.Date(v("since")), nil
		for part := range strings.SplitSeq(v("of"), ";") {
			if part = words.Clean(part); part != "" {
				g.Of = append(g.Of, part)
			}
		}
		return &model.SetGoal{Goal: g}, nil
	}, 0}
}

// personSheet is the form of somebody's measures.
func (s *Screen) personSheet(p model.Person) *sheet {
	set := s.desk.Collection().Shelf().Settings
	body := [4]*model.Length{&p.Bust, &p.Waist, &p.Hip, &p.Height}
	labels := [4]string{"bust", "waist", "hip", "height"}
	title := "Somebody that is sewn for"
	if p.ID != 0 {
		title = "Measures of " + p.Name
	}
	fields, values := []form.Field{{Label: nameLabel}}, []string{p.Name}
	for i, l := range labels {
		fields = append(fields, form.Field{Label: l, Hint: "like 92 cm or 36 1/4 in; nothing: not taken"})
		values = append(values, written(*body[i], set.Tape))
	}
	fields = append(fields, form.Field{Label: "taken on", Hint: "the day; nothing: today"}, form.Field{Label: notesLabel})
	was := values
	return &sheet{fmt.Sprintf("person %d", p.ID), title, fields, append(values, string(p.On), p.Notes), func(v func(string) string) (model.Change, error) {
		p.Name, p.On, p.Notes = v(nameLabel), model.Date(v("taken on")), v(notesLabel)
		for i, l := range labels {
			if err := measured(model.ParseBody, l, v(l), was[i+1], body[i]); err != nil {
				return nil, err
			}
		}
		return &model.SetPerson{Person: p}, nil
	}, 0}
}

// clothSheet is the form of a length of cloth.
func (s *Screen) clothSheet(x model.Cloth) *sheet {
	set := s.desk.Collection().Shelf().Settings
	title, oneWay := "Cloth in the cupboard", ""
	if x.ID != 0 {
		title = "Cloth: " + x.Name
	}
	if x.OneWay {
		oneWay = "yes"
	}
	width, length := written(x.Width, set.Tape), written(x.Length, set.ClothThere)
	return &sheet{fmt.Sprintf("cloth %d", x.ID), title, []form.Field{
		{Label: nameLabel, Hint: "what you call it"},
		{Label: "width", Hint: "like 140 cm or 45 in"},
		{Label: "length", Hint: "what there is of it, like 2.5 m or 2 1/4 yd"},
		{Label: "one way", Hint: "pile, or a print that runs one way", Choices: []string{"", "yes"}},
		{Label: notesLabel},
	}, []string{x.Name, width, length, oneWay, x.Notes}, func(v func(string) string) (model.Change, error) {
		x.Name, x.OneWay, x.Notes = v(nameLabel), v("one way") != "", v(notesLabel)
		if err := measured(model.ParseCloth, "width", v("width"), width, &x.Width); err != nil {
			return nil, err
		}
		if err := measured(model.ParseCloth, "length", v("length"), length, &x.Length); err != nil {
			return nil, err
		}
		return &model.SetCloth{Cloth: x}, nil
	}, 0}
}

// written is a length as it stands in a field; nothing for none.
func written(l model.Length, write func(model.Length) string) string {
	if l == 0 {
		return ""
	}
	return write(l)
}

// measured reads a length that was altered. What was not stays as exact as it
// was: it is shown rounded.
func measured(read func(what, text string) (model.Length, error), label, text, was string, to *model.Length) error {
	switch {
	case text == was:
		return nil
	case text == "":
		*to = 0
		return nil
	}
	l, err := read(label, text)
	if err == nil {
		*to = l
	}
	return err
}

func (s *Screen) people(typed string) (out []string) {
	for _, p := range s.desk.Collection().People().All() {
		if begins(p.Name, typed) {
			out = append(out, p.Name)
		}
	}
	return out
}

func (s *Screen) cloths(typed string) (out []string) {
	for _, x := range s.desk.Collection().Cloths().All() {
		if begins(x.Name, typed) {
			out = append(out, x.Name)
		}
	}
	return out
}

func begins(name, typed string) bool {
	return typed != "" && strings.HasPrefix(words.Fold(name), words.Fold(typed))
}
