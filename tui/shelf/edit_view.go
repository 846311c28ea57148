package shelf

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
)

// labelWidth is what the names of fields take.
const labelWidth = 20

// editView lists the furniture, a piece a line.
func (s *Screen) editView() []string {
	t, d := s.theme, s.draft
	state := "as saved"
	switch {
	case d.changed && s.outrun():
		state = "changed otherwise meanwhile; ctrl+s shows what you changed"
	case d.changed:
		state = "changed, not saved"
	}
	lines := []string{s.spread(t.Heading, "Change the shelf", state)}
	pieces, room := d.now.pieces(), s.h-1
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
		text := s.summary(p)
		if f := d.form; f != nil && f.piece == p && f.touched() {
			text = s.dots(text, "begun; enter goes on")
		}
		lines = append(lines, style.Render(cells.Cut(mark+cells.Fit(name, 11)+text, s.w)))
	}
	return lines
}

// summary is a piece in a line.
func (s *Screen) summary(p piece) string {
	if p.i < 0 {
		return "none"
	}
	labels, values := fieldLabels[p.kind], s.draft.now.values(p)
	var parts []string
	for i, v := range values {
		switch {
		case v == "" || v == yes(false) || v == string(model.Consecutive) || v == byLine:
		case v == yes(true):
			parts = append(parts, labels[i])
		case p.kind == theSettings && i > 1, i > 0 && (p.kind == aHook || p.kind == aBinder || p.kind == aPublisher):
			parts = append(parts, labels[i]+" "+v)
		default:
			parts = append(parts, v)
		}
	}
	return s.dots(parts...)
}

// hints say what to write, by kind and field, or for all of that name.
var hints = map[string]string{
	"settings " + unitsLabel:       "mm or in; lengths are shown in it",
	"settings envelope":            "what the tissues go into, like C5",
	"settings working space":       "kept free in every box so that a hand fits in: a share like 15 %, or a length",
	"settings uncut":               "how thick an uncut one is in its envelope, where it is not measured",
	"settings cut":                 "how thick a cut or traced one is in its envelope, where it is not measured",
	"settings bulky":               "how thick a coat or several garments are in the envelope",
	"settings card":                "how thick a divider card is",
	"settings range card every":    "so many envelopes earn a card at a round number; 0: none",
	"settings publisher card from": "so many envelopes earn a publisher a card in a mixed section; 0: none",
	"settings seasons of the":      "north or south: whose seasons count for what to sew next; space: the other",
	"box name":                     "what stands on it; what the box holds stays in it",
	"box length":                   "inside, front to back, like 380 mm or 15 in",
	"box place":                    "where it stands, like: cupboard, column 1, row 2",
	"box " + lockedLabel:           "y: its label stays; n: it may change",
	"section title":                "what its divider card says",
	"section " + publishersLabel:   "parted by ;  and * for all that no other section names",
	"section tags":                 "parted by ;  any pattern that bears one of them stands in it",
	"section " + newBoxLabel:       "y: the section begins a new box; n: it goes on in the one before it",
	"publisher name":               "all its patterns are called so then",
	"publisher files as":           "the spelling by which it is filed, where that is not its name",
	"publisher " + numbersLabel:    "how they are ordered: consecutive, prefix-first, issue, book or none",
	"category name":                "all its patterns are called so then",
	"binder " + categoryLabel:      "whose sleeves go into it; one more binder of a category takes what spills",
	"binder pockets":               "how many sleeves go into it",
	"binder sub-dividers":          "parted by ;  a tag, or a word of the name: what is behind which",
	"binder " + seeAlsoLabel:       "of what has its sleeve elsewhere: a line on the index page, or a pocket with a card",
	"oversize name":                "what stands on it",
	"oversize length":              "inside, front to back; a dummy stands in the row for each thing in it",
	"oversize place":               "where it stands, like: on the floor",
	"hooks name":                   "what the row is called, like door",
	"hooks hooks":                  "how many there are in the row",
	"hooks each holds":             "how many patterns hang on one",
}

