// Package ground settles whether the terminal's background is dark, without
// asking the terminal.
//
// Bubble Tea asks when its package is initialised: on a terminal that does not
// answer the program stands blank for five seconds and swallows what is typed,
// and a late answer is read as typed text. The usual way in is a blank import,
// or [Dark] where a renderer of one's own is made:
//
//	import "example.org/tuckrow/tui/ground"
//
// Promised: a program that has this package in it writes nothing to the
// terminal before its main function does. That holds because Go initialises
// packages that are ready in the order of their import paths, example.org
// comes before github.com, and this package needs nothing that Bubble Tea does
// not need too. So it must import lipgloss and the standard library only.
package ground

import (
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// Variable is the environment variable by which the user says "light" or
// "dark".
const Variable = "TUCKROW_BACKGROUND"

var dark = decide(os.Getenv)

func init() { lipgloss.SetHasDarkBackground(dark) }

// Dark tells whether the background is taken to be dark.
func Dark() bool { return dark }

// decide takes the user's word, else what some terminals leave in COLORFGBG,
// else dark, which is what most terminals are.
func decide(getenv func(string) string) bool {
	switch strings.ToLower(strings.TrimSpace(getenv(Variable))) {
	case "light":
		return false
	case "dark":
		return true
	}
	fields := strings.Split(getenv("COLORFGBG"), ";")
	if len(fields) < 2 {
		return true
	}
	// The last field is the background as one of the 16 colours: the grey at 7
	// and the bright ones from 9 on are light, 8 is the dark grey.
	n, err := strconv.Atoi(fields[len(fields)-1])
	return err != nil || n != 7 && (n < 9 || n > 15)
}
