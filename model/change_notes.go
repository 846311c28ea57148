package model

import (
	"cmp"

	"example.org/tuckrow/model/words"
)

// SetPerson notes the measures of a person. One of that name, or of that
// number, is measured anew.
type SetPerson struct {
	Person Person `json:"person"`
}

// Title implements Change.
func (ch *SetPerson) Title(*Collection) string { return "measured " + words.Clean(ch.Person.Name) }

func (ch *SetPerson) apply(e *editor) error {
	p := ch.Person
	cleanAll(&p.Name, &p.Notes)
	p.On = cmp.Or(p.On, e.at)
	if err := p.fault(); err != nil {
		return Inputf("%v; give a name, and measures like %q", err, "92 cm")
	}
	old := e.c.PersonNamed(p.Name)
	switch {
	case p.ID == 0 && old != nil:
		p.ID = old.ID
	case p.ID == 0:
		p.ID = e.c.counters.Person + 1
	case e.c.people.Get(uint32(p.ID)) == nil:
		return Inputf("there is no person %d; leave the number out for a new one", p.ID)
	case old != nil && old.ID != p.ID:
		return Inputf("there is another person %q; give each a name of its own", old.Name)
	}
	e.put(&p)
	return nil
}

// SetCloth notes a length of fabric. One of that name, or of that number, is
// noted anew.
type SetCloth struct {
	Cloth Cloth `json:"cloth"`
}

// Title implements Change.
func (ch *SetCloth) Title(*Collection) string { return "noted the cloth " + words.Clean(ch.Cloth.Name) }

func (ch *SetCloth) apply(e *editor) error {
	c := ch.Cloth
	cleanAll(&c.Name, &c.Notes)
	if err := c.fault(); err != nil {
		return Inputf("%v; give a name, and width and length like %q and %q", err, "115 cm", "2.3 m")
	}
	old := e.c.ClothNamed(c.Name)
	switch {
	case c.ID == 0 && old != nil:
		c.ID = old.ID
	case c.ID == 0:
		c.ID = e.c.counters.Cloth + 1
	case e.c.cloths.Get(uint32(c.ID)) == nil:
		return Inputf("there is no cloth %d; leave the number out for a new one", c.ID)
	case old != nil && old.ID != c.ID:
		return Inputf("there is another cloth %q; give each a name of its own", old.Name)
	}
	e.put(&c)
	return nil
}

// Strike takes something off the list that stands for itself: a person, a
// cloth, a wish, something made, a goal.
type Strike struct {
	Kind string `json:"kind"` // as in an export
	ID   uint32 `json:"id"`
}

// strikable are the kinds of record that no other names by number.
var strikable = []Kind{KindPerson, KindCloth, KindWish, KindMake, KindGoal}

// Title implements Change.
func (ch *Strike) Title(c *Collection) string {
	k, _ := KindNamed(ch.Kind)
	switch r := c.Record(k, ch.ID).(type) {
	case *Person:
		return "struck off the person " + r.Name
	case *Cloth:
		return "struck off the cloth " + r.Name
	case *Wish:
		return "struck off the wish for " + r.Heading()
	case *Make:
		return "struck off what was made of " + r.Title
	case *Goal:
		return "struck off the goal " + r.Name
	}
	return "struck off a " + words.Clean(ch.Kind)
}

func (ch *Strike) apply(e *editor) error {
	for _, k := range strikable {
		if k.String() != ch.Kind {
			continue
		}
		if e.c.Record(k, ch.ID) == nil {
			return Inputf("there is no %s %d", ch.Kind, ch.ID)
		}
		e.drop(k, ch.ID)
		return nil
	}
	return Inputf("%q cannot be struck off by its number", ch.Kind)
}
