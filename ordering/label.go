package ordering

import "example.org/tuckrow/model"

// NoLabel is said in place of a label of a box that holds nothing, and so has
// none.
const NoLabel = "empty"

// Label is what stands on a box: what is first and last in it, never a
// position.
func (l *Layout) Label(h *Holding) string {
	if len(h.Items) == 0 {
		return NoLabel
	}
	return l.labelFor(h.Items[0].Item, h.Items[len(h.Items)-1].Item)
}

// standingLabel is the label of a box by what stands in it.
func (l *Layout) standingLabel(id model.BoxID) string {
	row := l.c.Row(id)
	if len(row) == 0 {
		return NoLabel
	}
	return l.labelFor(l.stands(row[0]), l.stands(row[len(row)-1]))
}

// labelFor is the label of a box by what is first and last in it.
func (l *Layout) labelFor(head, tail *Item) string {
	first, last := head.Pattern, tail.Pattern
	from := l.c.Publisher(first.Publisher).Name + " " + first.Short()
	switch {
	case first == last:
		return from
	case first.Publisher == last.Publisher:
		return from + " to " + last.Short()
	}
	return from + " to " + l.c.Publisher(last.Publisher).Name + " " + last.Short()
}
