package main

import (
	"io"
	"strings"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/x/ansi"
)

// lineWidth is how wide a line of text is at the most, in cells: a terminal of the
// usual size shows it whole.
const lineWidth = 80

// prose writes a text in lines that are no wider than that, each behind a margin.
func (a *app) prose(text, margin string) {
	for _, l := range cells.Wrap(words.Escape(text), lineWidth-len(margin)) {
		a.printf("%s%s\n", margin, l)
	}
}

// columns writes rows in aligned columns, the last one as long as it is. No cell
// steers the terminal.
func columns(w io.Writer, rows [][]string) error {
	var wide []int
	for _, r := range rows {
		for i, cell := range r {
			cell = words.Escape(cell)
			r[i] = cell
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], ansi.StringWidth(cell))
		}
	}
	var b strings.Builder
	for _, r := range rows {
		var line strings.Builder
		for i, cell := range r {
			line.WriteString(cell)
			if i < len(r)-1 {
				line.WriteString(strings.Repeat(" ", wide[i]-ansi.StringWidth(cell)+2))
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}
