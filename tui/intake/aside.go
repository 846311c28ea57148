package intake

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// mostAside is how many entries can lie aside.
const mostAside = 50

// lift takes the entry out of the fields.
func (s *Screen) lift() typed {
	t := s.typed()
	if s.before != nil { // what was proposed for this one is not for the next
		s.fields[fCategory].set(*s.before)
	}
	s.free()
	return t
}

// onAside puts the entry that is being typed aside, or brings the last one
// back when none is being typed. One that was brought back and not touched goes
// behind the others, so that one can look through them.
func (s *Screen) onAside() tea.Cmd {
	switch {
	case s.edit != nil:
		s.asListed()
		return nil
	case s.begun() && len(s.aside) >= mostAside:
		s.Tell(frame.Complain{Err: model.Inputf("%d entries lie aside already; enter this one, or throw it away with ctrl+d and bring one back with ctrl+x", mostAside)})
		return nil
	case s.begun():
		untouched := s.untouched()
		t := s.lift()
		if untouched {
			s.aside = slices.Insert(s.aside, 0, t)
		} else {
			s.aside = append(s.aside, t)
		}
		return s.next()
	case len(s.aside) > 0:
		last := s.aside[len(s.aside)-1]
		s.aside = s.aside[:len(s.aside)-1]
		cmd := s.bring(last)
		s.brought = s.typed()
		return cmd
	}
	s.note = "nothing is typed, and nothing lies aside"
	return nil
}

// onThrow throws the entry that is being typed away, or, when none is, brings
// the last one that was thrown away back: nothing typed is lost by one key.
func (s *Screen) onThrow() tea.Cmd {
	switch {
	case s.begun():
		t := s.lift()
		if s.thrown = append(s.thrown, t); len(s.thrown) > mostAside {
			s.thrown = s.thrown[1:]
		}
		cmd := s.next()
		if s.begun() { // another has come back
			return cmd
		}
		s.note = "thrown away: " + t.heading() + "; ctrl+d brings it back"
		return cmd
	case len(s.thrown) > 0:
		last := s.thrown[len(s.thrown)-1]
		s.thrown = s.thrown[:len(s.thrown)-1]
		return s.bring(last)
	}
	s.note = "nothing is typed, and nothing was thrown away"
	return nil
}

// untouched tells whether the entry in the fields is just as it came back.
func (s *Screen) untouched() bool {
	now := s.typed()
	now.Focus = s.brought.Focus
	return now == s.brought && !now.empty()
}

// putOff takes the entry that a hand has typed out of the fields, for a sleeve
// that was scanned meanwhile. It comes back when that is done.
func (s *Screen) putOff() {
	t := s.lift()
	t.Back = true
	s.aside = append(s.aside, t)
}

// next has the fields, which are free, hold what waits for them, else nothing.
func (s *Screen) next() tea.Cmd {
	s.note = ""
	if cmd, ok := s.comeBack(); ok {
		return cmd
	}
	return s.to(fNumber)
}

// comeBack brings what comes back by itself: what the store refused, else what
// was put off. It tells whether there was any.
func (s *Screen) comeBack() (tea.Cmd, bool) {
	if len(s.refused) > 0 {
		en := s.refused[0]
		s.refused = s.refused[1:]
		s.setTexts(textsOf(en))
		s.code = en.Barcode
		return s.to(fNumber), true
	}
	for i, t := range slices.Backward(s.aside) {
		if t.Back {
			s.aside = slices.Delete(s.aside, i, i+1)
			cmd := s.bring(t)
			s.brought = s.typed()
			s.note = "back again: " + t.heading()
			return cmd, true
		}
	}
	return nil, false
}

// asideText says what lies aside, or what was thrown away last.
func (s *Screen) asideText() string {
	switch n := len(s.aside); {
	case n == 1:
		return "aside: " + s.aside[0].heading() + "; ctrl+x brings it back"
	case n > 1:
		return fmt.Sprintf("%d aside, the last %s; ctrl+x brings it back", n, s.aside[n-1].heading())
	}
	return ""
}
