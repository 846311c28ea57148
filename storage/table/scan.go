package table

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// scanner splits a text in records. It stands in for encoding/csv because that
// one loses text: it turns "\r\n" inside quotes into "\n", drops blank lines,
// which are rows of an empty cell where there is one column, and does not end
// a line at a lone "\r". It also copies every record, where cells cut out of
// the text cost nothing.
type scanner struct {
	text  string
	delim byte
	pos   int
	// line is the line, counted from 1, on which pos stands.
	line int
	// newline is the first line end met outside quotes.
	newline string
	// bare is set once a quote was met within an unquoted cell.
	bare bool
}

func (s *scanner) done() bool { return s.pos == len(s.text) }

// record appends the cells of the next record to dst, also those before an
// error. The scanner must not be done.
func (s *scanner) record(dst []string) ([]string, error) {
	for {
		cell, err := s.cell()
		if err != nil {
			return dst, err
		}
		dst = append(dst, cell)
		switch {
		case s.done():
			return dst, nil
		case s.text[s.pos] == s.delim:
			s.pos++
		default:
			s.lineEnd()
			return dst, nil
		}
	}
}

// cell leaves the scanner at a delimiter, at a line end or at the end.
func (s *scanner) cell() (string, error) {
	if !s.done() && s.text[s.pos] == '"' {
		return s.quoted()
	}
	from, text, delim := s.pos, s.text, s.delim
	i := from
	for ; i < len(text); i++ {
		c := text[i]
		if c == delim || c == '\n' || c == '\r' {
			break
		}
		if c == '"' {
			s.bare = true
		}
	}
	s.pos = i
	return text[from:i], nil
}

func (s *scanner) quoted() (string, error) {
	from, doubled := s.pos+1, false
	i := from
	for {
		n := strings.IndexByte(s.text[i:], '"')
		if n < 0 {
			return "", fmt.Errorf("line %d: the quote before %q is not closed: add the closing quote, or put the cell in quotes and double those that belong to its text", s.line, excerpt(s.text[from:]))
		}
		i += n
		if i+1 == len(s.text) || s.text[i+1] != '"' {
			break
		}
		doubled = true
		i += 2
	}
	cell := s.text[from:i]
	s.line += lineEnds(cell)
	s.pos = i + 1
	if !s.done() && s.text[s.pos] != s.delim && !isLineEnd(s.text[s.pos]) {
		return "", fmt.Errorf("line %d: %q follows the closing quote of a cell: double the quotes that belong to the text of the cell", s.line, excerpt(s.text[s.pos:]))
	}
	if doubled {
		cell = strings.ReplaceAll(cell, `""`, `"`)
	}
	return cell, nil
}

// lineEnd steps over the line end on which the scanner stands.
func (s *scanner) lineEnd() {
	n := 1
	if strings.HasPrefix(s.text[s.pos:], "\r\n") {
		n = 2
	}
	if s.newline == "" {
		s.newline = s.text[s.pos : s.pos+n]
	}
	s.pos += n
	s.line++
}

func isLineEnd(c byte) bool { return c == '\n' || c == '\r' }

// excerpt is the start of a text, short enough to be part of a message.
func excerpt(text string) string {
	const limit = 24
	if i := strings.IndexAny(text, "\r\n"); i >= 0 {
		text = text[:i]
	}
	if len(text) <= limit {
		return text
	}
	i := limit
	for !utf8.RuneStart(text[i]) {
		i--
	}
	return text[:i] + "..."
}
