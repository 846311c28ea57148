package find

import (
	"cmp"
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/sleeve"
	"example.org/tuckrow/tui/strip"
)

// lowest is the height from which there are lines to spare. Below it what stands
// on either side of the slot is worth more than empty lines and the box's title.
const lowest = 15

func (s *Screen) low() bool { return s.h < lowest }

// View implements frame.Screen: the question, the answers, and of the chosen
// one its place, drawn.
func (s *Screen) View() string {
	if s.sheet != nil {
		return cells.Clamp(strings.Join(s.sheet.Lines(), "\n"), s.w, s.h)
	}
	t := s.theme
	lines := []string{t.Strong.Render(cells.Fit(t.Glyphs.Arrow+" Look for", 12)) + t.Input(s.query, max(1, s.w-12)), t.Quiet.Render(cells.Cut(s.says(), s.w))}
	between := []string{""}
	if s.low() {
		between = nil
	}
	lines = append(lines, between...)
	place := append(between, s.place()...)
	lines = append(lines, s.list(max(1, s.h-len(lines)-len(place)))...)
	return cells.Clamp(strings.Join(append(lines, place...), "\n"), s.w, s.h)
}

// leastList is how many lines the picture must leave to question and answers.
func (s *Screen) leastList() int {
	if s.low() {
		return 3
	}
	return 5
}

// says tells what the list is.
func (s *Screen) says() string {
	typed := strings.TrimSpace(s.query.Value()) != ""
	switch {
	case !typed && len(s.results) == 0:
		return "  number, words of the name, publisher, category; nothing is out"
	case !typed && s.desk.Collection().Copy(s.results[len(s.results)-1]).Out == nil:
		return "  out, late and longest first; then what was not found:"
	case !typed:
		return "  out, late and longest first:"
	case s.total == 0 && s.coded:
		return "  this barcode is on no sleeve that is listed"
	case s.total == 0:
		return "  nothing found; try fewer words, or only the number"
	case s.old:
		return fmt.Sprintf("  %s; typing looks for something else:", patterns(s.total))
	case s.guessed:
		return fmt.Sprintf("  not exactly that, but %s like it:", patterns(s.total))
	case s.total > most:
		return fmt.Sprintf("  %s; the first %d are shown, a word more narrows it:", patterns(s.total), most)
	}
	return "  " + patterns(s.total) + ":"
}

func patterns(n int) string {
	if n == 1 {
		return "1 pattern"
	}
	return fmt.Sprintf("%d patterns", n)
}

// list shows as many results as there is room for, the chosen one among them.
func (s *Screen) list(room int) []string {
	first := min(max(0, s.at-room/2), max(0, len(s.results)-room))
	var lines []string
	for i := first; i < len(s.results) && i < first+room; i++ {
		lines = append(lines, s.row(i))
	}
	return lines
}

func (s *Screen) row(i int) string {
	t, c := s.theme, s.desk.Collection()
	a := s.results[i]
	p := c.PatternOf(a)
	if p == nil {
		return ""
	}
	where := s.brief(a)
	mark, style := "  ", t.Plain
	if i == s.at {
		mark, style = t.Glyphs.Arrow+" ", t.Focus
	}
	whereWidth := min(18, s.w/4)
	left := max(0, s.w-whereWidth-3)
	pub := min(20, left/3)
	number := min(12, left/5)
	text := mark + cells.Fit(c.Publisher(p.Publisher).Name, pub) + " " + cells.Fit(p.Number, number) + " " +
		cells.Fit(sized(p), max(0, left-pub-number-2)) + " " + cells.Fit(where, whereWidth)
	return style.Render(cells.Cut(text, s.w))
}

func sized(p *model.Pattern) string {
	if p.SizeRange == "" {
		return p.Name
	}
	return p.Name + "  " + p.SizeRange
}

