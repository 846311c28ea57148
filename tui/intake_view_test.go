package tui_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"example.org/tuckrow/tui/intake"
)

// moments of an evening at the drawer, by the keys that lead to them.
var moments = []struct {
	name string
	keys []string
}{
	{"intake_proposed", []string{"'7200", "enter", "'Swagger coat"}},
	{"intake_taken", []string{"'7200", "enter", "'Swagger coat", "ctrl+y"}},
	{"intake_aside", []string{"'7200", "enter", "'Swagger coat", "ctrl+x"}},
	{"intake_earlier", []string{"'7200", "enter", "'Swagger coat", "ctrl+e", "ctrl+e"}},
	{"intake_about", []string{"'7200", "ctrl+a", "'120"}},
	{"intake_steps", []string{"ctrl+t", "down", "space", "down", "down", "'r", "'2"}},
	{"intake_sizes", []string{"shift+tab", "'brind", "enter", "'6083 H5", "enter", "tab", "tab", "'16-24"}},
}

func TestGoldenIntake(t *testing.T) {
	for _, m := range moments {
		p := demo(t, intake.ID)
		p.hit(m.keys...)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("%s_%dx%d.golden", m.name, size[0], size[1]), p.root.View())
		}
	}
}

// No line is wider and no view taller than the terminal, at any size.
func TestIntakeFitsEverySize(t *testing.T) {
	for _, m := range moments {
		p := demo(t, intake.ID)
		p.hit(m.keys...)
		p.fitsEverySize(m.name)
	}
}

// Nothing pushes the fields about while one types: each stays in its line.
func TestTheFieldsStayWhereTheyAre(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {40, 12}} {
		p := demo(t, intake.ID)
		p.size(size[0], size[1])
		where := func() string {
			var at []string
			for i, l := range strings.Split(p.root.View(), "\n") {
				for _, label := range []string{"Publisher", "Number", "Name", "Category"} {
					if strings.HasPrefix(l, "  "+label+" ") || strings.HasPrefix(l, "→ "+label+" ") {
						at = append(at, fmt.Sprint(label, i))
					}
				}
			}
			return strings.Join(at, " ")
		}
		want := where()
		for _, k := range []string{"'6", "'1", "'2", "'3", "enter", "'Swagger coat", "ctrl+y", "ctrl+x", "'70", "enter", "enter", "ctrl+e", "tab", "tab", "tab",
			"'1", "esc", "ctrl+a", "'12", "enter", "shift+tab", "'h", "down", "enter", "ctrl+t", "esc", "ctrl+x"} {
			p.hit(k)
			if k == "ctrl+t" {
				continue // another list
			}
			if got := where(); got != want {
				t.Fatalf("%dx%d, after %q the fields stand %q, before %q:\n%s", size[0], size[1], k, got, want, p.root.View())
			}
		}
	}
}

// Whatever keys come in whatever order, the room goes on, nothing is listed but
// by Enter, and what is typed comes back after closing.
func TestNoKeysBreakIntake(t *testing.T) {
	byChance(t)
	keys := []string{"enter", "enter", "tab", "shift+tab", "up", "down", "esc", "ctrl+o", "ctrl+y", "ctrl+x", "ctrl+e", "ctrl+e", "pgup", "pgdown",
		"ctrl+t", "ctrl+a", "ctrl+z", "ctrl+u", "backspace", "space", "'a", "'r", "'c", "'m", "'b", "'7", "'4107", "'coat", "'1974", "scan", "scan", "close"}
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := play(t, intake.ID, wardrobe(), sleeves(4107, 4222, 4303), drawer("hall drawer", 3))
		var pressed []string
		for range 60 {
			k := keys[r.IntN(len(keys))]
			pressed = append(pressed, k)
			before, typed := p.listed().Copies().Len(), false
			switch k {
			case "scan":
				p.burst(codeOf(4100 + r.IntN(6)))
				typed = true
			case "close":
				view := bodyFields(p.root.View())
				p = p.again()
				if again := bodyFields(p.root.View()); view != "" && again != view {
					t.Fatalf("seed %d, keys %q: after closing the fields were\n%s\nbefore\n%s", seed, pressed, again, view)
				}
			default:
				p.hit(k)
				typed = k == "enter"
			}
			if p.root.View() == "" {
				t.Fatalf("seed %d, keys %q: the room broke", seed, pressed)
			}
			if p.listed().Copies().Len() > before && !typed {
				t.Fatalf("seed %d, keys %q: something was listed without Enter", seed, pressed)
			}
		}
	}
}

// bodyFields is what the fields say, unless an earlier entry, a question or the
// list of steps is in front.
func bodyFields(view string) string {
	if !strings.Contains(view, "Emptying") || strings.Contains(view, "About how many") {
		return ""
	}
	var out []string
	for _, l := range strings.Split(view, "\n") {
		for _, label := range []string{"Publisher", "Number", "Name", "Sizes", "Year", "Cut", "Batch"} {
			if strings.HasPrefix(l, "  "+label+" ") || strings.HasPrefix(l, "→ "+label+" ") {
				out = append(out, strings.Join(strings.Fields(l), " ")) // empty space at the ends of a text does not count
			}
		}
	}
	return strings.Join(out, "\n")
}
