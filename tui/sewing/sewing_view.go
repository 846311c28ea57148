package sewing

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/sewing"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/sleeve"
)

const (
	sideBySide = 64 // cells from which the sleeve is shown beside the list
	roomyFrom  = 15 // lines from which there are lines to spare
)

// line is a line of a page; of is which of the things it is of, -1 of none.
type line struct {
	text string
	of   int
}

// View implements frame.Screen.
func (s *Screen) View() string {
	var lines []string
	switch {
	case s.sheet != nil:
		lines = s.form.View(s.theme, s.w, s.h)
	case s.whole:
		lines = s.wholeView()
	default:
		lines = s.pageView()
	}
	return cells.Clamp(strings.Join(lines, "\n"), s.w, s.h)
}

// tabs are the names of the pages, the one that is open among them.
func (s *Screen) tabs() string {
	t, line, used := s.theme, "", 0
	for p := range pages {
		name, style := pageNames[p], t.Quiet
		if s.w < sideBySide {
			name, _, _ = strings.Cut(name, " and ")
		}
		if p == s.page {
			name, style = t.Glyphs.Arrow+" "+name, t.Focus
		}
		if name = cells.Cut(name, s.w-used-2); name == "" {
			break
		}
		line += "  " + style.Render(name)
		used += 2 + cells.Width(name)
	}
	return line
}

// pageView shows a page, and what there is to say of what is chosen.
func (s *Screen) pageView() []string {
	t := s.theme
	lines := []string{s.tabs()}
	if s.h >= roomyFrom {
		lines = append(lines, "")
	}
	room := max(1, s.h-len(lines))
	if s.page == next && s.w >= sideBySide {
		return append(lines, s.besides(room)...)
	}
	var about []string
	for _, text := range s.about() {
		for _, l := range cells.Wrap(text, max(1, s.w-2)) {
			about = append(about, "  "+t.Strong.Render(l))
		}
	}
	if len(about) > 0 && s.h >= roomyFrom {
		about = append([]string{""}, about...)
	}
	about = about[:min(len(about), room*2/3)]
	lines = append(lines, s.list(s.w, room-len(about))...)
	return append(lines, about...)
}

// besides puts the list at the left and the sleeve at the right.
func (s *Screen) besides(room int) []string {
	right := min(56, s.w*2/5)
	left := s.w - right - 3
	list := s.list(left, room)
	var card []string
	if id, ok := s.pattern(); ok {
		card, _ = s.theme.Window(s.sleeve(id).Short(s.theme, right), 0, room, right)
	}
	return s.theme.Beside(list, card, left)
}

// list shows the lines of the page around what is chosen.
func (s *Screen) list(w, room int) []string {
	all := s.lines(w)
	now := 0
	for i, l := range all {
		if l.of == s.at[s.page] {
			now = i
			break
		}
	}
	from := min(max(0, now-room/2), max(0, len(all)-room))
	if now <= room/2 {
		from = 0
	}
	var out []string
	for i := from; i < len(all) && len(out) < room; i++ {
		out = append(out, all[i].text)
	}
	return out
}

// lines are all lines of the page.
func (s *Screen) lines(w int) []line {
	switch s.page {
	case next:
		return s.nextLines(w)
	case made:
		return s.madeLines(w)
	case shares:
		return s.shareLines(w)
	}
	return s.closetLines(w)
}

// row is the line of a thing.
func (s *Screen) row(i, w int, text string) line {
	mark, style := "  ", s.theme.Plain
	if i == s.at[s.page] {
		mark, style = s.theme.Glyphs.Arrow+" ", s.theme.Focus
	}
	return line{style.Render(cells.Pad(mark+text, w)), i}
}

func (s *Screen) heading(text string, w int) line {
	return line{s.theme.Card.Render(cells.Cut("  "+s.theme.Glyphs.Card+text, w)), -1}
}

func (s *Screen) remark(text string, w int) line {
	return line{s.theme.Quiet.Render(cells.Cut("    "+text, w)), -1}
}

