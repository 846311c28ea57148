package frame

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// notice is the message line: what a key would do if pressed again, else errors
// that wait to be read, else a remark. An error of a room is shown in that room.
type notice struct {
	room       string // in front
	remark     string
	again      string
	complaints []complaint
	made       int // complaints ever
}

// complaint is an error that was shown, and what led to it.
type complaint struct {
	text   string
	from   string // the room it is of
	cause  string // what that room was given; empty: a write
	home   string // the room it is shown in; empty: in all
	after  int    // how many keys had been pressed when it came in front
	seen   bool   // its room was left with it in front
	mended bool   // it was put right since
}

func (n *notice) say(text string) { n.remark = strings.TrimSpace(cells.Plain(text)) }

// complain puts an error in front. The same one is not shown twice. What comes of a
// room that was left meanwhile is shown wherever one is: it would not be seen else.
func (n *notice) complain(err error, from, cause string, keys int) {
	if err == nil {
		return
	}
	n.made++
	c := complaint{text: strings.TrimSpace(cells.Plain(err.Error())), from: from, cause: cause, after: keys}
	if from == n.room && cause != "" {
		c.home = from
	}
	n.complaints = append(slices.DeleteFunc(n.complaints, func(old complaint) bool { return old.text == c.text }), c)
}

// front is the error that is shown, -1 where none is.
func (n *notice) front() int {
	for i := len(n.complaints) - 1; i >= 0; i-- {
		if c := &n.complaints[i]; c.home == "" || c.home == n.room {
			return i
		}
	}
	return -1
}

func (n *notice) complaining() bool { return n.front() >= 0 }

// shown counts the errors that are shown in the room in front.
func (n *notice) shown() (k int) {
	for _, c := range n.complaints {
		if c.home == "" || c.home == n.room {
			k++
		}
	}
	return k
}

// enter takes another room to be in front. What comes in front there can be read
// from now on.
func (n *notice) enter(room string, keys int) {
	was := n.front()
	if was >= 0 {
		n.complaints[was].seen = true
	}
	n.room = room
	if i := n.front(); i >= 0 && i != was {
		n.complaints[i].after = keys
	}
}

// putAway takes the error in front away, and the one before it comes forward.
func (n *notice) putAway(keys int) {
	i := n.front()
	n.complaints = slices.Delete(n.complaints, i, i+1)
	if i = n.front(); i >= 0 {
		n.complaints[i].after = keys
	}
}

// mended notes that what led to errors works now, or, with no room named, that a
// write does.
func (n *notice) mended(from, cause string) {
	for i, c := range n.complaints {
		n.complaints[i].mended = c.mended || from == "" || c.from == from && c.cause == cause
	}
}

// settle takes away what was put right and read: shown before a key that a hand
// has pressed, the number of the latest being given. So no error goes before
// anybody can have read it, and none stays that is none any more.
func (n *notice) settle(single, keys int) {
	n.complaints = slices.DeleteFunc(n.complaints, func(c complaint) bool {
		return c.mended && c.seen && c.home != "" && c.home != n.room
	})
	for n.complaining() {
		if c := n.complaints[n.front()]; !c.mended || single <= c.after {
			return
		}
		n.putAway(keys)
	}
}

// lines gives the message in at most h lines of at most w cells, no lines if
// there is none. An error says what to do next at its end, so it is wrapped.
func (n *notice) lines(t *theme.Theme, w, h int) []string {
	text, style := n.remark, t.Plain
	if i := n.front(); i >= 0 {
		text, style = t.Glyphs.Alert+" "+n.complaints[i].text, t.Bad
		if k := n.shown(); k > 1 {
			text += fmt.Sprintf(" (and %d more)", k-1)
		}
	}
	if n.again != "" {
		text, style = n.again, t.Strong
	}
	lines := cells.Wrap(text, w)
	if len(lines) > h {
		lines = append(lines[:h-1], cells.Cut(strings.Join(lines[h-1:], " "), w))
	}
	for i := range lines {
		lines[i] = style.Render(lines[i])
	}
	return lines
}

// burst is how close keys follow each other that no hand has pressed one by
// one: a scanner sends them 1 to 30 ms apart (from memory), and who types fast
// takes some 100 ms.
const burst = 60 * time.Millisecond

// hands tells keys that a hand has pressed one by one from those of a scanner:
// who scans looks at the sleeve, and has read nothing.
type hands struct {
	pressed int // keys, ever
	last    time.Time
	apart   bool // the last one came some time after the one before it
	lone    int  // the number of the latest one that stands alone for sure
}

// press notes a key. Whether it stands alone, the next one says.
func (h *hands) press(now time.Time) {
	h.lone = h.single(now)
	h.apart = now.Sub(h.last) >= burst
	h.pressed, h.last = h.pressed+1, now
}

// single is the number of the latest key that a hand has pressed.
func (h *hands) single(now time.Time) int {
	if h.apart && now.Sub(h.last) >= burst {
		return h.pressed
	}
	return h.lone
}
