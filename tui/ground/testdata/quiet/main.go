// A program with a terminal interface that has ground in it.
package main

import (
	"fmt"

	_ "example.org/tuckrow/tui/ground"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
)

func main() {
	fmt.Printf("first words: %v %v\n", tea.QuitMsg{}, lipgloss.HasDarkBackground())
}
