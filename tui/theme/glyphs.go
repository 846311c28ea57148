package theme

import "strings"

// Glyphs are the signs of the interface, each one cell wide.
type Glyphs struct {
	Wall     string // the wall of a box
	Card     string // a divider card
	Tick     string // an envelope
	Mark     string // points up at the place in question
	Ellipsis string // text was cut
	Arrow    string // here are the keys going, or: from this to that
	Dot      string // between things of one kind
	Cursor   string // where the next letter goes
	Done     string // done
	Alert    string // did not work, or look at this
	Up, Down string // there is more that way

	// ASCII says that the terminal shows nothing but ASCII. The frame turns
	// the whole view with cells.ASCII then, so that a screen need not ask.
	ASCII bool
}

// UTF8Glyphs are the signs where the locale is UTF-8.
var UTF8Glyphs = Glyphs{
	Wall: "┃", Card: "▌", Tick: "│", Mark: "▲", Ellipsis: "…", Arrow: "→", Dot: "·", Cursor: "▏", Done: "✓", Alert: "!", Up: "↑", Down: "↓",
}

// ASCIIGlyphs are the signs everywhere else.
var ASCIIGlyphs = Glyphs{
	Wall: "[", Card: "#", Tick: "|", Mark: "^", Ellipsis: "~", Arrow: ">", Dot: "-", Cursor: "|", Done: "*", Alert: "!", Up: "^", Down: "v",
	ASCII: true,
}

// GlyphsFor gives the signs that the locale can show.
func GlyphsFor(getenv func(string) string) Glyphs {
	// The first of the three that is set decides, as everywhere in POSIX.
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := getenv(name); locale != "" {
			charset := strings.ToLower(locale)
			if strings.Contains(charset, "utf-8") || strings.Contains(charset, "utf8") {
				return UTF8Glyphs
			}
			return ASCIIGlyphs
		}
	}
	return ASCIIGlyphs
}
