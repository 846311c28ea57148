package frame

import (
	"strings"

	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/bubbles/key"
)

// footerLine shows the keys that work now: those of the screen, then the
// root's, and at the right the one for the help, which is never left out. What
// does not fit is left out whole, the less useful first.
func (r *Root) footerLine() string {
	const gap = 3
	last := r.keys.keys
	room := r.w - entryWidth(last)
	if room < 0 {
		return ""
	}
	var b strings.Builder
	used := 0
	for _, k := range r.footerKeys() {
		need := entryWidth(k) + gap
		if used+need > room {
			break
		}
		b.WriteString(r.entry(k) + strings.Repeat(" ", gap))
		used += need
	}
	return b.String() + strings.Repeat(" ", room-used) + r.entry(last)
}

// footerKeys are the keys of the footer but the one for the help, the most
// useful first.
func (r *Root) footerKeys() []key.Binding {
	var keys []key.Binding
	if r.help.open {
		keys = append(keys, helpClose)
		if len(r.helpLines()) > r.bodyH {
			keys = append(keys, helpScroll)
		}
		return append(keys, r.keys.quit)
	}
	if r.notice.complaining() {
		keys = append(keys, r.keys.putAway)
	}
	for _, k := range r.room().Screen.ShortHelp() {
		if k.Enabled() && k.Help().Key != "" && !r.claimed(k) {
			keys = append(keys, k)
		}
	}
	for i, k := range r.keys.rooms {
		if i != r.at && k.Enabled() {
			keys = append(keys, k)
		}
	}
	return append(keys, r.keys.undo, r.keys.quit)
}

func entryWidth(k key.Binding) int {
	return cells.Width(cells.Plain(k.Help().Key)) + 1 + cells.Width(cells.Plain(k.Help().Desc))
}

func (r *Root) entry(k key.Binding) string {
	return r.theme.KeyName.Render(cells.Plain(k.Help().Key)) + " " + r.theme.Quiet.Render(cells.Plain(k.Help().Desc))
}
