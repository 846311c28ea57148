package theme

import (
	"io"
	"strings"
	"testing"

	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/bubbles/textinput"
	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"
)

// field is a text field with the cursor behind so many runes; unfocused under 0.
func field(text string, at int) textinput.Model {
	in := textinput.New()
	in.Prompt = ""
	in.SetValue(text)
	if at >= 0 {
		in.Focus()
		in.SetCursor(at)
	}
	return in
}

func TestInput(t *testing.T) {
	th := New(Renderer(io.Discard, env("NO_COLOR", "1"), true))
	for _, c := range []struct {
		text  string
		at, w int
		want  string
	}{
		{"", 0, 9, "▏"},
		{"coat", 4, 9, "coat▏"},
		{"coat", 2, 9, "co▏at"},
		{"coat", -1, 9, "coat"},
		{"coat", 4, 5, "coat▏"},
		{"half-circle skirt", 17, 9, "…e skirt▏"},
		{"half-circle skirt", 0, 9, "▏half-ci…"},
		{"half-circle skirt", 11, 12, "…f-circle▏ …"},
		{"half-circle skirt", -1, 9, "half-cir…"},
		{"浴衣の型紙", 5, 8, "…の型紙▏"},
		{"浴衣の型紙", 5, 7, "…型紙▏"},
		{"e\u0301te\u0301", 1, 9, "▏e\u0301te\u0301"}, // in the middle of a letter
		{"👩‍👩‍👧 set", 2, 9, "▏👩‍👩‍👧 set"},
		{"👩‍👩‍👧 set", 5, 9, "👩‍👩‍👧▏ set"},
		{"שמלה", 4, 9, "שמלה▏"},
		{"coat", 4, 1, "▏"},
		{"coat", 4, 0, ""},
	} {
		if got := th.Input(field(c.text, c.at), c.w); got != c.want {
			t.Errorf("%q at %d in %d cells: %q, want %q", c.text, c.at, c.w, got, c.want)
		}
	}
}

// Wherever the cursor is in whatever text, it is seen, nothing is too wide, and
// colours add nothing but colours: no character is taken apart by them.
func TestInputAlwaysShowsTheCursor(t *testing.T) {
	for _, text := range []string{"half-circle skirt with godets", "浴衣の型紙", "e\u0301te\u0301 a\u030a\u0323", "👩‍👩‍👧🇫🇷🇩🇪 set", "שמלה ארוכה", "1\ufe0f2\ufe0f", "\u0301coat", ""} {
		for at := range len([]rune(text)) + 1 {
			for w := 1; w < 34; w++ {
				r := Renderer(io.Discard, env("TERM", "xterm"), true)
				r.SetColorProfile(termenv.TrueColor)
				coloured, plain := New(r).Input(field(text, at), w), New(Renderer(io.Discard, env("NO_COLOR", "1"), true)).Input(field(text, at), w)
				if strings.Count(plain, UTF8Glyphs.Cursor) != 1 || cells.Width(plain) > w {
					t.Fatalf("%q at %d in %d cells: %q", text, at, w, plain)
				}
				if ansi.Strip(coloured) != plain || cells.Width(coloured) != cells.Width(plain) {
					t.Fatalf("%q at %d in %d cells: with colours %q, without %q", text, at, w, coloured, plain)
				}
				if whole := strings.Replace(plain, UTF8Glyphs.Cursor, "", 1); w > cells.Width(text) && whole != cells.Plain(text) {
					t.Fatalf("%q at %d in %d cells: %q", text, at, w, plain)
				}
			}
		}
	}
}
