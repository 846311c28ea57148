package table

import "strings"

// sample is how many rows are looked at to find the delimiter.
const sample = 20

// start gives a scanner that stands at the header, or at the end if there is
// none.
func start(text string) *scanner {
	s := &scanner{text: text, line: 1}
	named, ok := separatorLine(text)
	if ok {
		s.pos = len(separator) + 1
		s.delim = named
		if !s.done() {
			s.lineEnd()
		}
	}
	for !s.done() && isLineEnd(text[s.pos]) {
		s.lineEnd()
	}
	if !ok {
		s.delim = detect(text[s.pos:])
	}
	return s
}

// separator is how a spreadsheet begins a first line that names the delimiter.
// From memory.
const separator = "sep="

// separatorLine gives the delimiter that the first line names. A letter, a
// digit or a quote cannot be one: that line is a header.
func separatorLine(text string) (delim byte, ok bool) {
	if !startsAsSeparator(text) || len(text) == len(separator) {
		return 0, false
	}
	delim, rest := text[len(separator)], text[len(separator)+1:]
	if rest != "" && !isLineEnd(rest[0]) {
		return 0, false
	}
	switch {
	case delim == '\t':
		return delim, true
	case delim < ' ' || delim > '~' || delim == '"':
		return 0, false
	case '0' <= delim && delim <= '9', 'a' <= delim|0x20 && delim|0x20 <= 'z':
		return 0, false
	}
	return delim, true
}

func startsAsSeparator(text string) bool {
	return len(text) >= len(separator) && strings.EqualFold(text[:len(separator)], separator)
}

// split says how well a delimiter splits the first rows.
type split struct {
	// clean: no quote stands where this delimiter leaves it inside a cell.
	clean bool
	// agree is how many rows have as many cells as the header.
	agree int
	// columns is how many cells the header has.
	columns int
}

// better ranks clean first, since a comma inside the quoted cells of a
// semicolon file, or the other way round, shows by its quotes. What [Write]
// writes is always clean for the comma, and for any other delimiter it either
// has one column or is not clean.
func (a split) better(b split) bool {
	if a.clean != b.clean {
		return a.clean
	}
	if a.agree != b.agree {
		return a.agree > b.agree
	}
	return a.columns > b.columns
}

// detect finds the delimiter of a text that starts at its header. A text that
// nothing splits has one column, for which the comma does.
func detect(text string) byte {
	best, delim := split{}, byte(',')
	for _, d := range []byte{',', ';', '\t'} {
		a := try(text, d)
		if a.columns > 1 && a.better(best) {
			best, delim = a, d
		}
	}
	return delim
}

func try(text string, delim byte) split {
	s := &scanner{text: text, delim: delim, line: 1}
	var a split
	var record []string
	var err error
	for i := 0; i < sample && !s.done() && err == nil; i++ {
		record, err = s.record(record[:0])
		if i == 0 {
			a.columns = len(record)
			if err != nil {
				a.columns++ // the cell with the error
			}
		}
		if len(record) == a.columns {
			a.agree++
		}
	}
	a.clean = err == nil && !s.bare
	return a
}
