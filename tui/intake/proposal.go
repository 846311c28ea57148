package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
)

// better is by how much the proposed category must beat the one that stands
// there: where both would do, what stands is left in peace. Our choice, no
// source.
const better = 1.2

// propose works out what category to propose beside the one that stands: none
// while that one will do, or the owner has chosen it by hand, or a further copy
// has its category already. Enter never takes it, so that nobody has to read
// what the program thinks to know what Enter does; ctrl+y takes it.
func (s *Screen) propose() {
	if s.chosen || s.before != nil || s.twin() != nil && !s.apart {
		return
	}
	if s.edit != nil && s.fields[fName].text() == s.edit.was[fName] {
		return // its owner has decided on that name
	}
	stands := words.Fold(s.fields[fCategory].text())
	all := s.desk.Known.Categories(s.fields[fName].text())
	if len(all) == 0 || all[0].Score < propose.Least || words.Fold(all[0].Category) == stands {
		return
	}
	for _, p := range all {
		if words.Fold(p.Category) == stands && all[0].Score < better*p.Score {
			return
		}
	}
	s.proposed = all[0].Category
}

// takeProposal takes the category proposed, or gives back what stood there
// before.
func (s *Screen) takeProposal() {
	f := s.fields[fCategory]
	switch {
	case s.before != nil:
		f.set(*s.before)
		s.before = nil
	case s.proposed != "":
		was := f.value
		s.before = &was
		f.set(s.proposed)
	}
	s.look()
}

// publishers gives those that begin with what was typed, and that nobody knows
// who it is.
func (s *Screen) publishers(typed string) []string {
	list, q := s.desk.Publishers(typed), words.Fold(typed)
	if q != "" && strings.HasPrefix(model.NotKnown, q) && !listed(list, model.NotKnown) {
		list = append(list, model.NotKnown)
	}
	return list
}

// categories gives those that begin with what was typed. Of these, what the
// name speaks for goes first, so that one letter mostly will do. In a new cupboard
// one letter leads to what is usual.
func (s *Screen) categories(typed string) []string {
	list := s.desk.Categories(typed)
	if begin, short := propose.Short(s.desk.Collection(), typed); short && len(list) == 0 {
		return begin
	}
	score := map[string]float64{}
	for _, p := range s.desk.Known.Categories(s.fields[fName].text()) {
		if p.Score >= propose.Least {
			score[p.Category] = p.Score
		}
	}
	slices.SortStableFunc(list, func(a, b string) int { return cmp.Compare(score[b], score[a]) })
	return list
}

// asksCategory asks, once, whether a new category is called by the one or two letters
// that were typed of it.
func (s *Screen) asksCategory() bool {
	name := s.fields[fCategory].text()
	if _, short := propose.Short(s.desk.Collection(), name); !short || s.asked == name {
		return false
	}
	s.asked = name
	s.note = fmt.Sprintf("%q would be a new category: type its whole name, or enter takes it as it is", name)
	return true
}
