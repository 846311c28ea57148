// Package cells measures and fits text in the cells of a terminal. It is the
// one place of the interface that does, because two libraries disagree on
// flags and hearts, and a column is straight only if all of it is measured by
// the same rule.
//
// The usual way in is [Fit] for a column and [Wrap] for running text. They
// take what the user gave, as it is, and give text without any control
// character; so style comes after fitting. What is styled already goes through
// [Pad] and, as a whole view, [Clamp]; they keep colours and nothing else.
//
// Promised: nothing panics at any width or height, 0 and below included; no
// line is wider than told, by [Width]; no escape sequence but colour reaches
// the terminal.
//
// Text that runs from right to left is not given marks of its own: most
// terminals lay cells out from left to right, so that columns stay straight,
// and where one does not, marks would be counted as cells by others. Marks
// that came with the text are taken out, since they turn round what follows.
package cells

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
	"golang.org/x/text/unicode/norm"
)

// Ellipsis stands where text was cut. It is one cell wide.
const Ellipsis = "…"

// Width is how many cells a line takes. Colours take none. It is the width
// that Bubble Tea's own renderer cuts lines by.
func Width(s string) int { return ansi.StringWidth(s) }

// Plain gives text that is safe to print on one line: escape sequences and
// control characters are gone, a tab or a line break is a space. It takes as
// many cells beside other text as it does alone, on whatever terminal: signs in
// front that would alter the one before them are gone, and so are those that ask
// for the coloured or the plain form of a sign, which some terminals make wider
// for it and others do not.
func Plain(s string) string {
	if printable(s) {
		return s
	}
	s = strings.ToValidUTF8(s, "\uFFFD")
	if strings.ContainsAny(s, "\x1b\u009b\u009d\u0090") {
		s = ansi.Strip(s)
	}
	s = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r), r == '\u2028', r == '\u2029':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Cf, r) && !joins(r), r == '\ufe0e', r == '\ufe0f':
			return -1
		}
		return r
	}, s)
	for s != "" && alters(s) {
		_, n := utf8.DecodeRuneInString(s)
		s = s[n:]
	}
	return s
}

// alters tells whether what a text begins with becomes one with a sign before
// it.
func alters(s string) bool {
	before := " " + s[:min(len(s), utf8.UTFMax)]
	cluster, _ := ansi.FirstGraphemeCluster(before, ansi.GraphemeWidth)
	return cluster != " "
}

