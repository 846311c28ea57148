package same

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/tui/cells"
)

const (
	roomyFrom = 15 // lines from which there are lines to spare
	labelWide = 13 // cells of what a line is about
	deedWide  = 24
)

// Lines draws the sheet in the size last set.
func (s *Sheet) Lines() []string {
	if s.desk.Collection().Pattern(s.of) == nil {
		return nil
	}
	switch s.stage {
	case picking:
		return s.pickLines()
	case joining:
		return s.joinLines()
	case parting:
		return s.partLines()
	case saying:
		return s.form.View(s.theme, s.w, s.h)
	}
	return s.deedLines()
}

// head is what the sheet is about, and what is asked.
func (s *Sheet) head(title, asks string) []string {
	t := s.theme
	lines := []string{"  " + t.Strong.Render(cells.Cut(title, s.w-2)), "  " + t.Quiet.Render(cells.Cut(asks, s.w-2))}
	if s.h >= roomyFrom {
		lines = append(lines, "")
	}
	return lines
}

// foot is what there is to say below a list, in a third of the room.
func (s *Sheet) foot(texts ...string) []string {
	var lines []string
	for _, text := range texts {
		for _, l := range cells.Wrap(text, max(1, s.w-2)) {
			lines = append(lines, "  "+s.theme.Plain.Render(l))
		}
	}
	if len(lines) > 0 && s.h >= roomyFrom {
		lines = append([]string{""}, lines...)
	}
	return lines[:min(len(lines), max(0, s.h/3))]
}

// list shows the part of lines around the one that is chosen.
func list(lines []string, at, room int) []string {
	from := min(max(0, at-room/2), max(0, len(lines)-room))
	return lines[from:min(len(lines), from+max(0, room))]
}

// line is a line of a list.
func (s *Sheet) line(chosen bool, text string) string {
	mark, style := "  ", s.theme.Plain
	if chosen {
		mark, style = s.theme.Glyphs.Arrow+" ", s.theme.Focus
	}
	return style.Render(cells.Pad(mark+cells.Cut(text, s.w-2), s.w))
}

// called names the pattern with what else tells it from others.
func (s *Sheet) called(id model.PatternID) string {
	c := s.desk.Collection()
	p := c.Pattern(id)
	year := ""
	if p.Year != 0 {
		year = fmt.Sprint(p.Year)
	}
	return s.theme.Dots(c.Called(id), p.SizeRange, year)
}

func (s *Sheet) deedLines() []string {
	lines := s.head(s.called(s.of), words.Count(len(s.desk.Index.Copies(s.of)), "copy", "copies")+" listed; what is the matter with the record?")
	all := s.deeds()
	wide := min(deedWide, s.w/2)
	var rows []string
	for i, d := range all {
		rows = append(rows, s.line(i == s.at[choosing], cells.Fit(d.what, wide)+" "+d.about))
	}
	var says []string
	if at := s.at[choosing]; at < len(all) {
		says = append(says, all[at].what+": "+all[at].about)
	}
	if len(s.kin) > 0 {
		says = append(says, "like it: "+s.called(s.kin[0].id)+", "+s.kin[0].why)
	}
	foot := s.foot(says...)
	return append(append(lines, list(rows, s.at[choosing], s.h-len(lines)-len(foot))...), foot...)
}

func (s *Sheet) pickLines() []string {
	t := s.theme
	asks := map[model.LinkKind]string{"": "is the same as which other?", model.Reissue: "was issued again as which other?", model.SeeAlso: "has to do with which other?"}[s.wish]
	lines := s.head(s.called(s.of), asks)
	lines = append(lines[:2], t.Strong.Render(cells.Fit(t.Glyphs.Arrow+" Look for", 12))+t.Input(s.query, max(1, s.w-12)))
	says := "  nothing found; try fewer words, or only the number"
	switch typed := strings.TrimSpace(s.query.Value()) != ""; {
	case !typed && len(s.found) == 0:
		says = "  nothing is like it; type its number, words of its name, its publisher"
	case !typed:
		says = "  like it; type to look for another:"
	case len(s.found) > 0:
		says = "  " + words.Count(len(s.found), "pattern", "patterns") + ":"
	}
	if lines = append(lines, t.Quiet.Render(cells.Cut(says, s.w))); s.h >= roomyFrom {
		lines = append(lines, "")
	}
	var rows []string
	room := s.h - len(lines)
	from := min(max(0, s.at[picking]-room/2), max(0, len(s.found)-room))
	for i := from; i < len(s.found) && i < from+room; i++ {
		x := s.found[i]
		rows = append(rows, s.line(i == s.at[picking], s.row(x)))
	}
	return append(lines, rows...)
}

