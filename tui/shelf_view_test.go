package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/shelf"
)

var shelfScenes = []struct {
	name string
	keys []string
}{
	{"cupboard", []string{"down"}},
	{"box", append([]string{"down", "enter"}, times(9, "down")...)},
	{"reading", []string{"down", "'r", "'q110", "enter", "'k120", "enter", "'159", "enter", "'9999", "enter", "'k215", "enter", "'-", "enter", "'harrow 4276", "enter"}},
}

func TestGoldenShelf(t *testing.T) {
	for _, s := range shelfScenes {
		p := demo(t, shelf.ID)
		p.keys(s.keys...)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("shelf_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
	}
	review := demo(t, shelf.ID)
	review.keys(shelfScenes[2].keys...)
	review.press(tea.KeyCtrlS)
	for name, p := range map[string]*player{"review": review, "columns": play(t, shelf.ID, fourBoxes()...)} {
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("shelf_%s_%dx%d.golden", name, size[0], size[1]), p.root.View())
		}
	}
}

// No line is wider and no view taller than the terminal, at any size.
func TestShelfFitsEverySize(t *testing.T) {
	columns := play(t, shelf.ID, fourBoxes()...)
	all := []*player{columns}
	for _, s := range shelfScenes {
		p := demo(t, shelf.ID)
		p.keys(s.keys...)
		all = append(all, p)
	}
	review := demo(t, shelf.ID)
	review.keys("'r", "'-", "enter")
	review.press(tea.KeyCtrlS)
	for _, p := range append(all, review) {
		p.fitsEverySize("shelf")
	}
}

// In a large cupboard all is worked out aside; it comes all the same.
func TestShelfInALargeCupboard(t *testing.T) {
	p := onSample(t, shelf.ID, sample.Cupboard(5000))
	c := p.listed()
	p.mustShow(counts(len(c.Shelf().Boxes), "boxes"), "mm free")
	p.keys("down", "enter")
	row := c.Row(c.Shelf().Boxes[1].ID)
	p.mustShow(counts(len(row), ""), "mm from the front")
	p.keys("'r")
	for _, a := range row[:5] {
		p.keys(fmt.Sprintf("'#%d", a), "enter")
	}
	p.mustShow("5 in place")
	p.keys("backspace", "backspace", fmt.Sprintf("'#%d", row[4]), "enter")
	p.mustShow("4 in place", "skipped, maybe missing")
	p.press(tea.KeyCtrlS)
	p.keys("down", "enter") // the rest is missing
	if got := p.listed().Row(c.Shelf().Boxes[1].ID); !slices.Equal(got, append(slices.Clone(row[:3]), row[4])) {
		t.Errorf("recorded is %v of %v", got, row)
	}
}

func counts(n int, what string) string { return strings.TrimSpace(fmt.Sprintf("%d %s", n, what)) }
