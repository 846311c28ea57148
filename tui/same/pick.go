package same

import (
	"slices"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// most is how many patterns are shown at the most; a word more narrows it.
const most = 100

// candidate is a pattern that could be meant, and why.
type candidate struct {
	id  model.PatternID
	why string
}

// pick goes on to which other pattern it is.
func (s *Sheet) pick(kind model.LinkKind) {
	s.stage, s.wish = picking, kind
	s.query.SetValue("")
	s.look()
}

// relate lists what is like the pattern, the likeliest first.
func (s *Sheet) relate() {
	c := s.desk.Collection()
	s.kin = nil
	for _, r := range s.desk.Index.Kin(c.TitleOf(c.Pattern(s.of))) {
		why := r.Tie.String()
		if r.Tie == lookup.Same { // of two that are listed
			why = "same number, size range and year"
		}
		if r.Pattern.ID != s.of {
			s.kin = append(s.kin, candidate{r.Pattern.ID, why})
		}
	}
}

// look lists what is typed; with nothing typed, what is like it.
func (s *Sheet) look() {
	s.at[picking], s.found = 0, nil
	text := words.Clean(s.query.Value())
	if text == "" {
		s.found = s.kin
		return
	}
	ids := s.desk.Index.Find(text, most).Patterns
	if model.IsGTIN(text) {
		if g := s.desk.Known.Code(text); g.Pattern != 0 {
			ids = []model.PatternID{g.Pattern}
		}
	}
	for _, id := range ids {
		if id != s.of {
			s.found = append(s.found, candidate{id: id})
		}
	}
}

func (s *Sheet) onPickKey(msg tea.KeyMsg) tea.Cmd {
	k, at := s.keys, &s.at[picking]
	switch {
	case key.Matches(msg, k.leave):
		s.stage = choosing
	case key.Matches(msg, k.up):
		*at = max(0, *at-1)
	case key.Matches(msg, k.down):
		*at = max(0, min(len(s.found)-1, *at+1))
	case key.Matches(msg, k.take):
		s.picked()
	default:
		before := s.query.Value()
		var cmd tea.Cmd
		if s.query, cmd = s.query.Update(msg); s.query.Value() != before {
			s.look()
		}
		return cmd
	}
	return nil
}

// picked goes on with the pattern that is chosen.
func (s *Sheet) picked() {
	if len(s.found) == 0 {
		return
	}
	other := s.found[s.at[picking]].id
	if s.wish != "" {
		s.make(&model.SetLink{A: s.of, B: other, Kind: s.wish})
		return
	}
	s.merge = model.Merge{Keep: s.of, Gone: other}
	if other < s.of {
		s.merge.Keep, s.merge.Gone = other, s.of // the one that was entered first, as the list of pairs has it
	}
	if err := s.compare(); err != nil {
		s.host.Tell(frame.Complain{Err: err})
		return
	}
	s.stage = joining // at what there is to decide, if there is
	s.at[joining] = max(0, slices.IndexFunc(s.joint.Said, func(x model.Said) bool { return !settled(x) }))
}
