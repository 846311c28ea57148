package model

import (
	"cmp"
	"slices"

	"example.org/tuckrow/model/words"
)

// Sewn notes that something was made of a pattern; with the number of something
// made it says that anew. What is new takes the pattern out of the queue.
type Sewn struct {
	Make Make `json:"make"`
}

// Title implements Change.
func (ch *Sewn) Title(c *Collection) string { return "made " + c.Called(ch.Make.Pattern) }

func (ch *Sewn) apply(e *editor) error {
	m := ch.Make
	cleanAll(&m.Title, &m.For, &m.View, &m.Size, &m.Cloth, &m.Changed, &m.Better, &m.Notes)
	m.On = cmp.Or(m.On, e.at)
	known := e.c.Pattern(m.Pattern) != nil
	switch {
	case m.ID != 0 && e.c.makes.Get(uint32(m.ID)) == nil:
		return Inputf("nothing made has number %d; tuckrow sewn lists what was made", m.ID)
	case m.ID == 0 && !known:
		return Inputf("there is no pattern %d; look it up with: tuckrow find WORDS", m.Pattern)
	case m.ID == 0:
		m.ID = e.c.counters.Make + 1
	}
	if known {
		m.Title = e.c.Called(m.Pattern)
	}
	if err := m.fault(); err != nil {
		return Inputf("%v; give the day like %q", err, "2026-11-25")
	}
	e.put(&m)
	if ch.Make.ID != 0 { // who corrects what was made long ago still wants to sew it once more
		return nil
	}
	e.setQueue(slices.DeleteFunc(slices.Clone(e.c.Queue()), func(q Queued) bool { return q.Pattern == m.Pattern }))
	return nil
}

// setQueue puts the queue in place where it differs; an empty one is none.
func (e *editor) setQueue(items []Queued) {
	switch {
	case slices.Equal(items, e.c.Queue()):
	case len(items) == 0:
		e.drop(KindQueue, 1)
	default:
		e.put(&Queue{items})
	}
}

// Enqueue puts a pattern into the queue of what is to be sewn, or to another
// place in it.
type Enqueue struct {
	Item Queued `json:"item"`
	At   int    `json:"at,omitempty"` // 1 is the first; 0: where it is, or at the end
}

// Title implements Change.
func (ch *Enqueue) Title(c *Collection) string { return "to be sewn: " + c.Called(ch.Item.Pattern) }

func (ch *Enqueue) apply(e *editor) error {
	q := ch.Item
	if e.c.Pattern(q.Pattern) == nil {
		return Inputf("there is no pattern %d; look it up with: tuckrow find WORDS", q.Pattern)
	}
	if _, err := ParseDate("by", string(q.By)); err != nil {
		return err
	}
	cleanAll(&q.For, &q.Cloth, &q.Notes)
	q.Title = e.c.Called(q.Pattern)
	items := slices.Clone(e.c.Queue())
	at := slices.IndexFunc(items, func(x Queued) bool { return x.Pattern == q.Pattern })
	if at >= 0 {
		q.Since = cmp.Or(q.Since, items[at].Since)
		items = slices.Delete(items, at, at+1)
	} else {
		at = len(items)
	}
	if ch.At > 0 {
		at = min(ch.At-1, len(items))
	}
	q.Since = cmp.Or(q.Since, e.at)
	if _, err := ParseDate("since", string(q.Since)); err != nil {
		return err
	}
	e.setQueue(slices.Insert(items, at, q))
	return nil
}

// Dequeue takes a pattern out of the queue.
type Dequeue struct {
	Pattern PatternID `json:"pattern"`
}

// Title implements Change.
func (ch *Dequeue) Title(c *Collection) string {
	return "not to be sewn: " + c.Called(ch.Pattern)
}

func (ch *Dequeue) apply(e *editor) error {
	items := slices.DeleteFunc(slices.Clone(e.c.Queue()), func(q Queued) bool { return q.Pattern == ch.Pattern })
	if len(items) == len(e.c.Queue()) {
		return Inputf("%s is not to be sewn; tuckrow next lists what is", e.c.Called(ch.Pattern))
	}
	e.setQueue(items)
	return nil
}

// SetGoal sets a goal: at least one of each of these. One of that name, or of
// that number, is set anew.
type SetGoal struct {
	Goal Goal `json:"goal"`
}

// Title implements Change.
func (ch *SetGoal) Title(*Collection) string { return "set the goal " + words.Clean(ch.Goal.Name) }

func (ch *SetGoal) apply(e *editor) error {
	g := ch.Goal
	cleanAll(&g.Name)
	g.Of = cleanEach(g.Of)
	old := e.c.GoalNamed(g.Name)
	switch {
	case g.ID == 0 && old != nil:
		g.ID, g.Since = old.ID, cmp.Or(g.Since, old.Since)
	case g.ID == 0:
		g.ID = e.c.counters.Goal + 1
	case e.c.goals.Get(uint32(g.ID)) == nil:
		return Inputf("there is no goal %d; tuckrow goal lists them", g.ID)
	case old != nil && old.ID != g.ID:
		return Inputf("there is another goal %q; give each a name of its own", old.Name)
	}
	g.Since = cmp.Or(g.Since, e.at)
	if err := g.fault(); err != nil {
		return Inputf("%v; name categories, or words of names, like of='Dresses; Skirts'", err)
	}
	e.put(&g)
	return nil
}
