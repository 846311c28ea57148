package strip

import (
	"fmt"
	"strings"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// separator stands between things of one kind in a line of words.
const separator = " · "

// Title is the line over the picture: which box, what is in it, how much and
// how much more. Where it is narrow the label is cut, then goes, then the
// count goes.
func Title(h *ordering.Holding, label string, width int, t *theme.Theme) string {
	if h == nil || width <= 0 {
		return ""
	}
	box, label := "box "+cells.Plain(h.Box.Name), cells.Plain(label)
	if h.New {
		box = "new " + box
	}
	count, room := fmt.Sprintf("%d envelopes", len(h.Items)), h.Free().In(unitsOf(t))+" free"
	if len(h.Items) == 1 {
		count = "1 envelope"
	}
	if h.Overfull() {
		room = (-h.Free()).In(unitsOf(t)) + " too full"
	}
	if len(h.Items) == 0 {
		label, count = "", "empty"
	}
	rest := separator + count + separator + room
	if left := width - cells.Width(box) - cells.Width(rest) - cells.Width(separator); label != "" && left >= min(2*leastText, cells.Width(label)) {
		return cells.Cut(box+separator+cells.Cut(label, left)+rest, width)
	}
	if cells.Width(box+rest) <= width {
		return cells.Cut(box+rest, width)
	}
	if cells.Width(box+separator+room) > width {
		room = strings.Replace(room, "too full", "over", 1)
	}
	return cells.Cut(box+separator+room, width)
}

// spot is where a mark is among the items of a holding.
type spot struct {
	on   int // the envelope in question, or -1
	next int // the first envelope behind the mark, the one in question included
}

// locate finds the place of a mark. A gap within an envelope is taken to be at
// the nearer of its sides.
func locate(h *ordering.Holding, m *Mark) spot {
	s := spot{on: -1}
	for s.next < len(h.Items) {
		p := h.Items[s.next]
		if m.Width > 0 && m.At >= p.Front && m.At < p.Front+max(1, p.Thickness) {
			s.on = s.next
			return s
		}
		if p.Front+p.Thickness/2 >= m.At {
			return s
		}
		s.next++
	}
	return s
}

// name is what an envelope is known by in little room.
func name(it *ordering.Item) string {
	switch {
	case it == nil:
		return ""
	case it.Pattern == nil:
		return fmt.Sprintf("copy %d", it.Copy)
	case it.Pattern.Number != "":
		return it.Pattern.Number
	}
	return it.Pattern.Name
}

func heading(it *ordering.Item) string {
	if it == nil || it.Pattern == nil {
		return name(it)
	}
	return it.Pattern.Heading()
}

// cardsFrom is where the first of the cards before an envelope stands.
func cardsFrom(p ordering.Placed) model.Length {
	at := p.Front
	for _, c := range p.Cards {
		at -= c.Thickness
	}
	return at
}

// neighbours says what stands on either side of the mark. A card that is next
// to it is named too: it is what the hand finds first.
func (d *drawing) neighbours() (behind, before string) {
	items, next := d.h.Items, d.spot.next
	if len(items) == 0 || len(items) == 1 && d.spot.on == 0 {
		return "", "nothing else in the box"
	}
	behind, before = "first in the box", "last in the box"
	var front, back []string
	if next > 0 {
		front = append(front, heading(items[next-1].Item))
	}
	if d.spot.on >= 0 {
		next++
		if c := items[d.spot.on].Cards; len(c) > 0 {
			front = append(front, "card "+c[len(c)-1].Text)
		}
	}
	if next < len(items) {
		at := cardsFrom(items[next])
		for _, c := range items[next].Cards {
			switch {
			case d.spot.on < 0 && at < d.o.Mark.At:
				front = append(front, "card "+c.Text)
			case len(back) == 0:
				back = append(back, "card "+c.Text)
			}
			at += c.Thickness
		}
		back = append(back, heading(items[next].Item))
	}
	if len(front) > 0 {
		behind = "behind " + strings.Join(front, " and ")
	}
	if len(back) > 0 {
		before = "before " + strings.Join(back, " and ")
	}
	return behind, before
}

// words says the place: on one line if it goes, from front to back as it is
// seen; else the place first.
func (d *drawing) words() []canvas {
	place := max(0, d.o.Mark.At).In(d.units) + " from the front"
	if cells.Width(place) > d.o.Width {
		place = "at " + max(0, d.o.Mark.At).In(d.units)
	}
	label := d.o.Mark.Label
	if label == "" && d.spot.on >= 0 {
		label = heading(d.h.Items[d.spot.on].Item)
	}
	if d.spot.on >= 0 && d.out(d.h.Items[d.spot.on]) {
		place += ", out"
	}
	if label != "" {
		room := d.o.Width - cells.Width(place) - 2
		if room >= min(leastText, cells.Width(cells.Plain(label))) {
			place = d.fit(label, room) + ", " + place
		}
	}
	behind, before := d.neighbours()
	dot := " " + d.g.dot + " "
	left := behind
	if behind != "" {
		left += dot
	}
	if c, ok := d.row(left, place, dot+before, mark); ok {
		return []canvas{c}
	}
	first := newCanvas(d.o.Width)
	place = d.fit(place, d.o.Width)
	w := cells.Width(place)
	first.put(min(max(0, d.column-w/2), d.o.Width-w), place, mark)
	if behind == "" {
		return []canvas{first, d.note(before)}
	}
	if c, ok := d.row(behind, dot, before, plain); ok {
		return []canvas{first, c}
	}
	return []canvas{first, d.note(behind), d.note(before)}
}

// row puts three pieces on a line, the one in the middle as close under the
// mark as there is room.
func (d *drawing) row(left, middle, right string, k kind) (canvas, bool) {
	left, middle, right = d.fit(left, 1<<16), d.fit(middle, 1<<16), d.fit(right, 1<<16)
	w, m, r := cells.Width(left), cells.Width(middle), cells.Width(right)
	if w+m+r > d.o.Width {
		return nil, false
	}
	c := newCanvas(d.o.Width)
	at := min(max(0, d.column-m/2-w), d.o.Width-w-m-r)
	at = c.put(at, left, plain)
	at = c.put(at, middle, k)
	c.put(at, right, plain)
	return c, true
}
