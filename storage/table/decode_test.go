package table

import (
	"strings"
	"testing"
)

func TestReadFindsTheEncoding(t *testing.T) {
	for name, c := range map[string]struct {
		file, encoding, cell string
	}{
		"ASCII": {"a\nx\n", UTF8, "x"},
		// Source: RFC 3629, section 7: A, not identical to, alpha, full stop.
		// From memory.
		"UTF-8": {"a\nA\xe2\x89\xa2\xce\x91.\n", UTF8, "A\u2262\u0391."},
		// Source: RFC 3629, section 6, for EF BB BF as the signature. From memory.
		"UTF-8 with a mark": {"\xef\xbb\xbfa\nA\xe2\x89\xa2\xce\x91.\n", UTF8Mark, "A\u2262\u0391."},
		// Source of both: RFC 2781, section 5: U+12345, =, R, a. From memory.
		"UTF-16BE": {"\xfe\xff\x00a\x00\n\xd8\x08\xdf\x45\x00=\x00R\x00a", UTF16BE, "\U00012345=Ra"},
		"UTF-16LE": {"\xff\xfea\x00\n\x00\x08\xd8\x45\xdf=\x00R\x00a\x00", UTF16LE, "\U00012345=Ra"},
		// Source: WHATWG Encoding Standard, index windows-1252. From memory.
		"Windows-1252": {"a\n\x80 \x8a \x92 \x96 \xbd \xdf \xe9 \xfc\n", Windows1252, "€ Š ’ – ½ ß é ü"},
	} {
		t.Run(name, func(t *testing.T) {
			got := mustRead(t, c.file)
			if got.Encoding != c.encoding {
				t.Errorf("encoding %q, want %q", got.Encoding, c.encoding)
			}
			if got.Header[0] != "a" {
				t.Errorf("header %q, want %q", got.Header[0], "a")
			}
			if got.Rows[0].Cells[0] != c.cell {
				t.Errorf("cell %q, want %q", got.Rows[0].Cells[0], c.cell)
			}
		})
	}
}

// Spreadsheets save "Unicode text" as UTF-16LE with tabs. From memory.
func TestReadTakesUnicodeText(t *testing.T) {
	var file strings.Builder
	file.WriteString("\xff\xfe")
	for _, r := range "a\tb\r\n1,5\té\r\n" {
		file.WriteByte(byte(r))
		file.WriteByte(byte(r >> 8))
	}
	checkContent(t, file.String(), [][]string{{"a", "b"}, {"1,5", "é"}})
}

// A mark counts only at the start: anywhere else it is text.
func TestReadKeepsLaterMarks(t *testing.T) {
	checkContent(t, "\ufeff\ufeffa\n\ufeff1\n", [][]string{{"\ufeffa"}, {"\ufeff1"}})
}
