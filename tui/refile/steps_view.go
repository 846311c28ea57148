package refile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
	"example.org/tuckrow/ordering/moving"
	"example.org/tuckrow/tui/cells"
)

// overView says what the walk comes to, before it is begun or when it is
// interrupted.
func (s *Screen) overView() []string {
	t, w := s.theme, s.walk
	if w.empty() {
		lines := append([]string{s.head("Overview", ""), ""}, s.indent(t.Good, t.Glyphs.Done+" everything stands where it belongs; there is nothing to refile")...)
		lines = append(append(lines, s.signsView()...), s.hookView()...)
		if s.settled() {
			lines = append(lines, s.indent(t.Plain, "where the boxes begin was decided and is carried out; enter notes it as done")...)
		}
		return lines
	}
	lines := []string{s.head("Overview", s.minutes())}
	if s.roomy() {
		lines = append(lines, "")
	}
	pulls, puts := s.toDo(&w.pulls), s.toDo(&w.puts)
	lines = append(lines, s.figures(figure{pulls, "to pull"}, figure{puts, "to put in"}, figure{w.moves.Kept, "stay"})...)
	if !s.roomy() {
		return append(lines, s.briefly(s.h-len(lines))...)
	}
	lines = append(lines, "")
	for _, say := range s.aboutPlan() {
		lines = append(lines, s.indent(t.Plain, say)...)
	}
	for _, b := range w.moves.Plan.Needs() {
		say := fmt.Sprintf("%s a new box %s is needed, %s long", t.Glyphs.Alert, b.Name, b.Length.Fine(t.Units))
		lines = append(lines, s.indent(t.Warn, say)...)
	}
	if len(w.moves.Plan.Needs()) > 0 {
		lines = append(lines, s.indent(t.Quiet, moving.Caution(moving.Fullest(w.moves.Plan.Boxes)))...)
	}
	if room := s.h - len(lines) - 1; room > 1 {
		lines = append(lines, "")
		lines = append(lines, s.loads(room)...)
	}
	return lines
}

// briefly says of the walk what there is room for: the boxes, then what is to be got
// and the caution, which is never cut, then what the walk goes by.
func (s *Screen) briefly(room int) []string {
	t, plan := s.theme, &s.walk.moves.Plan
	var needs []string
	for _, b := range plan.Needs() {
		needs = append(needs, s.indent(t.Warn, fmt.Sprintf("%s a new box %s is needed, %s long", t.Glyphs.Alert, b.Name, b.Length.Fine(t.Units)))...)
	}
	if len(needs) > 0 {
		needs = append(needs, s.indent(t.Quiet, moving.ShortCaution(moving.Fullest(plan.Boxes)))...)
	}
	if len(needs) > room-2 {
		needs = nil // it stands where the walk is begun with more room, and in Split
	}
	boxes := len(s.unloaded())
	lines := append(s.loads(min(boxes, room-len(needs))), needs...)
	for _, say := range s.aboutPlan() {
		if more := s.indent(t.Plain, say); len(lines)+len(more) <= room {
			lines = append(lines, more...)
		}
	}
	return lines
}

// toDo counts what is left to be done.
func (s *Screen) toDo(l *list) int {
	return l.count(func(t *task) bool { return !t.ticked && !s.lost(t.item.Copy) })
}

func (s *Screen) minutes() string {
	if s.walk.minutes == 0 {
		return ""
	}
	return fmt.Sprintf("about %d min, by your own pace", int(math.Ceil(s.walk.minutes)))
}

// progress says how far a step has got, in the same words wherever it stands:
// "4 of 14 pulled".
func (s *Screen) progress(at stage) string {
	l, what := &s.walk.pulls, "pulled"
	if at == putting {
		l, what = &s.walk.puts, "put in"
	}
	return fmt.Sprintf("%d of %d %s", l.count(s.done), len(l.tasks), what)
}

// done tells what was done of what there was to do: what was not found was not.
func (s *Screen) done(t *task) bool { return t.ticked && !s.lost(t.item.Copy) }

// notFound says how many of the walk are missing; nothing where none are.
func (s *Screen) notFound() string {
	if n := len(s.missing()); n > 0 {
		return fmt.Sprintf("%d not found", n)
	}
	return ""
}

