package split

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
)

// answersView sets the three answers side by side.
func (s *Screen) answersView() []string {
	t := s.theme
	lines := []string{s.spread("When a box spills: three answers", "", t.Quiet)}
	if what := s.want.says(s.theme.Units); len(what) > 0 {
		lines = append(lines, t.Warn.Render(cells.Cut(" What if: "+s.dots(what...), s.w)))
	}
	if s.answer(s.way) == nil {
		return append(lines, "", t.Quiet.Render(cells.Cut("  working them out ... esc: stop waiting", s.w)))
	}
	head, name := [3]string{"push", "box", "afresh"}, 16
	if s.roomy() {
		head, name = [3]string{"push on", "box between", "afresh"}, 26
	}
	w := max(1, (s.w-name)/3)
	row := func(what string, style lipgloss.Style, value func(r *result) string) string {
		line := cells.Fit(" "+what, name)
		for _, way := range ordering.Ways() {
			line += style.Render(cells.Fit(value(s.answer(way)), w))
		}
		return line
	}
	line := strings.Repeat(" ", name)
	for i, way := range ordering.Ways() {
		text, style := cells.Cut(head[i], max(0, w-2)), t.Strong
		if way == s.way {
			text, style = t.Glyphs.Arrow+" "+text, t.Focus
		}
		line += cells.Pad(style.Render(text), w)
	}
	number := func(of func(r *result) int) func(r *result) string {
		return func(r *result) string { return fmt.Sprint(of(r)) }
	}
	fits := func(of func(r *result) ordering.Fits) func(r *result) string {
		return func(r *result) string {
			if n := of(r); n <= ordering.MostFits || w > cells.Width(n.String()) {
				return n.String()
			}
			return fmt.Sprintf(">%d", int(ordering.MostFits))
		}
	}
	if s.h >= roomyH {
		lines = append(lines, "")
	}
	lines = append(lines, line,
		row("boxes in use", t.Plain, number(func(r *result) int { return r.used })),
		row("boxes to get", t.Plain, number(func(r *result) int { return r.fresh })),
		row("change box", t.Strong, number(func(r *result) int { return r.diff.Moved })),
		row("labels to redo", t.Strong, number(func(r *result) int { return len(r.redo.Labels) })),
		row("cards", t.Plain, number(func(r *result) int { return len(r.redo.Cards) })),
		row("room left", t.Plain, func(r *result) string { return s.theme.Length(r.room) }),
		row("then fit, likely", t.Plain, fits(func(r *result) ordering.Fits { return r.outlook.Likely })),
		row("at least (9 of 10)", t.Plain, fits(func(r *result) ordering.Fits { return r.outlook.Poor })),
		row("if all grew alike", t.Plain, fits(func(r *result) ordering.Fits { return r.outlook.Even })), "")
	for _, l := range cells.Wrap("How many more fit before a box spills again is tried out by how the sections have grown in the last year; it is an estimate.", max(1, s.w-2)) {
		lines = append(lines, t.Quiet.Render(" "+l))
	}
	return lines
}

// confirmView says what enter will do, all of it.
func (s *Screen) confirmView() []string {
	t, r := s.theme, s.shown
	s.most = 0
	lines := []string{s.spread("Apply: "+r.aim(), "", t.Quiet)}
	say := func(style lipgloss.Style, text string) {
		for i, l := range cells.Wrap(text, max(1, s.w-4)) {
			indent := "   "
			if i == 0 {
				indent = " " + t.Glyphs.Dot + " "
			}
			lines = append(lines, indent+style.Render(l))
		}
	}
	what := r.what.shelf(t.Units)
	if len(what) > 0 {
		lines = append(lines, "", t.Strong.Render(cells.Cut(" The shelf is changed:", s.w)))
		for _, x := range what {
			say(t.Warn, x)
		}
	}
	if len(r.decision.Boxes) > 0 {
		lines = append(lines, "", t.Strong.Render(cells.Cut(" Boxes to get, not above head height:", s.w)))
		for _, b := range r.decision.Boxes {
			where := ""
			if b.After != "" {
				where = ", behind box " + b.After
			}
			say(t.Warn, fmt.Sprintf("box %s, %s long%s", b.Name, b.Length.Fine(t.Units), where))
		}
	}
	lines = append(lines, "", t.Strong.Render(cells.Cut(" Where boxes begin is settled:", s.w)))
	say(t.Plain, s.price(r)+"; nothing counts as moved before the refiling")
	if len(r.findings) > 0 {
		lines = append(lines, "", t.Strong.Render(cells.Cut(" To know:", s.w)))
	}
	for _, f := range r.findings {
		say(t.Warn, f)
	}
	undo := "ctrl+z takes it back"
	if r.shelf != nil {
		undo = "ctrl+z twice takes it back: once for the walls, once for the shelf"
	}
	back := "esc: back, nothing is changed; " + undo
	end := []string{"", " " + t.Strong.Render(cells.Cut("enter: apply it", max(0, s.w-1)))}
	said := cells.Wrap(back, max(1, s.w-1))
	if len(lines)+len(end)+len(said) > s.h {
		said = []string{cells.Cut(back, max(0, s.w-1))}
	}
	for _, l := range said {
		end = append(end, " "+t.Quiet.Render(l))
	}
	if len(lines)+len(end) > s.h {
		blank := func(l string) bool { return l == "" }
		lines, end = slices.DeleteFunc(lines, blank), slices.DeleteFunc(end, blank)
	}
	return append(s.window(lines[0], len(lines)-1, func(i int) string { return lines[i+1] }, max(1, s.h-len(end))), end...)
}

