package paper

import (
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/tuckrow/storage/paper/sheet"
)

// In the preview of a list a line is a line: what stands in a row of the terminal
// is of one baseline on paper, in order from left to right, with a blank between.
func TestThePreviewOfAListKeepsItsRows(t *testing.T) {
	var pages []*sheet.Sheet
	for _, k := range kinds(t, a4) {
		if slices.Contains([]string{"index", "shelflist", "packing", "insurance", "walk"}, k.name) {
			for s := range k.work.Sheets(&Report{}) {
				pages = append(pages, s)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := pages[rapid.IntRange(0, len(pages)-1).Draw(t, "page")]
		cols, rows := rapid.IntRange(40, 240).Draw(t, "cols"), rapid.IntRange(2, 120).Draw(t, "rows")
		preview := sheet.Preview(s, cols, rows)
		for _, line := range sheet.Preview(s, rows, rows) { // too narrow to be read, perhaps
			if w := ansi.StringWidth(line); w != rows {
				t.Fatalf("%q is %d cells wide, want %d", line, w, rows)
			}
		}
		want := baselines(s)
		for _, line := range preview[1 : len(preview)-1] {
			says := strings.TrimSuffix(strings.TrimPrefix(line, "│"), "│")
			if strings.TrimSpace(says) == "" {
				continue
			}
			if len(want) == 0 {
				t.Fatalf("%q is of no line on paper", says)
			}
			if !reads(says, want[0]) {
				t.Fatalf("%q is not the line on paper %q, each with a blank behind", says, want[0])
			}
			want = want[1:]
		}
		if len(want) > 0 {
			t.Fatalf("lines on paper that are not shown: %q", want)
		}
	})
}

// baselines are the texts of each line on paper, from left to right. Baselines
// within a millimetre are of one line: letters of a list are no less than 2 mm
// high, and where one text of a line is set smaller, it lies a little higher.
func baselines(s *sheet.Sheet) (lines [][]string) {
	texts := slices.Clone(s.Texts)
	slices.SortStableFunc(texts, func(a, b sheet.Text) int { return int(1000 * (a.Y - b.Y)) })
	var line []sheet.Text
	end := func() {
		slices.SortStableFunc(line, func(a, b sheet.Text) int { return int(1000 * (a.X - b.X)) })
		var says []string
		for _, t := range line {
			says = append(says, t.Line.Text)
		}
		lines, line = append(lines, says), nil
	}
	for i, t := range texts {
		if i > 0 && t.Y-texts[i-1].Y > 1 {
			end()
		}
		line = append(line, t)
	}
	end()
	return lines
}

// reads tells whether a line of cells says these texts one after another, each
// whole, or cut with an ellipsis, and a blank behind each but the last.
func reads(line string, texts []string) bool {
	for i, text := range texts {
		rest := strings.TrimLeft(line, " ")
		if i > 0 && rest == line {
			return false
		}
		if line = strings.TrimPrefix(rest, text); len(line) < len(rest) {
			continue
		}
		shown, after, cut := strings.Cut(rest, "…")
		if !cut || !strings.HasPrefix(text, shown) || ansi.StringWidth(shown) >= ansi.StringWidth(text) {
			return false
		}
		line = after
	}
	return strings.TrimSpace(line) == ""
}