// missing are the tasks whose envelopes were not found, each once.
func (s *Screen) missing() []*task {
	var missing []*task
	for _, t := range s.walk.puts.tasks {
		if s.lost(t.item.Copy) {
			missing = append(missing, t)
		}
	}
	for _, t := range s.walk.pulls.tasks {
		if s.lost(t.item.Copy) && s.walk.puts.of[t.item.Copy] == nil {
			missing = append(missing, t)
		}
	}
	return missing
}

// aboutPlan says what the walk goes by, and how far it has got.
func (s *Screen) aboutPlan() []string {
	w := s.walk
	var say []string
	switch {
	case w.pulls.count(s.done)+w.puts.count(s.done)+len(s.missing()) > 0:
		say = append(say, s.dots("under way: "+s.progress(pulling)+", "+s.progress(putting), s.notFound())+"; enter goes on")
	case s.settled():
		say = append(say, "where the boxes begin is decided already; this is what is left of it")
	default:
		say = append(say, "boxes begin where they do now; what does not fit goes on into the next")
	}
	if w.labels > 0 {
		say = append(say, words.Count(w.labels, "label changes", "labels change"))
	}
	return say
}

// load is what is left to do at one box.
type load struct{ holder, pull, put int }

// unloaded is what is left to do at each box where anything is.
func (s *Screen) unloaded() []load {
	boxes := s.walk.moves.Plan.Boxes
	all, holder := make([]load, len(boxes)), map[model.BoxID]int{}
	for i := range boxes {
		all[i].holder = i
		if id := boxes[i].Box.ID; id != 0 {
			holder[id] = i
		}
	}
	for _, t := range s.walk.pulls.tasks {
		if i, there := holder[t.box.ID]; there && !t.ticked {
			all[i].pull++
		}
	}
	for _, t := range s.walk.puts.tasks {
		if !t.ticked && !s.lost(t.item.Copy) {
			all[t.holder].put++
		}
	}
	return slices.DeleteFunc(all, func(l load) bool { return l.pull+l.put == 0 })
}

// loads lists the boxes that the walk comes to, in columns.
func (s *Screen) loads(room int) []string {
	w, t := s.walk, s.theme
	var lines []string
	loads := s.unloaded()
	for i, b := range loads {
		if len(lines) == room-1 && i < len(loads)-1 {
			return append(lines, s.indent(t.Quiet, fmt.Sprintf("and %d boxes more", len(loads)-i))...)
		}
		h := &w.moves.Plan.Boxes[b.holder]
		what := cells.Fit("box "+h.Box.Name, 10) + cells.Right(some(b.pull, "pull"), 9) + cells.Right(some(b.put, "put in"), 12) +
			fmt.Sprintf("%7d then", len(h.Items)) + cells.Right(s.theme.Length(h.Free())+" free", 14)
		if h.New {
			what += "  new"
		} else if left := s.w - cells.Width(what) - margin - 2; left > 8 {
			what += "  " + cells.Cut(h.Box.Place, left)
		}
		lines = append(lines, strings.Repeat(" ", s.pad())+t.Quiet.Render(cells.Cut(what, max(0, s.w-s.pad()))))
	}
	return lines
}

func some(n int, what string) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d", what, n)
}

// sortView is the step between: what was pulled and what waits is put in order
// on the table.
func (s *Screen) sortView() []string {
	t := s.theme
	n := s.walk.puts.count(s.open)
	lines := []string{s.head("On the table", fmt.Sprintf("then put %d in", n))}
	if s.roomy() {
		lines = append(lines, "")
	}
	lines = append(lines, s.figures(figure{n, "to sort"})...)
	lines = append(lines, "")
	how := "put what was pulled to what waits, and sort it as it is filed"
	if len(s.walk.piles) > 0 {
		how = fmt.Sprintf("put what was pulled to what waits, and deal it into %d piles; then sort each pile, and lay them on each other", len(s.walk.piles))
	}
	lines = append(lines, s.indent(t.Plain, how)...)
	lines = append(lines, "")
	return append(lines, s.piles(s.h-len(lines))...)
}