// row names a pattern in columns, as the list of Find does, and says why it is
// meant.
func (s *Sheet) row(x candidate) string {
	c := s.desk.Collection()
	p := c.Pattern(x.id)
	why, year := x.why, ""
	if why == "" {
		why = words.Count(len(s.desk.Index.Copies(x.id)), "copy", "copies")
	}
	if p.Year != 0 {
		year = fmt.Sprint(p.Year)
	}
	wide := 8
	if strings.TrimSpace(s.query.Value()) == "" {
		wide = (s.w - 3) * 2 / 5
	}
	left := max(0, s.w-wide-3)
	house, number := min(20, left/3), min(12, left/5)
	return cells.Fit(c.Publisher(p.Publisher).Name, house) + " " + cells.Fit(p.Number, number) + " " +
		cells.Fit(s.theme.Dots(p.Name, p.SizeRange, year), max(0, left-house-number-2)) + " " + cells.Fit(why, wide)
}

// joinLines shows both records side by side, with a sign before what will be said.
func (s *Sheet) joinLines() []string {
	t, g := s.theme, s.theme.Glyphs
	label := min(labelWide, s.w/4)
	wide := max(0, (s.w-label-7)/2)
	said := func(text string, will bool) string {
		sign := " "
		if will && text != "" {
			sign = g.Done
		}
		return sign + " " + cells.Fit(text, wide-1)
	}
	lines := s.head("Merge two records into one", g.Done+" is what it will say; all that was said is kept, and can be taken apart again")
	lines = append(lines, t.Quiet.Render(cells.Cut("  "+cells.Fit("", label)+" "+said("record kept", false)+" "+said("merged into it", false), s.w)))
	var rows []string
	set := s.desk.Collection().Shelf().Settings
	for _, x := range s.joint.Said {
		both, kept, gone := x.Field == "tags" || x.Field == "also_in", x.Will == x.Kept, x.Will == x.Gone
		x = x.InUnits(set)
		text := cells.Fit(plain(x.Field), label) + " " + said(x.Kept, both || kept) + " " + said(x.Gone, both || gone)
		rows = append(rows, s.line(len(rows) == s.at[joining], text))
	}
	for _, x := range s.alongs() {
		rows = append(rows, s.line(len(rows) == s.at[joining], cells.Fit(x.what, label)+"   goes over: "+x.says))
	}
	foot := s.foot(s.aboutJoin())
	return append(append(lines, list(rows, s.at[joining], s.h-len(lines)-len(foot))...), foot...)
}

// aboutJoin says in full what stands in the line that is chosen.
func (s *Sheet) aboutJoin() string {
	at := s.at[joining]
	if at >= len(s.joint.Said) {
		if all := s.alongs(); at-len(s.joint.Said) < len(all) {
			x := all[at-len(s.joint.Said)]
			return x.what + " goes over: " + x.says
		}
		return ""
	}
	x := s.joint.Said[at]
	name, shown := plain(x.Field), x.InUnits(s.desk.Collection().Shelf().Settings)
	switch {
	case x.Kept == x.Gone:
		return name + ": both say " + shown.Kept
	case x.Kept == "" || x.Gone == "":
		return name + ": only one says anything: " + shown.Kept + shown.Gone
	case settled(x):
		return name + ": it will say " + shown.Will
	}
	other := shown.Gone
	if x.Will == x.Gone {
		other = shown.Kept
	}
	return name + ": it will say " + shown.Will + ", and not " + other + "; space turns that round"
}

func (s *Sheet) partLines() []string {
	t := s.theme
	lines := s.head(s.called(s.of), "which of it belongs to the other design? the rest stays")
	var rows []string
	all := s.things()
	for i, x := range all {
		goes := "stays"
		if s.going[x.name] {
			goes = t.Glyphs.Done + " goes"
		}
		rows = append(rows, s.line(i == s.at[parting], cells.Fit(goes, 7)+" "+cells.Fit(x.name, min(labelWide, s.w/4))+" "+x.says))
	}
	var says string
	if at := s.at[parting]; at < len(all) {
		says = all[at].name + ": " + all[at].says
	}
	foot := s.foot(says)
	return append(append(lines, list(rows, s.at[parting], s.h-len(lines)-len(foot))...), foot...)
}
