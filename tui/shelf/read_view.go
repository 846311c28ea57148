package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/reading"
	"example.org/tuckrow/tui/cells"
)

func num(n int) string { return strconv.Itoa(n) }

// readView shows the field, what was made of the last reading, and all before
// it, the latest on top.
func (s *Screen) readView() []string {
	t, w := s.theme, s.walk()
	b, _ := s.desk.Collection().Shelf().Box(s.box)
	lines := []string{
		s.spread(t.Heading, s.dots("Reading box "+b.Name, b.Place), fmt.Sprintf("%d read of %d recorded", len(w.texts), len(s.row()))),
		t.Strong.Render(cells.Fit(t.Glyphs.Arrow+" On it is", 12)) + t.Input(s.field, max(1, s.w-12)),
		"",
	}
	if len(w.texts) == 0 {
		for _, l := range cells.Wrap("front to back: scan each envelope, or type its number, #accession or name, and Enter; - is a gap or an out card", max(1, s.w-4)) {
			lines = append(lines, "  "+t.Quiet.Render(l))
		}
		return lines
	}
	if w.report == nil {
		return append(lines, t.Quiet.Render("  comparing ..."))
	}
	all := w.report.Findings
	rev := s.desk.Collection().Rev()
	switch {
	case !w.fresh(rev):
		lines[2] = t.Quiet.Render("  comparing ...")
	case w.at < len(w.texts):
		where := "at the front: what is read now goes in before all"
		if w.at > 0 {
			where = fmt.Sprintf("behind reading %d: what is read now goes in here", w.at)
		}
		lines[2] = t.Warn.Render(cells.Cut("  "+where, s.w))
	case !slices.Equal(w.row, s.row()):
		lines[2] = t.Warn.Render(cells.Cut("  "+t.Glyphs.Alert+" recorded otherwise since this was begun: look whether it still stands so", s.w))
	}
	if len(all) == 0 {
		return lines
	}
	at := min(w.at, len(all))
	if at > 0 {
		lines = append(lines, s.latest(all[at-1], s.h-len(lines)-3)...)
	}
	lines = append(lines, "")
	lines = append(lines, s.findings(all, at, s.h-1-len(lines))...)
	for len(lines) < s.h-1 {
		lines = append(lines, "")
	}
	return append(lines, t.Quiet.Render(cells.Cut(s.tally(w.report), s.w)))
}

// latest is what was made of a reading, in full.
func (s *Screen) latest(f reading.Finding, room int) []string {
	sign, style, text := s.finding(f)
	what := cells.Wrap(s.dots(s.named(f), text), max(1, s.w-4))
	if most := max(1, min(4, room)); len(what) > most {
		what = append(what[:most-1], cells.Cut(strings.Join(what[most-1:], " "), max(1, s.w-4)))
	}
	for i, l := range what {
		what[i] = style.Bold(true).Render(sign + " " + l)
		sign = " "
	}
	return what
}

// findings lists what was read, the latest on top, around the reading that one
// is at. At the end that one stands above the list already.
func (s *Screen) findings(all []reading.Finding, at, room int) []string {
	n := len(all)
	if at == n {
		n--
	}
	from := max(0, min(n-at-room/2, n-room))
	var lines []string
	for i := from; i < n && len(lines) < room; i++ {
		f := all[n-1-i]
		line := s.findingLine(f)
		if n-i == at && at < len(all) {
			line = s.theme.Focus.Render(cells.Fit(s.theme.Glyphs.Arrow+" "+cells.Right(num(f.Item), 4)+"  "+s.named(f), s.w))
		}
		lines = append(lines, line)
	}
	return lines
}

// tally counts what was found so far.
func (s *Screen) tally(rep *reading.Report) string {
	parts := []string{num(len(rep.Of(reading.InPlace))) + " in place"}
	for _, x := range []struct {
		k    reading.Kind
		what string
	}{{reading.Misplaced, "misplaced"}, {reading.Unlisted, "unlisted"}, {reading.Ambiguous, "ambiguous"}} {
		if n := len(rep.Of(x.k)); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, x.what))
		}
	}
	if n := len(rep.Missing); n > 0 {
		parts = append(parts, fmt.Sprintf("%d not read yet", n))
	}
	return "  " + s.dots(parts...)
}

// named is what was read, and what it was taken for.
func (s *Screen) named(f reading.Finding) string {
	if f.Copy == 0 {
		if f.Kind == reading.Gap {
			return "gap"
		}
		return f.Read
	}
	p := s.desk.Collection().PatternOf(f.Copy)
	if p == nil {
		return f.Read
	}
	if f.Kind == reading.Gap {
		return "gap of " + p.Heading()
	}
	return p.Heading()
}

