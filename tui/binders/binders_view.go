package binders

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/sleeve"
)

const (
	sideBySide = 64 // cells from which the sleeve is shown beside the list
	roomyFrom  = 15 // lines from which the binders stand above it
	wideList   = 60 // cells from which a list of what was chosen names publishers
)

// View implements frame.Screen.
func (s *Screen) View() string {
	var lines []string
	switch s.stage {
	case asking:
		lines = s.form.View(s.theme, s.w, s.h)
	case whole:
		lines = s.wholeView()
	default:
		lines = s.leafView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// wholeView is one sleeve, all of it.
func (s *Screen) wholeView() []string {
	st := s.open()
	lines := []string{s.head(st)}
	if s.h >= roomyFrom {
		lines = append(lines, "")
	}
	all := s.sleeve(st).Lines(s.theme, max(1, s.w-2))
	for i := range all {
		all[i] = " " + all[i]
	}
	all, s.most = s.theme.Window(all, s.top, s.h-len(lines), s.w)
	s.top = min(s.top, s.most)
	return append(lines, all...)
}

// leafView shows the binders, the pockets of the open one, and the sleeve in the
// pocket that one is at.
func (s *Screen) leafView() []string {
	t, st := s.theme, s.open()
	var lines []string
	if s.h >= roomyFrom && s.asked == nil {
		lines = append(lines, s.spines())
	}
	lines = append(lines, s.head(st))
	switch {
	case st == nil && s.asked != nil:
		return append(lines, "", t.Quiet.Render(cells.Cut("  looking through the shelf ...", s.w)))
	case st == nil && s.binders == nil:
		return append(lines, "", t.Quiet.Render(cells.Cut("  laying the sleeves into their binders ...", s.w)))
	case st == nil:
		return append(append(lines, ""), s.quiet("no sleeve is in a binder yet: give patterns a category in Intake, and tick there that the sleeve is in its binder")...)
	case len(st.leaves) == 0 && s.asked != nil:
		return append(append(lines, ""), s.quiet("nothing at hand is like that; c chooses otherwise")...)
	case len(st.leaves) == 0:
		return append(append(lines, ""), s.quiet("the binder is empty")...)
	}
	room := max(1, s.h-len(lines))
	if s.w < sideBySide {
		card := s.sleeve(st).Short(t, max(1, s.w-2))
		below := min(len(card), max(3, room/2))
		lines = append(lines, s.list(st, s.w, room-below)...)
		for _, l := range card[:below] {
			lines = append(lines, " "+l)
		}
		return lines
	}
	return append(lines, s.besides(st, room)...)
}

// besides puts the list at the left and the sleeve at the right.
func (s *Screen) besides(st *stack, room int) []string {
	t := s.theme
	right := min(56, s.w*2/5)
	left := s.w - right - 3
	list := s.list(st, left, room)
	card, _ := t.Window(s.sleeve(st).Short(t, right), 0, room, right)
	return t.Beside(list, card, left)
}

func (s *Screen) quiet(text string) []string {
	var lines []string
	for _, l := range cells.Wrap(text, max(1, s.w-2)) {
		lines = append(lines, "  "+s.theme.Quiet.Render(l))
	}
	return lines
}

// head says which binder is open and at which pocket.
func (s *Screen) head(st *stack) string {
	t := s.theme
	switch {
	case s.asked != nil && st == nil:
		return t.Heading.Render(cells.Cut("Chosen: "+s.asked.name, s.w))
	case st == nil:
		return t.Heading.Render(cells.Cut("The binders", s.w))
	}
	at := ""
	if n := len(st.leaves); n > 0 {
		at = fmt.Sprintf("%d of %d", st.at+1, n)
	}
	if s.asked != nil {
		return t.Spread(t.Heading, "Chosen: "+st.name, at, s.w)
	}
	if n := len(st.leaves); n > 0 && st.leaves[st.at].pocket > 0 {
		at = fmt.Sprintf("pocket %d", st.leaves[st.at].pocket)
	} else if n > 0 {
		at = "see also"
	}
	title := t.Dots(st.name, st.about)
	if cells.Width(title)+cells.Width(at)+2 > s.w {
		title = st.name
	}
	return t.Spread(t.Heading, title, at, s.w)
}

// spines are the binders as they stand, the open one among them.
func (s *Screen) spines() string {
	t := s.theme
	names := make([]string, len(s.binders))
	for i, b := range s.binders {
		if names[i] = cells.Plain(b.name); i == s.at {
			names[i] = t.Glyphs.Arrow + " " + names[i]
		}
	}
	const gap = 2
	width := func(from, to int) int {
		w := 0
		for _, n := range names[from:to] {
			w += cells.Width(n) + gap
		}
		return w
	}
	from := 0
	for from < s.at && width(from, min(s.at+2, len(names))) > s.w-4 {
		from++
	}
	line, used := "", 0
	if from > 0 {
		line, used = t.Glyphs.Ellipsis, 1
	}
	for i := from; i < len(names); i++ {
		rest := s.w - used - gap
		if rest < 4 {
			break
		}
		style, name := t.Quiet, cells.Cut(names[i], rest)
		if i == s.at {
			style = t.Focus
		}
		line += strings.Repeat(" ", gap) + style.Render(name)
		used += gap + cells.Width(name)
	}
	return line
}

// list shows the pockets around the one that one is at.
func (s *Screen) list(st *stack, w, room int) []string {
	now := slices.IndexFunc(st.lines, func(l line) bool { return l.leaf == st.at && l.tab == "" })
	from := min(max(0, now-room/2), max(0, len(st.lines)-room))
	var lines []string
	for i := from; i < len(st.lines) && len(lines) < room; i++ {
		lines = append(lines, s.row(st, st.lines[i], w, i == now))
	}
	return lines
}

func (s *Screen) row(st *stack, l line, w int, here bool) string {
	t, c := s.theme, s.desk.Collection()
	const pocket, publisher = 4, 18
	switch {
	case l.tab != "" && !l.divider:
		return t.Quiet.Render(cells.Cut(strings.Repeat(" ", pocket+3)+l.tab, w))
	case l.tab != "":
		return t.Card.Render(cells.Cut(strings.Repeat(" ", pocket+2)+t.Glyphs.Card+l.tab, w))
	}
	leaf := st.leaves[l.leaf]
	p := c.Pattern(leaf.pattern)
	if p == nil {
		return ""
	}
	mark, style := "  ", t.Plain
	if here {
		mark, style = t.Glyphs.Arrow+" ", t.Focus
	}
	first := ""
	switch {
	case s.asked == nil && leaf.pocket == 0:
		first = strings.Repeat(" ", pocket+2)
	case s.asked == nil:
		first = cells.Right(fmt.Sprint(leaf.pocket), pocket) + "  "
	case w >= wideList:
		first = cells.Fit(c.Publisher(p.Publisher).Name, publisher) + " "
	}
	number := min(st.number, 11, w/4)
	left := max(0, w-2-cells.Width(first)-number-1)
	name, note := p.Name, s.note(leaf, c)
	note = cells.Cut(note, max(left/2, left-cells.Width(cells.Plain(name))-1))
	if note != "" {
		name = cells.Fit(name, max(0, left-cells.Width(note)-1)) + " " + note
	}
	return style.Render(cells.Fit(mark+first+cells.Fit(p.Number, number)+" "+cells.Fit(name, left), w))
}

// note says of a sleeve what one should know while leafing.
func (s *Screen) note(l leaf, c *model.Collection) string {
	switch {
	case l.copy != 0:
		return brief(c, l.copy)
	case l.copied:
		return "photocopy" // the sleeve itself stands beside it
	case l.home != nil:
		return "see " + l.home.String()
	case l.in == model.SleeveMissing:
		return "no sleeve"
	case l.in == model.SleeveWaiting:
		return "sleeve to come"
	case s.queued(l.pattern):
		return "to sew"
	case l.in == model.SleevePhotocopy:
		return "photocopy"
	}
	return ""
}

// brief says in a word or two where a copy is.
func brief(c *model.Collection, a model.Accession) string {
	if c.Copy(a) == nil {
		return ""
	}
	if spot, ok := c.Standing(a); ok {
		b, _ := c.Shelf().Box(spot.Box)
		return "box " + b.Name
	}
	if hook := c.Copy(a).Hook; hook.Row != 0 {
		return "hook " + c.HookText(hook)
	}
	return "pile"
}

// sleeve is what is known of the sleeve that one is at.
func (s *Screen) sleeve(st *stack) *sleeve.Sleeve {
	l, c := st.leaves[st.at], s.desk.Collection()
	key := cardKey{st, st.at, c.Rev(), s.theme.Units}
	if p := c.Pattern(l.pattern); p == nil {
		s.card = &sleeve.Sleeve{}
	} else if s.card == nil || s.cardOf != key {
		first, says := "why", strings.Join(l.why, ", ")
		if l.home != nil {
			first, says = "sleeve", l.home.String()
		}
		s.card = sleeve.Of(c, p, s.desk.Index.Copies(p.ID), s.theme, first, says)
	}
	s.cardOf = key
	return s.card
}
