package stocktake

import (
	"fmt"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/cells"
)

// roomyFrom is the height from which there are lines to spare.
const roomyFrom = 15

// View implements frame.Screen.
func (s *Screen) View() string {
	var lines []string
	switch s.stage {
	case counting:
		lines = s.countView()
	case ending:
		lines = s.endView()
	case settling:
		lines = s.matterView()
	case naming:
		lines = s.file.View(s.theme, s.w, s.h)
	default:
		lines = s.boxView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// spaced puts an empty line behind others where there is room.
func (s *Screen) spaced(lines []string) []string {
	if s.h >= roomyFrom {
		return append(lines, "")
	}
	return lines
}

func (s *Screen) wrapped(text, margin string) (out []string) {
	for _, l := range cells.Wrap(text, max(1, s.w-len(margin))) {
		out = append(out, margin+s.theme.Plain.Render(l))
	}
	return out
}

// boxView lists the boxes in walking order, and how far each is.
func (s *Screen) boxView() []string {
	t, c, boxes := s.theme, s.desk.Collection(), s.boxes()
	title, right := "Stocktake", "none is under way"
	if s.begun != "" {
		title, right = "Stocktake begun "+string(s.begun), s.progress()
	}
	lines := s.spaced([]string{t.Spread(t.Heading, title, right, s.w)})
	if len(boxes) == 0 {
		return append(lines, s.wrapped("there is no box yet: ctrl+b leads to Shelf, where e adds one", "  ")...)
	}
	about := s.aboutBoxes()
	if most := max(0, s.h-len(lines)-3); len(about) > most {
		about = about[:most]
	}
	room := max(1, s.h-len(lines)-len(about)-1)
	lines = append(lines, t.Quiet.Render(cells.Cut(s.columns("box", "recorded", "last counted", "here"), s.w)))
	from := min(max(0, s.at-room/2), max(0, len(boxes)-room))
	for i := from; i < len(boxes) && i < from+room; i++ {
		b := boxes[i]
		line := s.columns(t.Dots(b.Name, b.Place), strconv.Itoa(len(c.Row(b.ID))), string(c.Counted(b.ID)), s.state(b.ID))
		if i == s.at {
			line = t.Focus.Render(cells.Pad(t.Glyphs.Arrow+line[1:], s.w))
		}
		lines = append(lines, line)
	}
	return append(lines, about...)
}

// progress says how many boxes are counted, of those in which there is something.
func (s *Screen) progress() string {
	all := 0
	for _, b := range s.boxes() {
		if n := s.counts[b.ID]; n != nil && n.done || len(s.desk.Collection().Row(b.ID)) > 0 {
			all++
		}
	}
	return fmt.Sprintf("%d of %d boxes counted", s.done(), all)
}

// columns sets a line of the list of boxes.
func (s *Screen) columns(name, recorded, counted, state string) string {
	behind := " " + cells.Right(recorded, 8)
	if s.w >= 60 {
		behind += "  " + cells.Right(counted, 12)
	}
	behind += "  " + cells.Fit(state, max(8, min(22, s.w/4)))
	return "  " + cells.Fit(name, max(0, s.w-2-cells.Width(behind))) + behind
}

// state says how far a box is in this stocktake.
func (s *Screen) state(b model.BoxID) string {
	n := s.counts[b]
	switch {
	case n == nil && len(s.desk.Collection().Row(b)) == 0:
		return "empty"
	case n == nil || !n.done && len(n.steps) == 0:
		return ""
	case !n.done:
		return fmt.Sprintf("%d gone through", len(n.steps))
	case len(n.lost) == 0:
		return s.theme.Glyphs.Done + " counted"
	}
	return fmt.Sprintf("%s counted, %d short", s.theme.Glyphs.Done, len(n.lost))
}

func (s *Screen) aboutBoxes() []string {
	var about []string
	if s.h >= roomyFrom {
		about = append(about, "")
	}
	switch {
	case s.begun == "":
		about = append(about, s.wrapped("enter begins with the chosen box; all that is counted stays when you leave, or the program ends", "  ")...)
	case s.fresh() && s.done() > 0:
		about = append(about, s.wrapped(s.tally(), "  ")...)
	}
	return append(about, s.wrapped(moving.Caution(moving.Fullest(s.desk.Layout.Standing())), "  ")...)
}

// tally counts what differs by kind.
func (s *Screen) tally() string {
	var parts []string
	all := s.matters()
	for _, what := range []string{reading.Lost, reading.Elsewhere, reading.Wrong, reading.ReadTwice, reading.NoList, reading.Unclear} {
		if n := reading.Count(all, what); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, what))
		}
	}
	if len(parts) == 0 {
		return "nothing differs in the boxes that are counted, or all of it is settled"
	}
	return "to settle: " + s.theme.Dots(parts...)
}