// window is what is seen of lines under a first one that stays, in so many lines
// in all. Where there is more, the last says so. Only what is seen is written.
func (s *Screen) window(head string, n int, line func(int) string, room int) []string {
	out, top, last := []string{head}, 0, n
	if n >= room {
		room = max(1, room-2)
		s.most = max(0, n-room)
		top = max(0, min(s.top, s.most))
		last = min(n, top+room)
	}
	for i := top; i < last; i++ {
		out = append(out, line(i))
	}
	t := s.theme
	switch rest := n - last; {
	case rest > 0:
		out = append(out, t.Quiet.Render(cells.Cut(fmt.Sprintf(" %s %s more", t.Glyphs.Down, words.Count(rest, "line", "lines")), s.w)))
	case top > 0:
		out = append(out, t.Quiet.Render(cells.Cut(fmt.Sprintf(" %s %s more", t.Glyphs.Up, words.Count(top, "line", "lines")), s.w)))
	}
	return out
}

// textWidth is the column for the text of labels and cards.
const textWidth = 20

// listLine is one line of the labels and cards of a plan: one of them, or a heading,
// or nothing.
type listLine struct {
	label   *ordering.NewLabel
	card    *ordering.NewCard
	heading string
}

// list is the labels and cards of a plan, as they must be printed.
func (s *Screen) list() []listLine {
	if s.listed == nil {
		return nil
	}
	if s.itemsOf != s.listed {
		s.items, s.itemsOf, s.itemsName = listOf(&s.listed.redo), s.listed, 10
		for i := range s.listed.boxes {
			s.itemsName = max(s.itemsName, min(16, cells.Width(s.listed.boxes[i].Name)+6))
		}
	}
	return s.items
}

func listOf(r *ordering.Redo) []listLine {
	var labels, print, move, lines []listLine
	for i := range r.Labels {
		labels = append(labels, listLine{label: &r.Labels[i]})
	}
	for i := range r.Cards {
		if c := &r.Cards[i]; c.From == "" {
			print = append(print, listLine{card: c})
		} else {
			move = append(move, listLine{card: c})
		}
	}
	for _, part := range []struct {
		title string
		lines []listLine
	}{{"Labels to print", labels}, {"Cards to print", print}, {"Cards to move", move}} {
		if len(lines) > 0 {
			lines = append(lines, listLine{})
		}
		lines = append(lines, listLine{heading: fmt.Sprintf("%s: %d", part.title, len(part.lines))})
		lines = append(lines, part.lines...)
	}
	return lines
}

// listLine writes a line. What is to be printed is never cut for what is said beside
// it: it is longer than its column then.
func (s *Screen) listLine(x listLine) string {
	switch {
	case x.heading != "":
		return s.theme.Heading.Render(cells.Cut(x.heading, s.w))
	case x.label != nil:
		note, text := said(x.label.Was), x.label.Is
		if x.label.Holding.New {
			note = "a new box"
		}
		if x.label.Is == ordering.NoLabel {
			text = "take its label off: it stays empty"
		}
		return s.listItem(x.label.Holding.Box.Name, text, note)
	case x.card != nil:
		note := "before " + x.card.Before.Pattern.Heading()
		if x.card.From != "" {
			note = "from box " + x.card.From + ", " + note
		}
		return s.listItem(x.card.Box.Name, x.card.Text, note)
	}
	return ""
}

func (s *Screen) listItem(box, text, note string) string {
	t, name := s.theme, s.itemsName
	line := " " + cells.Fit("box "+box, name) + " "
	left := max(0, s.w-name-2)
	if text = cells.Cut(text, left); s.roomy() && cells.Width(text) < textWidth { // the notes in a column
		text = cells.Fit(text, textWidth)
	}
	line += t.Strong.Render(text)
	if left -= cells.Width(text) + 2; note != "" && left > 6 {
		line += "  " + t.Quiet.Render(cells.Cut(note, left))
	}
	return line
}

func (s *Screen) listView() []string {
	s.most = 0
	lines := s.list()
	return s.window(s.spread("Labels and cards of this plan", "not applied", s.theme.Quiet), len(lines), func(i int) string { return s.listLine(lines[i]) }, max(1, s.h))
}

// findingLines say what a plan could not meet, as far as there is room.
func (s *Screen) findingLines(findings []string) (lines []string) {
	t := s.theme
	for i, f := range findings {
		if i == 2 && len(findings) > 3 {
			return append(lines, t.Warn.Render(cells.Cut(fmt.Sprintf(" %s and %d more notes; enter shows them", t.Glyphs.Alert, len(findings)-i), s.w)))
		}
		n := s.atMost(max(1, 3-len(findings)))
		if i == 0 && !s.roomy() {
			n = 2 // for what to do about it, whatever the box is called
		}
		lines = append(lines, s.onLines(n, t.Warn, t.Glyphs.Alert+" "+f)...)
	}
	return lines
}

// atMost is so many lines, or one where there is little room.
func (s *Screen) atMost(n int) int {
	if !s.roomy() || s.h < roomyH {
		return 1
	}
	return n
}

// onLines puts text on so many lines at the most.
func (s *Screen) onLines(n int, style lipgloss.Style, text string) []string {
	wrapped := cells.Wrap(text, max(1, s.w-2))
	if len(wrapped) > n {
		wrapped = append(wrapped[:n-1], strings.Join(wrapped[n-1:], " "))
	}
	for i, l := range wrapped {
		wrapped[i] = style.Render(cells.Cut(" "+l, s.w))
	}
	return wrapped
}
