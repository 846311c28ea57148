package table

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// The encodings that [Read] tells apart, as [Table].Encoding names them. The
// UTF-16 ones always have a byte order mark.
const (
	UTF8        = "UTF-8"
	UTF8Mark    = "UTF-8 with a byte order mark"
	UTF16LE     = "UTF-16LE"
	UTF16BE     = "UTF-16BE"
	Windows1252 = "Windows-1252"
)

const byteOrderMark = "\ufeff"

// decode gives the text of a file without its byte order mark, and the name of
// its encoding.
func decode(data []byte) (text, encoding string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte(byteOrderMark)):
		text, encoding = string(data[len(byteOrderMark):]), UTF8Mark
		// Taken for Windows-1252, every accented letter would turn into two
		// wrong ones: the mark says that they are UTF-8.
		if i := invalid(text); i >= 0 {
			return "", "", fmt.Errorf("line %d: %q is not UTF-8, which the file says it is: save it again as CSV UTF-8", lineAt(text, i), text[i:i+1])
		}
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		encoding = UTF16LE
		text, err = decode16(data[2:], func(b []byte) rune { return rune(b[0]) | rune(b[1])<<8 })
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		encoding = UTF16BE
		text, err = decode16(data[2:], func(b []byte) rune { return rune(b[0])<<8 | rune(b[1]) })
	case utf8.Valid(data):
		text, encoding = string(data), UTF8
	default:
		encoding = Windows1252
		data, err = charmap.Windows1252.NewDecoder().Bytes(data)
		text = string(data)
	}
	if err != nil {
		return "", "", err
	}
	if i := strings.IndexByte(text, 0); i >= 0 {
		return "", "", fmt.Errorf("line %d: the file holds a NUL byte, so it is not a table in plain text: if it is a workbook, open it in the spreadsheet and save it as CSV", lineAt(text, i))
	}
	return text, encoding, nil
}

// decode16 is not left to golang.org/x/text, which would put U+FFFD in place
// of half a character and lose text without a word.
func decode16(data []byte, unit func([]byte) rune) (string, error) {
	if len(data)%2 != 0 {
		return "", errors.New("the file is UTF-16 and ends in half a character, so it was cut short: fetch it or save it again")
	}
	var b strings.Builder
	b.Grow(len(data))
	for ; len(data) > 0; data = data[2:] {
		r := unit(data)
		if utf16.IsSurrogate(r) {
			whole := rune(utf8.RuneError)
			if len(data) >= 4 {
				whole = utf16.DecodeRune(r, unit(data[2:]))
			}
			if whole == utf8.RuneError {
				return "", fmt.Errorf("line %d: the file is UTF-16 and holds half a character (0x%04x): save it again as CSV UTF-8", lineAt(b.String(), b.Len()), r)
			}
			r, data = whole, data[2:]
		}
		b.WriteRune(r)
	}
	return b.String(), nil
}

// invalid gives the place of the first byte that is not UTF-8, or -1.
func invalid(text string) int {
	for i := 0; i < len(text); {
		r, n := utf8.DecodeRuneInString(text[i:])
		if r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// lineAt gives the line, counted from 1, that a place in the text is on.
func lineAt(text string, i int) int { return 1 + lineEnds(text[:i]) }

// lineEnds counts the line ends in a text; "\r\n" is one.
func lineEnds(text string) int {
	n := strings.Count(text, "\n")
	if cr := strings.Count(text, "\r"); cr > 0 {
		n += cr - strings.Count(text, "\r\n")
	}
	return n
}
