package refile

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/measure"
)

// task is one envelope to pull, or to put in.
type task struct {
	item   *ordering.Item
	box    model.Box // to pull it from, or to put it into
	holder int       // of a put: the index of its box in the plan
	at     int       // of a put: its index in that box in the plan
	hook   bool      // of a pull: it belongs on a hook
	ticked bool
	adrift bool // of a put that is missing: the plan has no place for it any more
}

// list is what is to be done in one step, in the order of walking.
type list struct {
	tasks []*task
	of    map[model.Accession]*task
	at    int
}

func listOf(tasks []*task) list {
	l := list{tasks: tasks, of: make(map[model.Accession]*task, len(tasks))}
	for _, t := range tasks {
		l.of[t.item.Copy] = t
	}
	return l
}

// now is the task that the keys go to; nil when the list is empty.
func (l *list) now() *task {
	if l.at >= len(l.tasks) {
		return nil
	}
	return l.tasks[l.at]
}

// step is the index of the next task in one direction, -1 when there is none.
func (l *list) step(choosable func(*task) bool, step int) int {
	for i := l.at + step; i >= 0 && i < len(l.tasks); i += step {
		if choosable(l.tasks[i]) {
			return i
		}
	}
	return -1
}

// count counts tasks.
func (l *list) count(which func(*task) bool) int {
	n := 0
	for _, t := range l.tasks {
		if which(t) {
			n++
		}
	}
	return n
}

// carry takes over what was done of the list before, each in front of what is
// left of its box, and stays at the task that it was at.
func (l *list) carry(old *list, order map[model.BoxID]int, lost func(model.Accession) bool) {
	var done []*task
	for _, t := range old.tasks {
		if (t.ticked || lost(t.item.Copy)) && l.of[t.item.Copy] == nil {
			t.adrift = !t.ticked
			done = append(done, t)
		}
	}
	was := old.now()
	*l = listOf(append(done, l.tasks...))
	slices.SortStableFunc(l.tasks, func(a, b *task) int { return cmp.Compare(order[a.box.ID], order[b.box.ID]) })
	if was == nil {
		return
	}
	if i := slices.IndexFunc(l.tasks, func(t *task) bool { return t.item.Copy == was.item.Copy }); i >= 0 {
		l.at = i
	}
}

// walk is what is to be done, worked out from a collection.
type walk struct {
	rev     uint64 // of the collection that it is of
	moves   ordering.Moves
	labels  int     // to redo, of what is on record
	minutes float64 // 0: none was ever timed
	piles   []ordering.Pile
	pulls   list
	puts    list
}

// lay works the walk out. It is called aside, and must not touch the screen.
func lay(l *ordering.Layout) *walk {
	m := l.Refile()
	w := &walk{rev: l.Collection().Rev(), moves: m, labels: len(l.Redo(m.Plan).Labels)}
	if p, ok := measure.PaceOf(l.Collection()); ok {
		w.minutes = p.Minutes(len(m.Pull), len(m.Insert))
	}
	w.piles = l.Piles(&m)
	var pulls, puts []*task
	for _, p := range m.Pull {
		pulls = append(pulls, &task{item: p.Item, box: p.Box, hook: p.Leaves})
	}
	for _, in := range m.Insert {
		puts = append(puts, &task{item: in.Item, box: m.Plan.Boxes[in.Box].Box, holder: in.Box, at: in.Position - 1})
	}
	w.pulls, w.puts = listOf(pulls), listOf(puts)
	return w
}

// empty tells that nothing is to be done.
func (w *walk) empty() bool { return len(w.moves.Pull)+len(w.moves.Insert) == 0 }

// placed tells whether a copy stands where the plan wants it: it stayed there,
// or it was put there.
func (w *walk) placed(a model.Accession) bool {
	t := w.puts.of[a]
	return t == nil || t.ticked
}

// gap is the index in a row at which a put goes in: right behind the nearest
// before it in the plan that stands where it belongs. That is the neighbour
// that the plan names, unless it was skipped or not found.
func (w *walk) gap(t *task, row []model.Accession) int {
	index := make(map[model.Accession]int, len(row))
	for i, a := range row {
		index[a] = i
	}
	items := w.moves.Plan.Boxes[t.holder].Items
	for i := t.at - 1; i >= 0; i-- {
		a := items[i].Copy
		if at, stands := index[a]; stands && w.placed(a) {
			return at + 1
		}
	}
	return 0
}

// take makes a walk that was worked out the one that is walked.
func (s *Screen) take(w *walk) {
	if c := s.desk.Collection(); s.walk == nil && s.kept != nil && slices.Equal(s.kept.Firsts, c.Walls().Firsts) {
		s.walk = s.kept.walk(c, w)
	}
	s.kept, s.unkept = nil, true
	if old := s.walk; old != nil {
		boxes := s.desk.Collection().Shelf().Boxes
		order := map[model.BoxID]int{0: len(boxes)} // new ones come last
		for i, b := range boxes {
			order[b.ID] = i
		}
		w.pulls.carry(&old.pulls, order, s.lost)
		w.locate(old)
		w.puts.carry(&old.puts, order, s.lost)
	}
	s.walk = w
	for _, o := range s.pending {
		if t := s.taskOf(o); t != nil {
			t.ticked = true
		}
	}
}

