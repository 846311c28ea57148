package frame

import (
	"fmt"
	"slices"
	"strings"

	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// notice is the message line: errors that wait to be read, else a remark.
type notice struct {
	remark     string
	complaints []string
}

func (n *notice) say(text string) { n.remark = strings.TrimSpace(cells.Plain(text)) }

// complain puts an error in front. The same one is not shown twice.
func (n *notice) complain(err error) {
	if err == nil {
		return
	}
	text := strings.TrimSpace(cells.Plain(err.Error()))
	n.complaints = append(slices.DeleteFunc(n.complaints, func(c string) bool { return c == text }), text)
}

func (n *notice) complaining() bool { return len(n.complaints) > 0 }

// putAway takes the error in front away, and the one before it comes forward.
func (n *notice) putAway() { n.complaints = n.complaints[:len(n.complaints)-1] }

// worked takes all errors away, because a write has worked since.
func (n *notice) worked() { n.complaints = nil }

// lines gives the message in at most h lines of at most w cells, no lines if
// there is none. An error says what to do next at its end, so it is wrapped.
func (n *notice) lines(t *theme.Theme, w, h int) []string {
	text, style := n.remark, t.Plain
	if k := len(n.complaints); k > 0 {
		text, style = t.Glyphs.Alert+" "+n.complaints[k-1], t.Bad
		if k > 1 {
			text += fmt.Sprintf(" (and %d more)", k-1)
		}
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
