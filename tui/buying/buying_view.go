package buying

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/surplus"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/sleeve"
	"example.org/tuckrow/tui/strip"
)

// lowest is the height from which there are lines to spare. Below narrow numbers
// matter more than whose they are.
const (
	lowest = 15
	narrow = 60
)

func (s *Screen) low() bool { return s.h < lowest }

// View implements frame.Screen.
func (s *Screen) View() string {
	var lines []string
	switch s.stage {
	case filling:
		lines = s.form.View(s.theme, s.w, s.h)
	case passing:
		lines = s.spareView()
	default:
		lines = s.askView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// askView shows the question, the answer, and of what is chosen where it stands,
// or will.
func (s *Screen) askView() []string {
	t := s.theme
	mark := t.Glyphs.Arrow + " "
	if s.at != inField {
		mark = "  "
	}
	const label = 14
	lines := []string{t.Strong.Render(cells.Fit(mark+"Do I have", label)) + t.Input(s.query, max(1, s.w-label))}
	for _, l := range cells.Wrap(s.says(), max(1, s.w-2)) {
		style := t.Quiet
		if s.query.Value() != "" && s.answer.Verdict != lookup.None {
			style = t.Warn
		} else if s.query.Value() != "" {
			style = t.Strong
		}
		lines = append(lines, "  "+style.Render(l))
	}
	if !s.low() {
		lines = append(lines, "")
	}
	about := s.about(max(0, s.h-len(lines)-3))
	room := max(1, s.h-len(lines)-len(about))
	from := min(max(0, s.at-room/2), max(0, len(s.rows)-room))
	for i := from; i < len(s.rows) && i < from+room; i++ {
		lines = append(lines, s.line(i))
	}
	return append(lines, about...)
}

// says answers in words.
func (s *Screen) says() string {
	typed := s.query.Value() != ""
	onlyWish := len(s.rows) > 0 && s.rows[0].wish != 0
	switch {
	case !typed && len(s.rows) == 0:
		return "number with its publisher, or words of the name; nothing is wanted yet"
	case !typed:
		return "number with its publisher, or words of the name; wanted and on the way:"
	case s.answer.Verdict == lookup.Own:
		return s.theme.Glyphs.Alert + " owned already:"
	case s.answer.Verdict == lookup.Close && len(s.rows) > 0:
		return s.theme.Glyphs.Alert + " not exactly, but close: " + s.rows[0].why
	case s.answer.Coded && (s.answer.Reads == "" || !onlyWish):
		return s.answer.Barcode()
	case onlyWish:
		return "not owned, but on your list:"
	case s.forms.Begun("want " + s.query.Value()):
		return "not owned; what you began to write of it is kept, enter goes on"
	}
	return "not owned"
}

func (s *Screen) line(i int) string {
	t, c, r := s.theme, s.desk.Collection(), s.rows[i]
	mark, style := "  ", t.Plain
	if i == s.at {
		mark, style = t.Glyphs.Arrow+" ", t.Focus
	}
	var publisher, number, name, state string
	if w := c.Wishes().Get(uint32(r.wish)); w != nil {
		publisher, number, name = w.Publisher, w.Number, sized(w.Name, w.SizeRange)
		state, _ = s.state(w)
	} else if p := c.Pattern(r.pattern); p != nil {
		publisher, number, name = c.Publisher(p.Publisher).Name, p.Number, sized(p.Name, p.SizeRange)
		state = "owned"
		if n := len(s.desk.Index.Copies(p.ID)); n > 1 {
			state = fmt.Sprintf("%d copies", n)
		}
	}
	right := min(16, s.w/4)
	left := max(0, s.w-right-3)
	pub, num := min(20, left/3), min(12, max(8, left/5))
	if s.w < narrow {
		pub = left / 5
	}
	return style.Render(cells.Cut(mark+cells.Fit(publisher, pub)+" "+cells.Fit(number, num)+" "+
		cells.Fit(name, max(0, left-pub-num-2))+" "+cells.Fit(state, right), s.w))
}

func sized(name, sizes string) string { return strings.TrimSpace(name + "  " + sizes) }

// about says of what is chosen all that is known, in at most so many lines.
func (s *Screen) about(most int) []string {
	t, c, r := s.theme, s.desk.Collection(), s.chosen()
	if s.at == inField && s.query.Value() != "" && len(s.rows) > 0 && (!s.low() || len(s.rows) < 3) {
		r = s.rows[0] // the answer is mostly in it
	}
	var texts []string
	var gap *ordering.Gap
	if w := c.Wishes().Get(uint32(r.wish)); w != nil {
		_, full := s.state(w)
		texts = append(texts, t.Dots(w.Heading(), full, w.Category, w.Notes))
		g := s.desk.Layout.GapFor(w.Publisher, &model.Pattern{Number: w.Number, Name: w.Name, SizeRange: w.SizeRange})
		gap = &g
	} else if p := c.Pattern(r.pattern); p != nil {
		texts = append(texts, t.Dots(p.Heading(), r.why))
		for _, a := range s.desk.Index.Copies(p.ID) {
			texts = append(texts, t.Dots(sleeve.Where(c, a), string(c.Copy(a).Cut)))
		}
	} else {
		return nil
	}
	var lines []string
	if !s.low() {
		lines = append(lines, "")
	}
	for _, text := range texts {
		for _, l := range cells.Wrap(text, max(1, s.w-2)) {
			lines = append(lines, "  "+t.Strong.Render(l))
		}
	}
	if gap != nil {
		lines = append(lines, s.slot(gap, most-len(lines))...)
	}
	return lines[:min(len(lines), max(0, most))]
}

// slot draws where something will stand.
func (s *Screen) slot(g *ordering.Gap, most int) []string {
	t := s.theme
	if g.Holding == nil {
		return []string{"  " + t.Quiet.Render(cells.Cut("it will stand in the section "+g.Section+", of which nothing stands in a box yet", max(1, s.w-2)))}
	}
	var lines []string
	if most > 4 && !s.low() {
		lines = append(lines, t.Quiet.Render(strip.Title(g.Holding, s.desk.Layout.Label(g.Holding), s.w, t)))
	}
	return append(lines, strip.Draw(g.Holding, strip.Options{
		Width: s.w, Height: max(1, most-len(lines)), Theme: t, Mark: &strip.Mark{At: g.FromFront, Label: "its slot"},
		Out: func(a model.Accession) bool { return s.desk.Collection().Copy(a).Out != nil },
	})...)
}

// spareView lists the copies of what there is several of, with the advice.
func (s *Screen) spareView() []string {
	t, sp := s.theme, s.spare
	if sp == nil {
		return []string{t.Heading.Render(cells.Cut("Copies to pass on", s.w)), "", t.Quiet.Render(cells.Cut("  comparing copies ...", s.w))}
	}
	lines := []string{t.Spread(t.Heading, "Copies to pass on", fmt.Sprintf("%d of %d of which there are several", sp.pass, len(sp.copies)), s.w)}
	l, ok := s.spareCopy()
	if !ok {
		return append(lines, "", t.Quiet.Render(cells.Cut("  there is one copy of everything", s.w)))
	}
	var why []string
	for _, x := range cells.Wrap(t.Dots(append([]string{string(l.Advice)}, l.Why...)...), max(1, s.w-2)) {
		why = append(why, "  "+t.Strong.Render(x))
	}
	why = append(why, "  "+t.Quiet.Render(cells.Cut(s.theme.Dots(fmt.Sprintf("copy %d", l.Copy.Accession), sleeve.Where(s.desk.Collection(), l.Copy.Accession)), max(1, s.w-2))))
	if !s.low() {
		lines, why = append(lines, ""), append([]string{""}, why...)
	}
	room := max(1, s.h-len(lines)-len(why))
	now := sp.copies[s.spareAt]
	from := min(max(0, now-room/2), max(0, len(sp.lines)-room))
	for i := from; i < len(sp.lines) && i < from+room; i++ {
		lines = append(lines, s.spareLine(sp.lines[i], i == now))
	}
	return append(lines, why...)
}

func (s *Screen) spareLine(l spareLine, here bool) string {
	t, c := s.theme, s.desk.Collection()
	if l.Copy == nil {
		publisher := ""
		if p := c.Publisher(l.pattern.Publisher); p != nil {
			publisher = p.Name
		}
		return t.Card.Render(cells.Cut("  "+t.Glyphs.Card+strings.TrimSpace(publisher+" "+sized(l.pattern.Heading(), l.pattern.SizeRange)), s.w))
	}
	mark, style := "  ", t.Plain
	if here {
		mark, style = t.Glyphs.Arrow+" ", t.Focus
	}
	advice := string(l.Advice)
	if l.Advice == surplus.Look {
		advice = t.Glyphs.Alert + " look"
	}
	const number, wide = 7, 9
	return style.Render(cells.Fit(mark+cells.Right(fmt.Sprint(l.Copy.Accession), number)+"  "+cells.Fit(advice, wide)+" "+strings.Join(l.Why, "; "), s.w))
}
