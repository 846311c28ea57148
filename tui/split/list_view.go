package split

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

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
		row("labels to redo", t.Strong, number(func(r *result) int { return r.diff.Labels })),
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
	return append(s.window(lines, max(1, s.h-len(end))), end...)
}

// window is what is seen of lines under a first one that stays, in so many lines
// in all. Where there is more, the last says so.
func (s *Screen) window(lines []string, room int) []string {
	if len(lines) <= room {
		return lines
	}
	head, all := lines[:1], lines[1:]
	room = max(1, room-2)
	s.most = max(0, len(all)-room)
	top := max(0, min(s.top, s.most))
	out := slices.Concat(head, all[top:min(len(all), top+room)])
	t := s.theme
	switch rest := len(all) - top - room; {
	case rest > 0:
		out = append(out, t.Quiet.Render(cells.Cut(fmt.Sprintf(" %s %s more", t.Glyphs.Down, counted(rest, "line", "lines")), s.w)))
	case top > 0:
		out = append(out, t.Quiet.Render(cells.Cut(fmt.Sprintf(" %s %s more", t.Glyphs.Up, counted(top, "line", "lines")), s.w)))
	}
	return out
}

// textWidth is the column for the text of labels and cards.
const textWidth = 20

// list is the labels and cards of a plan, as they must be printed. It is made
// once for a width: in a large cupboard there are thousands.
func (s *Screen) list() []string {
	if s.listed == nil {
		return nil
	}
	if s.items == nil || s.itemsOf != s.listed || s.itemsW != s.w {
		s.items, s.itemsOf, s.itemsW = s.newList(s.listed), s.listed, s.w
	}
	return s.items
}

// newList writes the list. What is to be printed is never cut for what is said
// beside it: it is longer than its column then.
func (s *Screen) newList(r *result) []string {
	t := s.theme
	name := 10
	for i := range r.boxes {
		name = max(name, min(16, cells.Width(r.boxes[i].Name)+6))
	}
	item := func(box, text, note string) string {
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
	var labels, print, move []string
	for _, x := range r.redo.Labels {
		note, text := "was "+x.Was, x.Is
		if x.Holding.New {
			note = "a new box"
		}
		if x.Is == ordering.NoLabel {
			text = "take its label off: it stays empty"
		}
		labels = append(labels, item(x.Holding.Box.Name, text, note))
	}
	for _, c := range r.redo.Cards {
		before := "before " + c.Before.Pattern.Heading()
		if c.From == "" {
			print = append(print, item(c.Box.Name, c.Text, before))
		} else {
			move = append(move, item(c.Box.Name, c.Text, "from box "+c.From+", "+before))
		}
	}
	var lines []string
	for _, part := range []struct {
		title string
		items []string
	}{{"Labels to print", labels}, {"Cards to print", print}, {"Cards to move", move}} {
		if len(lines) > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, t.Heading.Render(cells.Cut(fmt.Sprintf("%s: %d", part.title, len(part.items)), s.w)))
		lines = append(lines, part.items...)
	}
	return lines
}

func (s *Screen) listView() []string {
	t := s.theme
	s.most = 0
	return s.window(append([]string{s.spread("Labels and cards of this plan", "not applied", t.Quiet)}, s.list()...), max(1, s.h))
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
