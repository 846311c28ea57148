package model

import (
	"fmt"
	"slices"

	"example.org/tuckrow/model/words"
)

// Make is something that was made of a pattern. It says for itself what the
// pattern was called, so that it stays true when the pattern has gone.
type Make struct {
	ID      MakeID    `json:"id" cbor:"1,keyasint"`
	On      Date      `json:"on" cbor:"2,keyasint"`
	Pattern PatternID `json:"pattern" cbor:"3,keyasint"` // it may not be listed any more
	Title   string    `json:"title" cbor:"4,keyasint"`   // publisher, number and name
	For     string    `json:"for,omitempty" cbor:"5,keyasint,omitempty"`
	View    string    `json:"view,omitempty" cbor:"6,keyasint,omitempty"`
	Size    string    `json:"size,omitempty" cbor:"7,keyasint,omitempty"`
	Cloth   string    `json:"cloth,omitempty" cbor:"8,keyasint,omitempty"`
	Changed string    `json:"changed,omitempty" cbor:"9,keyasint,omitempty"` // on the pattern
	Better  string    `json:"better,omitempty" cbor:"10,keyasint,omitempty"` // what to do better the next time
	Notes   string    `json:"notes,omitempty" cbor:"11,keyasint,omitempty"`
}

// Queue is what is to be sewn next, the first first.
type Queue struct {
	Items []Queued `json:"items,omitempty" cbor:"1,keyasint,omitempty"`
}

// Queued is a pattern that is to be sewn. It says for itself what it is called,
// as Make does.
type Queued struct {
	Pattern PatternID `json:"pattern" cbor:"1,keyasint"`
	Title   string    `json:"title" cbor:"2,keyasint"`
	Since   Date      `json:"since,omitempty" cbor:"3,keyasint,omitempty"`
	By      Date      `json:"by,omitempty" cbor:"4,keyasint,omitempty"` // to be ready by then
	For     string    `json:"for,omitempty" cbor:"5,keyasint,omitempty"`
	Cloth   string    `json:"cloth,omitempty" cbor:"6,keyasint,omitempty"`
	Notes   string    `json:"notes,omitempty" cbor:"7,keyasint,omitempty"`
}

// Goal is "at least one of each of these", from a day on.
type Goal struct {
	ID    GoalID   `json:"id" cbor:"1,keyasint"`
	Name  string   `json:"name" cbor:"2,keyasint"`
	Since Date     `json:"since,omitempty" cbor:"3,keyasint,omitempty"`
	Of    []string `json:"of" cbor:"4,keyasint"` // categories, or words of a name
}

// Key implements Record.
func (m *Make) Key() (Kind, uint32) { return KindMake, uint32(m.ID) }

// Key implements Record. There is one queue.
func (q *Queue) Key() (Kind, uint32) { return KindQueue, 1 }

// Key implements Record.
func (g *Goal) Key() (Kind, uint32) { return KindGoal, uint32(g.ID) }

// Makes gives what was made, in the order in which it was noted.
func (c *Collection) Makes() *Table[Make] { return &c.makes }

// Goals gives the goals.
func (c *Collection) Goals() *Table[Goal] { return &c.goals }

// Queue gives what is to be sewn next. It is shared: do not alter it.
func (c *Collection) Queue() []Queued {
	if c.queue == nil {
		return nil
	}
	return c.queue.Items
}

// GoalNamed finds a goal by name, however it is written, or gives nil.
func (c *Collection) GoalNamed(name string) *Goal {
	return named(&c.goals, name, func(g *Goal) string { return g.Name })
}

// Called names a pattern so that it is known without the list: publisher,
// number and name.
func (c *Collection) Called(id PatternID) string {
	p := c.Pattern(id)
	if p == nil {
		return fmt.Sprintf("pattern %d", id)
	}
	return words.Clean(c.Publisher(p.Publisher).Name + " " + p.Heading())
}

// CalledOr is Called of what is listed, as it stands corrected now; of what is not
// listed any more it is what it was called when that was noted.
func (c *Collection) CalledOr(id PatternID, then string) string {
	if c.Pattern(id) == nil {
		return then
	}
	return c.Called(id)
}

// mostGoals bounds what one goal asks for.
const mostGoals = 1000

// fault says what of a goal cannot be.
func (g *Goal) fault() error {
	_, err := ParseDate("since", string(g.Since))
	switch {
	case g.Name == "":
		return fmt.Errorf("a goal has no name")
	case len(g.Of) == 0 || len(g.Of) > mostGoals || slices.Contains(g.Of, ""):
		return fmt.Errorf("goal %q does not say of what one is to be made", g.Name)
	}
	return err
}

// fault says what of something made cannot be.
func (m *Make) fault() error {
	if m.On == "" || m.Title == "" {
		return fmt.Errorf("what was made has no day or no title")
	}
	_, err := ParseDate("on", string(m.On))
	return err
}

// checkSewing tells whether what is noted of sewing can be.
func (c *Collection) checkSewing() error {
	for _, m := range c.makes.All() {
		if err := m.fault(); err != nil {
			return broken("made %d: %v", m.ID, err)
		}
	}
	for _, g := range c.goals.All() {
		if err := g.fault(); err != nil {
			return broken("goal %d: %v", g.ID, err)
		}
	}
	queued := map[PatternID]bool{}
	for _, q := range c.Queue() {
		if queued[q.Pattern] {
			return broken("pattern %d is to be sewn twice", q.Pattern)
		}
		queued[q.Pattern] = true
		for _, d := range []Date{q.Since, q.By} {
			if _, err := ParseDate("to be sewn", string(d)); err != nil {
				return broken("to be sewn: %v", err)
			}
		}
	}
	return nil
}
