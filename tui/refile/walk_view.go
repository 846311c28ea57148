package refile

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/strip"
)

// pullView shows what to take out now.
func (s *Screen) pullView() []string {
	l := s.list()
	t := l.now()
	if t == nil {
		return nil
	}
	row := s.row(t.box.ID)
	place := ""
	if i := slices.Index(row, t.item.Copy); i >= 0 {
		place = fmt.Sprintf("place %d of %d", i+1, len(row))
	}
	then := ""
	if n := s.toDo(&s.walk.puts); n > 0 {
		then = fmt.Sprintf("then put %d in", n)
	}
	lines := []string{s.head(s.dots("Pull", s.progress(pulling)), s.dots(s.notFound(), then))}
	here := l.count(func(x *task) bool { return x.box.ID == t.box.ID && s.open(x) })
	lines = append(lines, s.boxLines(t.box, place, words.Count(here, "left", "left")+" in this box")...)
	if s.roomy() {
		for _, line := range large([]string{called(t.item)}, s.w-2*margin, s.sizes())[0] {
			lines = append(lines, strings.Repeat(" ", margin)+s.theme.Mark.Render(line))
		}
		lines = append(lines, "")
	}
	lines = append(lines, s.nameLines(t)...)
	return s.under(lines, t)
}

// called is what an envelope is known by: its number, or its name.
func called(it *ordering.Item) string {
	if it.Pattern.Number != "" {
		return it.Pattern.Number
	}
	return it.Pattern.Name
}

// boxLines say which box to stand at.
func (s *Screen) boxLines(b model.Box, place, right string) []string {
	if !s.roomy() {
		return []string{s.spread(s.theme.Strong, s.dots("Box "+b.Name, place), b.Place)}
	}
	return []string{"", s.spread(s.theme.Strong, strings.Repeat(" ", margin)+s.dots("Box "+b.Name, place, b.Place), right), ""}
}

// nameLines name the envelope in full, with what is to be known of it.
func (s *Screen) nameLines(t *task) []string {
	c := s.desk.Collection()
	p := t.item.Pattern
	name := s.dots(p.Heading(), p.SizeRange)
	lines := s.atMost(2, s.theme.Strong, s.dots(name, c.Publisher(p.Publisher).Name))
	if note := s.note(t); note != "" {
		lines = append(lines, s.atMost(1, s.theme.Warn, note)...)
	}
	return lines
}

// note is what is to be known of an envelope before it is moved.
func (s *Screen) note(t *task) string {
	cp := s.desk.Collection().Copy(t.item.Copy)
	switch {
	case cp == nil:
		return ""
	case s.lost(t.item.Copy):
		return "noted as not found; tick it if it has turned up"
	case s.skipped(t) > 0 && !t.ticked:
		return s.dots("skipped before", s.state(t, cp))
	}
	return s.state(t, cp)
}

// state says what is special about a copy.
func (s *Screen) state(t *task, cp *model.Copy) string {
	switch {
	case cp.Out != nil && cp.Out.To != "":
		return "it is out, with " + cp.Out.To + ": move its out card"
	case cp.Out != nil:
		return "it is out: move its out card"
	case t.hook:
		return "it does not go back into a box: hang it on its hook"
	case !cp.Enveloped:
		return "needs its envelope first; put in, it counts as being in it"
	}
	return ""
}

// putView shows what to put in now, and between which two.
func (s *Screen) putView() []string {
	l := s.list()
	t := l.now()
	if t == nil {
		return nil
	}
	waits := ""
	if n := l.count(s.onShelf); n > 0 {
		waits = fmt.Sprintf("%d still to be pulled", n)
	}
	lines := []string{s.head(s.dots("Put in", s.progress(putting)), s.dots(s.notFound(), waits))}
	here := l.count(func(x *task) bool { return x.holder == t.holder && s.open(x) })
	lines = append(lines, s.boxLines(t.box, "", words.Count(here, "goes", "go")+" into this box")...)
	if s.roomy() {
		lines = append(append(lines, s.between(t)...), "")
		lines = append(lines, s.nameLines(t)...)
	} else {
		lines = append(lines, s.nameLines(t)...)
		lines = append(lines, s.between(t)...)
	}
	if card := s.cardNote(t); card != "" {
		lines = append(lines, s.atMost(1, s.theme.Card, card)...)
	}
	return s.under(lines, t)
}

// between shows the envelope with its neighbours, as they stand.
func (s *Screen) between(t *task) []string {
	if t.adrift {
		return nil
	}
	row := s.row(t.box.ID)
	i := s.walk.gap(t, row)
	if t.ticked {
		return nil
	}
	side := func(i int, end, nothing string) column {
		if i < 0 || i >= len(row) {
			return column{end, "", nothing, s.theme.Plain}
		}
		p := s.desk.Collection().PatternOf(row[i])
		it := &ordering.Item{Pattern: p}
		return column{end, called(it), p.Name, s.theme.Plain}
	}
	left, right := side(i-1, "behind", "the front of the box"), side(i, "before", "the end of the row")
	if !s.roomy() {
		say := func(c column) string {
			if c.word == "" || c.word == c.under {
				return c.over + " " + c.under
			}
			return c.over + " " + c.word + " " + c.under
		}
		return append(s.atMost(1, s.theme.Plain, say(left)), s.atMost(1, s.theme.Plain, say(right))...)
	}
	return s.columns([]column{left, {"put in", called(t.item), t.item.Pattern.Name, s.theme.Mark}, right})
}