// printable is the short way for what nearly all text is.
func printable(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

// joins tells the invisible characters that belong to a visible one: those that
// join emoji or letters, and those that spell a flag.
func joins(r rune) bool {
	return r == '\u200c' || r == '\u200d' || r >= '\U000E0020' && r <= '\U000E007F'
}

// Cut gives the text in at most w cells, with an ellipsis if it was longer.
func Cut(s string, w int) string { return cut(Plain(s), w) }

func cut(s string, w int) string {
	if w <= 0 {
		return ""
	}
	// A sign that widens the one before it can be cut off from it and widen the
	// ellipsis, so what comes out is measured again.
	for n := w; n > 0; n-- {
		if out := ansi.Truncate(s, n, Ellipsis); Width(out) <= w {
			return out
		}
	}
	return ""
}

// CutFront gives the end of the text in at most w cells, with an ellipsis before
// it if it was longer: for what is just being typed.
func CutFront(s string, w int) string {
	s = Plain(s)
	if Width(s) <= w {
		return s
	}
	for width := Width(s); s != "" && w > 0; {
		cluster, n := ansi.FirstGraphemeCluster(s, ansi.GraphemeWidth)
		s, width = s[len(cluster):], width-n
		// What was cut off can have widened the rest, so that is measured again.
		if out := Ellipsis + s; width < w && Width(out) <= w {
			return out
		}
	}
	return ""
}

// Fit gives the text in exactly w cells, cut or filled up with spaces at the
// right.
func Fit(s string, w int) string { return Pad(Plain(s), w) }

// Right gives the text in exactly w cells, cut or filled up with spaces at the
// left: for numbers.
func Right(s string, w int) string {
	s = Cut(s, w)
	return spaces(w-Width(s)) + s
}

// Pad is Fit for text that is styled already.
func Pad(styled string, w int) string {
	styled = cut(styled, w)
	return styled + spaces(w-Width(styled))
}

func spaces(n int) string { return strings.Repeat(" ", max(0, n)) }

// Wrap breaks text into lines of at most w cells, between words where it can.
// Line breaks in the text stay. No text is no lines.
func Wrap(s string, w int) []string {
	if w <= 0 || strings.TrimSpace(s) == "" {
		return nil
	}
	var lines []string
	for par := range strings.Lines(strings.ReplaceAll(s, "\r\n", "\n")) {
		par = strings.TrimSpace(Plain(par))
		for line := range strings.SplitSeq(ansi.Wrap(par, w, ""), "\n") {
			line = strings.TrimRight(line, " ")
			if line == "" && par != "" {
				continue
			}
			// A wide character in a single cell is the one thing that wrapping
			// cannot help.
			lines = append(lines, cut(line, w))
		}
	}
	return lines
}

// Clamp makes a view safe to give to the terminal: at most h lines, of at most
// w cells each. Lines too many are dropped at the end, because Bubble Tea
// would drop them at the top. Of escape sequences only colours stay.
func Clamp(view string, w, h int) string {
	if w <= 0 || h <= 0 {
		return ""
	}
	lines := strings.Split(view, "\n")
	if len(lines) > h {
		lines = lines[:h]
	}
	for i, line := range lines {
		line = colours(line)
		if Width(line) > w {
			line = ansi.Truncate(line, w, "")
		}
		lines[i] = line
	}
	return strings.Join(lines, "\n")
}

// colours keeps the printable text of a line and its colour sequences.
func colours(line string) string {
	if printable(line) {
		return line
	}
	var b strings.Builder
	for line != "" {
		esc := strings.IndexByte(line, '\x1b')
		if esc < 0 {
			esc = len(line)
		}
		b.WriteString(Plain(line[:esc]))
		line = line[esc:]
		if n := colour(line); n > 0 {
			b.WriteString(line[:n])
			line = line[n:]
		} else if line != "" {
			seq := sequence(line)
			line = line[seq:]
		}
	}
	return b.String()
}

// colour is the length of the colour sequence that s begins with, or 0.
func colour(s string) int {
	if !strings.HasPrefix(s, "\x1b[") {
		return 0
	}
	n := 2
	for n < len(s) && (s[n] >= '0' && s[n] <= '9' || s[n] == ';' || s[n] == ':') {
		n++
	}
	if n < len(s) && s[n] == 'm' {
		return n + 1
	}
	return 0
}

// sequence is the length of the escape sequence that s begins with, at least 1.
func sequence(s string) int {
	_, _, n, _ := ansi.DecodeSequence(s, ansi.NormalState, nil)
	return max(1, n)
}

// narrow says what stands for a sign where the terminal has ASCII only.
var narrow = map[rune]rune{
	'…': '~', '·': '-', '–': '-', '—': '-', '‘': '\'', '’': '\'', '“': '"', '”': '"',
	'│': '|', '┃': '|', '─': '-', '━': '-', '▌': '|', '▏': '|', '█': '#', '•': '*', '×': 'x',
	'✓': '*', '→': '>', '←': '<', '↑': '^', '↓': 'v', '▲': '^', '▼': 'v', '½': '/',
	'ß': 's', 'æ': 'a', 'Æ': 'A', 'ø': 'o', 'Ø': 'O', 'ð': 'd', 'þ': 'p', 'ł': 'l', 'Ł': 'L', 'đ': 'd', 'ı': 'i',
}

// ASCII gives a view for a terminal that knows ASCII only, cell for cell: the
// signs of the interface become their plain likes, letters lose their accents,
// and what else is left becomes question marks.
func ASCII(view string) string {
	i := strings.IndexFunc(view, func(r rune) bool { return r > '~' })
	if i < 0 {
		return view
	}
	var b strings.Builder
	for view != "" {
		cluster, w := ansi.FirstGraphemeCluster(view, ansi.GraphemeWidth)
		if cluster == "" {
			cluster, w = view[:1], 1
		}
		view = view[len(cluster):]
		first, _ := utf8.DecodeRuneInString(norm.NFD.String(cluster))
		switch alike, ok := narrow[first]; {
		case printable(cluster), len(cluster) == 1:
			b.WriteString(cluster)
		case first < 0x80 && w == 1:
			b.WriteRune(first)
		case ok && w == 1:
			b.WriteRune(alike)
		default:
			b.WriteString(strings.Repeat("?", w))
		}
	}
	return b.String()
}
