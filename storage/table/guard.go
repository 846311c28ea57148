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
// It does the same behind a semicolon, a tab or a line break in the cell: a
// spreadsheet that separates by one of those, as it does in half of Europe, does
// not see our quotes, and starts a cell there.
//
// Source: OWASP, "CSV Injection": = + - @, tab and carriage return, and that
// separators and quotes in a cell can start another. The line feed and the
// full-width characters are from memory of that page.
func Neutralise(cell string) string {
	return guard(cell, func(lead string) string { return lead + string(mark) })
}

// Restore undoes [Neutralise], for every cell and byte for byte. Of a cell
// that Neutralise did not make, it takes an apostrophe only where nothing but
// apostrophes stand before a character that Neutralise guards against: '90s
// stays '90s, '=A1 becomes =A1.
func Restore(cell string) string {
	return guard(cell, func(lead string) string { return strings.TrimPrefix(lead, string(mark)) })
}

// guard changes the apostrophes that lead to a character which a spreadsheet
// may run, wherever it may see a cell start.
func guard(cell string, change func(lead string) string) string {
	var b strings.Builder
	done, rest, found := 0, cell, false
	for {
		bare := strings.TrimLeft(rest, string(mark))
		if runs(bare) {
			b.WriteString(cell[done : len(cell)-len(rest)])
			b.WriteString(change(rest[:len(rest)-len(bare)]))
			done, found = len(cell)-len(bare), true
		}
		i := strings.IndexAny(bare, separators)
		if i < 0 {
			break
		}
		rest = bare[i+1:]
	}
	if !found {
		return cell
	}
	return b.String() + cell[done:]
}

// separators are what some spreadsheet separates cells or rows by, apart from
// the comma, which is ours.
const separators = ";\t\r\n"

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
