package frame

import (
	"fmt"

	"example.org/tuckrow/tui/cells"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// overlay is the help, drawn in place of the screen.
type overlay struct {
	open bool
	top  int // the first line shown
}

var (
	helpClose  = key.NewBinding(key.WithKeys("esc", "f1", "ctrl+k", "?"), key.WithHelp("esc", "close"))
	helpScroll = key.NewBinding(key.WithKeys("up", "down"), key.WithHelp("up/down", "scroll"))
)

// onHelpKey takes every key while the help is open, so that nothing happens
// unseen behind it.
func (r *Root) onHelpKey(k tea.KeyMsg) {
	if key.Matches(k, helpClose) {
		r.help = overlay{}
		return
	}
	last := max(0, len(r.helpLines())-r.bodyH)
	page := max(1, r.bodyH-1)
	switch k.String() {
	case "down", "enter":
		r.help.top++
	case "up":
		r.help.top--
	case "pgdown", " ":
		r.help.top += page
	case "pgup":
		r.help.top -= page
	case "home":
		r.help.top = 0
	case "end":
		r.help.top = last
	}
	r.help.top = min(max(0, r.help.top), last)
}

// helpView is the part of the help that fits. The last line says how much more
// there is.
func (r *Root) helpView() []string {
	lines := r.helpLines()
	if len(lines) <= r.bodyH {
		return lines
	}
	top := min(r.help.top, len(lines)-r.bodyH) // the window may have grown
	shown := append([]string(nil), lines[top:top+r.bodyH]...)
	if more := len(lines) - top - r.bodyH; more > 0 && r.bodyH > 1 {
		shown[r.bodyH-1] = r.theme.Quiet.Render(fmt.Sprintf("%s %d more lines", r.theme.Glyphs.Down, more+1))
	}
	return shown
}

// helpLines is the whole help.
func (r *Root) helpLines() []string {
	t := r.theme
	groups := []helpGroup{}
	for i, g := range r.room().Screen.FullHelp() {
		title := ""
		if i == 0 {
			title = r.room().Title
		}
		groups = append(groups, helpGroup{title, g})
	}
	everywhere := append([]key.Binding(nil), r.keys.rooms...)
	if undo := r.undoKey(r.w); undo.Enabled() {
		everywhere = append(everywhere, undo)
	}
	everywhere = append(everywhere, r.keys.suspend,
		key.NewBinding(key.WithKeys("f1"), key.WithHelp("f1 or ctrl+k", "these keys; ? does it too where no text is typed")),
		key.NewBinding(key.WithKeys("esc"), key.WithHelp("esc", "leave what has the focus: a message, a list, a question; else the room, back to where you came from; nothing typed is lost")),
		key.NewBinding(key.WithKeys("ctrl+q"), key.WithHelp("ctrl+q or ctrl+c", "quit; what is being saved is finished first")))
	groups = append(groups, helpGroup{"Everywhere", everywhere})

	wide := 0
	for _, g := range groups {
		for _, k := range g.keys {
			wide = max(wide, cells.Width(k.Help().Key))
		}
	}
	wide = min(wide, r.w/2)
	var lines []string
	for _, g := range groups {
		lines = append(lines, r.groupLines(g, wide)...)
	}
	for _, text := range []string{counted, r.deadTerminal()} {
		for _, l := range cells.Wrap(text, r.w) {
			lines = append(lines, t.Quiet.Render(l))
		}
	}
	return lines
}

// counted says what the first line counts.
const counted = "The first line counts copies by what is next for each: its sleeve into a binder, the envelope, the group, the box or hook. Done is what stands or hangs in its place and has its sleeve dealt with too."

type helpGroup struct {
	title string
	keys  []key.Binding
}

// groupLines is one group with its title and an empty line behind it.
func (r *Root) groupLines(g helpGroup, wide int) []string {
	var lines []string
	if g.title != "" {
		lines = append(lines, r.theme.Heading.Render(cells.Cut(g.title, r.w)))
	}
	for _, k := range g.keys {
		if !k.Enabled() || k.Help().Key == "" {
			continue
		}
		name := r.theme.KeyName.Render(cells.Fit(k.Help().Key, wide))
		for i, does := range cells.Wrap(k.Help().Desc, max(1, r.w-wide-4)) {
			if i > 0 {
				name = cells.Fit("", wide)
			}
			lines = append(lines, "  "+name+"  "+does)
		}
	}
	return append(lines, "")
}

// deadTerminal helps where a terminal began a paste and never ended it: all
// keys are taken for pasted text then, ctrl+c too.
func (r *Root) deadTerminal() string {
	how := "close it with TERM"
	if r.pid > 0 {
		how = fmt.Sprintf("close it from another one with: kill -TERM %d", r.pid)
	}
	return "If the terminal seems dead after a broken paste, " + how + ". Nothing confirmed is lost."
}
