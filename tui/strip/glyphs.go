package strip

import "example.org/tuckrow/tui/theme"

// glyphs are the signs of the picture, each one cell wide.
type glyphs struct {
	ascii bool

	wall, backWall          string
	side, zoomedSide        string // the side of the box; where it is enlarged below
	corner, backCorner      string
	step, zoomedStep        string // a step of the ruler; in the part enlarged below
	limit                   string // where the box should have ended
	card, cardAndMore       string // a card alone in a cell; with envelopes behind it
	one, two, many          string // fronts of envelopes in a cell
	body                    string // more of the envelope before it
	out                     string // an out card
	spare                   string // working space
	pointer                 string // the mark on the ruler
	marked                  string // the envelope in question
	openLeft, openRight, in string // a gap pulled open, and what goes in
	more                    string // the box goes on
	dot                     string
}

var utf8Signs = glyphs{
	backWall: "┃", side: "─", zoomedSide: "━", corner: "┗", backCorner: "┛", step: "┴", zoomedStep: "┻", cardAndMore: "▙",
	two: "║", many: "▓", body: "░", out: "○", spare: "·", marked: "█",
	openLeft: "╲", in: "▼", openRight: "╱",
}

var asciiSigns = glyphs{
	ascii:    true,
	backWall: "]", side: "-", zoomedSide: "=", corner: "+", backCorner: "+", step: "'", zoomedStep: "'", cardAndMore: "&",
	two: "H", many: "M", body: ":", out: "o", spare: ".", marked: "@",
	openLeft: "\\", in: "v", openRight: "/",
}

// glyphsOf takes what the theme has from the theme, so that a sign means the
// same on the whole screen.
func glyphsOf(t *theme.Theme) glyphs {
	own, g := theme.UTF8Glyphs, utf8Signs
	if t != nil {
		own = t.Glyphs
	}
	if own.ASCII {
		g = asciiSigns
	}
	g.wall, g.card, g.one, g.pointer, g.more, g.dot, g.limit = own.Wall, own.Card, own.Tick, own.Mark, own.Ellipsis, own.Dot, own.Alert
	return g
}

// Sign is a sign of the picture and what it stands for.
type Sign struct{ Sign, Means string }

// Legend says what the signs mean, for a help page.
func Legend(t *theme.Theme) []Sign {
	g := glyphsOf(t)
	return []Sign{
		{g.wall, "wall of the box; the front is at the left"},
		{g.card, "divider card"},
		{g.cardAndMore, "divider card with an envelope close behind it"},
		{g.one, "front of an envelope"},
		{g.body, "the rest of an envelope, where it is thick"},
		{g.two, "about two envelopes, where they are thin"},
		{g.many, "three envelopes or more"},
		{g.out, "out card: the envelope is lent"},
		{g.spare, "working space, to be left open"},
		{g.pointer, "the place in question"},
		{g.marked, "the envelope in question"},
		{g.openLeft + g.in + g.openRight, "it goes in here"},
		{g.zoomedSide, "this part is drawn larger below"},
		{g.limit, "the box should end here"},
	}
}
