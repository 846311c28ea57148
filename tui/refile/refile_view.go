package refile

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
)

// The least room for generous space and large letters; below it the same is
// said in lines.
const (
	roomyW = 64
	roomyH = 16
	// vastH is where letters can be taller still.
	vastH = 30
)

// margin is how far what is done now stands from the left.
const margin = 3

// View implements frame.Screen.
func (s *Screen) View() string {
	s.viewed = true
	var lines []string
	switch {
	case s.walk == nil && s.stopped:
		lines = []string{s.head("Refile", ""), "", s.theme.Quiet.Render("  not worked out; enter works out what to pull")}
	case s.walk == nil:
		lines = []string{s.head("Refile", ""), "", s.theme.Quiet.Render("  working out what to pull and where to put it ...")}
	case s.stage == pulling:
		lines = s.pullView()
	case s.stage == putting:
		lines = s.putView()
	case s.stage == sorting:
		lines = s.sortView()
	case s.stage == ended:
		lines = s.endView()
	default:
		lines = s.overView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

func (s *Screen) roomy() bool { return s.w >= roomyW && s.h >= roomyH }

// sizes are those that letters may be drawn in, the largest first; none where
// there is little room.
func (s *Screen) sizes() []size {
	switch ascii := s.theme.Glyphs.ASCII; {
	case !s.roomy():
		return nil
	case ascii:
		return []size{doubled, whole}
	case s.h >= vastH:
		return []size{doubled, halved}
	}
	return []size{halved}
}

// head is the first line: where one is, and what is left.
func (s *Screen) head(left, right string) string {
	return s.spread(s.theme.Heading, left, right)
}

// spread puts one text at the left and one at the right, which goes first where
// there is no room for both.
func (s *Screen) spread(style lipgloss.Style, left, right string) string {
	left, right = cells.Plain(left), cells.Plain(right)
	gap := s.w - cells.Width(left) - cells.Width(right)
	if gap < 2 || right == "" {
		return style.Render(cells.Cut(left, s.w))
	}
	return style.Render(left) + strings.Repeat(" ", gap) + s.theme.Quiet.Render(right)
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

// pad is how far the text stands from the left.
func (s *Screen) pad() int {
	if s.roomy() {
		return margin
	}
	return 1
}

// indent puts plain text in from the left, over as many lines as it takes.
func (s *Screen) indent(style lipgloss.Style, text string) []string {
	var lines []string
	for _, l := range cells.Wrap(text, max(1, s.w-2*s.pad())) {
		lines = append(lines, strings.Repeat(" ", s.pad())+style.Render(l))
	}
	return lines
}

// atMost is indent in so many lines where there is little room.
func (s *Screen) atMost(n int, style lipgloss.Style, text string) []string {
	lines := s.indent(style, text)
	if s.roomy() || len(lines) <= n {
		return lines
	}
	wrapped := cells.Wrap(text, max(1, s.w-2*s.pad()))
	last := cells.Cut(strings.Join(wrapped[n-1:], " "), max(1, s.w-2*s.pad()))
	return append(lines[:n-1], strings.Repeat(" ", s.pad())+style.Render(last))
}

// figure is a number that counts, and of what.
type figure struct {
	n    int
	what string
}

// figures draws numbers large, side by side; where there is little room, on a
// line.
func (s *Screen) figures(all ...figure) []string {
	t := s.theme
	var parts []string
	for _, f := range all {
		parts = append(parts, fmt.Sprintf("%d %s", f.n, f.what))
	}
	if !s.roomy() {
		return s.indent(t.Strong, s.dots(parts...))
	}
	var cols []column
	for i, f := range all {
		style := t.Plain
		if i == 0 {
			style = t.Strong
		}
		cols = append(cols, column{"", strconv.Itoa(f.n), f.what, style})
	}
	return s.columns(cols)
}

// column is a large word with small ones over and under it.
type column struct {
	over, word, under string
	style             lipgloss.Style
}

// columns draws columns side by side. A word that cannot be drawn large is
// written, in bold, over as many lines as the others take.
func (s *Screen) columns(cols []column) []string {
	t := s.theme
	w := (s.w - margin) / len(cols)
	room := max(1, w-margin)
	words := make([]string, len(cols))
	over, under := strings.Repeat(" ", margin), strings.Repeat(" ", margin)
	anyOver, tallest := false, 1
	for i, c := range cols {
		words[i] = c.word
		anyOver = anyOver || c.over != ""
		over += t.Quiet.Render(cells.Fit(c.over, room)) + strings.Repeat(" ", w-room)
		under += t.Plain.Render(cells.Fit(c.under, room)) + strings.Repeat(" ", w-room)
	}
	drawn := large(words, room, s.sizes())
	for _, d := range drawn {
		tallest = max(tallest, len(d))
	}
	var lines []string
	if anyOver {
		lines = append(lines, over)
	}
	for y := range tallest {
		line := strings.Repeat(" ", margin)
		for i, c := range cols {
			text := ""
			if at := y - (tallest-len(drawn[i]))/2; at >= 0 && at < len(drawn[i]) {
				text = drawn[i][at]
			}
			line += c.style.Render(cells.Fit(text, room)) + strings.Repeat(" ", w-room)
		}
		lines = append(lines, line)
	}
	return append(lines, under)
}

// drawn is the box in the picture; 0 when there is none.
func (s *Screen) drawn() model.BoxID {
	if s.walk == nil || s.stage != pulling && s.stage != putting {
		return 0
	}
	if t := s.list().now(); t != nil {
		return t.box.ID
	}
	return 0
}

// instant is up to how many copies a box as it stands is worked out while one
// waits: a few milliseconds. Its cards depend on all that stands.
const instant = 4000

// fresh tells whether a box is held as it stands now.
func (s *Screen) fresh(box model.BoxID) bool {
	c := s.desk.Collection()
	return s.held.Box.ID == box && s.heldAt == c.Rev() || c.Copies().Len() <= instant
}

// holding is a box as it stands, for drawing. In a large cupboard it can be a
// moment behind, or not known yet; false then.
func (s *Screen) holding(box model.BoxID) (*ordering.Holding, bool) {
	if c := s.desk.Collection(); c.Copies().Len() <= instant && (s.heldAt != c.Rev() || s.held.Box.ID != box) {
		s.held, s.heldAt = s.desk.Layout.StandingIn(box), c.Rev()
	}
	return &s.held, s.held.Box.ID == box && box != 0
}
