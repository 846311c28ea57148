// Package theme holds what the interface looks like: styles named by what they
// mean, the signs that go with them, and the unit that lengths are shown in.
//
// The usual way in is [Renderer] for the terminal at hand, then [New], then
// [GlyphsFor]:
//
//	r := theme.Renderer(os.Stdout, os.Getenv, ground.Dark())
//	t := theme.New(r)
//	t.Glyphs = theme.GlyphsFor(os.Getenv)
//
// Promised: with NO_COLOR set, on TERM=dumb and where the output is no
// terminal, a style adds nothing to the text at all. So a colour never says
// anything that a word or a sign does not say too.
package theme

import (
	"io"

	"example.org/tuckrow/model"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// Theme is the styles by meaning. Text is fitted to its width first and styled
// after.
type Theme struct {
	Plain   lipgloss.Style // ordinary text
	Heading lipgloss.Style // what a part of the screen is about
	Strong  lipgloss.Style // what the eye should find first
	Quiet   lipgloss.Style // what can be skipped: units, counts, hints
	Warn    lipgloss.Style // to look at before going on
	Bad     lipgloss.Style // did not work
	Good    lipgloss.Style // done, or fits
	Mark    lipgloss.Style // the place in question in the strip
	Card    lipgloss.Style // divider cards and their text
	Wall    lipgloss.Style // the walls of a box
	Tick    lipgloss.Style // envelopes in the strip
	Focus   lipgloss.Style // the row or field that keys go to
	KeyName lipgloss.Style // the name of a key

	Glyphs Glyphs
	Units  string // that lengths are shown in, as the owner chose; the root keeps it
	r      *lipgloss.Renderer
}

// Length writes a length in the owner's unit, as one reads it off a ruler.
func (t *Theme) Length(l model.Length) string { return l.In(t.Units) }

// Renderer makes a renderer for an output. The environment decides on colour;
// the background is not asked of the terminal.
func Renderer(out io.Writer, getenv func(string) string, dark bool) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(out, termenv.WithEnvironment(environ{getenv}))
	r.SetHasDarkBackground(dark)
	if getenv("NO_COLOR") != "" || getenv("TERM") == "dumb" {
		// A COLORTERM left over from outside would win over TERM=dumb.
		r.SetColorProfile(termenv.Ascii)
	}
	return r
}

// environ lets termenv look at the environment that we were given.
type environ struct{ getenv func(string) string }

func (e environ) Getenv(k string) string { return e.getenv(k) }
func (e environ) Environ() []string      { return nil }

// New makes the theme for a renderer, with the signs of a UTF-8 terminal.
func New(r *lipgloss.Renderer) *Theme {
	plain := r.NewStyle()
	in := func(c lipgloss.TerminalColor) lipgloss.Style { return plain.Foreground(c) }
	return &Theme{
		Plain:   plain,
		Heading: in(thread).Bold(true),
		Strong:  plain.Bold(true),
		Quiet:   in(chalk),
		Warn:    in(brass).Bold(true),
		Bad:     in(madder).Bold(true),
		Good:    in(sage),
		Mark:    in(brass).Bold(true),
		Card:    in(thread),
		Wall:    in(chalk),
		Tick:    plain,
		Focus:   plain.Reverse(true),
		KeyName: plain.Bold(true),
		Glyphs:  UTF8Glyphs,
		r:       r,
	}
}

// Style is an empty style of the theme's renderer, for what has no name here.
func (t *Theme) Style() lipgloss.Style { return t.r.NewStyle() }

// The palette: few colours, none of them loud, each with a spare for terminals
// of 256 and of 16 colours. The names are of the sewing box.
var (
	thread = colour("#1F5C66", "23", "6", "#8CC1C9", "116", "14") // blue-green
	chalk  = colour("#6B6862", "242", "8", "#98948C", "246", "7") // warm grey
	brass  = colour("#8A5A00", "94", "3", "#D9B25F", "179", "11") // dark yellow
	madder = colour("#9C2F2A", "124", "1", "#E08E86", "174", "9") // dull red
	sage   = colour("#3F6B2E", "64", "2", "#A3C08A", "144", "10") // grey-green
)

// colour is a colour on a light and on a dark ground.
func colour(light, light256, light16, dark, dark256, dark16 string) lipgloss.TerminalColor {
	return lipgloss.CompleteAdaptiveColor{
		Light: lipgloss.CompleteColor{TrueColor: light, ANSI256: light256, ANSI: light16},
		Dark:  lipgloss.CompleteColor{TrueColor: dark, ANSI256: dark256, ANSI: dark16},
	}
}
