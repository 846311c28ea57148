package ordering

import "example.org/tuckrow/model"

// Label is what stands on a box: what is first and last in it, never a
// position.
func (l *Layout) Label(h *Holding) string {
	if len(h.Items) == 0 {
		return "empty"
	}
	first, last := h.Items[0].Pattern, h.Items[len(h.Items)-1].Pattern
	from := l.c.Publisher(first.Publisher).Name + " " + short(first)
	switch {
	case first == last:
		return from
	case first.Publisher == last.Publisher:
		return from + " to " + short(last)
	}
	return from + " to " + l.c.Publisher(last.Publisher).Name + " " + short(last)
}

// short is a pattern's number, or its name when it has none.
func short(p *model.Pattern) string {
	if p.Number != "" {
		return p.Number
	}
	return p.Name
}