// cards are the divider cards that stand right before a copy in the plan, and
// whether they stand in its box already.
func (s *Screen) cards(t *task, h *ordering.Holding) (texts []string, there bool) {
	items := s.walk.moves.Plan.Boxes[t.holder].Items
	there = true
	standing := h.Cards()
	for _, c := range items[t.at].Cards {
		texts = append(texts, c.Text)
		there = there && slices.ContainsFunc(standing, func(x ordering.Card) bool { return x.Text == c.Text })
	}
	return texts, there
}

func (s *Screen) cardNote(t *task) string {
	if t.adrift {
		return ""
	}
	h, ok := s.holding(t.box.ID)
	if !ok {
		return ""
	}
	texts, there := s.cards(t, h)
	switch {
	case len(h.Items) == 0 && h.Box.ID != 0:
		note := "box " + h.Box.Name + " is empty so far: put it in its place now, not above head height"
		if len(texts) > 0 {
			note += ", with the card " + strings.Join(texts, " and ") + " in front"
		}
		return note
	case len(texts) == 0:
		return ""
	case there:
		return "it stands behind the card " + strings.Join(texts, " and ")
	}
	return "a card goes in before it: " + strings.Join(texts, " and ")
}

// The picture takes its lines before the list does, but leaves it some.
const (
	picture  = 9
	leastRow = 2 // lines
)

// under puts what comes next and the picture of the box below what is done
// now.
func (s *Screen) under(lines []string, t *task) []string {
	room := s.h - len(lines)
	if room <= 0 {
		return lines
	}
	pic := s.picture(t, min(picture, room-leastRow))
	blank := 0
	switch free := room - len(pic); {
	case free > 2*leastRow:
		blank = 2
	case free >= leastRow:
		blank = 1
	}
	rows := s.rows(room - len(pic) - blank)
	free := room - len(rows) - len(pic)
	if blank > 0 && len(rows) > 0 {
		lines = append(lines, "")
		free--
	}
	lines = append(lines, rows...)
	for ; free > 0 && len(pic) > 0; free-- {
		lines = append(lines, "")
	}
	return append(lines, pic...)
}

// rows list what was done last and what comes next.
func (s *Screen) rows(room int) []string {
	l := s.list()
	var shown []*task
	for i := l.at - 1; i >= 0 && len(shown) < room/4; i-- {
		if !s.onShelf(l.tasks[i]) {
			shown = append([]*task{l.tasks[i]}, shown...)
		}
	}
	for i := l.at + 1; i < len(l.tasks) && len(shown) < room; i++ {
		if !s.onShelf(l.tasks[i]) {
			shown = append(shown, l.tasks[i])
		}
	}
	if len(shown) > room {
		shown = shown[len(shown)-room:]
	}
	var lines []string
	for _, t := range shown {
		lines = append(lines, s.line(t))
	}
	return lines
}

// line is one envelope of the list, in columns.
func (s *Screen) line(t *task) string {
	sign, said := " ", ""
	switch {
	case s.lost(t.item.Copy):
		sign, said = s.theme.Glyphs.Alert, "not found"
	case t.ticked:
		sign = s.theme.Glyphs.Done
	case s.skipped(t) > 0:
		said = "skipped"
	case t.hook:
		said = "to its hook"
	}
	pad, number, wide := s.pad(), 12, 10
	if !s.roomy() {
		number, wide = 8, 7
	}
	p := t.item.Pattern
	left := max(0, s.w-pad-2-wide-1-number-1)
	name := p.Name
	if p.Number == "" {
		number, left = 0, left+number
	}
	text := sign + " " + cells.Fit("box "+t.box.Name, wide) + " "
	if number > 0 {
		text += cells.Fit(p.Number, number) + " "
	}
	if said != "" && left > 24 {
		text += cells.Fit(name, left-len(said)-2) + "  " + said
	} else {
		text += cells.Cut(name, left)
	}
	return strings.Repeat(" ", pad) + s.theme.Quiet.Render(cells.Cut(text, max(0, s.w-pad)))
}

// picture draws the box with the envelope, or the gap, marked.
func (s *Screen) picture(t *task, height int) []string {
	if height <= 0 {
		return nil
	}
	h, ok := s.holding(t.box.ID)
	if !ok {
		return make([]string, height)
	}
	o := strip.Options{Width: s.w, Theme: s.theme, Height: max(1, height-1), Out: func(a model.Accession) bool {
		cp := s.desk.Collection().Copy(a)
		return cp != nil && cp.Out != nil
	}}
	row := h.Contents()
	if i := slices.Index(row, t.item.Copy); i >= 0 {
		o.Mark = &strip.Mark{At: h.Items[i].Front, Width: h.Items[i].Thickness}
	} else if s.stage == putting && !t.adrift {
		o.Mark = &strip.Mark{At: s.gapFrom(t, h, row), Label: called(t.item)}
	}
	drawn := strip.Draw(h, o)
	if height == 1 {
		return drawn
	}
	return append([]string{s.theme.Quiet.Render(strip.Title(h, s.desk.Layout.Label(h), s.w, s.theme))}, drawn...)
}

// gapFrom is how far from the front a put goes in: behind its neighbour, and
// behind the cards that stand there already and are its own.
func (s *Screen) gapFrom(t *task, h *ordering.Holding, row []model.Accession) model.Length {
	i, at := s.walk.gap(t, row), model.Length(0)
	if i > 0 {
		at = h.Items[i-1].Front + h.Items[i-1].Thickness
	}
	if i < len(h.Items) {
		mine := s.walk.moves.Plan.Boxes[t.holder].Items[t.at].Cards
		for _, c := range h.Items[i].Cards {
			if !slices.ContainsFunc(mine, func(m ordering.Card) bool { return m.Text == c.Text }) {
				break
			}
			at += c.Thickness
		}
	}
	return at
}
