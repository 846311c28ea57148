package shelf

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/tui/cells"
)

// labelWidth is what the names of fields take.
const labelWidth = 20

// editView lists the furniture, a piece a line.
func (s *Screen) editView() []string {
	t, d := s.theme, s.draft
	state := "as saved"
	if d.changed {
		state = "changed, not saved"
	}
	lines := []string{s.spread(t.Heading, "Change the shelf", state)}
	pieces, room := d.pieces(), s.h-1
	from := min(max(0, d.at-room/2), max(0, len(pieces)-room))
	for i := from; i < len(pieces) && len(lines) <= room; i++ {
		p := pieces[i]
		mark, style := "  ", t.Plain
		if i == d.at {
			mark, style = t.Glyphs.Arrow+" ", t.Focus
		}
		name := ""
		if i == from || pieces[i-1].kind != p.kind {
			name = kindNames[p.kind]
		}
		lines = append(lines, style.Render(cells.Cut(mark+cells.Fit(name, 11)+s.summary(p), s.w)))
	}
	return lines
}

// summary is a piece in a line.
func (s *Screen) summary(p piece) string {
	if p.i < 0 {
		return "none"
	}
	labels, values := s.draft.values(p, false)
	var parts []string
	for i, v := range values {
		switch {
		case v == "" || v == "no":
		case v == "yes":
			parts = append(parts, labels[i])
		case p.kind == theSettings && i > 1, p.kind == aHook && i > 0, p.kind == aBinder && i > 0:
			parts = append(parts, labels[i]+" "+v)
		default:
			parts = append(parts, v)
		}
	}
	return s.dots(parts...)
}

// hints say what to write where that is not plain.
var hints = map[string]string{
	"place":         "where it stands, like: cupboard, column 1, row 2",
	"publishers":    "parted by ;  and * for all that no other section names",
	"tags":          "parted by ;",
	lockedLabel:     "y: its label stays; n: it may change",
	newBoxLabel:     "y: the section begins a new box; n: it goes on in the one before it",
	"working space": "kept free in every box: a share like 15 %, or a length",
	"length":        "inside, front to back, like 380 mm or 15 in",
	"numbers":       "how they are ordered: consecutive, prefix-first, issue, book or none",
}

func (s *Screen) formView() []string {
	t, f := s.theme, s.draft.form
	head := "Change " + kindNames[f.kind]
	if f.isNew {
		head = "New " + kindNames[f.kind]
	}
	lines := []string{t.Heading.Render(cells.Cut(head, s.w)), ""}
	room := max(1, s.h-len(lines)-2)
	from := min(max(0, f.at-room/2), max(0, len(f.inputs)-room))
	for i := from; i < len(f.inputs) && i < from+room; i++ {
		mark, style := "  ", t.Plain
		if i == f.at {
			mark, style = t.Glyphs.Arrow+" ", t.Strong
		}
		lines = append(lines, style.Render(cells.Fit(mark+f.labels[i], labelWidth+2))+t.Input(f.inputs[i], max(1, s.w-labelWidth-3)))
	}
	return append(lines, "", t.Quiet.Render(cells.Cut("  "+hints[f.labels[f.at]], s.w)))
}

// weighView shows what saving comes to.
func (s *Screen) weighView() []string {
	t, d := s.theme, s.draft
	lines := []string{t.Heading.Render(cells.Cut("Before it is saved", s.w)), ""}
	if !d.fresh(s.desk.Collection().Rev()) || d.effect.err != nil {
		return append(lines, t.Quiet.Render("  working out what it comes to ..."))
	}
	e := d.effect
	put := func(style lipgloss.Style, text string) {
		for _, l := range cells.Wrap(text, max(1, s.w-4)) {
			lines = append(lines, "  "+style.Render(l))
		}
	}
	put(t.Plain, fmt.Sprintf("boxes needed: %d now, %d then", e.now.boxes, e.then.boxes))
	put(t.Plain, fmt.Sprintf("envelopes to move from box to box for that: %d now, %d then", e.now.moved, e.then.moved))
	if e.then.missing > 0 {
		put(t.Warn, fmt.Sprintf("%s missing on the shelf then, %d now", counted(e.then.missing, "box is", "boxes are"), e.now.missing))
	}
	if e.dropped > 0 {
		put(t.Warn, counted(e.dropped, "envelope loses its box or hook and goes", "envelopes lose their box or hook and go")+" on the to-file pile")
	}
	for _, f := range e.unplaceable {
		put(t.Warn, strings.TrimSpace(f))
	}
	return lines
}
