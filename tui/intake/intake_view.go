package intake

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/strip"
)

const labelWidth = 12

// lowest is the height from which all fields are shown. Below it those stay
// away that are seldom touched, so that a duplicate can still be seen.
const lowest = 15

// mostGiven is how short a field is cut for what stands beside it.
const mostGiven = 8

// View implements frame.Screen. From top to bottom: what the hands type, what
// it is like, where it will stand, what was entered before. The fields never
// move: what there is to say goes above or below them, where room is kept.
func (s *Screen) View() string {
	if s.ticks.open {
		return cells.Clamp(strings.Join(s.tickLines(), "\n"), s.w, s.h)
	}
	lines := []string{s.heading(), s.noteLine()}
	for _, f := range s.shown() {
		lines = append(lines, s.line(f))
	}
	switch {
	case s.fresh:
		if s.h >= lowest {
			lines = append(lines, "")
		}
		lines = append(lines, s.leftLines(s.h-len(lines))...)
	case s.edit != nil:
		if s.h >= lowest {
			lines = append(append(append(lines, ""), s.kinLines()...), "")
		}
		lines = append(lines, s.earlierLines(s.h-len(lines))...)
	default:
		if s.h >= lowest {
			lines = append(lines, "")
		}
		lines = append(lines, s.kinLines()...)
		lines = append(lines, s.placeLines(s.h-len(lines))...)
		if room := s.h - len(lines) - 1; room > 1 {
			lines = append(lines, "")
			lines = append(lines, s.recentLines(room)...)
		}
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// shown lists the fields that there is room for. On a low screen the last line
// is for the one of the seldom touched that has the focus.
func (s *Screen) shown() []int {
	all := []int{fPublisher, fNumber, fName, fCategory, fSizes, fYear, fCut, fBatch}
	if s.h >= lowest {
		return all
	}
	return append(all[:fSizes:fSizes], max(fSizes, s.focus))
}

// heading says what is being done, and how far it is.
func (s *Screen) heading() string {
	left := "Emptying " + s.drawer()
	if s.edit != nil {
		left = fmt.Sprintf("Changing entry %d", s.edit.of)
	}
	right := fmt.Sprintf("%d entered", s.entered())
	if n := len(s.aside); n > 0 {
		right = fmt.Sprintf("%d aside %s %s", n, s.theme.Glyphs.Dot, right)
	}
	if n := s.adding(); n > 0 {
		right = fmt.Sprintf("writing %d  %s", n, right)
	}
	return s.ends(s.theme.Heading.Render, left, right)
}

// ends writes one text at the left and one, if there is room for it, at the
// right.
func (s *Screen) ends(style func(...string) string, left, right string) string {
	gap := s.w - cells.Width(cells.Plain(left)) - cells.Width(right)
	if gap < 2 {
		return style(cells.Cut(left, s.w))
	}
	return style(cells.Plain(left)) + strings.Repeat(" ", gap) + s.theme.Quiet.Render(right)
}

// entered is how many entries of this sitting are listed.
func (s *Screen) entered() int {
	n, c := 0, s.desk.Collection()
	for _, a := range s.recent {
		if c.Copy(a) != nil {
			n++
		}
	}
	return n
}

// adding is how many entries are on their way to the disk.
func (s *Screen) adding() int {
	n := 0
	for _, j := range s.sent {
		if j.entry != nil {
			n++
		}
	}
	return n
}

func (s *Screen) drawer() string {
	if b := s.fields[fBatch].text(); b != "" {
		return b
	}
	return "a drawer"
}

// noteLine is the line above the fields: at the left a question, else what came
// of the last key, else what waits; at the right how far the drawer is.
func (s *Screen) noteLine() string {
	t := s.theme
	if s.about != nil {
		what := "it"
		if s.w >= 60 {
			what = cells.Cut(s.drawer(), s.w-40)
		}
		label := t.Glyphs.Arrow + " About how many lie in " + what + "? "
		return t.Strong.Render(cells.Cut(label, s.w)) + t.Input(*s.about, max(1, min(11, s.w-cells.Width(label))))
	}
	text, style := s.waits(), t.Quiet
	if s.note != "" {
		text, style = s.note, t.Strong
	}
	text = cells.Cut("  "+text, s.w)
	for _, pace := range s.paceTexts() {
		if gap := s.w - cells.Width(text) - cells.Width(pace); gap >= 2 && s.edit == nil {
			return style.Render(text) + strings.Repeat(" ", gap) + t.Quiet.Render(pace)
		}
	}
	return style.Render(text)
}

// waits says what is not in the fields and not lost.
func (s *Screen) waits() string {
	_, code := s.scan()
	switch {
	case code != "":
		return code + " is a barcode: enter takes it as one; ctrl+g: it is a number"
	case s.edit != nil && !s.edit.typing.empty():
		return "still being typed: " + s.edit.typing.heading() + " (it comes back)"
	case s.code != "":
		return "the sleeve's code is " + s.code + "; ctrl+g: it is a number"
	case s.begun():
		return ""
	}
	return s.asideText()
}

// line draws one field.
func (s *Screen) line(i int) string {
	t, f := s.theme, s.fields[i]
	label := cells.Fit(labels[i], labelWidth)
	if i != s.focus || s.about != nil {
		style := t.Plain
		if kept(i) && s.edit == nil {
			style = t.Quiet
		}
		// What stands there gives way to what could: the owner knows the one.
		beside := s.beside(i)
		room := max(min(mostGiven, s.w-labelWidth-2), s.w-labelWidth-2-cells.Width(beside))
		return "  " + t.Quiet.Render(label) + style.Render(cells.Cut(f.text(), max(0, room))) + beside
	}
	line := t.Strong.Render(t.Glyphs.Arrow+" "+label) + t.Input(f.input, max(1, s.w-labelWidth-2))
	beside := s.beside(i)
	return line + s.hints(f, s.w-cells.Width(line)-cells.Width(beside)) + beside
}

// beside is what stands behind a field with or without the focus: of the
// category, what the name speaks for.
func (s *Screen) beside(i int) string {
	t := s.theme
	switch {
	case i == fPublisher && words.Fold(s.fields[i].text()) == model.NotKnown:
		return t.Quiet.Render("  into the unidentified bin")
	case i == fCategory && s.before != nil && *s.before != "":
		return t.Quiet.Render("  ctrl+y: back to " + *s.before)
	case i == fCategory && s.proposed != "":
		return t.Quiet.Render("  ctrl+y: ") + t.Strong.Render(s.proposed)
	case i == fNumber && s.edit != nil && s.fields[fNumber].text() == "":
		if p := s.desk.Collection().PatternOf(s.edit.of); p != nil && p.Barcode != "" && p.Number == p.Barcode {
			return t.Quiet.Render("  not known yet; code " + p.Barcode)
		}
	}
	return ""
}

// stays are what is said of a value that stands until another is typed, as long as
// there is room for it.
var stays = []string{"  stays; first letters: another, backspace: none", "  stays; type first letters for another", "  stays", ""}

// hints shows, beside a field and in room cells, what Enter would take; of several
// choices the one in brackets.
func (s *Screen) hints(f *field, room int) string {
	t := s.theme
	if f.source == nil {
		if twin := s.twin(); f == s.fields[fName] && f.text() == "" && twin != nil && !s.apart {
			return t.Quiet.Render("  enter takes: ") + t.Strong.Render(twin.Name)
		}
		if f == s.fields[fNumber] && s.code != "" { // what goes with the entry must be seen
			return t.Quiet.Render("  with the code " + s.code)
		}
		return ""
	}
	choices := f.suggestions()
	if len(choices) == 0 {
		if f.value == "" {
			if say := "  by its first letter: " + strings.Join(f.source(""), ", "); f.closed && cells.Width(say) <= room {
				return t.Quiet.Render(say)
			}
			return ""
		}
		for _, say := range stays {
			if cells.Width(f.value)+cells.Width(say) <= room {
				return t.Plain.Render(f.value) + t.Quiet.Render(say)
			}
		}
		return t.Plain.Render(cells.Cut(f.value, max(min(mostGiven, s.w-labelWidth-3), room)))
	}
	var b strings.Builder
	for i, c := range choices {
		word := c
		if typed := words.Clean(f.input.Value()); i == len(choices)-1 && c == typed && !listed(f.source(typed), typed) {
			word = "new: " + c
		}
		b.WriteString("  ")
		if i == f.pick { // in brackets, since a colour alone says nothing
			b.WriteString(t.Focus.Render("[" + word + "]"))
		} else {
			b.WriteString(t.Quiet.Render(" " + word + " "))
		}
	}
	return b.String()
}

// mostKin is how many like patterns are worth the eye's time.
const mostKin = 3

// todo says what to do about a pattern that is like the one in hand.
var todo = map[lookup.Tie]string{
	lookup.Same:      "a second copy?",
	lookup.YearOpen:  "used again? give the year",
	lookup.OtherSize: "a pattern of its own",
	lookup.OtherYear: "a pattern of its own",
	lookup.NearName:  "the same, or a reissue?",
}

func (s *Screen) kinLines() []string {
	t := s.theme
	var lines []string
	for i, k := range s.kin {
		if i == mostKin {
			lines = append(lines, t.Quiet.Render(fmt.Sprintf("  and %d more like it", len(s.kin)-mostKin)))
			break
		}
		style := t.Warn
		if !k.Tie.Owned() {
			style = t.Quiet
		}
		what := "  " + k.Pattern.Heading()
		if k.Pattern.SizeRange != "" {
			what += "  " + k.Pattern.SizeRange
		}
		if k.Pattern.Year != 0 {
			what += fmt.Sprintf("  %d", k.Pattern.Year)
		}
		what += "  " + s.whereIs(k.Pattern)
		tie := t.Glyphs.Alert + " " + k.Tie.String()
		if i == 0 || k.Tie != s.kin[i-1].Tie { // said once for all of them
			lines = append(lines, style.Render(cells.Cut(tie, s.w))+
				t.Plain.Render(cells.Cut("  "+t.Glyphs.Dot+" "+todo[k.Tie], max(0, s.w-cells.Width(tie)))))
		}
		lines = append(lines, t.Plain.Render(cells.Cut(what, s.w)))
	}
	if say := s.verdict(); say != "" {
		lines = append(lines, t.Strong.Render("  "+cells.Cut(say, max(0, s.w-2))))
	}
	return lines
}

// verdict says what Enter will do about all that, and what else can be done.
// From the number it is one Enter more, since that goes to the name first.
func (s *Screen) verdict() string {
	enter := map[int]string{fPublisher: "enter 3 times: ", fNumber: "enter twice: "}[s.focus]
	if enter == "" {
		enter = "enter: "
	}
	switch {
	case s.edit != nil || len(s.kin) == 0:
		return ""
	case s.twin() != nil && s.apart:
		return enter + "a pattern of its own; ctrl+o: a further copy; ctrl+d: a mistake"
	case s.twin() != nil:
		return enter + "a further copy; ctrl+o: a pattern of its own; ctrl+d: a mistake"
	case s.kin[0].Tie == lookup.NearName:
		return ""
	case s.listed != nil && s.listed.Tie.Owned():
		return enter + s.listed.Why()
	}
	return enter + "a pattern of its own; ctrl+d: a mistake, throw away"
}

func (s *Screen) whereIs(p *model.Pattern) string {
	copies := s.desk.Index.Copies(p.ID)
	if len(copies) == 0 {
		return ""
	}
	slot := s.desk.Layout.Slot(copies[0])
	where := "on the pile"
	switch {
	case slot.Box.ID != 0:
		where = "box " + slot.Box.Name
	case slot.Hook != "":
		where = "hook " + slot.Hook
	case slot.Missing != "":
		where = "not found on " + string(slot.Missing)
	}
	if slot.Out != nil {
		where += ", out"
	}
	if len(copies) > 1 {
		where += fmt.Sprintf(" and %d more", len(copies)-1)
	}
	return where
}

// placeLines draws where the entry will stand, if there is room for it.
func (s *Screen) placeLines(room int) []string {
	if s.gap.Section == "" || room < 2 || len(s.desk.Collection().Shelf().Boxes) == 0 {
		return nil
	}
	t, g := s.theme, s.gap
	if g.Holding == nil {
		return []string{t.Quiet.Render(cells.Cut("  files under "+g.Section+"; nothing stands in a box near it yet", s.w))}
	}
	lines := []string{""}
	title := strip.Title(g.Holding, s.desk.Layout.Label(g.Holding), s.w, t)
	lines = append(lines, t.Quiet.Render(title))
	return append(lines, strip.Draw(g.Holding, strip.Options{
		Width: s.w, Height: max(1, room-len(lines)), Mark: &strip.Mark{At: g.FromFront}, Theme: t,
		Out: func(a model.Accession) bool { return s.desk.Collection().Copy(a).Out != nil },
	})...)
}
