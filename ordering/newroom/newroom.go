// Package newroom says what a collection would need in another room: other boxes,
// another cupboard, some years on.
//
// The usual way in is [Ask] with a collection and a question.
//
// Promised: nothing is altered. Both rooms are filled by the rules by which the
// engine fills any: boxes as few as can be, binders and hooks from the front. What
// is yet to come is an estimate: as if what came last came again, at the pace at
// which the collection grows.
package newroom

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/moving"
)

// Question is another room.
type Question struct {
	Shelf     *model.ShelfSpec // nil: the furniture as it is
	BoxLength model.Length     // that all boxes are to have inside; 0: as they are
	Years     int              // of growth
	PerYear   int              // copies that a year brings; 0: by the pace of growth
	On        model.Date       // today, by which that pace is counted
}

// ParseBoxLength reads the length of all boxes, as somebody writes it; nothing is 0.
func ParseBoxLength(text string) (model.Length, error) {
	if text == "" {
		return 0, nil
	}
	l, err := model.ParseLength(text)
	if err != nil || l <= 0 {
		return 0, model.Inputf("%q is not a length of boxes; write for example %q", text, "500 mm")
	}
	return l, nil
}

// furniture is the room asked for; nil for that of today.
func (q Question) furniture(c *model.Collection) *model.ShelfSpec {
	if q.BoxLength == 0 {
		return q.Shelf
	}
	spec := c.ShelfSpec()
	if q.Shelf != nil {
		spec = *q.Shelf
	}
	spec.Boxes = slices.Clone(spec.Boxes)
	for i := range spec.Boxes {
		spec.Boxes[i].Length = q.BoxLength
	}
	return &spec
}

// Doubts says of which lengths the boxes asked for are taken to be, where those are
// odd by the rule of the shelf: likelier another unit was meant. Lengths as write has
// them.
func (q Question) Doubts(c *model.Collection, write func(model.Length) string) (out []string) {
	spec := q.furniture(c)
	if spec == nil {
		return nil
	}
	said := map[model.Length]bool{}
	for _, b := range spec.OddBoxes(c.Shelf()) {
		if !said[b.Length] {
			out = append(out, "boxes are taken to be "+write(b.Length)+" long: is that right? a number without a unit is in millimetres")
		}
		said[b.Length] = true
	}
	return out
}

// MostYears is as far as one can ask.
const MostYears = 50

// Room is what a collection takes in a room.
type Room struct {
	Copies                int
	Boxes, NewBoxes       int // in use, and how many of those are to be got
	Free                  model.Length
	Fullest               model.Length // what stands in the fullest box
	Binders, NewBinders   int
	Hooks, NewHooks       int
	Oversize, NewOversize int
}

// Lines says in words what a room takes, each behind what it is of; lengths as
// write has them.
func (r Room) Lines(write func(model.Length) string) [][2]string {
	of := func(n, fresh int) string {
		if fresh == 0 {
			return strconv.Itoa(n)
		}
		return fmt.Sprintf("%d, %d to be got", n, fresh)
	}
	return [][2]string{
		{"copies", strconv.Itoa(r.Copies)},
		{"boxes", of(r.Boxes, r.NewBoxes)},
		{"left free in them", write(r.Free)},
		{"the fullest weighs about", moving.Kilograms(moving.Weight(r.Fullest))},
		{"binders", of(r.Binders, r.NewBinders)},
		{"hooks", of(r.Hooks, r.NewHooks)},
		{"boxes for oversize", of(r.Oversize, r.NewOversize)},
	}
}

// Answer is a room beside the one of today.
type Answer struct {
	Today, Then Room
	PerYear     int         // copies a year that were reckoned with
	Grows       growth.Pace // the pace of growth; where it is not known and none was given, nothing grew
}

// Ask fills the room of today, and the one asked for.
func Ask(c *model.Collection, q Question) (Answer, error) {
	if q.Years < 0 || q.Years > MostYears || q.PerYear < 0 {
		return Answer{}, model.Inputf("%d years with %d copies each cannot be asked for; give 0 to %d years", q.Years, q.PerYear, MostYears)
	}
	a := Answer{Today: roomOf(c)}
	then := c
	if spec := q.furniture(c); spec != nil {
		next, _, err := then.Apply(&model.SetShelf{Spec: *spec}, "")
		if err != nil {
			return a, err
		}
		then = next
	}
	a.Grows = growth.Of(c, q.On)
	last := lastFirst(c)
	if a.PerYear = cmp.Or(q.PerYear, int(math.Round(a.Grows.PerYear))); q.Years > 0 && len(last) > 0 {
		add := &model.Add{}
		for i := range q.Years * a.PerYear {
			add.Entries = append(add.Entries, again(c, last[i%len(last)]))
		}
		next, _, err := then.Apply(add, "")
		if err != nil {
			return a, err
		}
		then = next
	}
	a.Then = roomOf(then)
	if q.BoxLength > 0 { // of boxes of that length there are only those of today
		a.Then.NewBoxes = a.Then.Boxes
		for _, b := range c.Shelf().Boxes {
			if b.Length == q.BoxLength && a.Then.NewBoxes > 0 {
				a.Then.NewBoxes--
			}
		}
	}
	return a, nil
}

// lastFirst lists the copies, the last to arrive first.
func lastFirst(c *model.Collection) []*model.Copy {
	var all []*model.Copy
	for _, cp := range c.Copies().All() {
		all = append(all, cp)
	}
	slices.SortFunc(all, func(a, b *model.Copy) int {
		return cmp.Or(cmp.Compare(b.Added, a.Added), cmp.Compare(b.Accession, a.Accession))
	})
	return all
}

// again is one more like a copy that is there, on the pile.
func again(c *model.Collection, cp *model.Copy) model.Entry {
	en := c.EntryOf(cp)
	en.Accession, en.Pattern, en.Box, en.Position, en.Hook, en.Out, en.Missing = 0, 0, "", 0, "", nil, ""
	if en.Sleeve == model.SleeveMissing {
		en.Sleeve = model.SleeveWaiting
	}
	return en
}

func roomOf(c *model.Collection) Room {
	l, r := ordering.Arrange(c), Room{Copies: c.Copies().Len()}
	for _, b := range l.Split(ordering.Fewest).Boxes {
		if len(b.Items) == 0 {
			continue
		}
		r.Boxes, r.Free, r.Fullest = r.Boxes+1, r.Free+max(0, b.Free()), max(r.Fullest, b.Load)
		r.NewBoxes += counted(b.New)
	}
	for _, b := range l.Binders() {
		r.Binders += counted(b.Used() > 0)
		r.NewBinders += counted(b.New)
	}
	for _, h := range l.Hooks() {
		r.Hooks += counted(len(h.Items) > 0)
		r.NewHooks += counted(h.New)
	}
	for _, o := range l.Oversize() {
		r.Oversize += counted(len(o.Things) > 0)
		r.NewOversize += counted(o.New)
	}
	return r
}

func counted(yes bool) int {
	if yes {
		return 1
	}
	return 0
}