func (s *Screen) formView() []string {
	t, f := s.theme, s.draft.form
	head := "Change " + kindNames[f.kind]
	if f.isNew {
		head = "New " + kindNames[f.kind]
		if f.i >= 0 && !f.kind.given() {
			head += ", behind " + kindNames[f.kind] + " " + s.draft.now.name(f.piece)
		}
	}
	lines := []string{t.Heading.Render(cells.Cut(head, s.w)), ""}
	room := max(1, s.h-len(lines)-3)
	from := min(max(0, f.at-room/2), max(0, len(f.inputs)-room))
	for i := from; i < len(f.inputs) && i < from+room; i++ {
		mark, style := "  ", t.Plain
		if i == f.at {
			mark, style = t.Glyphs.Arrow+" ", t.Strong
		}
		lines = append(lines, style.Render(cells.Fit(mark+f.labels[i], labelWidth+2))+t.Input(f.inputs[i], max(1, s.w-labelWidth-3)))
	}
	hint := hints[kindNames[f.kind]+" "+f.labels[f.at]]
	if rest := s.rest(); rest != "" {
		hint = "right: goes on with " + strings.TrimSpace(rest)
	}
	if f.choices() == nil && f.proposed() {
		hint = strings.TrimPrefix(hint+"; typing replaces it", "; ")
	}
	lines = append(lines, "")
	for _, l := range cells.Wrap(hint, max(1, s.w-4)) {
		lines = append(lines, t.Quiet.Render("  "+l))
	}
	return lines
}

// weighView shows what is changed and what saving comes to.
func (s *Screen) weighView() []string {
	t, d := s.theme, s.draft
	head := t.Heading.Render(cells.Cut("Before it is saved", s.w))
	var lines []string
	put := func(style lipgloss.Style, text string) {
		for i, l := range cells.Wrap(text, max(1, s.w-6)) {
			sign := " "
			if i == 0 {
				sign = t.Glyphs.Dot
			}
			lines = append(lines, "  "+style.Render(sign+" "+l))
		}
	}
	fresh := d.fresh(s.desk.Collection().Rev()) && d.effect.err == nil
	switch {
	case s.outrun():
		put(t.Warn, "the shelf was changed otherwise since this was begun: saving would take that back unseen. Note what you changed, throw it away with x, and begin again")
	case !fresh:
		put(t.Quiet, "working out what it comes to ...")
	default:
		for _, b := range d.now.OddBoxes(s.desk.Collection().Shelf()) {
			put(t.Warn, fmt.Sprintf("box %s is %s long: is that right? esc leads back", b.Name, b.Length.Fine(t.Units)))
		}
		s.sayEffect(d.effect, put)
	}
	lines = append(lines, "", t.Strong.Render(cells.Cut("  What is changed:", s.w)))
	for _, c := range d.changes() {
		put(t.Plain, c)
	}
	return append([]string{head}, s.window(lines, s.h-1)...)
}

// sayEffect says what saving comes to.
func (s *Screen) sayEffect(e *effect, put func(lipgloss.Style, string)) {
	t := s.theme
	put(t.Plain, fmt.Sprintf("boxes needed: %d now, %d then", e.now.boxes, e.then.boxes))
	put(t.Plain, fmt.Sprintf("envelopes to move from box to box for that: %d now, %d then", e.now.moved, e.then.moved))
	put(t.Plain, fmt.Sprintf("labels to redo for that: %d now, %d then", e.now.labels, e.then.labels))
	if e.then.missing > 0 {
		put(t.Warn, fmt.Sprintf("%s missing on the shelf then, %d now", words.Count(e.then.missing, "box is", "boxes are"), e.now.missing))
	}
	if e.dropped > 0 {
		put(t.Warn, words.Count(e.dropped, "envelope loses its box or hook and goes", "envelopes lose their box or hook and go")+" on the to-file pile")
	}
	for _, name := range e.strangers {
		put(t.Warn, fmt.Sprintf("publisher %s is new, no pattern is of it: look at the spelling", name))
	}
	for _, f := range e.unplaceable {
		put(t.Warn, strings.TrimSpace(f))
	}
}

// strayView shows what was read in boxes that are no longer there.
func (s *Screen) strayView() []string {
	t := s.theme
	head := t.Heading.Render(cells.Cut("Read, in boxes that are no longer there", s.w))
	var lines []string
	for _, r := range s.strays {
		lines = append(lines, t.Strong.Render(cells.Cut(fmt.Sprintf("  box %s, %s", r.Name, words.Count(len(r.Texts), "reading", "readings")), s.w)))
		for i, text := range r.Texts {
			lines = append(lines, cells.Cut("  "+cells.Right(num(i+1), 4)+"  "+text, s.w))
		}
		if r.Typed != "" {
			lines = append(lines, cells.Cut("        "+r.Typed+"  (typed, not read)", s.w))
		}
	}
	return append([]string{head}, s.window(lines, s.h-1)...)
}

// window is what is seen of lines in so much room. Where there is more, the last
// line says so.
func (s *Screen) window(lines []string, room int) []string {
	lines, s.most = s.theme.Window(lines, s.top, room, s.w)
	s.top = min(s.top, s.most)
	return lines
}