// countView shows what is expected, what stands behind it, and what was made of the
// last one that was typed.
func (s *Screen) countView() []string {
	t, c, b, n := s.theme, s.desk.Collection(), s.box(), s.count()
	row := c.Row(b.ID)
	a := s.expected()
	next := s.reader.next
	lines := s.spaced([]string{t.Spread(t.Heading, t.Dots("Counting box "+b.Name, b.Place), fmt.Sprintf("%d of %d gone through", min(next, len(row)), len(row)), s.w)})
	if a == 0 {
		lines = append(lines, t.Strong.Render(cells.Cut("  the end of the box by the record; ctrl+e closes it", s.w)))
	} else {
		lines = append(lines, t.Strong.Render(cells.Fit(t.Glyphs.Arrow+" "+s.envelope(a), s.w)))
	}
	most := 3
	if s.h < roomyFrom {
		most = 1
	}
	for i := next + 1; i < len(row) && i <= next+most; i++ {
		lines = append(lines, t.Quiet.Render(cells.Cut("  then "+s.envelope(row[i]), s.w)))
	}
	lines = s.spaced(lines)
	lines = append(lines, t.Plain.Render(cells.Fit("  Else", 8))+t.Input(s.field, max(1, s.w-8)))
	if s.field.Value() == "" && len(n.steps) == 0 {
		lines = append(lines, s.wrapped("space while what is expected stands there; else scan or type what does: number, #accession or name; - is a gap or an out card", "        ")...)
	}
	if f := s.reader.last; f.Kind != "" {
		lines = append(lines, s.lastView(f)...)
	}
	lines = s.spaced(lines)
	for i := len(n.steps) - 1; i >= 0 && len(lines) < s.h; i-- {
		lines = append(lines, t.Plain.Render(cells.Cut("  "+s.stepText(n.steps[i]), s.w)))
	}
	return lines
}

// envelope is what one reads off an envelope.
func (s *Screen) envelope(a model.Accession) string {
	c := s.desk.Collection()
	p := c.PatternOf(a)
	text := s.theme.Dots(p.Heading(), c.Publisher(p.Publisher).Name, p.SizeRange)
	switch cp := c.Copy(a); {
	case cp.Out != nil:
		text = "out card for " + text
	case c.Shelf().LiesApart(cp):
		text = "dummy for " + text
	}
	return text
}

// lastView is what was made of what was typed last.
func (s *Screen) lastView(f reading.Finding) []string {
	t, text, style := s.theme, "", s.theme.Warn
	switch f.Kind {
	case reading.InPlace:
		switch {
		case f.Crosses != "":
			text = "out of order: this one or one before it stands wrong; as those stand, it belongs " + f.Crosses
		case len(f.Skipped) > 0:
			text = "here; not found before it: " + s.skipped(f.Skipped)
		default:
			text, style = "in place", t.Good
		}
	case reading.Misplaced:
		text = "misplaced: belongs " + f.Belongs
		if f.Fits {
			text = "recorded otherwise, but in filing order it stands right"
		}
	case reading.Unlisted:
		text = "on no list: it is kept for the end"
	case reading.Gap:
		text = "a gap"
	}
	name := f.Read
	if f.Copy != 0 {
		name = s.desk.Collection().PatternOf(f.Copy).Heading()
	}
	var out []string
	for _, l := range cells.Wrap(t.Dots(name, text), max(1, s.w-8)) {
		out = append(out, "        "+style.Render(l))
	}
	return out
}

