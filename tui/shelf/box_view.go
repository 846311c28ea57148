package shelf

import (
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/strip"
)

// line is a line of an open box: a card, or an envelope.
type line struct {
	card string
	item int // the envelope, or the one behind the card
}

func linesOf(h *ordering.Holding) []line {
	var out []line
	for i, p := range h.Items {
		for _, c := range p.Cards {
			out = append(out, line{c.Text, i})
		}
		out = append(out, line{"", i})
	}
	return out
}

// The picture with a mark is up to nine lines, and leaves the list some.
const (
	marked    = 9
	leastList = 5
)

// insideView shows what stands in a box, front to back.
func (s *Screen) insideView() []string {
	t := s.theme
	b, _ := s.desk.Collection().Shelf().Box(s.box)
	state := ""
	if b.Locked {
		state = "locked"
	}
	right := ""
	if n := len(s.row()); n > 0 {
		right = cells.Plain(strings.Join([]string{"place", num(s.at + 1), "of", num(n)}, " "))
	}
	lines := []string{s.spread(t.Heading, s.dots("Box "+b.Name, b.Place, b.Length.Fine(s.theme.Units), state), right)}
	h := &s.held
	switch {
	case h.Box.ID != s.box:
		return append(lines, "", t.Quiet.Render("  looking into the box ..."))
	case len(h.Items) == 0:
		return append(append(lines, "", t.Quiet.Render("  the box is empty"), ""), s.picture(nil, min(picture, s.h-4))...)
	}
	at := min(s.at, len(h.Items)-1)
	it := h.Items[at]
	pic := s.picture(&strip.Mark{At: it.Front, Width: it.Thickness}, min(marked, s.h-len(lines)-leastList))
	room := s.h - len(lines) - len(pic)
	if len(pic) > 0 {
		room--
	}
	lines = append(lines, s.envelopes(at, room)...)
	for len(pic) > 0 && len(lines) < s.h-len(pic) {
		lines = append(lines, "")
	}
	return append(lines, pic...)
}

// envelopes lists the row around an envelope.
func (s *Screen) envelopes(at, room int) []string {
	now := slices.IndexFunc(s.lines, func(l line) bool { return l.item == at && l.card == "" })
	from := min(max(0, now-room/2), max(0, len(s.lines)-room))
	var lines []string
	for i := from; i < len(s.lines) && len(lines) < room; i++ {
		lines = append(lines, s.envelope(s.lines[i], i == now))
	}
	return lines
}

func (s *Screen) envelope(l line, here bool) string {
	t, c := s.theme, s.desk.Collection()
	const front = 8
	if l.card != "" {
		return t.Card.Render(cells.Cut(strings.Repeat(" ", front+3)+t.Glyphs.Card+l.card, s.w))
	}
	p := s.held.Items[l.item]
	mark, style := "  ", t.Plain
	if here {
		mark, style = t.Glyphs.Arrow+" ", t.Focus
	}
	number := min(14, s.w/5)
	publisher := min(20, s.w/5)
	if s.w < 60 {
		publisher = 0
	}
	left := max(0, s.w-2-front-2-number-1-publisher)
	if publisher > 0 {
		left-- // a space before it
	}
	note := cells.Cut(s.note(p.Copy), left/2)
	name := p.Pattern.Name
	if p.Pattern.SizeRange != "" {
		name += "  " + p.Pattern.SizeRange
	}
	if note != "" {
		name = cells.Fit(name, max(0, left-cells.Width(note)-2)) + " " + note
	}
	text := mark + cells.Right(s.theme.Length(p.Front), front) + "  " + cells.Fit(p.Pattern.Number, number) + " " + cells.Fit(name, left)
	if publisher > 0 {
		text += " " + cells.Fit(c.Publisher(p.Pattern.Publisher).Name, publisher)
	}
	return style.Render(cells.Cut(text, s.w))
}

// note says what is special about a copy in the row.
func (s *Screen) note(a model.Accession) string {
	cp := s.desk.Collection().Copy(a)
	switch {
	case cp == nil:
		return ""
	case cp.Out != nil && cp.Out.To != "":
		return "out: " + cp.Out.To
	case cp.Out != nil:
		return "out"
	}
	return ""
}
