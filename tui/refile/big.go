package refile

import (
	"strings"
	"unicode"

	"example.org/tuckrow/tui/cells"
)

// shapes are the letters that can be read from a step away: five rows of dots,
// one behind the other.
var shapes = map[rune]string{
	'0': "### #.# #.# #.# ###", '1': ".#. ##. .#. .#. ###", '2': "### ..# ### #.. ###", '3': "### ..# .## ..# ###",
	'4': "#.# #.# ### ..# ..#", '5': "### #.. ### ..# ###", '6': "### #.. ### #.# ###", '7': "### ..# ..# .#. .#.",
	'8': "### #.# ### #.# ###", '9': "### #.# ### ..# ###",
	'A': ".##. #..# #### #..# #..#", 'B': "###. #..# ###. #..# ###.", 'C': ".### #... #... #... .###", 'D': "###. #..# #..# #..# ###.",
	'E': "### #.. ##. #.. ###", 'F': "### #.. ##. #.. #..", 'G': ".### #... #.## #..# .###", 'H': "#..# #..# #### #..# #..#",
	'I': "### .#. .#. .#. ###", 'J': "..## ...# ...# #..# .##.", 'K': "#..# #.#. ##.. #.#. #..#", 'L': "#.. #.. #.. #.. ###",
	'M': "#...# ##.## #.#.# #...# #...#", 'N': "#..# ##.# #.## #..# #..#", 'O': ".##. #..# #..# #..# .##.", 'P': "###. #..# ###. #... #...",
	'Q': ".##. #..# #..# #.## .###", 'R': "###. #..# ###. #.#. #..#", 'S': ".### #... .##. ...# ###.", 'T': "### .#. .#. .#. .#.",
	'U': "#..# #..# #..# #..# .##.", 'V': "#...# #...# .#.#. .#.#. ..#..", 'W': "#...# #...# #.#.# ##.## #...#", 'X': "#..# #..# .##. #..# #..#",
	'Y': "#.# #.# .#. .#. .#.", 'Z': "#### ...# .##. #... ####",
	' ': ". . . . .", '-': "... ... ### ... ...", '.': ". . . . #", ',': ".. .. .. .# #.", '/': "..# ..# .#. #.. #..",
}

// letterHeight is how many dots a letter is tall.
const letterHeight = 5

// size is how large letters are drawn.
type size int

const (
	halved  size = iota // a dot is half a cell: three lines
	whole               // a cell, for terminals that have no half ones: five lines
	doubled             // two cells side by side: five lines
)

// lines is how tall letters of that size are.
func (z size) lines() int {
	if z == halved {
		return (letterHeight + 1) / 2
	}
	return letterHeight
}

// draw writes a text in letters of a size. Not every letter there is has a
// shape, and the text may be too wide; false then.
func draw(text string, w int, z size) ([]string, bool) {
	dots, ok := dotted(text)
	wide := len(dots[0])
	if z == doubled {
		wide *= 2
	}
	switch {
	case !ok || wide > w:
		return nil, false
	case z == halved:
		return halves(dots), true
	case z == whole:
		return blocks(dots, 1), true
	}
	return blocks(dots, 2), true
}

// drawn is draw for a number; where all of it is too wide, the first of its
// words is drawn, which is what the eye looks for: "6123" of "6123 H5".
func drawn(text string, w int, z size) ([]string, bool) {
	if lines, ok := draw(text, w, z); ok {
		return lines, true
	}
	first, rest, two := strings.Cut(cells.Plain(text), " ")
	if !two || !numbered(first) {
		return nil, false
	}
	lines, ok := draw(first, w-cells.Width(rest)-1, z)
	if ok {
		lines[len(lines)-1] += " " + rest
	}
	return lines, ok
}

func numbered(word string) bool { return strings.IndexFunc(word, unicode.IsDigit) >= 0 }

// large draws words that stand side by side, in w cells each, in the largest of
// some sizes that all numbers among them fit. What cannot be drawn, like most
// names, is written as it is.
func large(words []string, w int, sizes []size) [][]string {
	out := make([][]string, len(words))
	for i, z := range sizes {
		fits := true
		for k, word := range words {
			lines, ok := drawn(word, w, z)
			if !ok {
				_, could := drawn(word, 1<<16, z)
				fits = fits && !(could && numbered(word))
				lines = written(word, w, z.lines())
			}
			out[k] = lines
		}
		if fits || i == len(sizes)-1 {
			return out
		}
	}
	for k, word := range words {
		out[k] = written(word, w, 1)
	}
	return out
}

// written is a word as it is, in at most h lines.
func written(word string, w, h int) []string {
	lines := cells.Wrap(word, w)
	if len(lines) > h {
		lines = append(lines[:h-1], cells.Cut(strings.Join(lines[h-1:], " "), w))
	}
	return lines
}

// dotted sets the letters of a text side by side.
func dotted(text string) ([letterHeight]string, bool) {
	var rows [letterHeight]string
	text = strings.TrimSpace(cells.Plain(text))
	if text == "" {
		return rows, false
	}
	for i, r := range text {
		shape, ok := shapes[unicode.ToUpper(r)]
		if !ok {
			return rows, false
		}
		for y, dots := range strings.Fields(shape) {
			if i > 0 {
				rows[y] += "."
			}
			rows[y] += dots
		}
	}
	return rows, true
}

// blocks draws a dot as so many cells side by side.
func blocks(rows [letterHeight]string, wide int) []string {
	out := make([]string, len(rows))
	for y, row := range rows {
		var b strings.Builder
		for _, dot := range row {
			b.WriteString(strings.Repeat(map[bool]string{true: "█", false: " "}[dot == '#'], wide))
		}
		out[y] = strings.TrimRight(b.String(), " ")
	}
	return out
}

// halves draws two rows of dots on a line.
func halves(rows [letterHeight]string) []string {
	var out []string
	for y := 0; y < len(rows); y += 2 {
		var b strings.Builder
		for x := range rows[y] {
			up, down := rows[y][x] == '#', y+1 < len(rows) && rows[y+1][x] == '#'
			switch {
			case up && down:
				b.WriteString("█")
			case up:
				b.WriteString("▀")
			case down:
				b.WriteString("▄")
			default:
				b.WriteString(" ")
			}
		}
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	return out
}
