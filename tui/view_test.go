package tui_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/press"
)

// onSample opens the interface on a collection.
func onSample(tb testing.TB, room string, c *model.Collection) *player {
	tb.Helper()
	s, err := storage.Open("", storage.Options{InMemory: true})
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = s.Close() })
	if _, err := s.Fill(context.Background(), c, "the sample"); err != nil {
		tb.Fatal(err)
	}
	return playOn(tb, room, s)
}

func demo(tb testing.TB, room string) *player {
	tb.Helper()
	c, err := sample.Demo().Collection()
	if err != nil {
		tb.Fatal(err)
	}
	return onSample(tb, room, c)
}

// scenes are moments of work, by the keys that lead to them.
var scenes = []struct {
	name, room string
	keys       []string
}{
	{"intake_first", intake.ID, nil},
	{"intake_owned", intake.ID, []string{"shift+tab", "'harrow", "enter", "'6123"}},
	{"intake_choosing", intake.ID, []string{"shift+tab", "'h"}},
	{"find_out", find.ID, nil},
	{"find_slot", find.ID, []string{"'dress", "down", "down"}},
	{"find_nothing", find.ID, []string{"'qqqqqqq"}},
	{"print_labels", press.ID, nil},
	{"print_cards", press.ID, []string{"down", "'n", "right", "'v"}},
	{"print_text", press.ID, []string{"down", "'f"}},
	{"print_file", press.ID, []string{"enter"}},
	{"find_lending", find.ID, []string{"'wrap dress", "ctrl+l", "'nei"}},
}

func TestGoldenScreens(t *testing.T) {
	for _, s := range scenes {
		p := demo(t, s.room)
		p.keys(s.keys...)
		for _, size := range [][2]int{{80, 24}, {120, 40}, {40, 12}} {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	var b strings.Builder
	for _, l := range strings.Split(got, "\n") {
		b.WriteString(strings.TrimRight(l, " ") + "\n")
	}
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("%s differs; look at it and, if it is right, run: go test ./tui -update\ngot:\n%s", path, b.String())
	}
}

// No line is wider and no view taller than the terminal, at any size.
func TestEveryScreenFitsEverySize(t *testing.T) {
	for _, s := range scenes {
		p := demo(t, s.room)
		p.keys(s.keys...)
		p.fitsEverySize(s.name)
	}
}

// stride is how far apart sizes are that are tried: with -short, as for the race
// detector, which finds nothing in drawing, few will do.
func stride() int {
	if testing.Short() {
		return 5
	}
	return 1
}

// fitsEverySize tries what is on the screen at sizes from nothing up.
func (p *player) fitsEverySize(what string) {
	p.Helper()
	for w := 0; w <= 130; w += 3 * stride() {
		for h := 0; h <= 44; h += 2 * stride() {
			p.size(w, h)
			lines := strings.Split(p.root.View(), "\n")
			if len(lines) > max(1, h) {
				p.Fatalf("%s at %dx%d: %d lines", what, w, h, len(lines))
			}
			for _, l := range lines {
				if cells.Width(l) > w {
					p.Fatalf("%s at %dx%d: a line of %d cells: %q", what, w, h, cells.Width(l), l)
				}
			}
		}
	}
}
