package binders

import (
	"cmp"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/choose"
	"example.org/tuckrow/model/fit"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/desk"
	"example.org/tuckrow/tui/form"
	"example.org/tuckrow/tui/frame"
)

// asked is what sleeves are chosen by.
type asked struct {
	name  string // in words
	words string
	choose.Question
	rev uint64 // of what was chosen by it
}

// question is what is asked of the cupboard as it is now.
func (a *asked) question(d *desk.Desk) choose.Question {
	q := a.Question
	if a.words != "" {
		const plenty = 1 << 20
		q.Words = append([]model.PatternID{}, d.Index.Find(a.words, plenty).Patterns...)
	}
	return q
}

// The labels of the form.
const (
	wordsLabel     = "words"
	categoryLabel  = "category"
	neverLabel     = "never made"
	cutLabel       = "cut"
	whoLabel       = "fits"
	byLabel        = "by"
	clothLabel     = "cloth"
	sizeLabel      = "size"
	publisherLabel = "publisher"
	yearsLabel     = "years"
)

// formName is the form's name among the room's.
const formName = "choose"

func (s *Screen) fields() []form.Field {
	c := s.desk.Collection()
	people := func(typed string) (out []string) {
		for _, p := range c.People().All() {
			if begins(p.Name, typed) {
				out = append(out, p.Name)
			}
		}
		return out
	}
	cloths := func(typed string) (out []string) {
		for _, x := range c.Cloths().All() {
			if begins(x.Name, typed) {
				out = append(out, x.Name)
			}
		}
		return out
	}
	return []form.Field{
		{Label: wordsLabel, Hint: "of the name, like: wrap, or: tie belt"},
		{Label: categoryLabel, Hint: "only this one, by its first letters", Names: s.desk.Categories, Listed: true},
		{Label: neverLabel, Hint: "only what was never made", Choices: []string{"", "yes"}},
		{Label: cutLabel, Hint: "only in this state", Choices: []string{"", string(model.Uncut), string(model.PartlyCut), string(model.FullyCut)}},
		{Label: whoLabel, Hint: "whom it is to fit, by the measures that were noted", Names: people, Listed: true},
		{Label: byLabel, Hint: "by these measures alone: bust, waist, hip; nothing: by all"},
		{Label: clothLabel, Hint: "what it is to be cut from, of the cloth that was noted", Names: cloths, Listed: true},
		{Label: sizeLabel, Hint: "in which size the cloth is to be enough"},
		{Label: publisherLabel, Hint: "only this one, by its first letters", Names: s.desk.Publishers, Listed: true},
		{Label: yearsLabel, Hint: "1950, or 1950-1965, or 1950- for all since"},
	}
}

func begins(name, typed string) bool {
	return typed != "" && strings.HasPrefix(words.Fold(name), words.Fold(typed))
}

// ask opens the form.
func (s *Screen) ask() {
	fields := s.fields()
	s.form = s.forms.Open(formName, "Choose from the binders", fields, make([]string, len(fields)))
	s.stage = asking
}

// choose takes the form, if it can be understood.
func (s *Screen) choose() {
	s.form.Settle()
	a, err := askedBy(s.desk, s.form.Value)
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return
	}
	s.asked, s.chosen, s.stage = a, nil, leafing
}

// askedBy reads the form.
func askedBy(d *desk.Desk, value func(label string) string) (*asked, error) {
	c, a := d.Collection(), &asked{words: value(wordsLabel)}
	a.Size, a.On, a.South = value(sizeLabel), d.Today(), c.Shelf().Settings.Half == model.South
	a.NeverMade = value(neverLabel) != ""
	a.Cut = model.Cut(value(cutLabel))
	missing := func(what, name, how string) error {
		return model.Inputf("there is no %s %q; %s", what, name, how)
	}
	if name := value(categoryLabel); name != "" {
		if a.Category = c.CategoryNamed(name); a.Category == nil {
			return nil, missing(categoryLabel, name, "type the first letters of one that is there")
		}
	}
	if name := value(publisherLabel); name != "" {
		if a.Publisher = c.PublisherNamed(name); a.Publisher == nil {
			return nil, missing(publisherLabel, name, "type the first letters of one that is there")
		}
	}
	if name := value(whoLabel); name != "" {
		if a.Who = c.PersonNamed(name); a.Who == nil {
			return nil, missing("person", name, "note measures with: tuckrow person")
		}
	}
	if name := value(clothLabel); name != "" {
		if a.Cloth = c.ClothNamed(name); a.Cloth == nil {
			return nil, missing("cloth", name, "note what there is with: tuckrow cloth")
		}
	}
	var err error
	if a.By, err = fit.ParseMeasures(value(byLabel)); err != nil {
		return nil, err
	}
	if a.From, a.To, err = choose.ParseYears(value(yearsLabel)); err != nil {
		return nil, err
	}
	a.name = a.says(value)
	return a, nil
}

// says tells what is chosen by.
func (a *asked) says(value func(string) string) string {
	parts := []string{value(wordsLabel), value(categoryLabel), value(publisherLabel), value(yearsLabel), value(cutLabel)}
	if a.NeverMade {
		parts = append(parts, neverLabel)
	}
	if a.Who != nil {
		parts = append(parts, "fits "+a.Who.Name)
	}
	if a.Cloth != nil {
		parts = append(parts, "of "+a.Cloth.Name)
	}
	return cmp.Or(joined(parts...), "all that is at hand")
}
