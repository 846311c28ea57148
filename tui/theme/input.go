package theme

import (
	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/x/ansi"

	"example.org/tuckrow/tui/cells"
)

// Input draws the text of a field in at most w cells: with a sign where the next
// letter goes if the field has the focus. What Bubbles draws itself is of no use
// here: its cursor is a colour and nothing else, which is not seen where there
// are no colours; it comes between the parts of one character; and it is measured
// by another library.
func (t *Theme) Input(in textinput.Model, w int) string {
	text := in.Value()
	if !in.Focused() {
		return t.Plain.Render(cells.Cut(text, w))
	}
	if w <= 0 {
		return ""
	}
	at := boundary(text, in.Position())
	front, rest := text[:at], text[at:]
	room := w - cells.Width(t.Glyphs.Cursor)
	ahead := min(cells.Width(cells.Plain(rest)), room/4)
	front = cells.CutFront(front, room-ahead)
	rest = cells.Cut(rest, room-cells.Width(front))
	return t.Plain.Render(front) + t.Mark.Render(t.Glyphs.Cursor) + t.Plain.Render(rest)
}

// boundary gives the byte at which the character begins that a count of runes
// leads to or into: one character can be several runes.
func boundary(text string, runes int) int {
	at := 0
	for at < len(text) {
		cluster, _ := ansi.FirstGraphemeCluster(text[at:], ansi.GraphemeWidth)
		if runes -= len([]rune(cluster)); runes < 0 {
			break
		}
		at += len(cluster)
	}
	return at
}
