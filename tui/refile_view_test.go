package tui_test

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/theme"
)

func times(n int, key string) []string { return slices.Repeat([]string{key}, n) }

// refileScenes are moments of the walk on the demo, by the keys that lead to
// them.
var refileScenes = []struct {
	name string
	keys []string
}{
	{"overview", nil},
	{"pull", []string{"enter", "enter", "'n", "'s"}},
	{"sort", append([]string{"enter"}, times(14, "enter")...)},
	{"put", append([]string{"enter", "tab", "enter"}, times(5, "enter")...)},
	{"end", slices.Concat([]string{"enter", "'s", "'n"}, times(12, "enter"), []string{"'s", "enter"}, times(76, "enter"))},
}

func TestGoldenRefile(t *testing.T) {
	for _, s := range refileScenes {
		p := demo(t, refile.ID)
		p.keys(s.keys...)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("refile_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
	}
}

// No line is wider and no view taller than the terminal, at any size.
func TestRefileFitsEverySize(t *testing.T) {
	for _, s := range refileScenes {
		p := demo(t, refile.ID)
		p.keys(s.keys...)
		p.fitsEverySize(s.name)
	}
}

// In a large cupboard the picture is worked out aside; it comes all the same,
// and each tick is seen in it.
func TestRefileInALargeCupboard(t *testing.T) {
	p := onSample(t, refile.ID, sample.Cupboard(5000))
	p.keys("enter", "tab", "tab")
	for range 5 {
		p.keys("enter")
		p.mustShow("mm from the front", "·keep free·")
		view := strings.Split(p.root.View(), "\n")
		i := slices.IndexFunc(view, func(l string) bool { return strings.HasPrefix(l, "   Box ") })
		j := slices.IndexFunc(view, func(l string) bool { return strings.HasPrefix(l, "box ") })
		if i < 0 || j < 0 {
			t.Fatalf("no box is named\n%s", p.root.View())
		}
		name := strings.Fields(view[i])[1]
		b, err := p.listed().Shelf().BoxNamed(name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(view[j], "box "+name+" ") || !strings.Contains(view[j], fmt.Sprintf(" %d envelopes ", len(p.listed().Row(b.ID)))) {
			t.Errorf("%d stand in box %s, the picture says %q", len(p.listed().Row(b.ID)), name, view[j])
		}
	}
}

// Where the terminal has ASCII only, the large letters are drawn with what it
// has; and text of two cells a sign, or of several signs a cell, keeps columns
// straight.
func TestRefileInOtherLetters(t *testing.T) {
	p := play(t, refile.ID, afterABatch()...)
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	th.Glyphs = theme.ASCIIGlyphs
	p.open(refile.ID, th)
	p.keys("enter")
	p.mustShow("######  ######  ######", "500 Cape - Quillon")
	for _, r := range p.root.View() {
		if r > '~' || r == '?' {
			t.Fatalf("%q is on the screen of a terminal that has ASCII only\n%s", r, p.root.View())
		}
	}

	changes := []model.Change{twoBoxes()}
	for _, n := range []string{"１２３ 夏", "e\u0301 7", "900", "🇩🇪 4"} {
		changes = append(changes, add("Quillon", n, "夏のドレス, ein sehr langer Name mit Größe "+n, "", 0))
	}
	p = play(t, refile.ID, append(changes, &model.Stand{Rows: []model.NamedRow{{Box: "7", Copies: []model.Accession{4, 3, 2}}}})...)
	p.keys("enter")
	for range 8 {
		for w := 40; w <= 130; w += 9 {
			for _, h := range []int{12, 24, 40} {
				p.size(w, h)
				for _, l := range strings.Split(p.root.View(), "\n") {
					if cells.Width(l) > w {
						t.Fatalf("at %dx%d a line of %d cells: %q", w, h, cells.Width(l), l)
					}
				}
			}
		}
		p.keys("enter")
	}
}
