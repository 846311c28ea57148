package exchange

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/storage/table"
	"pgregory.net/rapid"
)

// harmless fails the test where a spreadsheet might run a cell of a CSV. The
// file is read by other means than ours, once as it is meant and once by a
// spreadsheet that separates by semicolons or tabs and so sees no quotes. What
// runs is by OWASP, "CSV Injection"; see table.Neutralise.
func harmless(t *rapid.T, file string) {
	r := csv.NewReader(strings.NewReader(file))
	r.FieldsPerRecord = -1
	all, err := r.ReadAll()
	if err != nil {
		t.Fatalf("%v, in\n%s", err, file)
	}
	cells := strings.FieldsFunc(file, func(r rune) bool { return strings.ContainsRune(";\t\r\n", r) })
	for _, row := range all {
		cells = append(cells, row...)
	}
	for _, cell := range cells {
		if strings.HasPrefix(cell, "\t") || strings.HasPrefix(cell, "\r") || strings.IndexAny(cell, "=+-@＝＋－＠") == 0 {
			t.Fatalf("a spreadsheet may run %q, in\n%s", cell, file)
		}
	}
}

// Every field of every copy, whatever is in it.
func TestNoCellOfAnExportRuns(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { harmless(t, csvOf(t, anyCupboard.Draw(t, "cupboard"))) })
}

// The rows that were rejected are as safe, and come back as they were.
func TestNoRejectedRowRuns(t *testing.T) {
	cell := rapid.Map(odd, func(s string) string { return strings.ReplaceAll(strings.ToValidUTF8(s, ""), "\x00", "") })
	rapid.Check(t, func(t *rapid.T) {
		file := &table.Table{Header: []string{"publisher", "number", "year", "h" + cell.Draw(t, "heading")}}
		for range rapid.IntRange(1, 5).Draw(t, "rows") {
			row := table.Row{Cells: []string{cell.Draw(t, "publisher"), cell.Draw(t, "number"), "x" + cell.Draw(t, "year"), cell.Draw(t, "other")}}
			file.Rows = append(file.Rows, row)
		}
		var b, kept bytes.Buffer
		if err := table.Write(&b, file); err != nil {
			t.Fatal(err)
		}
		im, err := ReadCSV(&b, nil)
		if err != nil {
			t.Fatal(err)
		}
		im.Plan(model.NewCollection(), "", "file.csv")
		if err := im.WriteRejected(&kept); err != nil {
			t.Fatal(err)
		}
		text := kept.String()
		harmless(t, text)
		back, err := table.Read(&kept)
		if err != nil {
			t.Fatal(err)
		}
		if len(im.Rejected) != len(file.Rows) || len(back.Rows) != len(file.Rows) {
			t.Fatalf("%d rows were rejected and %d kept, want %d:\n%s", len(im.Rejected), len(back.Rows), len(file.Rows), text)
		}
		for i, row := range file.Rows {
			if got := back.Rows[i].Cells[2:]; !slices.Equal(got, row.Cells) {
				t.Fatalf("the row %q is kept as %q", row.Cells, got)
			}
		}
	})
}
