package takein

import (
	"fmt"
	"path/filepath"
	"slices"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
)

// roomyFrom is the height from which there are lines to spare.
const roomyFrom = 15

// Lines draws the sheet in the size last set.
func (s *Sheet) Lines() []string {
	if s.stage != naming && s.doing == "" && s.stage == mapping {
		return s.form.View(s.theme, s.w, s.h)
	}
	lines := s.head()
	room := s.h - len(lines)
	switch {
	case s.doing != "":
		text := s.doing + " ..."
		if s.steady != nil {
			text = fmt.Sprintf("%s: %d %%", s.doing, s.steady.Share())
		}
		return append(lines, s.theme.Plain.Render(cells.Cut("  "+text, s.w)))
	case s.saves != 0:
		return append(lines, s.theme.Plain.Render(cells.Cut("  storing "+s.amount()+" ...", s.w)))
	case s.stage == naming:
		return append(lines, s.picker.View(s.theme, "File", s.w, room)...)
	case s.stage == cleaning:
		return append(lines, s.cleanLines(room)...)
	}
	if says := s.says(); len(says) != len(s.drawn.of) || s.w != s.drawn.w || !slices.Equal(says, s.drawn.of) {
		s.drawn = drawn{of: says, w: s.w}
		for _, x := range says {
			for _, l := range cells.Wrap(x, max(1, s.w-2)) {
				s.drawn.lines = append(s.drawn.lines, "  "+l)
			}
		}
	}
	text, most := s.theme.Window(s.drawn.lines, min(s.top, s.most), room, s.w)
	s.most = most
	return append(lines, text...)
}

// drawn are texts as they were wrapped last: of many rows that takes longer than a
// key is to wait.
type drawn struct {
	of    []string
	w     int
	lines []string
}

// head says what the page is.
func (s *Sheet) head() []string {
	title := "Take in a spreadsheet (CSV), or an export of a whole cupboard (JSON Lines)"
	switch name := filepath.Base(s.path); s.stage {
	case mapping:
		title = name
	case cleaning:
		title = fmt.Sprintf("%s: %d of %s taken", name, s.taking(), words.Count(len(s.proposals), "proposal", "proposals"))
	case judging:
		title = name + ": nothing is stored yet"
	case told:
		title = name + " is taken in"
	}
	lines := []string{s.theme.Heading.Render(cells.Cut(title, s.w))}
	if s.h >= roomyFrom {
		lines = append(lines, "")
	}
	return lines
}

// taking is how many proposals are taken.
func (s *Sheet) taking() (n int) {
	for _, r := range s.rows {
		n += r.took
	}
	return n
}

// amount is how much would be stored.
func (s *Sheet) amount() string {
	if s.whole != nil {
		return words.Count(s.whole.Copies().Len(), "copy", "copies")
	}
	return words.Count(len(s.plan.change.Entries), "copy", "copies")
}

// cleanLines shows the proposals around the one that is chosen, and that one in
// full.
func (s *Sheet) cleanLines(room int) []string {
	t := s.theme
	var foot []string
	if r := s.rows[s.at]; r.of != heading {
		p := &s.proposals[r.of]
		for _, text := range []string{s.where(p) + ": " + p.Why, s.edits(p)} {
			for _, l := range cells.Wrap(text, max(1, s.w-2)) {
				foot = append(foot, "  "+t.Plain.Render(l))
			}
		}
		if s.h >= roomyFrom {
			foot = append([]string{""}, foot...)
		}
		foot = foot[:min(len(foot), room/3)]
	}
	room = max(0, room-len(foot))
	var lines []string
	from := min(max(0, s.at-room/2), max(0, len(s.rows)-room))
	for i := from; i < min(len(s.rows), from+room); i++ {
		mark, style := "  ", t.Plain
		if s.rows[i].of == heading {
			style = t.Card
		}
		if i == s.at {
			mark, style = t.Glyphs.Arrow+" ", t.Focus
		}
		lines = append(lines, style.Render(cells.Pad(mark+cells.Cut(s.rowText(s.rows[i]), s.w-2), s.w)))
	}
	return append(lines, foot...)
}

func (s *Sheet) rowText(r row) string {
	g := s.theme.Glyphs
	if r.of == heading {
		return fmt.Sprintf("%s%s: %d of %d taken", g.Card, r.kind.Title(), r.took, r.n)
	}
	sign := " "
	if s.take[r.of] {
		sign = g.Done
	}
	p := &s.proposals[r.of]
	wide := 12
	if len(p.Rows) > 1 {
		wide = 18
	}
	return sign + " " + cells.Fit(s.where(p), min(wide, s.w/3)) + " " + s.edits(p)
}

// says are the lines of the last two pages.
func (s *Sheet) says() []string {
	if s.stage == told {
		return s.said
	}
	if s.whole != nil {
		return []string{"the export is whole: " + s.amount() + " would be stored, with shelf and settings"}
	}
	p := s.plan
	out := []string{fmt.Sprintf("%s would be stored, %d of them further copies of a pattern listed already", s.amount(), p.seconds)}
	if p.repeated != "" {
		out = append(out, p.repeated+" Then leave it with esc")
	}
	if n := s.taking(); n > 0 {
		out = append(out, words.Count(n, "proposal", "proposals")+" taken")
	}
	out = append(out, p.new...)
	for _, h := range p.unused {
		out = append(out, fmt.Sprintf("the column %q is not used; esc goes back to say what it is", h))
	}
	const many = 60 // who has more looks into the file
	out = append(out, p.doubts[:min(many, len(p.doubts))]...)
	if n := len(p.doubts) - many; n > 0 {
		out = append(out, fmt.Sprintf("and %d more numbers that are doubtful", n))
	}
	if len(p.rejected) == 0 {
		return out
	}
	out = append(out, fmt.Sprintf("%s cannot be used, and would go with the reasons into %s:", words.Count(len(p.rejected), "row", "rows"), s.typed+p.into))
	for _, r := range p.rejected[:min(many, len(p.rejected))] {
		out = append(out, fmt.Sprintf("line %d: %s", r.Line, r.Reason))
	}
	if n := len(p.rejected) - many; n > 0 {
		out = append(out, fmt.Sprintf("and %d more, which that file tells", n))
	}
	return out
}