// nextLines are the queue, and what could be put into it.
func (s *Screen) nextLines(w int) []line {
	c := s.desk.Collection()
	out := []line{s.heading("to sew, in this order", w)}
	if len(c.Queue()) == 0 {
		out = append(out, s.remark("nothing yet; q puts something here", w))
	}
	picks := false
	for i, x := range s.things() {
		if x.kind == queued {
			q := c.Queue()[x.i]
			right := string(q.By)
			if q.By != "" && q.By < s.desk.Today() {
				right = "late, " + right
			}
			if c.Pattern(x.pattern) == nil {
				right = "not listed any more"
			}
			right = cells.Cut(right, w/2)
			left := max(0, w-6-cells.Width(right)-1)
			out = append(out, s.row(i, w, cells.Right(fmt.Sprint(x.i+1), 2)+"  "+cells.Fit(s.name(x.pattern, q.Title), left)+" "+right))
			continue
		}
		if !picks {
			picks = true
			out = append(out, s.heading("could be next", w))
		}
		p := s.seen.picks[x.i]
		speaks := ""
		if len(p.Reasons) > 0 {
			speaks = cells.Cut(p.Reasons[0], w/3)
		}
		left := max(0, w-6-cells.Width(speaks)-1)
		out = append(out, s.row(i, w, "    "+cells.Fit(s.name(x.pattern, ""), left)+" "+speaks))
	}
	switch {
	case s.seen == nil:
		out = append(out, s.remark("looking what could be next ...", w))
	case s.seen.more > 0:
		out = append(out, s.remark(fmt.Sprintf("and %d more; c in Binders chooses", s.seen.more), w))
	}
	return out
}

// name is what a pattern is called where its publisher matters less.
func (s *Screen) name(id model.PatternID, title string) string {
	if p := s.desk.Collection().Pattern(id); p != nil {
		return p.Heading()
	}
	return title
}

// madeLines are what was made, the latest first.
func (s *Screen) madeLines(w int) []line {
	c := s.desk.Collection()
	things := s.things()
	if len(things) == 0 {
		return []line{s.remark("nothing is noted yet; m on what is to be sewn notes it", w)}
	}
	var out []line
	for i, x := range things {
		m := c.Makes().Get(x.id)
		who := cells.Cut(m.For, w/5)
		left := max(0, w-2-12-cells.Width(who)-1)
		out = append(out, s.row(i, w, cells.Fit(string(m.On), 12)+cells.Fit(c.CalledOr(m.Pattern, m.Title), left)+" "+who))
	}
	return out
}

// shareLines are a picture of what is owned and made, and the goals.
func (s *Screen) shareLines(w int) []line {
	c := s.desk.Collection()
	out := []line{s.heading("owned, and of how many something was made", w)}
	if s.seen == nil {
		return append(out, s.remark("counting ...", w))
	}
	most := 1
	for _, x := range s.seen.shares {
		most = max(most, x.Owned)
	}
	for i, x := range s.things() {
		switch {
		case x.kind == aShare:
			sh := s.seen.shares[x.i]
			name := sh.Category
			if name == "" {
				name = "(no category)"
			}
			out = append(out, s.row(i, w, s.barred(name, sh.Made, sh.Owned, most, w)))
			continue
		case x.i <= 0:
			out = append(out, s.heading("goals: at least one of each", w))
		}
		if x.i < 0 {
			out = append(out, s.row(i, w, "none yet; n sets one"))
			continue
		}
		if x.i >= len(s.seen.goals) {
			continue
		}
		g, steps, done := c.Goals().Get(x.id), s.seen.goals[x.i], 0
		for _, step := range steps {
			if step.Made != nil {
				done++
			}
		}
		out = append(out, s.row(i, w, s.barred(g.Name, done, len(steps), len(steps), w)))
	}
	return out
}

// barred is a line with a bar: so many done of those there are. The longest is
// of so many.
func (s *Screen) barred(name string, done, of, longest, w int) string {
	const numbers = 11
	label := min(24, w/3)
	wide := max(1, min(60, w-2-label-1-numbers-1))
	whole := max(1, of*wide/max(1, longest))
	part := done * whole / max(1, of)
	if done > 0 {
		part = max(1, part)
	}
	return cells.Fit(name, label) + " " + cells.Right(fmt.Sprintf("%d of %d", done, of), numbers) + " " +
		strings.Repeat("█", part) + strings.Repeat(s.theme.Glyphs.Dot, whole-part)
}

