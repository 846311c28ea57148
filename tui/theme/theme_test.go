package theme

import (
	"io"
	"reflect"
	"strings"
	"testing"

	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

func env(pairs ...string) func(string) string {
	return func(k string) string {
		for i := 0; i < len(pairs); i += 2 {
			if pairs[i] == k {
				return pairs[i+1]
			}
		}
		return ""
	}
}

// styles gives the styles of a theme by name.
func styles(t *Theme) map[string]lipgloss.Style {
	all := map[string]lipgloss.Style{}
	v := reflect.ValueOf(t).Elem()
	for i := range v.NumField() {
		if v.Type().Field(i).IsExported() {
			if s, ok := v.Field(i).Interface().(lipgloss.Style); ok {
				all[v.Type().Field(i).Name] = s
			}
		}
	}
	return all
}

func TestNoColourMeansNoSequences(t *testing.T) {
	for name, getenv := range map[string]func(string) string{
		"NO_COLOR":            env("NO_COLOR", "1", "TERM", "xterm-256color", "COLORTERM", "truecolor", "CLICOLOR_FORCE", "1"),
		"dumb":                env("TERM", "dumb", "COLORTERM", "truecolor", "CLICOLOR_FORCE", "1"),
		"not at all terminal": env("TERM", "xterm-256color"),
	} {
		for what, s := range styles(New(Renderer(io.Discard, getenv, true))) {
			if got := s.Render("text"); got != "text" {
				t.Errorf("%s: %s gives %q, want the text alone", name, what, got)
			}
		}
	}
}

func TestColourWhereThereIsColour(t *testing.T) {
	for _, p := range []termenv.Profile{termenv.ANSI, termenv.ANSI256, termenv.TrueColor} {
		seen := map[bool]string{}
		for _, dark := range []bool{true, false} {
			r := Renderer(io.Discard, env("TERM", "xterm"), dark)
			r.SetColorProfile(p)
			th := New(r)
			for what, s := range styles(th) {
				got := s.Render("text")
				if plain := what == "Plain" || what == "Tick"; plain != (got == "text") {
					t.Errorf("profile %v: %s gives %q", p, what, got)
				}
				if cells.Width(got) != 4 {
					t.Errorf("profile %v: %s changes the width: %q", p, what, got)
				}
			}
			seen[dark] = th.Bad.Render("x")
		}
		if seen[true] == seen[false] {
			t.Errorf("profile %v: %q on a light and on a dark ground", p, seen[true])
		}
	}
}

func TestForcedColour(t *testing.T) {
	th := New(Renderer(io.Discard, env("TERM", "xterm-256color", "CLICOLOR_FORCE", "1"), true))
	if got := th.Bad.Render("x"); !strings.Contains(got, "\x1b[") {
		t.Errorf("got %q, want colour", got)
	}
	if got := th.Style().Bold(true).Render("x"); !strings.Contains(got, "\x1b[1m") {
		t.Errorf("Style is of another renderer: %q", got)
	}
}

func TestGlyphsForLocale(t *testing.T) {
	for _, c := range []struct {
		name   string
		getenv func(string) string
		ascii  bool
	}{
		{"utf-8", env("LANG", "en_GB.UTF-8"), false},
		{"written otherwise", env("LANG", "de_DE.utf8"), false},
		{"POSIX", env("LANG", "C"), true},
		{"C with UTF-8", env("LANG", "C.UTF-8"), false},
		{"Latin-1", env("LANG", "fr_FR.ISO-8859-1"), true},
		{"nothing set", env(), true},
		{"LC_ALL wins", env("LC_ALL", "C", "LC_CTYPE", "en_GB.UTF-8", "LANG", "en_GB.UTF-8"), true},
		{"LC_CTYPE before LANG", env("LC_CTYPE", "en_GB.UTF-8", "LANG", "C"), false},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := GlyphsFor(c.getenv).ASCII; got != c.ascii {
				t.Errorf("ASCII = %v, want %v", got, c.ascii)
			}
		})
	}
}

func TestGlyphsAreOneCellAndPlain(t *testing.T) {
	for _, g := range []Glyphs{UTF8Glyphs, ASCIIGlyphs} {
		v := reflect.ValueOf(g)
		for i := range v.NumField() {
			name, s := v.Type().Field(i).Name, ""
			if v.Field(i).Kind() != reflect.String {
				continue
			}
			s = v.Field(i).String()
			if cells.Width(s) != 1 {
				t.Errorf("%s %q is %d cells, want 1", name, s, cells.Width(s))
			}
			if g.ASCII && cells.ASCII(s) != s {
				t.Errorf("%s %q is not ASCII", name, s)
			}
		}
	}
	if UTF8Glyphs.Ellipsis != cells.Ellipsis {
		t.Errorf("two ellipses: %q and %q", UTF8Glyphs.Ellipsis, cells.Ellipsis)
	}
}