// piles lists the table piles, by what is last in each; without piles, what is
// first and last of all.
func (s *Screen) piles(room int) []string {
	var lines []string
	say := func(text string) {
		lines = append(lines, strings.Repeat(" ", s.pad())+cells.Cut(text, max(0, s.w-s.pad())))
	}
	for i, p := range s.walk.piles {
		count := cells.Right(fmt.Sprint(p.Count), 4)
		if s.roomy() {
			count = cells.Right(words.Count(p.Count, "envelope", "envelopes"), 14)
		}
		upTo := min(48, s.w-2*s.pad()-13-cells.Width(count))
		say(cells.Right(fmt.Sprint(i+1), 3) + ".  up to  " + cells.Fit(s.desk.Layout.UpTo(p), max(0, upTo)) + count)
	}
	if len(lines) == 0 {
		var open []*task
		for _, t := range s.walk.puts.tasks {
			if s.open(t) {
				open = append(open, t)
			}
		}
		if len(open) > 0 {
			say("from  " + s.named(open[0]))
			say("to    " + s.named(open[len(open)-1]))
		}
	}
	if len(lines) > room && room > 0 {
		more := len(lines) - room + 1
		lines = append(lines[:room-1], s.indent(s.theme.Quiet, fmt.Sprintf("and %d piles more", more))...)
	}
	return lines
}

// named is an envelope by publisher and number.
func (s *Screen) named(t *task) string {
	return s.desk.Collection().Publisher(t.item.Pattern.Publisher).Name + " " + called(t.item)
}

// endView says what was done, and what was not.
func (s *Screen) endView() []string {
	t, w := s.theme, s.walk
	pulled, in := w.pulls.count(s.done), w.puts.count(s.done)
	missing, left := s.missing(), []*task(nil)
	for _, x := range w.pulls.tasks {
		if !x.ticked {
			left = append(left, x)
		}
	}
	for _, x := range w.puts.tasks {
		if s.open(x) {
			left = append(left, x)
		}
	}
	title := "Refiled"
	if len(left) > 0 {
		title = "Refiled in part"
	}
	lines := []string{s.head(title, "")}
	if s.roomy() {
		lines = append(lines, "")
	}
	lines = append(lines, s.figures(figure{pulled, "pulled"}, figure{in, "put in"})...)
	lines = append(lines, "")
	if len(missing)+len(left) == 0 {
		lines = append(append(lines, s.indent(t.Good, t.Glyphs.Done+" everything stands where it belongs")...), "")
		return append(append(append(lines, s.signsView()...), s.waitView()...), s.hookView()...)
	}
	return append(lines, s.rest(s.h-len(lines), missing, left)...)
}

// signsView says which labels and cards are still to be made, and where.
func (s *Screen) signsView() []string {
	if rev := s.desk.Collection().Rev(); s.signs.rev != rev {
		s.signs.rev, s.signs.text = rev, s.desk.Layout.Outstanding().Text()
	}
	if s.signs.text == "" {
		return nil
	}
	return s.indent(s.theme.Plain, s.signs.text+": ctrl+p, then m, lists them; f5 prints them")
}

// hookView says what of the hooks is not in order, which no walk along boxes mends.
func (s *Screen) hookView() []string {
	note := s.desk.Layout.HookNote()
	if note == "" {
		return nil
	}
	return s.indent(s.theme.Quiet, note+"; f6, hooks, lists them")
}

// waitView says of what is put in what else is to be done before it counts as filed.
func (s *Screen) waitView() []string {
	c, n := s.desk.Collection(), 0
	for _, x := range s.walk.puts.tasks {
		if cp := c.Copy(x.item.Copy); cp != nil && x.ticked && c.StepOf(cp) == model.StepSleeve {
			n++
		}
	}
	if n == 0 {
		return nil
	}
	return s.indent(s.theme.Plain, fmt.Sprintf("%d of those put in count as done when their sleeves are in their binders, too: ctrl+n, then ctrl+t, ticks that", n))
}

// rest lists what was not found and what was skipped, within so many lines.
func (s *Screen) rest(room int, missing, left []*task) []string {
	var lines []string
	if len(missing) > 0 {
		lines = append(lines, s.indent(s.theme.Warn, fmt.Sprintf("not found: %d; noted as missing: Find lists them, with nothing typed, until they turn up", len(missing)))...)
		for _, x := range missing {
			lines = append(lines, s.line(x))
		}
	}
	if len(left) > 0 {
		lines = append(lines, s.indent(s.theme.Warn, fmt.Sprintf("skipped: %d; the walk goes on with them when it is begun again", len(left)))...)
		for _, x := range left {
			lines = append(lines, s.line(x))
		}
	}
	if len(lines) > room && room > 0 {
		more := len(lines) - room + 1
		lines = append(lines[:room-1], s.theme.Quiet.Render(fmt.Sprintf("%s %d lines more", s.theme.Glyphs.Down, more)))
	}
	return lines
}
