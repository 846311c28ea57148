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
// that wait to be read, else a remark.
type notice struct {
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
	after  int    // how many keys had been pressed when it came in front
	mended bool   // it was put right since
}

func (n *notice) say(text string) { n.remark = strings.TrimSpace(cells.Plain(text)) }

// complain puts an error in front. The same one is not shown twice.
func (n *notice) complain(err error, from, cause string, keys int) {
	if err == nil {
		return
	}
	n.made++
	text := strings.TrimSpace(cells.Plain(err.Error()))
	n.complaints = append(slices.DeleteFunc(n.complaints, func(c complaint) bool { return c.text == text }), complaint{text: text, from: from, cause: cause, after: keys})
}

func (n *notice) complaining() bool { return len(n.complaints) > 0 }

// putAway takes the error in front away, and the one before it comes forward.
func (n *notice) putAway(keys int) {
	last := len(n.complaints) - 1
	n.complaints = n.complaints[:last]
	if last > 0 {
		n.complaints[last-1].after = keys
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
	for n.complaining() {
		if c := n.complaints[len(n.complaints)-1]; !c.mended || single <= c.after {
			return
		}
		n.putAway(keys)
	}
}

// lines gives the message in at most h lines of at most w cells, no lines if
// there is none. An error says what to do next at its end, so it is wrapped.
func (n *notice) lines(t *theme.Theme, w, h int) []string {
	text, style := n.remark, t.Plain
	if k := len(n.complaints); k > 0 {
		text, style = t.Glyphs.Alert+" "+n.complaints[k-1].text, t.Bad
		if k > 1 {
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
