package tui_test

import (
	"fmt"
	"io"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/theme"
)

// splitScenes are moments before relabelling, on the demo, by the keys that
// lead to them.
var splitScenes = []struct {
	name string
	keys []string
}{
	{"plan", nil},
	{"whatif", []string{"'g", "'w", "'12", "enter", "down", "down", "'k", "'l", "'500", "enter", "'b"}},
	{"length", []string{"down", "'l", "'60"}},
	{"answers", []string{"'a", "down"}},
	{"confirm", []string{"'l", "'300", "enter", "enter"}},
	{"applied", []string{"'gg", "enter", "enter"}},
}

func TestGoldenSplit(t *testing.T) {
	for _, s := range splitScenes {
		p := demo(t, split.ID)
		p.keys(s.keys...)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("split_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
	}
}

// No line is wider and no view taller than the terminal, at any size.
func TestSplitFitsEverySize(t *testing.T) {
	for _, s := range splitScenes {
		p := demo(t, split.ID)
		p.keys(s.keys...)
		p.fitsEverySize(s.name)
	}
}

// What will be done can be read in full before it is, in a small window too, and
// so can the lists.
func TestSplitCanBeReadInFull(t *testing.T) {
	p := demo(t, split.ID)
	p.keys("'l", "'300", "enter", "enter")
	p.mustShow("ctrl+z twice takes it back: once for the walls,\n once for the shelf")
	p.size(40, 12)
	p.mustShow("box 1 is 300 mm long", "lines more", "enter: apply it")
	p.mustNotShow("as moved before the refiling")
	p.keys(times(20, "down")...)
	p.mustShow("before the refiling", "enter: apply it")
	p.keys("up")
	p.mustNotShow("before the refiling")
	p.keys("enter")
	p.mustShow("Labels and cards to make")
	p.keys("esc", "'p")
	p.mustShow("Labels to print")
	p.send(tea.KeyMsg{Type: tea.KeyEnd})
	p.mustShow("from box 3, b", "lines more")
	p.mustNotShow("Labels to print")
	p.send(tea.KeyMsg{Type: tea.KeyHome})
	p.mustShow("Labels to print")
}

// The keys that move lead through all boxes of a large cupboard, and the chosen
// one is always seen.
func TestSplitMovesAmongManyBoxes(t *testing.T) {
	p := onSample(t, split.ID, sample.Cupboard(5000))
	boxes := p.listed().Shelf().Boxes
	if len(boxes) < 10 {
		t.Fatalf("there are %d boxes, too few to try it on", len(boxes))
	}
	chosen := func() string {
		for _, l := range strings.Split(p.root.View(), "\n") {
			if name, ok := strings.CutPrefix(l, "plan: box "); ok {
				return strings.Fields(name)[0]
			}
		}
		return ""
	}
	for i, x := range []struct {
		key  tea.KeyType
		want int
	}{{tea.KeyUp, 0}, {tea.KeyDown, 1}, {tea.KeyDown, 2}, {tea.KeyUp, 1}, {tea.KeyHome, 0}, {tea.KeyPgDown, 7}, {tea.KeyPgUp, 0}} {
		p.send(tea.KeyMsg{Type: x.key})
		name := boxes[x.want].Name
		if got := chosen(); got != name {
			t.Errorf("after key %d box %q is chosen, want %q\n%s", i, got, name, p.root.View())
		}
		p.mustShow(" box " + name + " ")
	}
	p.send(tea.KeyMsg{Type: tea.KeyEnd})
	last := chosen()
	p.keys("down")
	if got := chosen(); got != last || last == boxes[0].Name {
		t.Errorf("behind the last box, %q, there is %q", last, got)
	}
}

// On a terminal that has ASCII only the bars are drawn with what it has, and
// letters of two cells keep columns straight.
func TestSplitInOtherLetters(t *testing.T) {
	p := play(t, split.ID, afterABatch()...)
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	th.Glyphs = theme.ASCIIGlyphs
	p.open(split.ID, th)
	p.mustShow("[#", "> Quillon 100 to 500")
	for _, r := range p.root.View() {
		if r > '~' || r == '?' {
			t.Fatalf("%q is on the screen of a terminal that has ASCII only\n%s", r, p.root.View())
		}
	}

	changes := []model.Change{twoBoxes()}
	for _, n := range []string{"１２３ 夏", "e\u0301 7", "900", "🇩🇪 4"} {
		changes = append(changes, add("夏のドレス Größe", n, "夏のドレス, ein sehr langer Name mit Größe "+n, "", 0))
	}
	p = play(t, split.ID, append(changes, &model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{4, 3, 2}}}})...)
	for _, keys := range [][]string{nil, {"'p"}, {"esc", "enter"}, {"enter"}} {
		p.keys(keys...)
		for w := 20; w <= 130; w += 3 {
			for _, h := range []int{12, 24, 40} {
				p.size(w, h)
				for _, l := range strings.Split(p.root.View(), "\n") {
					if cells.Width(l) > w {
						t.Fatalf("at %dx%d a line of %d cells: %q", w, h, cells.Width(l), l)
					}
				}
			}
		}
	}
}
