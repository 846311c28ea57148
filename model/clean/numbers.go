package clean

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.org/tuckrow/model/words"
)

// Numbered takes apart what is before the first number in a text, as a publisher
// is, and the number; that is empty where there is none.
func Numbered(text string) (before, number string) {
	if all := numbersIn(text); len(all) > 0 {
		return all[0].before, all[0].number
	}
	return text, ""
}

// numberIn is a number in a text, and what stands around it: "6123", "Quillon
// K-123", "Quillon 6123 H5 (torn)".
type numberIn struct {
	before, number, behind string
	aside                  bool // what is behind begins as a remark does
}

func numbersIn(text string) (out []numberIn) {
	const stops = "-–—,;:"
	fields := strings.Fields(text)
	for i, field := range fields {
		word := strings.Trim(field, stops)
		if from, to := printed(fields, i); to > 0 {
			rest := strings.Join(fields[to:], " ")
			first, _ := utf8.DecodeRuneInString(rest)
			out = append(out, numberIn{trimmed(strings.Join(fields[:from], " ")), strings.Join(fields[from:to], " "), trimmed(rest), !unicode.IsUpper(first) && !unicode.IsDigit(first)})
			return out
		}
		if !numeric(word) {
			continue
		}
		n, to := numberIn{before: trimmed(strings.Join(fields[:i], " ")), number: strings.TrimLeft(word, "#")}, i+1
		if to < len(fields) && field == word && sizeCode(strings.Trim(fields[to], stops)) {
			field = fields[to]
			word = strings.Trim(field, stops)
			n.number += " " + word
			to++
		}
		rest := strings.Join(fields[to:], " ")
		first, _ := utf8.DecodeRuneInString(rest)
		n.behind, n.aside = trimmed(rest), !strings.HasSuffix(field, word) || !unicode.IsUpper(first) && !unicode.IsDigit(first)
		out = append(out, n)
	}
	return out
}

// numeric tells whether a word is a number of a pattern: two digits at least,
// and before and behind them no more than two letters.
func numeric(w string) bool {
	w = strings.TrimLeft(w, "#")
	from := strings.IndexAny(w, "0123456789")
	to := strings.LastIndexAny(w, "0123456789") + 1
	if from < 0 || to-from < 2 || strings.Trim(w[from:to], "0123456789") != "" {
		return false
	}
	return letters(strings.TrimRight(w[:from], "-"), 2) && letters(w[to:], 1)
}

// sizeCode tells whether a word is the code of a size range behind a number.
func sizeCode(w string) bool {
	return len(w) == 2 && letters(w[:1], 1) && w[1] >= '0' && w[1] <= '9'
}

func letters(w string, most int) bool {
	return len(w) <= most && !strings.ContainsFunc(w, func(r rune) bool { return (r < 'A' || r > 'Z') && (r < 'a' || r > 'z') })
}

var (
	// issue is one of a magazine with its year: "05/2014", "2019/4", "7-8/2019".
	issue = regexp.MustCompile(`^(\d{1,2}(-\d{1,2})?[/.-](1[89]|2[01])\d\d|(1[89]|2[01])\d\d[/.-]\d{1,2}(-\d{1,2})?)$`)
	// issueStyle is that with the style in one word: "2019-04-112", "04/2019/112".
	issueStyle = regexp.MustCompile(`^(\d{1,2}[/.-](1[89]|2[01])\d\d|(1[89]|2[01])\d\d[/.-]\d{1,2})[/.-]#?\d{3}[A-Za-z]?$`)
	style      = regexp.MustCompile(`^#?\d{1,4}[A-Za-z]?$`)
	small      = regexp.MustCompile(`^\d{1,4}$`)
)

// Words that stand before a page, and before the number of a book or an issue, folded
// (from memory).
var (
	pageWords = []string{"p", "pg", "page", "seite"}
	bookWords = []string{"book", "vol", "volume", "band", "tome", "issue", "heft", "no", "nr"}
)

// printed finds a number of several words that is printed from or before a word on:
// issue and style of a magazine, "05/2014 101", or book and page, "vol. 2 p. 14". to
// is 0 where there is none.
func printed(fields []string, at int) (from, to int) {
	is := func(i int, x *regexp.Regexp) bool { return i >= 0 && i < len(fields) && x.MatchString(fields[i]) }
	means := func(i int, list []string) bool {
		return i >= 0 && i < len(fields) && slices.Contains(list, words.Fold(fields[i]))
	}
	switch {
	case is(at, issueStyle):
		return at, at + 1
	case is(at, issue) && is(at+1, style):
		return at, at + 2
	case is(at, issue):
		return at, at + 1
	case is(at, small) && means(at+1, pageWords) && is(at+2, small):
		to = at + 3
	case means(at, pageWords) && is(at+1, small):
		return at, at + 2
	default:
		return 0, 0
	}
	if means(at-1, bookWords) {
		at--
	}
	return at, to
}
