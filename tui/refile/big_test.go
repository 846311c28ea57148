package refile

import (
	"strings"
	"testing"
)

func TestShapesAreFiveRowsOfOneWidth(t *testing.T) {
	seen := map[string]rune{}
	for r, shape := range shapes {
		rows := strings.Fields(shape)
		if len(rows) != letterHeight {
			t.Errorf("%q has %d rows", r, len(rows))
		}
		for _, row := range rows {
			if len(row) != len(rows[0]) || strings.Trim(row, "#.") != "" {
				t.Errorf("%q has a row %q beside %q", r, row, rows[0])
			}
		}
		if other, twice := seen[shape]; twice {
			t.Errorf("%q looks like %q", r, other)
		}
		seen[shape] = r
	}
	for _, r := range "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ" {
		if shapes[r] == "" {
			t.Errorf("%q has no shape", r)
		}
	}
}

func TestLargeLetters(t *testing.T) {
	for _, x := range []struct {
		text string
		w    int
		z    size
		want string
	}{
		{"k7", 20, halved, "█ ▄▀ ▀▀█\n█▀▄   ▄▀\n▀  ▀  ▀"},
		{"1", 20, whole, " █\n██\n █\n █\n███"},
		{"1", 20, doubled, "  ██\n████\n  ██\n  ██\n██████"},
		{"17 A6", 10, halved, "▄█  ▀▀█\n █   ▄▀\n▀▀▀  ▀ A6"},
		{"17 A6", 9, halved, ""},
		{"1234", 14, halved, ""},
		{"Größe", 90, halved, ""},
		{"", 90, halved, ""},
		{"1", 0, halved, ""},
		{"1", -4, doubled, ""},
	} {
		lines, ok := drawn(x.text, x.w, x.z)
		if got := strings.Join(lines, "\n"); got != x.want || ok != (x.want != "") {
			t.Errorf("%q in %d cells:\n%s\nwant\n%s", x.text, x.w, got, x.want)
		}
	}
}

// Numbers that stand side by side are of one size, or one would seem to matter
// more; a name beside them does not make them small.
func TestWordsSideBySideAreOfOneSize(t *testing.T) {
	sizes := []size{doubled, halved}
	if got := large([]string{"17", "123456"}, 24, sizes); len(got[0]) != halved.lines() || len(got[1]) != halved.lines() {
		t.Errorf("a number that is too wide leaves its neighbour at %d lines", len(got[0]))
	}
	if got := large([]string{"17", "Apron dress with a yoke"}, 24, sizes); len(got[0]) != doubled.lines() {
		t.Errorf("a name makes the number beside it %d lines", len(got[0]))
	}
	if got := large([]string{"17", "12345678901"}, 12, sizes); len(got[0]) != halved.lines() || strings.Join(got[1], "") != "12345678901" {
		t.Errorf("a number that fits in no size gives %q", got)
	}
	if got := large([]string{"17"}, 12, nil); len(got[0]) != 1 || got[0][0] != "17" {
		t.Errorf("without large letters: %q", got)
	}
}
