package table

import "strings"

// mark is what neutralises a cell: spreadsheets take a cell that starts with
// an apostrophe as text.
const mark = '\''

// Neutralise makes a cell safe to open in a spreadsheet, which would run one
// that starts with = + - @, a tab, a carriage return, a line feed or a
// full-width = + - @: it puts an apostrophe in front. So that [Restore] can
// tell its own apostrophes from those of the user, a cell of which only
// apostrophes stand before such a character gets one more. Any other cell
// stays as it is. Signed numbers are no exception.
//
// Source: OWASP, "CSV Injection". The line feed and the full-width characters
// are from memory.
func Neutralise(cell string) string {
	if runs(strings.TrimLeft(cell, string(mark))) {
		return string(mark) + cell
	}
	return cell
}

// Restore undoes [Neutralise], for every cell and byte for byte. Of a cell
// that Neutralise did not make, it takes one apostrophe only where nothing but
// apostrophes stand before a character that Neutralise guards against: '90s
// stays '90s, '=A1 becomes =A1.
func Restore(cell string) string {
	rest := strings.TrimLeft(cell, string(mark))
	if len(rest) < len(cell) && runs(rest) {
		return cell[1:]
	}
	return cell
}

// runs says whether a spreadsheet may take the cell for a formula.
func runs(cell string) bool {
	if cell == "" {
		return false
	}
	switch cell[0] {
	case '=', '+', '-', '@', '\t', '\r', '\n':
		return true
	}
	for _, wide := range []string{"\uff1d", "\uff0b", "\uff0d", "\uff20"} {
		if strings.HasPrefix(cell, wide) {
			return true
		}
	}
	return false
}
