package ordering

// NoLabel is said in place of a label of a box that holds nothing, and so has
// none.
const NoLabel = "empty"

// Label is what stands on a box: what is first and last in it, never a
// position.
func (l *Layout) Label(h *Holding) string {
	if len(h.Items) == 0 {
		return NoLabel
	}
	first, last := h.Items[0].Pattern, h.Items[len(h.Items)-1].Pattern
	from := l.c.Publisher(first.Publisher).Name + " " + first.Short()
	switch {
	case first == last:
		return from
	case first.Publisher == last.Publisher:
		return from + " to " + last.Short()
	}
	return from + " to " + l.c.Publisher(last.Publisher).Name + " " + last.Short()
}
