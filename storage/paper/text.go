package paper

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// joined puts parts that are there one behind the other.
func joined(between string, parts ...string) string {
	var there []string
	for _, s := range parts {
		if s != "" {
			there = append(there, s)
		}
	}
	return strings.Join(there, between)
}

// folded breaks a text into lines of so many cells, between words where it can;
// all but the first begin with the indent.
func folded(most int, indent, text string) []string {
	var lines []string
	line, room := "", most
	next := func() {
		lines = append(lines, line)
		line, room = indent, most-len(indent)
	}
	for word := range strings.FieldsSeq(text) {
		if used := ansi.StringWidth(line); used > most-room && used+1+ansi.StringWidth(word) > most {
			next()
		} else if used > most-room {
			line += " "
		}
		for ansi.StringWidth(word) > room { // it is on a line of its own
			part := ansi.Truncate(word, room, "")
			line += part
			word = word[len(part):]
			next()
		}
		line += word
	}
	return append(lines, line)
}
