package exchange

import (
	"slices"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/storage/table"
)

// sampled is how many rows are looked at to guess what a column holds. Our choice,
// no source.
const sampled = 200

// fits tells whether a column that is headed as people head one of ours holds what
// ours does: a "Condition" of "good" is none of uncut, partly and cut. Where most
// cells are something else, to take it would be to reject the rows, or to clean it all
// away.
func fits(t *table.Table, col int, name string, strict bool) bool {
	field, bad, n := mustField(name), 0, 0
	for cell := range filled(t, col) {
		var en model.Entry
		if n++; field.Set(&en, cell) != nil && (strict || !clean.CanRead(name, cell)) {
			bad++
		}
	}
	return 2*bad <= n
}

// filled gives the cells of a column that hold something, of the first rows, and
// the row of each.
func filled(t *table.Table, col int) func(yield func(string, []string) bool) {
	return func(yield func(string, []string) bool) {
		for _, r := range t.Rows[:min(sampled, len(t.Rows))] {
			if r.Cells[col] != "" && !yield(r.Cells[col], r.Cells) {
				return
			}
		}
	}
}

// patternField says what a column is that is headed "pattern" and that nobody has
// told. Ours holds the number that makes rows copies of one pattern; in a list that
// somebody kept by hand it is what is on the sleeve. at is the column of each of our
// fields that is known.
func patternField(t *table.Table, col int, at map[string]int) string {
	if ownFile(t.Header, t.Header[col]) && wholes(t, col) {
		return "pattern"
	}
	has := func(name string) bool { _, ok := at[name]; return ok }
	numbers, words := 0, 0
	for cell, row := range filled(t, col) {
		before, number := clean.Numbered(cell)
		if i, ok := at["publisher"]; number != "" && (before == "" || !ok || lookup.OneHouse(before, row[i])) {
			numbers++
		} else {
			words++
		}
	}
	switch {
	case numbers >= words && numbers > 0 && (!has("number") || counts(t, at["number"])):
		return "number"
	case !has("name"):
		return "name"
	case !has("number"):
		return "number"
	}
	return ""
}

// ownFile tells whether a heading stands beside others of an export of ours, as an
// export writes them.
func ownFile(header []string, heading string) bool {
	return heading == "pattern" && slices.ContainsFunc(header, func(h string) bool { return h == "accession" || h == "number" || h == rejectedLine })
}

// wholes tells whether a column holds whole numbers alone.
func wholes(t *table.Table, col int) bool {
	for cell := range filled(t, col) {
		var en model.Entry
		if mustField("pattern").Set(&en, cell) != nil {
			return false
		}
	}
	return true
}

// counts tells whether a column numbers the rows of the sheet: 1, 2, 3.
func counts(t *table.Table, col int) bool {
	n := 0
	for cell := range filled(t, col) {
		if n++; cell != strconv.Itoa(n) {
			return false
		}
	}
	return n > 1
}
