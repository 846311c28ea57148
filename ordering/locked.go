package ordering

import (
	"fmt"

	"example.org/tuckrow/model"
)

// lock is a box that is locked and has something in it: its label is to stay.
type lock struct {
	box    int // index on the shelf
	label  string
	pieces []span // the pieces of the row that would bear it
}

// ends is what stands at an end of a label.
type ends struct {
	publisher model.PublisherID
	text      string
}

func endOf(p *model.Pattern) ends { return ends{p.Publisher, p.Short()} }

// locks finds, for each locked box, the pieces of the row that go into it and
// bear its label. A label says what is first and last, so there are few.
func (l *Layout) locks(w *walls) []lock {
	boxes := l.c.Shelf().Boxes
	var out []lock
	at := map[ends][]int{}
	for i, b := range boxes {
		row := l.c.Row(b.ID)
		if !b.Locked || len(row) == 0 {
			continue
		}
		out = append(out, lock{box: i, label: l.standingLabel(b.ID)})
		at[endOf(l.c.PatternOf(row[0]))], at[endOf(l.c.PatternOf(row[len(row)-1]))] = nil, nil
	}
	if out == nil {
		return nil
	}
	for i, it := range l.row {
		if places, wanted := at[endOf(it.Pattern)]; wanted {
			at[endOf(it.Pattern)] = append(places, i)
		}
	}
	for i := range out {
		k := &out[i]
		row := l.c.Row(boxes[k.box].ID)
		size := w.holders[k.box].size
		for _, from := range at[endOf(l.c.PatternOf(row[0]))] {
			for _, last := range at[endOf(l.c.PatternOf(row[len(row)-1]))] {
				if last >= from && w.to(size, from) > last && l.labelOf(from, last+1) == k.label {
					k.pieces = append(k.pieces, span{from, last + 1})
				}
			}
		}
	}
	return out
}

// labelOf is the label of a box that holds a piece of the row.
func (l *Layout) labelOf(from, to int) string {
	return l.labelFor(l.row[from], l.row[to-1])
}

// heldLock is a way to keep a lock: the piece it takes, and the lock kept before.
type heldLock struct {
	lock   int // index in the list
	piece  span
	broken int // of all before it, at the least
	before int // -1: none
}

// hold chooses which locks to keep: as many as can be. Between two that are kept
// the boxes must take what lies between, which is so when they reach that far.
// It asks first whether no lock need be given up, then whether one or none, then
// up to two, four, and so on, and so looks no further from a lock than it must.
func (w *walls) hold(locks []lock) {
	for budget := 0; ; budget = max(1, 2*budget) {
		best := w.heldWithin(locks, budget)
		if best == nil {
			if budget >= len(locks) {
				return
			}
			continue
		}
		for _, h := range best {
			w.holders[locks[h.lock].box].pieces = locks[h.lock].pieces
		}
		return
	}
}

// heldWithin gives the locks to keep when no more than a budget are given up;
// nil when that is not enough.
func (w *walls) heldWithin(locks []lock, budget int) []heldLock {
	all := []heldLock{{lock: -1, before: -1}} // before the first: the row begins
	most := len(locks)
	final, given := -1, budget+1
	for at := 0; at < len(all); at++ {
		h := all[at]
		if after := h.broken + most - 1 - h.lock; after < given {
			final, given = at, after
		}
		box := 0
		if h.lock >= 0 {
			box = locks[h.lock].box + 1
		}
		reach := h.piece.to
		for k := h.lock + 1; k < most; k++ {
			for ; box < locks[k].box; box++ {
				reach = w.to(w.holders[box].size, reach)
			}
			broken := h.broken + k - h.lock - 1
			if broken > budget {
				break
			}
			for _, p := range locks[k].pieces {
				if h.piece.to <= p.from && p.from <= reach {
					all = better(all, heldLock{k, p, broken, at})
				}
			}
		}
		// Ways to keep a lock are looked at in the order of the locks.
		if at+1 < len(all) {
			sortHeld(all[at+1:])
		}
	}
	if final < 0 {
		return nil
	}
	out := []heldLock{}
	for at := final; all[at].lock >= 0; at = all[at].before {
		out = append(out, all[at])
	}
	return out
}

// better adds a way to keep a lock, or puts it in place of one that gives up
// more.
func better(all []heldLock, h heldLock) []heldLock {
	for i := len(all) - 1; i > h.before; i-- {
		if all[i].lock == h.lock && all[i].piece == h.piece {
			if h.broken < all[i].broken {
				all[i] = h
			}
			return all
		}
	}
	return append(all, h)
}

// sortHeld puts the first lock first, and keeps others as they came.
func sortHeld(all []heldLock) {
	first := 0
	for i := range all {
		if all[i].lock < all[first].lock {
			first = i
		}
	}
	h := all[first]
	copy(all[1:first+1], all[:first])
	all[0] = h
}

// broken says which locked boxes lose their label, what to do about it first: a
// narrow screen shows no more.
func (l *Layout) broken(locks []lock, p *Plan) []string {
	var out []string
	for _, k := range locks {
		h := &p.Boxes[k.box]
		if l.Label(h) == k.label {
			continue
		}
		why := "what is between no longer goes into it, or not with what else is to be kept"
		if len(k.pieces) == 0 {
			why = "no piece of the row that begins and ends so goes into it"
		}
		out = append(out, fmt.Sprintf("unlock box %q or give it more room: it cannot keep its label %q; %s", h.Box.Name, k.label, why))
	}
	return out
}
