package main

import (
	"io"
	"strings"

	"example.org/tuckrow/model/words"
	"github.com/charmbracelet/x/ansi"
)

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
