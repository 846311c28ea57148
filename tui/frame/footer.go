package frame

import (
	"strings"

	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/bubbles/key"
)

// tallFrom is the height from which the footer has two lines: one for the room,
// one for what works everywhere.
const tallFrom = 20

func (r *Root) tall() bool { return r.h >= tallFrom && r.w >= minW }

// footerLines show the keys that work now: those of the screen, then the root's,
// and at the right the one for the help, which is never left out. What does not
// fit is left out whole, the less useful first. Before them stands what is being
// done, where it takes long.
func (r *Root) footerLines() []string {
	here, everywhere := r.footerKeys()
	said := ""
	if j, _, ok := r.long(); ok && !r.help.open {
		said = cells.Cut(r.jobText(j), r.w*2/3)
	}
	help := r.keys.keys
	if !r.tall() {
		return []string{r.footerLine(said, append(here, everywhere...), help)}
	}
	return []string{r.footerLine(said, here, key.Binding{}), r.footerLine("", everywhere, help)}
}

// footerLine is one line of keys behind what there is to say, with one key at
// the right, if it has a name.
func (r *Root) footerLine(said string, keys []key.Binding, last key.Binding) string {
	const gap = 3
	room, end := r.w, ""
	if last.Help().Key != "" {
		if room -= entryWidth(last); room < 0 {
			return ""
		}
		end = r.entry(last)
		room -= gap
	}
	line, used := "", 0
	add := func(text string, w int) bool {
		if used > 0 {
			text, w = strings.Repeat(" ", gap)+text, w+gap
		}
		if used+w > room {
			return false
		}
		line, used = line+text, used+w
		return true
	}
	if said != "" {
		add(r.theme.Strong.Render(said), cells.Width(said))
	}
	for _, k := range keys {
		if !add(r.entry(k), entryWidth(k)) {
			break
		}
	}
	if end == "" {
		return line
	}
	return line + strings.Repeat(" ", r.w-used-entryWidth(last)) + end
}

// footerKeys are the keys of the footer but the one for the help, the most
// useful first: those of the room, and those that work everywhere.
func (r *Root) footerKeys() (here, everywhere []key.Binding) {
	if r.help.open {
		here = append(here, helpClose)
		if len(r.helpLines()) > r.bodyH {
			here = append(here, helpScroll)
		}
		return here, []key.Binding{r.keys.quit}
	}
	switch _, stoppable, _ := r.long(); {
	case r.notice.complaining():
		here = append(here, r.keys.putAway)
	case stoppable:
		here = append(here, r.keys.stop)
	case r.leaves():
		everywhere = append(everywhere, r.backKey())
	}
	for _, k := range r.room().Screen.ShortHelp() {
		if k.Enabled() && k.Help().Key != "" && !r.claimed(k) {
			here = append(here, k)
		}
	}
	undo := r.undoKey(max(16, r.w/2-13))
	if !r.tall() {
		undo.SetHelp(r.keys.undo.Help().Key, r.keys.undo.Help().Desc)
	}
	if undo.Enabled() {
		everywhere = append(everywhere, undo)
	}
	for i, k := range r.keys.rooms {
		if i != r.at && k.Enabled() {
			everywhere = append(everywhere, k)
		}
	}
	return here, append(everywhere, r.keys.quit)
}

// backKey is esc where it leaves the room.
func (r *Root) backKey() key.Binding {
	b := r.keys.back
	b.SetHelp(b.Help().Key, "back to "+r.rooms[r.path[len(r.path)-1]].Title)
	return b
}

func entryWidth(k key.Binding) int {
	return cells.Width(cells.Plain(k.Help().Key)) + 1 + cells.Width(cells.Plain(k.Help().Desc))
}

func (r *Root) entry(k key.Binding) string {
	return r.theme.KeyName.Render(cells.Plain(k.Help().Key)) + " " + r.theme.Quiet.Render(cells.Plain(k.Help().Desc))
}
