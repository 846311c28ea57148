package table

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Source: OWASP, "CSV Injection": = + - @, tab and carriage return, and that a
// separator or a quote in a cell can start another. The line feed and the
// full-width characters are from memory of that page.
var owasp = []string{"=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"}

func TestNeutralise(t *testing.T) {
	for _, d := range owasp {
		for cell, want := range map[string]string{
			d:              "'" + d,
			d + "A1":       "'" + d + "A1",
			"'" + d:        "''" + d,
			"''" + d + "x": "'''" + d + "x",
			"x" + d:        "x" + d,
			"'x" + d:       "'x" + d,
		} {
			if got := Neutralise(cell); got != want {
				t.Errorf("Neutralise(%q) = %q, want %q", cell, got, want)
			}
		}
	}
	for cell, want := range map[string]string{
		"skirt;=1+1;lined": "skirt;'=1+1;lined", "a;'=1": "a;''=1", "=a;=b": "'=a;'=b", "a\t+1": "a\t'+1", "a\r\n@x": "a\r'\n'@x",
		"a; =1": "a; =1", "a,=1": "a,=1", "a;": "a;", ";;-": ";;'-", "\t\t": "'\t'\t",
	} {
		if got := Neutralise(cell); got != want {
			t.Errorf("Neutralise(%q) = %q, want %q", cell, got, want)
		}
	}
	for _, cell := range []string{"", "'", "''", "6123", "'90s dress", "1-2", "é", "ａ"} {
		if got := Neutralise(cell); got != cell {
			t.Errorf("Neutralise(%q) = %q, want it as it is", cell, got)
		}
	}
}

func TestRestoreLeavesForeignCells(t *testing.T) {
	for _, cell := range []string{"", "'", "''", "'90s dress", "''90s", "=A1", "-1", "\t", "＝A1", "x'=1", " '=1"} {
		if got := Restore(cell); got != cell {
			t.Errorf("Restore(%q) = %q, want it as it is", cell, got)
		}
	}
}

// anyCell makes what the guard and the quotes are about likely, bytes that are
// not UTF-8 included.
func anyCell() *rapid.Generator[string] {
	odd := rapid.SampledFrom(append([]string{"'", "'", "\"", ",", ";", " ", "\r\n", "sep=", "\ufeff", "x", "\xff"}, owasp...))
	return rapid.OneOf(
		rapid.Map(rapid.SliceOfN(odd, 0, 6), func(parts []string) string { return strings.Join(parts, "") }),
		rapid.String(),
		rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) }),
	)
}

func TestRestoreUndoesNeutralise(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell := anyCell().Draw(t, "cell")
		safe := Neutralise(cell)
		if got := Restore(safe); got != cell {
			t.Fatalf("%q became %q and then %q", cell, safe, got)
		}
		for _, start := range starts(safe) {
			for _, d := range owasp {
				if strings.HasPrefix(start, d) {
					t.Fatalf("%q became %q, in which a cell may start with %q", cell, safe, d)
				}
			}
		}
	})
}

// starts gives a cell from each place on at which some spreadsheet may see one
// start.
func starts(cell string) []string {
	all := []string{cell}
	for i := range len(cell) {
		if strings.IndexByte(";\t\r\n", cell[i]) >= 0 {
			all = append(all, cell[i+1:])
		}
	}
	return all
}
