package ordering

// Steps are in order and do not overlap; where there is none, there is no way.

// join appends a step, or makes the last longer where it costs the same.
func join(steps []step, x step) []step {
	if n := len(steps); n > 0 && steps[n-1].to+1 == x.from && steps[n-1].cost == x.cost {
		steps[n-1].to = x.to
		return steps
	}
	return append(steps, x)
}

// scratch is memory for what is on its way, used again for each wall.
type scratch struct {
	apart, parting, queue, one, other, both, all []step
	spans                                        []span
}

// envelope appends to out the cheapest at each place of steps that overlap and of
// which none begins or ends before the one before it. Those within reach wait in
// a queue, and none in it costs as much as one behind, which stays for longer.
func (m *scratch) envelope(out, steps []step) []step {
	queue, first, place := m.queue[:0], 0, 0
	for i := 0; i < len(steps) || first < len(queue); {
		if first == len(queue) {
			place = max(place, steps[i].from)
		}
		for ; i < len(steps) && steps[i].from <= place; i++ {
			for len(queue) > first && !queue[len(queue)-1].cost.less(steps[i].cost) {
				queue = queue[:len(queue)-1]
			}
			queue = append(queue, steps[i])
		}
		to := queue[first].to
		if i < len(steps) {
			to = min(to, steps[i].from-1)
		}
		if to >= place {
			out = join(out, step{span{place, to}, queue[first].cost})
			place = to + 1
		}
		for first < len(queue) && queue[first].to < place {
			first++
		}
	}
	m.queue = queue
	return out
}

// lower appends to out, which is none of the two, the cheaper of two at each
// place.
func lower(out, a, b []step) []step {
	if len(a) == 0 || len(b) == 0 {
		return append(append(out, a...), b...)
	}
	for place := min(a[0].from, b[0].from); len(a)+len(b) > 0; {
		x, to, here := step{}, 1<<62, false
		for _, steps := range [][]step{a, b} {
			switch {
			case len(steps) == 0:
			case steps[0].from > place:
				to = min(to, steps[0].from-1)
			default:
				to = min(to, steps[0].to)
				if !here || steps[0].cost.less(x.cost) {
					x, here = steps[0], true
				}
			}
		}
		if here {
			out = join(out, step{span{place, to}, x.cost})
		}
		place = to + 1
		a, b = from(a, place), from(b, place)
	}
	return out
}

// from leaves out the steps before a place.
func from(steps []step, place int) []step {
	for len(steps) > 0 && steps[0].to < place {
		steps = steps[1:]
	}
	return steps
}

// inside appends to out what is in the spans.
func inside(out, steps []step, spans []span) []step {
	for _, s := range spans {
		steps = from(steps, s.from)
		for _, x := range steps {
			if x.from > s.to {
				break
			}
			out = append(out, step{span{max(x.from, s.from), min(x.to, s.to)}, x.cost})
		}
	}
	return out
}