// skipped names the first that was passed over, and counts the others.
func (s *Screen) skipped(all []model.Accession) string {
	text := s.desk.Collection().PatternOf(all[0]).Heading()
	if len(all) > 1 {
		text += fmt.Sprintf(" and %d more", len(all)-1)
	}
	return text
}

func (s *Screen) stepText(x step) string {
	g, name := s.theme.Glyphs, x.Read
	if p := s.desk.Collection().PatternOf(x.Copy); p != nil {
		name = p.Heading()
	}
	switch {
	case x.Read == "":
		return g.Alert + " " + s.theme.Dots(name, "not here")
	case x.Read == "-" && x.Copy == 0:
		return g.Alert + " a gap where nothing is out"
	case x.Read == "-":
		return g.Dot + " out card for " + name
	case x.Copy == 0:
		return g.Alert + " " + s.theme.Dots(name, "on no list")
	case x.From != s.box().ID:
		return g.Alert + " " + s.theme.Dots(name, "recorded elsewhere")
	case x.Off:
		return g.Alert + " " + s.theme.Dots(name, "out of order")
	}
	return g.Done + " " + name
}

// matterView lists what differs, and says of the one that is chosen what there is
// to know.
func (s *Screen) matterView() []string {
	t, all := s.theme, s.matters()
	lines := s.spaced([]string{t.Spread(t.Heading, "What differs", s.progress(), s.w)})
	switch {
	case !s.fresh():
		return append(lines, t.Quiet.Render(cells.Cut("  comparing ...", s.w)))
	case len(all) == 0:
		return append(lines, s.wrapped(s.tally(), "  ")...)
	}
	about := s.wrapped(s.aboutMatter(all[s.matter]), "  ")
	if s.h >= roomyFrom {
		about = append([]string{""}, about...)
	}
	about = about[:min(len(about), max(0, (s.h-len(lines))/2))]
	room := max(1, s.h-len(lines)-len(about))
	list, at, what := []string(nil), 0, ""
	for i, m := range all {
		if m.What != what {
			what = m.What
			list = append(list, t.Card.Render(cells.Cut(fmt.Sprintf("  %s%s: %d", t.Glyphs.Card, what, reading.Count(all, what)), s.w)))
		}
		publisher, called := m.Name(s.desk.Collection())
		line := "  " + cells.Fit(t.Dots(called, publisher), max(0, min(40, s.w/2))) + "  " + m.About(s.desk.Collection())
		if i == s.matter {
			at = len(list)
			list = append(list, t.Focus.Render(cells.Pad(cells.Cut(t.Glyphs.Arrow+line[1:], s.w), s.w)))
			continue
		}
		list = append(list, t.Plain.Render(cells.Cut(line, s.w)))
	}
	from := min(max(0, at-room/2), max(0, len(list)-room))
	lines = append(lines, list[from:min(len(list), from+room)]...)
	return append(lines, about...)
}

// aboutMatter says what a matter is, and what the keys make of it.
func (s *Screen) aboutMatter(m reading.Matter) string {
	c := s.desk.Collection()
	publisher, called := m.Name(c)
	text := s.theme.Dots(called, publisher, m.About(c))
	if m.What == reading.Elsewhere && m.Belongs != "" && !strings.Contains(text, m.Belongs) {
		text += "; belongs " + m.Belongs
	}
	switch m.What {
	case reading.Lost:
		text += ". m: it has no place until it turns up"
	case reading.Elsewhere, reading.Wrong:
		text += ". r: its place is where it was found, and Refile pulls it where that is wrong; p: you have pulled it, onto the to-file pile"
	case reading.NoList:
		text += ". n: enter it in Intake; then it can be recorded here"
	default:
		text += ". enter: count the box again from where it was left"
	}
	return text
}
