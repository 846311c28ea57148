package table

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
)

// Table is the content of a spreadsheet file.
type Table struct {
	// Header is the first row of the file that is not a blank line. It has
	// at least one cell. Names may be empty or occur twice.
	Header []string
	// HeaderLine is the line, counted from 1, on which the header starts.
	HeaderLine int
	// Rows are the rows below the header, blank lines among them.
	Rows []Row
	// Delimiter is what separated the cells: a comma, a semicolon, a tab, or
	// what a line "sep=" asked for. [Write] takes no notice of it.
	Delimiter rune
	// Encoding is one of the constants UTF8 and following. [Write] takes no
	// notice of it.
	Encoding string
	// Newline is the first line end outside quotes: "\r\n", "\n", "\r", or
	// "" if the file has none. [Write] takes no notice of it.
	Newline string
}

// Row is one row of a table.
type Row struct {
	// Line is the line of the file, counted from 1, on which the row starts.
	Line int
	// Cells has at least as many cells as the header: [Read] fills a short
	// row up with empty ones. The cells are parts of the text of the whole
	// file; strings.Clone those that outlive the table by far.
	Cells []string
	// Extra is how many cells the row has more than the header. Where it is
	// not 0, the cells do not stand under the names they belong to.
	Extra int
}

// Blank says whether every cell is empty. Spreadsheets write such rows below
// their last one.
func (r Row) Blank() bool {
	for _, c := range r.Cells {
		if c != "" {
			return false
		}
	}
	return true
}

// limits keep a wrong file, or one made to do harm, from filling the memory:
// as short rows are filled up, a few megabytes could ask for billions of cells.
type limits struct{ bytes, cells int }

// A collection of 60,000 rows and 22 columns has 1.3 million cells in 8 MB.
var usual = limits{bytes: 256 << 20, cells: 1 << 25}

// chunk is how many cells are made room for at once, for speed.
const chunk = 1 << 13

// Read reads a whole file. It honours a byte order mark; text without one is
// UTF-8, or, where it cannot be, Windows-1252. The delimiter is the one that
// splits the first rows best, or the one a first line such as "sep=;" names.
// Lines end in "\r\n", "\n" or "\r", mixed at will. Cells are quoted as in RFC
// 4180; a quote within an unquoted cell is kept as text. Cells that were
// neutralised come back as they were; see [Restore].
//
// A header alone is a table without rows. The errors name the line: a file
// without any row, a NUL byte, a quote that is not closed, text after a
// closing quote, damaged UTF-8 or UTF-16, and more than 256 MiB or 33 million
// cells.
func Read(r io.Reader) (*Table, error) { return read(r, usual) }

func read(r io.Reader, max limits) (*Table, error) {
	var b bytes.Buffer
	if known, ok := r.(interface{ Len() int }); ok { // how much there is
		b.Grow(min(known.Len(), max.bytes) + bytes.MinRead)
	}
	_, err := b.ReadFrom(io.LimitReader(r, int64(max.bytes)+1))
	if err != nil {
		return nil, fmt.Errorf("reading the table: %w", err)
	}
	data := b.Bytes()
	if len(data) > max.bytes {
		return nil, fmt.Errorf("the file has more than %d bytes: check that it is a table, or split it in parts", max.bytes)
	}
	text, encoding, err := decode(data)
	if err != nil {
		return nil, err
	}
	t, err := parse(text, max.cells)
	if err != nil {
		return nil, err
	}
	t.Encoding = encoding
	return t, nil
}

// guess is from how many rows it is guessed how many there are. Our choice, no
// source.
const guess = 1 << 10

func parse(text string, maxCells int) (*Table, error) {
	s := start(text)
	if s.done() {
		return nil, errors.New("the file is empty: its first row must hold the names of the columns")
	}
	t := &Table{Delimiter: rune(s.delim), HeaderLine: s.line}
	var err error
	if t.Header, err = s.record(nil); err != nil {
		return nil, err
	}
	restore(t.Header)
	columns, total := len(t.Header), len(t.Header)
	var record, room []string
	for !s.done() {
		line := s.line
		if record, err = s.record(record[:0]); err != nil {
			return nil, err
		}
		n := max(len(record), columns)
		if total += n; total > maxCells {
			return nil, fmt.Errorf("line %d: the table has more than %d cells: split the file in parts", line, maxCells)
		}
		if len(room) < n {
			room = make([]string, max(chunk, n))
		}
		// The third index keeps an append by the caller out of the next row.
		cells := room[:n:n]
		room = room[n:]
		copy(cells, record)
		restore(cells)
		if len(t.Rows) == guess {
			// If as long as those so far, the rest is so many.
			t.Rows = slices.Grow(t.Rows, min(guess*(len(text)-s.pos)/s.pos, guess<<8))
		}
		t.Rows = append(t.Rows, Row{Line: line, Cells: cells, Extra: n - columns})
	}
	t.Newline = s.newline
	return t, nil
}

func restore(cells []string) {
	for i, c := range cells {
		if strings.IndexByte(c, mark) >= 0 {
			cells[i] = Restore(c)
		}
	}
}
