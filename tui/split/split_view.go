package split

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/strip"
)

// The least room for what is not needed at once.
const (
	roomyW = 64
	roomyH = 16 // for the picture of the chosen box as planned
	vastH  = 30 // for the one of today as well
)

// View implements frame.Screen.
func (s *Screen) View() string {
	s.viewed = true
	var lines []string
	switch s.stage {
	case answering:
		lines = s.answersView()
	case confirming:
		lines = s.confirmView()
	case listing:
		lines = s.listView()
	case labelling:
		lines = s.makingView()
	default:
		lines = s.planView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

func (s *Screen) roomy() bool { return s.w >= roomyW }

// aims are the goals and answers in words.
var (
	aims = map[ordering.Goal]string{
		ordering.Fewest: "as few boxes as can be", ordering.Even: "all boxes alike full", ordering.LeastMoved: "as few moved as can be",
	}
	ways = map[ordering.Way]string{
		ordering.PushOn: "push on into the next boxes", ordering.InsertBox: "a new box in between", ordering.SplitAfresh: "split all afresh",
	}
)

func (r request) aim() string {
	if r.way != "" {
		return ways[r.way]
	}
	return aims[r.goal]
}

// state says what is to be known of the plan that is shown, and in which style.
func (s *Screen) state() (string, lipgloss.Style) {
	t, r := s.theme, s.shown
	switch {
	case s.applying != nil:
		return "applying ...", t.Warn
	case s.waiting():
		return "working it out ... esc: stop waiting", t.Warn
	case !s.ready():
		return "not worked out; g: work it out", t.Warn
	case r.used > 0 && r.shelf == nil && r.diff.Moved+r.diff.Labels+r.filed == 0:
		return "it stands so", t.Good
	case r.vain():
		return "no fewer boxes than now", t.Warn
	case r.filed > 0:
		return fmt.Sprintf("%d from the pile go in", r.filed), t.Quiet
	}
	return "", t.Warn
}

// planView shows what the plan costs, then box by box what it does.
func (s *Screen) planView() []string {
	t, r := s.theme, s.shown
	state, style := s.state()
	lines := []string{s.spread("Split: "+s.want.aim(), state, style)}
	if s.stage == asking {
		lines = append(lines, s.askView())
	}
	if what := s.want.says(s.theme.Units); len(what) > 0 {
		lines = append(lines, s.onLines(s.atMost(2), t.Warn, "What if: "+s.dots(what...))...)
	}
	if r == nil {
		return append(lines, "", t.Quiet.Render(cells.Cut("  each box as it is and as it would be comes here", s.w)))
	}
	if !s.ready() {
		lines = append(lines, t.Quiet.Render(cells.Cut(" Below, still: "+s.dots(append([]string{r.aim()}, r.says(s.theme.Units)...)...), s.w)))
	}
	lines = append(lines, t.Strong.Render(cells.Cut(" "+s.price(r), s.w)))
	if m := s.due(); m != nil {
		lines = append(lines, t.Quiet.Render(cells.Cut(" settled: "+m.says()+"; m shows them", s.w)))
	}
	lines = append(lines, s.findingLines(r.findings)...)
	if len(r.boxes) == 0 {
		return append(lines, "", t.Quiet.Render(cells.Cut("  nothing is in a row yet; enter patterns first", s.w)))
	}
	pic := s.picture()
	room := s.h - len(lines) - len(pic)
	if s.roomy() && room > 4 {
		lines = append(lines, s.heads())
		room--
	}
	rows := s.rows(room)
	lines = append(lines, rows...)
	room -= len(rows)
	if room > 2 && s.roomy() && s.ready() {
		lines = append(lines, "", s.tries())
		room -= 2
	}
	for ; room > 0 && len(pic) > 0; room-- {
		lines = append(lines, "")
	}
	return append(lines, pic...)
}

// tries are the keys of the what-ifs, for which the footer has no room.
func (s *Screen) tries() string {
	text := "what if:"
	for _, k := range []key.Binding{s.keys.length, s.keys.more, s.keys.lock, s.keys.over, s.keys.months, s.keys.drop} {
		text += "  " + k.Help().Key + " " + k.Help().Desc
	}
	return s.theme.Quiet.Render(cells.Cut(" "+text, s.w))
}

// price is what a plan costs, in words.
func (s *Screen) price(r *result) string {
	boxes := words.Count(r.used, "box", "boxes")
	if r.fresh > 0 {
		boxes += fmt.Sprintf(" (%d to get)", r.fresh)
	}
	if !s.roomy() {
		return fmt.Sprintf("%s, %d moved, %s", boxes, r.diff.Moved, words.Count(len(r.redo.Labels), "label", "labels"))
	}
	return s.dots(boxes, words.Count(r.diff.Moved, "envelope changes box", "envelopes change box"),
		words.Count(len(r.redo.Labels), "label to redo", "labels to redo"), words.Count(len(r.redo.Cards), "card", "cards"))
}

// columns are the widths of the table of boxes.
type columns struct{ name, bar, free, moves, label int }

func (s *Screen) columns() columns {
	c := columns{name: 11, free: 8, moves: movesWidth + 2}
	if !s.roomy() {
		c = columns{name: 7, free: 7, moves: 0}
	}
	rest := max(0, s.w-c.name-c.free-c.moves-3)
	c.bar = min(60, rest/2)
	c.label = rest - c.bar
	return c
}

func (s *Screen) heads() string {
	c := s.columns()
	return s.theme.Quiet.Render(cells.Cut(cells.Fit("  box", c.name)+" "+cells.Fit("how it is filled", c.bar)+" "+
		cells.Right("left", c.free)+" "+inOut("in", "out")+"  "+cells.Fit("label", c.label), s.w))
}

// movesWidth is what the envelopes that come and go take, of both together.
const movesWidth = 8

func inOut(in, out string) string {
	return cells.Right(in, movesWidth/2) + cells.Right(out, movesWidth/2)
}

// rows are the boxes, two lines each, with the chosen one among them.
func (s *Screen) rows(room int) []string {
	boxes := s.shown.boxes
	n := max(1, room/2)
	if n < len(boxes) { // a line says how many more there are
		n = max(1, (room-1)/2)
	}
	from := max(0, min(s.at()-n/2, len(boxes)-n))
	longest := model.Length(1)
	for i := range boxes {
		longest = max(longest, boxes[i].Length, boxes[i].today.length)
	}
	var lines []string
	for i := from; i < min(len(boxes), from+n); i++ {
		lines = append(lines, s.row(&boxes[i], longest)...)
	}
	if room <= 0 {
		return nil
	}
	if more := len(boxes) - n; more > 0 && len(lines) < room {
		lines = append(lines, s.theme.Quiet.Render(cells.Cut("  "+words.Count(more, "box", "boxes")+" more: up, down", s.w)))
	}
	return lines[:min(len(lines), room)]
}

// row is one box: today over the plan.
func (s *Screen) row(b *box, longest model.Length) []string {
	t, c := s.theme, s.columns()
	mark, name, chosen := "  ", b.Name, t.Strong
	if s.roomy() {
		name = "box " + b.Name
	}
	if b.Name == s.box {
		mark, chosen = t.Glyphs.Arrow+" ", t.Focus
	}
	name = chosen.Render(cells.Fit(mark+name, c.name))
	in, out := "", ""
	if n := b.in + b.filed; n > 0 {
		in = fmt.Sprintf("+%d", n)
	}
	if b.out > 0 {
		out = fmt.Sprintf("-%d", b.out)
	}
	now, label, style := b.today.labelled(), "as it is", t.Quiet
	if !b.today.there {
		now = "not there yet"
	}
	if b.relabelled() {
		label, style = t.Glyphs.Arrow+" "+cells.Plain(b.plan.labelled()), t.Strong
	}
	if !b.today.there && b.plan.n == 0 {
		label = "stays empty"
	}
	locked := ""
	if b.Locked {
		locked = "locked " + t.Glyphs.Dot + " "
	}
	line := func(name string, x *bar, moves, prefix, label string, style lipgloss.Style) string {
		free, freeStyle := "", t.Plain
		if x.there {
			free = s.theme.Length(x.usable - x.load)
			if x.load > x.usable {
				free, freeStyle = t.Glyphs.Alert+free, t.Warn
			}
		}
		text := name + " " + s.bar(x, c.bar, longest) + " " + freeStyle.Render(cells.Right(free, c.free)) + " "
		if c.moves > 0 {
			text += moves + "  "
		}
		return text + style.Render(cells.Cut(prefix+halved(label, c.label-cells.Width(prefix)), c.label))
	}
	return []string{
		line(name, &b.today, inOut("", ""), "", now, t.Quiet),
		line(cells.Fit("   plan", c.name), &b.plan, inOut(in, out), locked, label, style),
	}
}

// halved cuts a label in both of its halves, since where a box ends matters as
// much as where it begins.
func halved(label string, w int) string {
	label = cells.Plain(label)
	from, to, two := strings.Cut(label, " to ")
	if !two || cells.Width(label) <= w || w < 12 {
		return cells.Cut(label, w)
	}
	half := (w - 4) / 2
	left := max(half, w-4-cells.Width(to))
	from = cells.Cut(from, left)
	return from + " to " + cells.Cut(to, w-4-cells.Width(from))
}

// bar draws a box in w cells, by its length among the longest.
func (s *Screen) bar(b *bar, w int, longest model.Length) string {
	t := s.theme
	if !b.there || w < 3 {
		return strings.Repeat(" ", max(0, w))
	}
	n := max(1, int(model.Length(w-2)*b.length/longest))
	col := func(at model.Length) int {
		return max(0, min(n, int((2*at*model.Length(n)+b.length)/max(1, 2*b.length))))
	}
	fill := "░"
	if t.Glyphs.ASCII {
		fill = ":"
	}
	in := make([]string, n)
	full, usable := col(b.load), col(b.usable)
	if b.n > 0 {
		full = max(1, full)
	}
	for i := range in {
		switch {
		case i < full:
			in[i] = fill
		case i >= usable:
			in[i] = t.Glyphs.Dot
		default:
			in[i] = " "
		}
	}
	for _, at := range b.starts {
		in[min(col(at), n-1)] = t.Glyphs.Card
	}
	wall := t.Wall.Render(t.Glyphs.Wall)
	return cells.Pad(wall+s.coloured(in)+wall, w)
}

// coloured gives the signs of a bar their styles: what is of one style at once,
// since each change of style costs.
func (s *Screen) coloured(in []string) string {
	t := s.theme
	styles := map[string]lipgloss.Style{t.Glyphs.Card: t.Card, t.Glyphs.Dot: t.Quiet}
	var text strings.Builder
	for i := 0; i < len(in); {
		style, own := styles[in[i]]
		if !own {
			style = t.Tick
		}
		first := i
		for i++; i < len(in); i++ {
			if _, other := styles[in[i]]; other != own || own && in[i] != in[first] {
				break
			}
		}
		text.WriteString(style.Render(strings.Join(in[first:i], "")))
	}
	return text.String()
}

// picture is the chosen box from above, as planned and, with much room, today.
func (s *Screen) picture() []string {
	at := s.at()
	if at < 0 || s.h < roomyH || s.shown.rev != s.rev() {
		return nil
	}
	b, l := &s.shown.boxes[at], s.desk.Layout
	draw := func(word string, h *ordering.Holding) []string {
		title := strip.Title(h, l.Label(h), max(0, s.w-cells.Width(word)-2), s.theme)
		o := strip.Options{Width: s.w, Theme: s.theme, Out: func(a model.Accession) bool {
			cp := s.desk.Collection().Copy(a)
			return cp != nil && cp.Out != nil
		}}
		return append([]string{s.theme.Quiet.Render(word + ": " + title)}, strip.Draw(h, o)...)
	}
	var lines []string
	if s.h >= vastH && b.today.there {
		lines = append(draw("today", &b.stands), "")
	}
	return append(lines, draw("plan", &b.held)...)
}

// spread puts one text at the left and one at the right, which goes first where
// there is no room for both.
func (s *Screen) spread(left, right string, style lipgloss.Style) string {
	left, right = cells.Plain(left), cells.Plain(right)
	gap := s.w - cells.Width(left) - cells.Width(right)
	if right != "" && gap < 2 { // what it is doing matters more than its name
		right, _, _ = strings.Cut(right, ";")
		left = cells.Cut(left, max(0, s.w-cells.Width(right)-2))
		gap = s.w - cells.Width(left) - cells.Width(right)
	}
	if gap < 2 || right == "" {
		return s.theme.Heading.Render(cells.Cut(left, s.w))
	}
	return s.theme.Heading.Render(left) + strings.Repeat(" ", gap) + style.Render(right)
}

// dots joins what there is.
func (s *Screen) dots(parts ...string) string {
	var there []string
	for _, p := range parts {
		if p != "" {
			there = append(there, p)
		}
	}
	return strings.Join(there, " "+s.theme.Glyphs.Dot+" ")
}
