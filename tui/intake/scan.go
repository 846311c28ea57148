package intake

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/frame"
)

// scanned takes a sleeve by its code, which a scanner has typed into the number
// or the name. A scanner types its digits and Enter in one go, and whoever
// holds it looks at the sleeve, not at the screen: so a scan never stands in
// the way of the next one. What stood in the field before the digits came was
// typed by hand: a name is done with that, a number is not and lies aside.
//
//   - A code that a pattern bears is a further copy of it, entered at once.
//   - Of a code that is like others, what those teach is filled in, and the
//     focus goes to the first thing that is missing. The next scan enters it
//     as it is.
//   - Any other is entered at once with the code for a number, and asks, in
//     the line above the fields, for its number and name: once, since with
//     these it is known from then on.
func (s *Screen) scanned(before, code string) tea.Cmd {
	var cmds []tea.Cmd
	s.fields[s.focus].set(before)
	switch {
	case s.edit != nil:
		cmds = append(cmds, s.leaveEdit())
	case s.begun() && (s.focus == fName || before == ""):
		cmds = append(cmds, s.enter()) // if it is not taken, the error says why and it lies aside
	}
	if s.begun() { // half typed, or come back: the code must not be mixed up with it
		cmds = append(cmds, s.onAside())
	}
	g := s.desk.Known.Code(code)
	switch {
	case g.Pattern != 0:
		return tea.Batch(append(cmds, s.further(g.Pattern))...)
	case g.Publisher == "":
		s.fields[fNumber].set(code)
		return tea.Batch(append(cmds, s.enter())...)
	}
	s.code = code
	s.fields[fPublisher].set(g.Publisher)
	s.fields[fNumber].set(g.Number)
	s.note = fmt.Sprintf("the code is like those of %s: %s", sleeves(g.Sleeves), g.Publisher)
	next := fNumber
	if g.Number == "" {
		s.note += "; which number?"
	} else {
		s.note += fmt.Sprintf("; number as on %s", sleeves(g.Agree))
		next = fName
	}
	return tea.Batch(append(cmds, s.to(next))...)
}

// splitScan finds the code that a scanner has typed behind what stood in the
// field. No number or name ends in so many digits of which the last checks the
// others.
func splitScan(text string) (before, code string) {
	for _, n := range []int{13, 12} {
		if at := len(text) - n; at >= 0 && model.IsGTIN(text[at:]) {
			return text[:at], text[at:]
		}
	}
	return text, ""
}

func sleeves(n int) string {
	if n == 1 {
		return "1 sleeve"
	}
	return fmt.Sprintf("%d sleeves", n)
}

// further enters a further copy of a pattern whose code was scanned.
func (s *Screen) further(id model.PatternID) tea.Cmd {
	c := s.desk.Collection()
	p := c.Pattern(id)
	en := model.Entry{Pattern: id, Publisher: c.Publisher(p.Publisher).Name, Number: p.Number, Name: p.Name,
		Batch: s.fields[fBatch].text(), Barcode: p.Barcode}
	cut, err := model.ParseCut(s.fields[fCut].text())
	if err != nil {
		s.Tell(frame.Complain{Err: err})
		return nil
	}
	en.Cut = cut
	s.fields[fPublisher].set(en.Publisher)
	cmd := s.send(en)
	s.note = "further copy of " + p.Heading() + ", by its code"
	return cmd
}