// locate gives ticked puts of an older walk their boxes and places in this one.
func (w *walk) locate(old *walk) {
	if old.puts.count(func(t *task) bool { return t.ticked }) == 0 {
		return
	}
	for i := range w.moves.Plan.Boxes {
		for at, p := range w.moves.Plan.Boxes[i].Items {
			if t := old.puts.of[p.Copy]; t != nil && t.ticked {
				t.holder, t.at = i, at
			}
		}
	}
}

// list is the list of the step that one is at.
func (s *Screen) list() *list {
	if s.stage == putting {
		return &s.walk.puts
	}
	return &s.walk.pulls
}

// onShelf tells whether a put still waits to be pulled: it is not on the table.
func (s *Screen) onShelf(t *task) bool {
	p := s.walk.pulls.of[t.item.Copy]
	return p != nil && p != t && !p.ticked
}

// lost tells whether a copy was looked for and not found, when all that is on
// its way is written.
func (s *Screen) lost(a model.Accession) bool {
	cp := s.desk.Collection().Copy(a)
	lost := cp != nil && cp.Missing != ""
	for _, o := range s.pending {
		if o.copy == a {
			lost = o.kind == missed || o.kind == unfound
		}
	}
	return lost
}

// open tells whether a task is still to be done.
func (s *Screen) open(t *task) bool {
	return !t.ticked && !t.adrift && !s.lost(t.item.Copy) && !s.onShelf(t)
}

// choosable tells whether the keys can go to a task: one not found can still be
// ticked when it turns up.
func (s *Screen) choosable(t *task) bool { return s.open(t) || s.lost(t.item.Copy) && !s.onShelf(t) }

// skipped is how often a task of the present step was skipped.
func (s *Screen) skipped(t *task) int { return s.skips[s.round()][t.item.Copy] }

func (s *Screen) round() int {
	if s.stage == putting {
		return 1
	}
	return 0
}

// rounds is how often a task is brought before the walk goes on without it.
const rounds = 2

// next is the task to go to from the present one: the next that is open, else
// what was left out before it, else what was skipped once; -1 when all that is
// left was skipped again.
func (s *Screen) next() int {
	l := s.list()
	for round := range rounds {
		for i := range l.tasks {
			at := (l.at + 1 + i) % len(l.tasks)
			if t := l.tasks[at]; s.open(t) && s.skipped(t) == round {
				return at
			}
		}
	}
	return -1
}

// advance goes to the next task, in the next step if there is none.
func (s *Screen) advance() {
	if i := s.next(); i >= 0 {
		s.list().at = i
		return
	}
	s.enter(s.following(s.stage))
}

// land stays at the present task if it is open, and advances if it is not.
func (s *Screen) land() {
	if s.stage != pulling && s.stage != putting {
		return
	}
	if t := s.list().now(); t == nil || !s.open(t) || s.skipped(t) >= rounds {
		s.advance()
	}
}

// enter goes to a step, to a task that is open, or at least to one that can be
// ticked.
func (s *Screen) enter(to stage) {
	if s.stage = to; to == sorting {
		s.deal()
	}
	if to != ended {
		s.at, s.unkept = to, true
	}
	if to != pulling && to != putting {
		return
	}
	l := s.list()
	if t := l.now(); t != nil && s.open(t) && s.skipped(t) == 0 {
		return
	}
	if i := s.next(); i >= 0 {
		l.at = i
	} else if i := slices.IndexFunc(l.tasks, s.choosable); i >= 0 {
		l.at = i
	}
}

// deal works out the piles of what is on the table, which may be less than was
// to be.
func (s *Screen) deal() {
	m, w := ordering.Moves{}, s.walk
	for i := range w.moves.Insert {
		if in := w.moves.Insert[i]; s.open(w.puts.of[in.Item.Copy]) {
			m.Insert = append(m.Insert, in)
		}
	}
	if len(m.Insert) < len(w.moves.Insert) {
		w.piles = s.desk.Layout.Piles(&m)
	}
}

// fewToSort is how many envelopes are put in order in the hand.
const fewToSort = 5

// resumed is the step that one was at, where anything of it is left.
func (s *Screen) resumed() stage {
	if s.at == pulling && s.left(pulling) > 0 || s.at >= sorting && s.left(putting) > 0 {
		return s.at
	}
	return s.following(overview)
}

// following is the step after one, as the work leads there.
func (s *Screen) following(from stage) stage {
	pulls, puts := s.left(pulling), s.left(putting)
	switch {
	case from == overview && pulls > 0:
		return pulling
	case from <= pulling && puts >= fewToSort:
		return sorting
	case from <= sorting && puts > 0:
		return putting
	case from == putting && pulls > 0:
		return pulling // the user went on to putting in before all was pulled
	}
	return ended
}

// left counts what is still to come up in a step.
func (s *Screen) left(at stage) int {
	l, round := &s.walk.pulls, 0
	if at == putting {
		l, round = &s.walk.puts, 1
	}
	return l.count(func(t *task) bool { return s.open(t) && s.skips[round][t.item.Copy] < rounds })
}

// neighbour is the step next to the present one that has anything to do.
func (s *Screen) neighbour(step stage) stage {
	for to := s.stage + step; to >= pulling && to <= putting; to += step {
		l := &s.walk.pulls
		if to != pulling {
			l = &s.walk.puts
		}
		if n := l.count(s.choosable); n >= fewToSort || n > 0 && to != sorting {
			return to
		}
	}
	return s.stage
}