// closetLines are the people that are sewn for, and the cloth there is.
func (s *Screen) closetLines(w int) []line {
	c, set := s.desk.Collection(), s.desk.Collection().Shelf().Settings
	var out []line
	before := kind(-1)
	for i, x := range s.things() {
		if x.kind != before {
			before = x.kind
			out = append(out, s.heading(map[kind]string{aPerson: "sewn for", aCloth: "cloth in the cupboard"}[x.kind], w))
		}
		label := min(20, w/3)
		switch {
		case x.i < 0:
			out = append(out, s.row(i, w, "nothing noted yet; n notes it"))
		case x.kind == aPerson:
			p := c.People().Get(x.id)
			if w < sideBySide {
				out = append(out, s.row(i, w, cells.Fit(p.Name, label)+" "+s.theme.Dots(written(p.Bust, set.Tape), written(p.Waist, set.Tape), written(p.Hip, set.Tape))))
				continue
			}
			text := ""
			for k, l := range []model.Length{p.Bust, p.Waist, p.Hip, p.Height} {
				said := "-"
				if l > 0 {
					said = set.Tape(l)
				}
				text += cells.Fit([]string{"bust ", "waist ", "hip ", "height "}[k]+said, max(1, min(16, (w-label-3)/4)))
			}
			out = append(out, s.row(i, w, cells.Fit(p.Name, label)+" "+text))
		default:
			y := c.Cloths().Get(x.id)
			way := ""
			if y.OneWay {
				way = "runs one way"
			}
			out = append(out, s.row(i, w, cells.Fit(y.Name, label)+" "+cells.Right(set.ClothThere(y.Length), 8)+" of "+cells.Fit(set.Tape(y.Width), 8)+" "+way))
		}
	}
	return out
}

// about says of what is chosen what its line has no room for.
func (s *Screen) about() []string {
	t, c := s.theme, s.desk.Collection()
	x, ok := s.thing()
	switch {
	case !ok || x.i < 0:
	case x.kind == queued:
		q := c.Queue()[x.i]
		return []string{t.Dots(c.CalledOr(q.Pattern, q.Title), sleeve.Queued(&q, " "+t.Glyphs.Dot+" "))}
	case x.kind == pick:
		return []string{t.Dots(c.Called(x.pattern), strings.Join(s.seen.picks[x.i].Reasons, ", "))}
	case x.kind == aMake:
		m := c.Makes().Get(x.id)
		return []string{string(m.On) + " " + c.CalledOr(m.Pattern, m.Title), sleeve.Make(m, " "+t.Glyphs.Dot+" ")}
	case x.kind == aShare:
		sh := s.seen.shares[x.i]
		return []string{shared(sh)}
	case x.kind == aGoal && x.i < len(s.seen.goals):
		return s.goal(x)
	case x.kind == aPerson:
		p := c.People().Get(x.id)
		return []string{t.Dots(p.Name, "taken on "+string(p.On), p.Notes)}
	case x.kind == aCloth:
		y := c.Cloths().Get(x.id)
		return []string{t.Dots(y.Name, y.Notes)}
	}
	return nil
}

// goal says which things of a goal are made.
func (s *Screen) goal(x thing) []string {
	t, c := s.theme, s.desk.Collection()
	g := c.Goals().Get(x.id)
	out := []string{t.Dots(g.Name, "since "+string(g.Since))}
	for _, step := range s.seen.goals[x.i] {
		if step.Made == nil {
			out = append(out, t.Glyphs.Dot+" "+step.Of+": not yet")
		} else {
			out = append(out, fmt.Sprintf("%s %s: %s, %s", t.Glyphs.Done, step.Of, c.CalledOr(step.Made.Pattern, step.Made.Title), step.Made.On))
		}
	}
	return out
}

// wholeView is the sleeve of what is chosen, all of it.
func (s *Screen) wholeView() []string {
	id, ok := s.pattern()
	if !ok {
		return nil
	}
	lines := []string{s.tabs()}
	if s.h >= roomyFrom {
		lines = append(lines, "")
	}
	all := s.sleeve(id).Lines(s.theme, max(1, s.w-2))
	for i := range all {
		all[i] = " " + all[i]
	}
	all, s.most = s.theme.Window(all, s.top, s.h-len(lines), s.w)
	s.top = min(s.top, s.most)
	return append(lines, all...)
}

// sleeve is what is known of a pattern, with the reasons that speak for it.
func (s *Screen) sleeve(id model.PatternID) *sleeve.Sleeve {
	c := s.desk.Collection()
	key := cardKey{id, c.Rev(), s.theme.Units}
	if s.card == nil || s.cardOf != key {
		why := ""
		if x, ok := s.thing(); ok && x.kind == pick && s.seen != nil && s.page == next {
			why = strings.Join(s.seen.picks[x.i].Reasons, ", ")
		}
		s.card, s.cardOf = sleeve.Of(c, c.Pattern(id), s.desk.Index.Copies(id), s.theme, "why", why), key
	}
	return s.card
}

// shared says in words what a share is.
func shared(sh sewing.Share) string {
	switch sh.Makes {
	case 0:
		return fmt.Sprintf("nothing made yet from the %d owned", sh.Owned)
	case 1:
		return fmt.Sprintf("made once, from the %d owned", sh.Owned)
	}
	return fmt.Sprintf("made %d times, from %d of the %d owned", sh.Makes, sh.Made, sh.Owned)
}