// brief says in a word or two where a copy is. It must be cheap: it is asked
// for every row.
func (s *Screen) brief(a model.Accession) string {
	c := s.desk.Collection()
	cp := c.Copy(a)
	spot, stands := c.Standing(a)
	switch {
	case cp.Out != nil && cp.Out.Overdue(s.desk.Today()):
		return s.theme.Glyphs.Alert + " late: " + cmp.Or(cp.Out.To, string(cp.Out.Due))
	case cp.Out != nil && cp.Out.To != "":
		return "out: " + cp.Out.To
	case cp.Out != nil:
		return "out"
	case cp.Missing != "":
		return "not found"
	case stands:
		b, _ := c.Shelf().Box(spot.Box)
		return fmt.Sprintf("box %s, place %d", b.Name, spot.Index+1)
	case cp.Hook.Row != 0:
		return "hook " + c.HookText(cp.Hook)
	}
	return "on the pile"
}

// place draws where the chosen copy stands.
func (s *Screen) place() []string {
	a, ok := s.chosen()
	if !ok {
		return nil
	}
	t := s.theme
	slot := s.desk.Layout.Slot(a)
	var lines []string
	if s.lending {
		question := []string{"who gets it?", "what for?", "until when?"}[s.asks]
		lines = append(lines, t.Strong.Render(cells.Fit(t.Glyphs.Arrow+" "+question, 15))+t.Input(s.answers[s.asks], max(1, s.w-15)))
	}
	for _, l := range cells.Wrap(s.placeText(a, slot), max(1, s.w-2)) {
		lines = append(lines, "  "+t.Strong.Render(l))
	}
	if slot.Holding == nil {
		return lines
	}
	if !s.low() {
		lines = append(lines, t.Quiet.Render(strip.Title(slot.Holding, s.desk.Layout.Label(slot.Holding), s.w, t)))
	}
	it := slot.Holding.Items[slot.Position-1]
	return append(lines, strip.Draw(slot.Holding, strip.Options{
		Width: s.w, Height: max(1, s.h-len(lines)-s.leastList()), Theme: t, Mark: &strip.Mark{At: slot.FromFront, Width: it.Thickness},
		Out: func(a model.Accession) bool { return s.desk.Collection().Copy(a).Out != nil },
	})...)
}

// placeText says in a line where a copy is and in what state. Its neighbours
// stand under the picture, and on a low screen its name only there.
func (s *Screen) placeText(a model.Accession, slot ordering.Slot) string {
	c := s.desk.Collection()
	var parts []string
	if !s.low() || slot.Holding == nil {
		parts = append(parts, c.PatternOf(a).Heading())
	}
	if slot.Out != nil {
		parts = append(parts, s.outText(slot.Out)...)
	}
	switch {
	case slot.Box.ID != 0 && slot.Box.Place != "":
		parts = append(parts, fmt.Sprintf("box %s (%s), place %d", slot.Box.Name, slot.Box.Place, slot.Position))
	case slot.Box.ID != 0:
		parts = append(parts, fmt.Sprintf("box %s, place %d", slot.Box.Name, slot.Position))
	case slot.Hook != "":
		parts = append(parts, "hook "+slot.Hook)
	case slot.Missing != "":
		parts = append(parts, "not found on "+string(slot.Missing)+": look for it, and press ctrl+o when it turns up")
	default:
		parts = append(parts, "on the to-file pile, next step "+c.StepOf(c.Copy(a)).String())
	}
	if cut := c.Copy(a).Cut; cut != "" {
		parts = append(parts, map[model.Cut]string{model.Uncut: "uncut", model.PartlyCut: "partly cut", model.FullyCut: "cut"}[cut])
	}
	for _, linked := range sleeve.Links(c, c.PatternOf(a)) {
		parts = append(parts, "see also "+linked)
	}
	return strings.Join(parts, " "+s.theme.Glyphs.Dot+" ")
}

// outText says since when something is out, with whom, what for, and when it is
// to be back.
func (s *Screen) outText(out *model.Out) []string {
	text := "out since " + string(out.Since)
	if out.To != "" {
		text += ", with " + out.To
	}
	if out.For != "" {
		text += ", for " + strings.TrimPrefix(out.For, "for ")
	}
	parts := []string{text}
	switch {
	case out.Overdue(s.desk.Today()):
		parts = append(parts, s.theme.Glyphs.Alert+" overdue: it was due on "+string(out.Due))
	case out.Due != "":
		parts = append(parts, "due on "+string(out.Due))
	}
	return parts
}
