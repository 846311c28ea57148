package intake

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/cells"
)

// recentLines shows what was entered in this sitting, the latest first.
func (s *Screen) recentLines(room int) []string {
	var lines []string
	for i := len(s.recent) - 1; i >= 0 && len(lines) < room; i-- {
		if s.desk.Collection().Copy(s.recent[i]) != nil { // else taken back since
			lines = append(lines, s.theme.Quiet.Render(s.copyLine("  ", s.recent[i])))
		}
	}
	return lines
}

// earlierLines shows what one can go through, around what is being changed.
func (s *Screen) earlierLines(room int) []string {
	t, e := s.theme, s.edit
	first := min(max(0, e.at-room/2), max(0, len(e.list)-room))
	var lines []string
	for i := first; i < len(e.list) && len(lines) < room; i++ {
		mark := "  "
		if _, unsaved := s.edits[e.list[i]]; unsaved {
			mark = "* "
		}
		if i == e.at {
			lines = append(lines, t.Strong.Render(s.copyLine(t.Glyphs.Arrow+" ", e.list[i])))
		} else {
			lines = append(lines, t.Quiet.Render(s.copyLine(mark, e.list[i])))
		}
	}
	return lines
}

// copyLine is one listed copy in a line: publisher and number in columns, since
// the eye goes down them, and the name behind.
func (s *Screen) copyLine(mark string, a model.Accession) string {
	c := s.desk.Collection()
	p := c.PatternOf(a)
	if p == nil {
		return mark + "taken back"
	}
	text := fmt.Sprintf("%s%5d  ", mark, a)
	left := max(0, s.w-cells.Width(text))
	return cells.Cut(text+cells.Fit(c.Publisher(p.Publisher).Name, min(20, left/3))+" "+cells.Fit(p.Number, min(max(10, cells.Width(p.Number)), left/5))+" "+p.Name, s.w)
}

// leftLines is what one sees on coming back, until the first key: what is left
// to do, of which batch, and which entry was the last.
func (s *Screen) leftLines(room int) []string {
	if s.left == nil || s.leftFor != s.w {
		s.left, s.leftFor = s.leftToDo(), s.w
	}
	t := s.theme
	var lines []string
	if last := s.lastEntry(); last != "" && room > 1 {
		lines = append(lines, t.Plain.Render(cells.Cut(last, s.w)))
		if s.h >= lowest {
			lines = append(lines, "")
		}
	}
	for i, l := range s.left {
		if len(lines) == room-1 && i+1 < len(s.left) {
			lines = append(lines, t.Quiet.Render(cells.Cut(fmt.Sprintf("  and %d more; ctrl+t shows all", len(s.left)-i), s.w)))
			break
		}
		style := t.Plain
		if i == 0 && s.w >= tableWidth {
			style = t.Quiet
		}
		lines = append(lines, style.Render(cells.Cut(l, s.w)))
	}
	return lines
}

func (s *Screen) lastEntry() string {
	c := s.desk.Collection()
	a := c.Counters().Copy
	p := c.PatternOf(a)
	if p == nil {
		return ""
	}
	text := fmt.Sprintf("  last entered: %s %s", c.Publisher(p.Publisher).Name, p.Heading())
	if on := c.Copy(a).Added; on != "" {
		text += ", on " + string(on)
	}
	return text
}

// The widths of the table: of a number, and the least that the whole needs.
const figure, tableWidth = 9, 56

// leftToDo is a table of what is at which step, the batch begun last first.
// Where it is too narrow for all steps, it gives what is left in all.
func (s *Screen) leftToDo() []string {
	c := s.desk.Collection()
	s.countSteps()
	var rows []string
	if s.w >= tableWidth {
		rows = append(rows, s.leftRow("left to do", nil))
	}
	head := len(rows)
	rest := s.ticks.steps[0]
	for id := c.Counters().Batch; id > 0; id-- {
		b, n := c.Batch(id), s.ticks.steps[id]
		if b == nil {
			continue
		}
		for i := range n {
			rest[i] -= n[i]
		}
		if leftOf(n) > 0 {
			rows = append(rows, s.leftRow(b.Name, &n))
		}
	}
	if leftOf(rest) > 0 {
		rows = append(rows, s.leftRow("of no batch", &rest))
	}
	if len(rows) == head {
		return []string{}
	}
	return rows
}

