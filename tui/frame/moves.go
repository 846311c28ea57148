package frame

import tea "github.com/charmbracelet/bubbletea"

// Step is how far a key moves in a list of n lines, of which page are a page: the
// same in every room.
func Step(msg tea.KeyMsg, page, n int) int {
	switch msg.String() {
	case "up":
		return -1
	case "down":
		return +1
	case "pgup":
		return -max(1, page)
	case "pgdown":
		return +max(1, page)
	case "home":
		return -n
	case "end":
		return +n
	}
	return 0
}
