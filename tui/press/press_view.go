package press

import (
	"fmt"
	"path/filepath"
	"strings"

	"example.org/tuckrow/model/words"
	"example.org/tuckrow/storage/paper"
	"example.org/tuckrow/storage/paper/sheet"
	"example.org/tuckrow/tui/cells"
)

// listWidth is the column for what there is to print and how.
const listWidth = 27

// roomyW is the width from which list and sheet stand side by side.
const roomyW = 64

// View implements frame.Screen: what there is to print, how the chosen one is
// wanted, and beside it the sheet.
func (s *Screen) View() string {
	s.viewed = true
	t := s.theme
	head := t.Heading.Render(cells.Cut("Print: "+titles[s.kind()], s.w))
	if said := s.says(); said != "" && cells.Width(said)+cells.Width(head)+2 <= s.w {
		head = cells.Pad(head, s.w-cells.Width(said)) + t.Quiet.Render(said)
	}
	lines := []string{head}
	if s.asks != nothing {
		lines = append(lines, s.askView()...)
	}
	room := max(0, s.h-len(lines))
	switch {
	case s.large:
		lines = append(lines, s.sheetView(s.w, room)...)
	case s.w < roomyW:
		list := s.narrow(max(1, room/2))
		lines = append(lines, list...)
		lines = append(lines, s.sheetView(s.w, max(0, room-len(list)))...)
	default:
		left, right := s.list(room), s.sheetView(s.w-listWidth-1, room)
		for i := range room {
			l, r := "", ""
			if i < len(left) {
				l = left[i]
			}
			if i < len(right) {
				r = right[i]
			}
			lines = append(lines, cells.Pad(l, listWidth)+" "+r)
		}
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// says tells how much there is of it, or what is being done.
func (s *Screen) says() string {
	p := s.shown
	switch {
	case s.writing != 0:
		return "writing ..."
	case s.waiting():
		return "laying it out ..."
	case !s.ready():
		return "not laid out; choose again"
	case p.err != nil:
		return ""
	case s.order().form != asPDF:
		return words.Count(p.count, "entry", "entries")
	case p.more:
		return fmt.Sprintf("%d, on more than %d sheets", p.count, len(p.sheets))
	}
	return fmt.Sprintf("%d on %s", p.count, words.Count(p.report.Sheets, "sheet", "sheets"))
}

// askView is the field, with what it asks for.
func (s *Screen) askView() []string {
	t := s.theme
	what := map[question]string{
		startAsked: "first label left, counted in lines", spineAsked: "how wide the spine labels are", tapeAsked: "how high the tape is", fileAsked: "write it into",
	}[s.asks]
	lines := []string{t.Focus.Render(" "+cells.Cut(what, max(1, s.w-14))+" ") + " " + t.Input(s.field, max(1, s.w-cells.Width(what)-4))}
	if s.asks != fileAsked {
		return lines
	}
	hint := "a name alone goes into the folder tuckrow was started in; ~/ is the home"
	style := t.Quiet
	if s.over != "" {
		hint, style = filepath.Base(s.over)+" is there already: enter replaces it, another name leaves it", t.Warn
	}
	return append(lines, style.Render(cells.Cut("  "+hint, s.w)))
}

// list is what there is to print and, below, how it is wanted.
func (s *Screen) list(room int) []string {
	t := s.theme
	var lines []string
	for i, k := range paper.Kinds() {
		if i == s.at {
			lines = append(lines, t.Focus.Render(cells.Fit(t.Glyphs.Arrow+" "+titles[k], listWidth-1)))
		} else {
			lines = append(lines, "  "+titles[k])
		}
	}
	set := s.set()
	if room > len(lines)+len(set)+1 {
		lines = append([]string{""}, lines...)
	}
	if room > len(lines)+len(set) {
		lines = append(lines, "")
	}
	if over := len(lines) + len(set) - room; over > 0 { // the kinds round the chosen one
		keep := max(1, len(lines)-over)
		from := max(0, min(s.at-keep/2, len(lines)-keep))
		lines = lines[from : from+keep]
	}
	return append(lines, set...)
}

// set says how the chosen kind is wanted, with the keys that change it.
func (s *Screen) set() []string {
	t := s.theme
	var lines []string
	for _, x := range s.settings() {
		lines = append(lines, "  "+t.KeyName.Render(x.key.Help().Key)+" "+t.Quiet.Render(cells.Fit(x.what, 11))+" "+cells.Cut(x.now, listWidth-16))
	}
	return lines
}

// narrow is the list where it stands above the sheet: a line for the kind, one
// for how it is wanted.
func (s *Screen) narrow(room int) []string {
	t := s.theme
	lines := []string{t.Focus.Render(cells.Fit(t.Glyphs.Arrow+" "+titles[s.kind()], s.w)),
		t.Quiet.Render(cells.Cut(fmt.Sprintf("  %d of %d; up and down: the others", s.at+1, len(paper.Kinds())), s.w))}
	var parts []string
	for _, x := range s.settings() {
		parts = append(parts, x.key.Help().Key+" "+x.what+": "+x.now)
	}
	for _, l := range cells.Wrap(strings.Join(parts, " · "), max(1, s.w-2)) {
		lines = append(lines, "  "+l)
	}
	return lines[:min(len(lines), room)]
}

// sheetView is the sheet as it will come out, or the text.
func (s *Screen) sheetView(w, room int) []string {
	t := s.theme
	if s.most = 0; w < 2 || room < 2 {
		return nil
	}
	p := s.shown
	switch {
	case !s.ready():
		return []string{"", t.Quiet.Render(cells.Cut("the sheet comes here", w))}
	case p.err != nil:
		lines := []string{""}
		for _, l := range cells.Wrap(p.err.Error(), w) {
			lines = append(lines, t.Quiet.Render(l))
		}
		return lines
	case s.order().form != asPDF:
		return append([]string{s.note(w, "as text; the lines that are written")}, s.seen(p.text, w, room-1)...)
	case len(p.sheets) == 0:
		return nil
	}
	at := min(s.page, len(p.sheets)-1)
	sh := p.sheets[at]
	lines := sheet.Preview(sh, w, max(2, int(float64(w)*sh.H/sh.W/cellShape)))
	name := fmt.Sprintf("sheet %d of %d", at+1, len(p.sheets))
	if p.more {
		name = fmt.Sprintf("sheet %d of the first %d", at+1, len(p.sheets))
	}
	return append([]string{s.note(w, fmt.Sprintf("%s, %.0f x %.0f mm%s", name, sh.W, sh.H, s.also()))}, s.seen(lines, w, room-1)...)
}

// cellShape is how high a cell of a terminal is against its width.
const cellShape = 2.0

// also says what is to be done with what stands now.
func (s *Screen) also() string {
	out := ""
	if n := len(s.shown.report.Short); n > 0 {
		out += fmt.Sprintf("; %d shortened on paper", n)
	}
	if n := s.shown.move; n > 0 {
		out += fmt.Sprintf("; %d to move", n)
	}
	if n := s.shown.remove; n > 0 {
		out += fmt.Sprintf("; %d to take off", n)
	}
	return out
}

func (s *Screen) note(w int, text string) string { return s.theme.Quiet.Render(cells.Cut(text, w)) }

// seen is the part of lines that is in sight. Where there is more, the last line
// says so.
func (s *Screen) seen(lines []string, w, room int) []string {
	cut := func(lines []string) []string {
		out := make([]string, len(lines))
		for i, l := range lines {
			out[i] = cells.Cut(strings.ReplaceAll(l, "\t", "  "), w)
		}
		return out
	}
	if len(lines) <= room {
		return cut(lines)
	}
	room = max(1, room-1)
	s.most = len(lines) - room
	top := min(s.top, s.most)
	out := cut(lines[top : top+room])
	t := s.theme
	if rest := s.most - top; rest > 0 {
		return append(out, s.note(w, fmt.Sprintf("%s %s more; pgdn", t.Glyphs.Down, words.Count(rest, "line", "lines"))))
	}
	return append(out, s.note(w, fmt.Sprintf("%s %s more; pgup", t.Glyphs.Up, words.Count(top, "line", "lines"))))
}
