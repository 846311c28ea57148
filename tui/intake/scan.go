package intake

import (
	"fmt"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/frame"
)

// scanned takes a sleeve by its code, which was typed into the field with the
// focus behind what stood there, and Enter after it. A scanner does that in one
// go, and whoever holds it looks at the sleeve, not at the screen: so a scan
// never stands in the way of the next one, and enters nothing that a hand has
// typed.
//
// Where a hand has begun an entry, the code is that of its sleeve, see attach,
// unless it is known to be another's. Then that one is taken first, and what was
// typed comes back when it is done. Where nothing was begun:
//
//   - A code that a pattern bears is a further copy of it, entered at once.
//   - Of a code that is like others, what those teach is filled in, and the
//     focus goes to the first thing that is missing. The next scan enters it
//     as it is.
//   - Any other is entered at once with the code for a number, and asks, in
//     the line above the fields, for its number and name: once, since with
//     these it is known from then on.
func (s *Screen) scanned(before, code string) tea.Cmd {
	s.fields[s.focus].retype(before)
	g := s.desk.Known.Code(code)
	if s.edit != nil {
		if s.codeOfEdit(code, g) {
			return nil
		}
		s.leaveEdit()
	}
	switch {
	case !s.begun():
	case !s.typedByHand():
		s.enter()
	case s.code == "" && s.fits(g) && !s.untouched():
		s.attach(code, g)
		return nil
	}
	if s.begun() { // typed by a hand, or it was not taken, or something came back
		s.putOff()
	}
	return s.takeCode(code, g)
}

// takeCode takes a sleeve by its code into fields that are free.
func (s *Screen) takeCode(code string, g propose.Guess) tea.Cmd {
	switch {
	case g.Pattern != 0:
		return s.further(g.Pattern)
	case g.Publisher == "":
		s.fields[fNumber].set(code)
		return s.enter()
	}
	s.code, s.guessed = code, g.Number
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
	return s.to(next)
}

// typedByHand tells whether there is more of the entry than a scan has filled in.
func (s *Screen) typedByHand() bool {
	return s.code == "" || s.fields[fName].text() != "" || s.fields[fNumber].text() != s.guessed
}

// fits tells whether a code can be that of the sleeve whose entry was begun: it
// is nobody's yet, or a pattern's whose number and name begin as typed.
func (s *Screen) fits(g propose.Guess) bool {
	p := s.desk.Collection().Pattern(g.Pattern)
	begins := func(all string, f int) bool {
		return strings.HasPrefix(words.Fold(all), words.Fold(s.fields[f].text()))
	}
	return p == nil || begins(p.Number, fNumber) && begins(p.Name, fName)
}

// attach notes a code for the entry that was begun. What the code teaches is
// filled in only where nothing was typed.
func (s *Screen) attach(code string, g propose.Guess) {
	s.code, s.guessed = code, ""
	c := s.desk.Collection()
	p := c.Pattern(g.Pattern)
	switch {
	case p != nil:
		s.fields[fPublisher].set(c.Publisher(p.Publisher).Name)
		s.fields[fNumber].set(p.Number)
		s.fields[fName].set(p.Name)
	case s.fields[fNumber].text() == "" && g.Number != "":
		s.fields[fPublisher].set(g.Publisher)
		s.fields[fNumber].set(g.Number)
	}
	s.note = "the code " + code + " goes with this sleeve"
	s.look()
}

// codeOfEdit takes a code for the earlier entry that is being changed, and tells
// whether it can be that one's.
func (s *Screen) codeOfEdit(code string, g propose.Guess) bool {
	p := s.desk.Collection().PatternOf(s.edit.of)
	switch {
	case p == nil || g.Pattern != 0 && g.Pattern != p.ID || g.Pattern == 0 && p.Barcode != "":
		return false
	case g.Pattern == p.ID:
		s.note = "that is its code already"
	default:
		s.code = code
		s.note = "the code " + code + " goes with this entry"
	}
	s.look()
	return true
}

// recognise takes a code for what it is when its field is left by another key
// than Enter: for the code of this sleeve, and enters nothing.
func (s *Screen) recognise() {
	before, code := s.scan()
	if code == "" || s.edit != nil && !s.codeOfEdit(code, s.desk.Known.Code(code)) {
		return
	}
	s.fields[s.focus].retype(before)
	if s.edit == nil {
		s.attach(code, s.desk.Known.Code(code))
	}
}

// scan is the code at the end of the field with the focus, and what stands
// before it; no code where its owner has said that it is a number.
func (s *Screen) scan() (before, code string) {
	before, code = splitScan(words.Clean(s.fields[s.focus].input.Value()))
	if code == s.plain {
		return before + code, ""
	}
	return before, code
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

// onDigits says of a code that it is a number and no barcode, or takes that back.
func (s *Screen) onDigits() {
	number := s.fields[fNumber]
	_, typed := s.scan()
	switch listed := s.codeForNumber(); {
	case s.plain != "":
		if number.text() == s.plain {
			number.set(s.replaced)
		}
		s.note = s.plain + " is a barcode again"
		s.code, s.plain = s.plain, ""
	case typed != "":
		s.plain, s.replaced = typed, ""
	case s.code != "":
		s.plain, s.replaced, s.code = s.code, number.text(), ""
		number.set(s.plain)
	case listed != "":
		s.plain, s.replaced = listed, ""
		number.set(listed)
	default:
		s.note = "no barcode is typed here, so there is none to be a number"
	}
	if s.plain != "" {
		s.note = s.plain + " is taken for a number, not for a barcode"
	}
	s.look()
}

// hasDigits tells whether there is a code that could be a number.
func (s *Screen) hasDigits() bool {
	_, typed := s.scan()
	return typed != "" || s.code != "" || s.plain != "" || s.codeForNumber() != ""
}

// codeForNumber is the code that the entry being changed has in place of a
// number that is not known.
func (s *Screen) codeForNumber() string {
	if s.edit == nil || s.fields[fNumber].text() != "" {
		return ""
	}
	if p := s.desk.Collection().PatternOf(s.edit.of); p != nil && p.Number == p.Barcode {
		return p.Barcode
	}
	return ""
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
	back := s.note
	s.note = "further copy of " + p.Heading() + ", by its code"
	if back != "" {
		s.note += "; " + back
	}
	return cmd
}
