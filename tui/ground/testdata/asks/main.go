// The same program without ground: the proof that the test sees the question.
package main

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
)

func main() {
	fmt.Printf("first words: %v %v\n", tea.QuitMsg{}, lipgloss.HasDarkBackground())
}
