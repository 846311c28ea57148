package frame

import (
	"fmt"
	"strings"

	"example.org/tuckrow/tui/cells"
	tea "github.com/charmbracelet/bubbletea"
)

// The least that the frame can be drawn in.
const (
	minW = 40
	minH = 10
	// mostNotice is how many lines a message may take from the body.
	mostNotice = 3
)

func (r *Root) onSize(msg tea.WindowSizeMsg) {
	r.w, r.h = max(0, msg.Width), max(0, msg.Height)
}

func (r *Root) tooSmall() bool { return r.w < minW || r.h < minH }

func (r *Root) noticeLines() []string {
	if r.tooSmall() {
		return nil
	}
	return r.notice.lines(r.theme, r.w, mostNotice)
}

// layOut tells the screens their size, if it has changed: with the window, or
// because a message came or went.
func (r *Root) layOut() {
	footer := 1
	if r.tall() {
		footer = 2
	}
	bodyH := max(0, r.h-1-footer-len(r.noticeLines()))
	if r.w == r.bodyW && bodyH == r.bodyH {
		return
	}
	r.bodyW, r.bodyH = r.w, bodyH
	for _, room := range r.rooms {
		room.Screen.SetSize(r.bodyW, r.bodyH)
	}
}

// View implements tea.Model. The first call comes before any size is known.
func (r *Root) View() (view string) {
	if r.w <= 0 || r.h <= 0 || r.broke != nil {
		return ""
	}
	defer r.catch(func() { r.wake() })
	var lines []string
	if r.tooSmall() {
		lines = cells.Wrap(fmt.Sprintf("tuckrow needs %dx%d, this is %dx%d", minW, minH, r.w, r.h), r.w)
	} else {
		lines = append(lines, r.headerLine())
		lines = append(lines, r.bodyLines()...)
		lines = append(lines, r.noticeLines()...)
		lines = append(lines, r.footerLines()...)
	}
	view = cells.Clamp(strings.Join(lines, "\n"), r.w, r.h)
	if r.theme.Glyphs.ASCII {
		view = cells.ASCII(view)
	}
	return view
}

// bodyLines are exactly as many as the body has.
func (r *Root) bodyLines() []string {
	var lines []string
	if r.help.open {
		lines = r.helpView()
	} else if view := r.room().Screen.View(); view != "" {
		lines = strings.Split(view, "\n")
	}
	body := make([]string, r.bodyH)
	copy(body, lines)
	return body
}
