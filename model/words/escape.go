package words

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// Escape gives text that can be shown in a terminal, whatever it holds: what
// steers a terminal or the direction of a line, what is not seen, and what is
// not text, is written out as Go does it in quotes, like \x1b. Line ends stay.
func Escape(s string) string {
	return escape(s, func(b *strings.Builder, r rune) {
		if r < utf8.RuneSelf {
			fmt.Fprintf(b, `\x%02x`, r)
		} else if r <= 0xffff {
			fmt.Fprintf(b, `\u%04x`, r)
		} else {
			fmt.Fprintf(b, `\U%08x`, r)
		}
	})
}

// EscapeJSON does the same in JSON, where it means the same text.
func EscapeJSON(s string) string {
	return escape(s, func(b *strings.Builder, r rune) {
		for _, unit := range utf16.AppendRune(nil, r) {
			fmt.Fprintf(b, `\u%04x`, unit)
		}
	})
}

func escape(s string, write func(*strings.Builder, rune)) string {
	if plain(s) {
		return s
	}
	var b strings.Builder
	for len(s) > 0 {
		r, n := utf8.DecodeRuneInString(s)
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[0])
		case steers(r):
			write(&b, r)
		default:
			b.WriteString(s[:n])
		}
		s = s[n:]
	}
	return b.String()
}

// plain tells, for ASCII, that there is nothing to do.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; (c < ' ' || c > '~') && c != '\n' {
			return false
		}
	}
	return true
}

// steers tells what Escape writes out. The joiners do no harm, and words need
// them.
func steers(r rune) bool {
	switch r {
	case '\n', '\u200c', '\u200d', utf8.RuneError:
		return false
	}
	return dropped(r) || unicode.In(r, unicode.Zl, unicode.Zp)
}
