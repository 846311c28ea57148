package table

import (
	"bytes"
	"io"
	"strconv"
	"testing"
)

// large is a table of 60,000 rows and 22 columns, about 130 bytes a row.
func large(b *testing.B) (*Table, []byte) {
	b.Helper()
	t := &Table{}
	for i := range 22 {
		t.Header = append(t.Header, "column "+strconv.Itoa(i))
	}
	for i := range 60_000 {
		cells := make([]string, len(t.Header))
		for j := range cells {
			cells[j] = strconv.Itoa((i + j) % 1000)
		}
		cells[0], cells[1], cells[2] = strconv.Itoa(i), "wrap dress, midi", "blue \"box\""
		cells[3], cells[4], cells[5] = "-1", "", "a longer note on it"
		t.Rows = append(t.Rows, Row{Cells: cells})
	}
	var file bytes.Buffer
	if err := Write(&file, t); err != nil {
		b.Fatal(err)
	}
	return t, file.Bytes()
}

func BenchmarkRead(b *testing.B) {
	t, file := large(b)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	b.ReportMetric(float64(len(file))/float64(len(t.Rows)), "bytes/row")
	for b.Loop() {
		got, err := Read(bytes.NewReader(file))
		if err != nil {
			b.Fatal(err)
		}
		if len(got.Rows) != len(t.Rows) {
			b.Fatalf("%d rows, want %d", len(got.Rows), len(t.Rows))
		}
	}
}

func BenchmarkWrite(b *testing.B) {
	t, file := large(b)
	b.SetBytes(int64(len(file)))
	b.ReportAllocs()
	for b.Loop() {
		if err := Write(io.Discard, t); err != nil {
			b.Fatal(err)
		}
	}
}
