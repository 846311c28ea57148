package table

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// Write writes a table: UTF-8 without a byte order mark, commas, lines that
// end in "\r\n", quotes as in RFC 4180 and only where they are needed, every
// cell neutralised. Rows shorter than the header are filled up with empty
// cells; longer ones are written whole.
//
// It is an error if the header has no cells, and if a cell holds a NUL byte or
// is not UTF-8, since no reader would give it back. What went before has then
// been written.
func Write(w io.Writer, t *Table) error {
	out := NewWriter(w)
	if err := out.Write(t.Header); err != nil {
		return err
	}
	for _, r := range t.Rows {
		if err := out.Write(r.Cells); err != nil {
			return err
		}
	}
	return out.Flush()
}

// Writer writes a table row by row, in the manner of [Write].
type Writer struct {
	w       *bufio.Writer
	columns int
	line    int
}

// NewWriter gives a writer of a new table.
func NewWriter(w io.Writer) *Writer { return &Writer{w: bufio.NewWriterSize(w, 1<<16)} }

// Write writes a row; the first is the header. A row with an error is not
// written at all.
func (w *Writer) Write(cells []string) error {
	row := w.line + 1
	if row == 1 {
		if len(cells) == 0 {
			return errors.New("writing the table: its header has no cells: name at least one column")
		}
		w.columns = len(cells)
	}
	for i, c := range cells {
		if !utf8.ValidString(c) || strings.IndexByte(c, 0) >= 0 {
			return fmt.Errorf("writing the table: row %d, column %d: %q is not text, as it holds a NUL byte or is not UTF-8: type it anew", row, i+1, c)
		}
	}
	w.line = row
	for i := range max(len(cells), w.columns) {
		if i > 0 {
			w.w.WriteByte(',')
		}
		if i < len(cells) {
			w.cell(Neutralise(cells[i]), row == 1 && i == 0)
		}
	}
	// Nothing at all would be a blank line, which many readers skip.
	if w.columns == 1 && (len(cells) == 0 || len(cells) == 1 && cells[0] == "") {
		w.w.WriteString(`""`)
	}
	// A bufio.Writer keeps its first error, so this one tells of all above.
	if _, err := w.w.WriteString("\r\n"); err != nil {
		return fmt.Errorf("writing the table: row %d: %w", row, err)
	}
	return nil
}

// Flush writes what is still held back. A table is complete only after it.
func (w *Writer) Flush() error {
	if err := w.w.Flush(); err != nil {
		return fmt.Errorf("writing the table: %w", err)
	}
	return nil
}

func (w *Writer) cell(cell string, first bool) {
	if !needsQuotes(cell) && !(first && looksLikePreamble(cell)) {
		w.w.WriteString(cell)
		return
	}
	w.w.WriteByte('"')
	for {
		i := strings.IndexByte(cell, '"')
		if i < 0 {
			break
		}
		w.w.WriteString(cell[:i])
		w.w.WriteString(`""`)
		cell = cell[i+1:]
	}
	w.w.WriteString(cell)
	w.w.WriteByte('"')
}

// needsQuotes counts semicolons and tabs among what needs quotes, although the
// comma separates, so that no reader takes them for the delimiter.
func needsQuotes(cell string) bool {
	if cell == "" {
		return false
	}
	if cell[0] == ' ' || cell[len(cell)-1] == ' ' {
		return true
	}
	for i := range len(cell) {
		switch cell[i] {
		case ',', '"', '\r', '\n', ';', '\t':
			return true
		}
	}
	return false
}

// looksLikePreamble says whether a file that starts with the cell would be
// taken for one that starts with a byte order mark or names its delimiter.
func looksLikePreamble(cell string) bool {
	return strings.HasPrefix(cell, byteOrderMark) || startsAsSeparator(cell)
}
