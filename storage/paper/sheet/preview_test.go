package sheet

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"example.org/tuckrow/storage/paper/lettering"
)

func TestAPreviewHasTheSizeAskedFor(t *testing.T) {
	set := lettering.New()
	rapid.Check(t, func(t *rapid.T) {
		s := New(rapid.Float64Range(50, 400).Draw(t, "w"), rapid.Float64Range(50, 400).Draw(t, "h"))
		for range rapid.IntRange(0, 8).Draw(t, "things") {
			r := Rect{rapid.Float64Range(-20, 420).Draw(t, "x"), rapid.Float64Range(-20, 420).Draw(t, "y"), rapid.Float64Range(0, 200).Draw(t, "wide"), rapid.Float64Range(0, 80).Draw(t, "high")}
			b := set.Fit(rapid.SampledFrom(scripts).Draw(t, "text"), lettering.Style{Size: 14, Least: 8}, lettering.Room{W: r.W, H: r.H})
			s.Add(Place{Rect: r})
			s.Set(b, r, Align(rapid.IntRange(0, 2).Draw(t, "align")))
			s.SetDown(b, r, Left)
			s.Codes = append(s.Codes, Code{Rect: r.Inset(5)})
		}
		cols, rows := rapid.IntRange(-1, 90).Draw(t, "cols"), rapid.IntRange(-1, 40).Draw(t, "rows")
		lines := Preview(s, cols, rows)
		most := max(0, rows)
		if cols > 1 && rows > 1 { // a line more for each text and edge at the most
			most += len(s.Texts) + 2*len(s.Places) + 1
		}
		if n := len(lines); n < rows || n > most {
			t.Fatalf("%d lines, want %d to %d", n, rows, most)
		}
		for _, l := range lines {
			if w := ansi.StringWidth(l); w != max(0, cols) {
				t.Fatalf("%q is %d cells wide, want %d", l, w, cols)
			}
		}
	})
}

func TestAPreviewShowsWhatIsThere(t *testing.T) {
	set, s := lettering.New(), New(100, 60)
	s.Add(Place{Rect: Rect{10, 10, 80, 30}})
	s.Set(set.Fit("6123 Wrap dress", lettering.Style{Size: 20, Least: 20}, lettering.Room{W: 75, H: 20}), Rect{15, 15, 75, 20}, Left)
	s.Codes = append(s.Codes, Code{Rect: Rect{70, 30, 15, 6}})
	got := strings.Join(Preview(s, 41, 13), "\n")
	want := `
┌───────────────────────────────────────┐
│                                       │
│   ┌───────────────────────────────┐   │
│   │                               │   │
│   │ 6123 Wrap dress               │   │
│   │                               │   │
│   │                       ▒▒▒▒▒▒  │   │
│   │                               │   │
│   └───────────────────────────────┘   │
│                                       │
│                                       │
│                                       │
└───────────────────────────────────────┘`
	if got != want[1:] {
		t.Errorf("it is\n%s\nwant%s", got, want)
	}
}

// A text that has more letters than its reach has cells goes on while nothing
// else is there.
func TestAPreviewWritesOnIntoFreeCells(t *testing.T) {
	set, s := lettering.New(), New(100, 40)
	small := lettering.Style{Size: 9, Least: 9}
	at := func(text string, x, y float64) {
		s.Set(set.Fit(text, small, lettering.Room{W: 90, H: 10}), Rect{x, y, 90, 10}, Left)
	}
	at("Wrap dress with a tie", 10, 8)
	at("Wrap dress with a tie", 10, 24)
	at("8-14", 50, 24)
	got := strings.Join(Preview(s, 31, 6), "\n")
	want := `
┌─────────────────────────────┐
│  Wrap dress with a tie      │
│                             │
│  Wrap dress… 8-14           │
│                             │
└─────────────────────────────┘`
	if got != want[1:] {
		t.Errorf("it is\n%s\nwant%s", got, want)
	}
}
