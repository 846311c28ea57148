package split

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// whatIf is what is tried out of another shelf. It is never altered, so that
// what is worked out aside may keep it.
type whatIf struct {
	lengths map[string]model.Length // by the name of the box
	locks   map[string]bool
	more    []model.NewBox
	months  int // of growth to leave room for
	over    int // boxes to spread over; 0: as few as can be
}

func (q whatIf) copied() whatIf {
	q.lengths, q.locks, q.more = maps.Clone(q.lengths), maps.Clone(q.locks), slices.Clone(q.more)
	if q.lengths == nil {
		q.lengths = map[string]model.Length{}
	}
	if q.locks == nil {
		q.locks = map[string]bool{}
	}
	return q
}

// length has a box of another length. One that is planned and not there is to
// be got in that length.
func (q whatIf) length(c *model.Collection, name string, length model.Length) whatIf {
	q = q.copied()
	for i := range q.more {
		if q.more[i].Name == name {
			q.more[i].Length = length
			return q
		}
	}
	b, err := c.Shelf().BoxNamed(name)
	switch {
	case err != nil:
		q.more = append(q.more, model.NewBox{BoxSpec: model.BoxSpec{Name: name, Length: length}})
	case b.Length == length:
		delete(q.lengths, name)
	default:
		q.lengths[name] = length
	}
	return q
}

// lock turns round whether a box of the shelf keeps its label; false when there
// is no such box.
func (q whatIf) lock(c *model.Collection, name string) (whatIf, bool) {
	b, err := c.Shelf().BoxNamed(name)
	if err != nil {
		return q, false
	}
	q = q.copied()
	if _, turned := q.locks[name]; turned {
		delete(q.locks, name)
	} else {
		q.locks[name] = !b.Locked
	}
	return q, true
}

// another adds a box behind a box that is there, or at the end.
func (q whatIf) another(c *model.Collection, after string, length model.Length) whatIf {
	q = q.copied()
	taken := func(name string) bool {
		_, err := c.Shelf().BoxNamed(name)
		return err == nil || slices.ContainsFunc(q.more, func(b model.NewBox) bool { return strings.EqualFold(b.Name, name) })
	}
	if !taken(after) {
		after = ""
	}
	name := func(i int) string {
		if after == "" {
			return strconv.Itoa(len(c.Shelf().Boxes) + 1 + i)
		}
		text := after + string(rune('a'+i%26))
		if i >= 26 {
			text += strconv.Itoa(i / 26)
		}
		return text
	}
	i := 0
	for taken(name(i)) {
		i++
	}
	q.more = append(q.more, model.NewBox{BoxSpec: model.BoxSpec{Name: name(i), Length: length}, After: after})
	return q
}

// still is what of it is still a question when the cupboard has changed.
func (q whatIf) still(c *model.Collection) whatIf {
	q = q.copied()
	has := func(name string) (model.Box, bool) {
		b, err := c.Shelf().BoxNamed(name)
		return b, err == nil
	}
	maps.DeleteFunc(q.lengths, func(name string, length model.Length) bool {
		b, ok := has(name)
		return !ok || b.Length == length
	})
	maps.DeleteFunc(q.locks, func(name string, locked bool) bool {
		b, ok := has(name)
		return !ok || b.Locked == locked
	})
	q.more = slices.DeleteFunc(q.more, func(b model.NewBox) bool {
		_, ok := has(b.Name)
		return ok
	})
	return q
}

// lasting is what of it is no question about the shelf.
func (q whatIf) lasting() whatIf { return whatIf{months: q.months, over: q.over} }

// changesShelf tells whether it asks for another shelf than there is.
func (q whatIf) changesShelf() bool { return len(q.lengths)+len(q.locks)+len(q.more) > 0 }

// change is the change that makes the shelf so; nil when it is.
func (q whatIf) change(c *model.Collection) *model.SetShelf {
	if !q.changesShelf() {
		return nil
	}
	spec := c.ShelfSpec()
	for i := range spec.Boxes {
		b := &spec.Boxes[i]
		if length, ok := q.lengths[b.Name]; ok {
			b.Length = length
		}
		if locked, ok := q.locks[b.Name]; ok {
			b.Locked = locked
		}
	}
	for _, b := range q.more {
		at := len(spec.Boxes)
		if i := slices.IndexFunc(spec.Boxes, func(x model.BoxSpec) bool { return x.Name == b.After }); i >= 0 {
			at = i + 1
		}
		spec.Boxes = slices.Insert(spec.Boxes, at, b.BoxSpec)
	}
	return &model.SetShelf{Spec: spec}
}

// shelf says in words what of the shelf is changed, lengths in the unit given.
func (q whatIf) shelf(units string) []string {
	var out []string
	for _, name := range slices.Sorted(maps.Keys(q.lengths)) {
		out = append(out, fmt.Sprintf("box %s is %s long", name, q.lengths[name].Fine(units)))
	}
	for _, b := range q.more {
		where := ""
		if b.After != "" {
			where = " behind box " + b.After
		}
		out = append(out, fmt.Sprintf("a box %s more, %s long%s", b.Name, b.Length.Fine(units), where))
	}
	for _, name := range slices.Sorted(maps.Keys(q.locks)) {
		if q.locks[name] {
			out = append(out, fmt.Sprintf("box %s is locked: it keeps its label", name))
		} else {
			out = append(out, fmt.Sprintf("box %s is not locked", name))
		}
	}
	return out
}
