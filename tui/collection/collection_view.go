package collection

import (
	"strings"

	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/tui/cells"
)

const (
	spacious  = 76 // cells from which all columns are shown
	widest    = 90 // cells of a row: the eye is not to lose it
	roomyFrom = 15 // lines from which there are lines to spare
)

// View implements frame.Screen.
func (s *Screen) View() string {
	var lines []string
	switch {
	case s.takes:
		lines = s.taking.Lines()
	case s.sheet != nil:
		lines = s.form.View(s.theme, s.w, s.h)
	case s.looking:
		lines = s.checklist()
	default:
		lines = s.pageView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// head is the line with the names of the pages, the one that is open among them,
// from the left or, where they do not all fit, from the open one on.
func (s *Screen) head() []string {
	t, line, used, from := s.theme, "", 0, page(0)
	all := 2
	for _, name := range pageNames {
		all += cells.Width(name) + 2
	}
	if all > s.w {
		from = max(0, s.page-1)
	}
	for p := from; p < pages; p++ {
		name, style := pageNames[p], t.Quiet
		if p == s.page {
			name, style = t.Glyphs.Arrow+" "+name, t.Focus
		}
		if name = cells.Cut(name, s.w-used-2); name == "" {
			break
		}
		line += "  " + style.Render(name)
		used += 2 + cells.Width(name)
	}
	if s.h >= roomyFrom {
		return []string{line, ""}
	}
	return []string{line}
}

// pageView shows a page, and what there is to say of what is chosen.
func (s *Screen) pageView() []string {
	t, lines := s.theme, s.head()
	room := max(1, s.h-len(lines))
	var about []string
	for _, text := range s.chosen().about {
		about = append(about, s.wrapped(text, "  ")...)
	}
	if len(about) > 0 && s.h >= roomyFrom {
		about = append([]string{""}, about...)
	}
	about = about[:min(len(about), room/2)]
	list := s.list(room - len(about))
	if len(list) > 1 {
		lines = append(lines, list...)
		return append(lines, about...)
	}
	return append(lines, t.Quiet.Render(cells.Cut("    "+s.empty(), s.w)))
}

// wrapped breaks a text into lines behind a margin.
func (s *Screen) wrapped(text, margin string) (out []string) {
	for _, l := range cells.Wrap(text, max(1, s.w-len(margin))) {
		out = append(out, margin+s.theme.Plain.Render(l))
	}
	return out
}

// list shows the rows of the page around what is chosen, below the names of the
// columns.
func (s *Screen) list(room int) []string {
	t := s.theme
	lines, at := []string(nil), 0
	for i, r := range s.shown() {
		if r.heading != "" {
			lines = append(lines, t.Card.Render(cells.Cut("  "+t.Glyphs.Card+r.heading, s.w)))
		}
		mark, style := "  ", t.Plain
		if i == s.at[s.page] {
			at, mark, style = len(lines), t.Glyphs.Arrow+" ", t.Focus
		}
		lines = append(lines, style.Render(cells.Pad(mark+s.line(r), s.w)))
	}
	titles := []string{""}
	for _, c := range columns[s.page] {
		titles = append(titles, c.title)
	}
	room = max(1, room-1)
	from := min(max(0, at-room/2), max(0, len(lines)-room))
	top := t.Quiet.Render(cells.Cut("  "+s.line(row{cols: titles}), s.w))
	return append([]string{top}, lines[from:min(len(lines), from+room)]...)
}

// line sets a row under the columns of its page.
func (s *Screen) line(r row) string {
	room := min(s.w-2, widest)
	if r.apart {
		remark := cells.Cut(r.cols[1], room/2)
		return cells.Fit(r.cols[0], max(0, room-cells.Width(remark)-1)) + " " + remark
	}
	behind := ""
	for i, c := range columns[s.page] {
		if c.spare && s.w < spacious {
			continue
		}
		wide := c.wide
		if wide == 0 { // what is left, as much as the name has
			wide = max(8, min(24, (room-cells.Width(behind))/2))
		}
		behind += " " + cells.Right(r.cols[i+1], wide-1)
	}
	behind = cells.Cut(behind, room)
	return cells.Fit(r.cols[0], max(0, room-cells.Width(behind))) + behind
}

// checklist says what there is to look at of the pattern that is chosen.
func (s *Screen) checklist() []string {
	u, t := s.chosen().unknown, s.theme
	lines := s.head()
	if u == nil {
		return lines
	}
	all := []string{"  " + t.Heading.Render(cells.Cut(u.called, max(1, s.w-2)))}
	all = append(all, s.wrapped(identify.Caution, "  ")...)
	for _, d := range bySize(u) {
		all = append(all, s.wrapped(d, "  ")...)
	}
	if len(u.looks) == 0 {
		all = append(all, s.wrapped("something is noted for each look", "  ")...)
	} else {
		all = append(all, s.wrapped("to look at (common practice, no source):", "  ")...)
	}
	for _, l := range u.looks {
		all = append(all, s.wrapped(t.Glyphs.Dot+" "+l.At+": "+l.For, "  ")...)
		all = append(all, s.wrapped("tells "+l.Tells+"; note it in "+strings.Join(l.Notes, ", "), "    ")...)
	}
	all, s.most = t.Window(all, s.top, s.h-len(lines), s.w)
	s.top = min(s.top, s.most)
	return append(lines, all...)
}
