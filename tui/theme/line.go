package theme

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/tui/cells"
)

// Spread puts one text at the left and one at the right of a line, which goes
// first where there is no room for both.
func (t *Theme) Spread(style lipgloss.Style, left, right string, w int) string {
	left, right = cells.Plain(left), cells.Plain(right)
	gap := w - cells.Width(left) - cells.Width(right)
	if gap < 2 || right == "" {
		return style.Render(cells.Cut(left, w))
	}
	return style.Render(left) + strings.Repeat(" ", gap) + t.Quiet.Render(right)
}

// Dots writes what there is of texts with dots between.
func (t *Theme) Dots(parts ...string) string {
	var there []string
	for _, p := range parts {
		if p != "" {
			there = append(there, p)
		}
	}
	return strings.Join(there, " "+t.Glyphs.Dot+" ")
}

// Beside puts lines of so many cells at the left of others, with a wall between.
func (t *Theme) Beside(left, right []string, w int) []string {
	lines := make([]string, max(len(left), len(right)))
	for i := range lines {
		l, r := "", ""
		if i < len(left) {
			l = left[i]
		}
		if i < len(right) {
			r = right[i]
		}
		lines[i] = cells.Pad(l, w) + " " + t.Wall.Render(t.Glyphs.Wall) + " " + r
	}
	return lines
}

// Window is what is seen of lines in so much room from a line on, and the last
// line from which there is something to be seen. Where there is more than fits,
// a line says so.
func (t *Theme) Window(lines []string, top, room, w int) (shown []string, most int) {
	if len(lines) <= room || room < 2 {
		return lines[:min(len(lines), max(0, room))], 0
	}
	room--
	most = len(lines) - room
	top = min(max(0, top), most)
	n, sign := most-top, t.Glyphs.Down
	if top == most {
		n, sign = top, t.Glyphs.Up
	}
	unit := "lines"
	if n == 1 {
		unit = "line"
	}
	shown = append(shown, lines[top:top+room]...)
	return append(shown, t.Quiet.Render(cells.Cut(fmt.Sprintf("  %s %d %s more", sign, n, unit), w))), most
}