// leftRow is a row of the table, without numbers its head.
func (s *Screen) leftRow(name string, n *model.StepCounts) string {
	if s.w < tableWidth {
		return "  " + cells.Fit(name, max(0, s.w-2-figure)) + cells.Right(fmt.Sprintf("%d left", leftOf(*n)), figure)
	}
	var b strings.Builder
	b.WriteString("  " + cells.Fit(name, min(34, s.w-2-len(model.Steps())*figure)))
	for _, step := range model.Steps() {
		text := step.String()
		switch {
		case n != nil && n[step] == 0:
			text = s.theme.Glyphs.Dot
		case n != nil:
			text = fmt.Sprint(n[step])
		}
		b.WriteString(cells.Right(text, figure))
	}
	return b.String()
}

// tickLines is the list of what is at a step.
func (s *Screen) tickLines() []string {
	t, k := s.theme, &s.ticks
	if k.stale {
		s.countSteps()
		s.listTicks()
	}
	who := "all batches"
	if b := s.desk.Collection().Batch(k.batch); b != nil {
		who = b.Name
	}
	marked := ""
	switch n := k.marked; {
	case k.count != "":
		marked = k.count + " ..."
	case n > 0:
		marked = fmt.Sprintf("%d marked", n)
	}
	lines := []string{s.ends(t.Heading.Render, "Ticking steps: "+who, marked), s.stepLine(),
		t.Quiet.Render(cells.Cut("  "+s.note, s.w)), t.Strong.Render(cells.Cut("  "+s.tickSays(), s.w)), ""}
	room := max(1, s.h-len(lines))
	first := min(max(0, k.at-room/2), max(0, len(k.list)-room))
	for i := first; i < len(k.list) && i < first+room; i++ {
		mark, style := "    ", t.Plain
		if k.isMarked(k.list[i]) {
			mark = "  " + t.Glyphs.Done + " "
		}
		if i == k.at {
			mark, style = t.Glyphs.Arrow+mark[1:], t.Focus
			if k.isMarked(k.list[i]) {
				mark = t.Glyphs.Arrow + " " + t.Glyphs.Done + " "
			}
		}
		lines = append(lines, style.Render(s.copyLine(mark, k.list[i])))
	}
	return lines
}

// stepLine names the steps with what is at each, the one that is shown in
// brackets.
func (s *Screen) stepLine() string {
	t, k := s.theme, &s.ticks
	var b strings.Builder
	for _, step := range model.Steps() {
		text := fmt.Sprintf("%s %d", step, k.steps[k.batch][step])
		if step == k.step {
			b.WriteString(t.Strong.Render("  [" + text + "]"))
		} else {
			b.WriteString(t.Quiet.Render("   " + text + " "))
		}
	}
	return b.String()
}

// tickSays says what Enter would do.
func (s *Screen) tickSays() string {
	k := &s.ticks
	these := "the one at the arrow"
	switch n := k.marked; {
	case n == 1:
		these = "the one marked"
	case n > 1:
		these = fmt.Sprintf("these %d", n)
	}
	switch {
	case len(k.list) == 0 && s.nextBatch() == k.batch:
		return "nothing waits here; tab: next step"
	case len(k.list) == 0:
		return "nothing waits here; tab: next step, b: another batch"
	case k.step == model.StepSleeve:
		return "sleeve of " + these + ": enter in its binder, c t m another way"
	case k.step == model.StepEnvelope:
		return "enter: " + these + " in a labelled envelope"
	case k.step == model.StepGroup:
		return "enter: " + these + " sorted to the publisher"
	}
	return "to their boxes or hooks: ctrl+r says where each goes"
}