// finding says what a reading turned out to be.
func (s *Screen) finding(f reading.Finding) (sign string, style lipgloss.Style, text string) {
	t := s.theme
	sign, style = t.Glyphs.Alert, t.Warn
	switch f.Kind {
	case reading.InPlace:
		text = "in place"
		if len(f.Skipped) == 0 {
			sign, style = t.Glyphs.Done, t.Good
		}
	case reading.Misplaced:
		text = "misplaced: belongs " + f.Belongs
		if f.Fits {
			text = "recorded otherwise, but in filing order it stands right: leave it"
		}
	case reading.Unlisted:
		text = "unlisted: on no list, or on none any more; enter it in Intake"
	case reading.Again:
		text = "read before"
	case reading.Gap:
		sign, style, text = t.Glyphs.Dot, t.Plain, "nothing is out from here"
		if f.Copy != 0 {
			text = "it is out, as recorded"
		}
	case reading.Ambiguous:
		var could []string
		for _, a := range f.Could {
			could = append(could, s.numbered(a))
		}
		text = "can be " + strings.Join(could, " or ") + "; take it back and give #accession"
	}
	if f.WasOut && f.Kind != reading.Gap {
		text += "; it is recorded as out"
	}
	if n := len(f.Skipped); n > 0 {
		const most = 3
		var which []string
		for _, a := range f.Skipped[:min(n, most)] {
			which = append(which, s.short(a))
		}
		if n > most {
			which = append(which, fmt.Sprintf("%d more", n-most))
		}
		text += "; skipped, maybe missing: " + strings.Join(which, ", ")
	}
	return sign, style, text
}

func (s *Screen) short(a model.Accession) string {
	p := s.desk.Collection().PatternOf(a)
	switch {
	case p == nil:
		return fmt.Sprintf("#%d", a)
	case p.Number != "":
		return p.Number
	}
	return p.Name
}

func (s *Screen) numbered(a model.Accession) string { return fmt.Sprintf("#%d %s", a, s.short(a)) }

func (s *Screen) findingLine(f reading.Finding) string {
	sign, style, text := s.finding(f)
	name := min(30, s.w/3)
	line := sign + " " + cells.Right(num(f.Item), 4) + "  " + cells.Fit(s.named(f), name) + " " + text
	if style.GetBold() {
		return style.Render(cells.Cut(line, s.w))
	}
	return s.theme.Plain.Render(cells.Cut(line, s.w))
}

// reviewView shows what recording the box comes to.
func (s *Screen) reviewView() []string {
	t, w := s.theme, s.walk()
	rep := w.report
	if rep == nil {
		return nil
	}
	lines := []string{s.spread(t.Heading, "Record box "+rep.Box.Name+" as it was found", words.Count(len(w.texts), "reading", "readings")), ""}
	put := func(style lipgloss.Style, text string) {
		for _, l := range cells.Wrap(text, max(1, s.w-4)) {
			lines = append(lines, "  "+style.Render(l))
		}
	}
	if w.stopped() { // the choice goes first, so that it is seen however much follows
		lines = append(append(lines[:1], s.endView(rep)...), "")
	}
	put(t.Plain, words.Count(len(rep.Of(reading.InPlace)), "stands in place", "stand in place"))
	if n := len(rep.Of(reading.Misplaced)); n > 0 {
		put(t.Plain, words.Count(n, "stands otherwise than recorded: its place becomes where it was found", "stand otherwise than recorded: their place becomes where they were found"))
	}
	if n := len(rep.FoundOut()); n > 0 {
		put(t.Plain, words.Count(n, "was recorded as out and is back", "were recorded as out and are back"))
	}
	if n := len(rep.Of(reading.Unlisted)); n > 0 {
		put(t.Warn, words.Count(n, "is on no list and is left out: enter it in Intake first, then record", "are on no list and are left out: enter them in Intake first, then record"))
	}
	missing := rep.Missing
	if w.stopped() && !s.toEnd {
		missing = slices.DeleteFunc(slices.Clone(missing), func(a model.Accession) bool { return slices.Contains(rep.Unread, a) })
	}
	if n := len(missing); n > 0 {
		put(t.Warn, words.Count(n, "was not found and is noted as missing:", "were not found and are noted as missing:"))
		for i, a := range missing {
			if len(lines) >= s.h-1 && i < n-1 {
				lines = append(lines, t.Quiet.Render(cells.Cut(fmt.Sprintf("    and %d more", n-i), s.w)))
				break
			}
			lines = append(lines, cells.Cut("    "+s.desk.Collection().PatternOf(a).Heading(), s.w))
		}
	}
	return lines
}

// endView asks what the rest of the box counts as, of which nothing was read.
func (s *Screen) endView(rep *reading.Report) []string {
	t, n, width := s.theme, len(rep.Unread), max(1, s.w-4)
	var lines []string
	for i, l := range cells.Wrap("the reading stops before the end of the box: "+words.Count(n, "recorded behind it was not read", "recorded behind it were not read"), width) {
		sign := t.Glyphs.Alert
		if i > 0 {
			sign = " "
		}
		lines = append(lines, t.Warn.Render(sign+" "+l))
	}
	for i, choice := range []string{
		"record what was read so far; the rest counts as not looked at",
		"that was all of the box; note the rest as missing",
	} {
		sign, style := " ", t.Plain
		if (i == 1) == s.toEnd {
			sign, style = t.Glyphs.Arrow, t.Strong
		}
		for _, l := range cells.Wrap(choice, width) {
			lines = append(lines, style.Render(sign+" "+l))
			sign = " "
		}
	}
	return lines
}
