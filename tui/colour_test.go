package tui_test

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/muesli/termenv"

	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/buying"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/intake"
	"example.org/tuckrow/tui/press"
	"example.org/tuckrow/tui/refile"
	"example.org/tuckrow/tui/sewing"
	"example.org/tuckrow/tui/shelf"
	"example.org/tuckrow/tui/split"
	"example.org/tuckrow/tui/stocktake"
	"example.org/tuckrow/tui/theme"
)

// A guise is what a terminal can show.
type guise struct {
	name    string
	profile termenv.Profile
	dark    bool
}

var guises = []guise{
	{"true colour, dark", termenv.TrueColor, true}, {"true colour, light", termenv.TrueColor, false},
	{"256 colours, dark", termenv.ANSI256, true}, {"256 colours, light", termenv.ANSI256, false},
	{"16 colours, dark", termenv.ANSI, true}, {"16 colours, light", termenv.ANSI, false},
	noColour,
}

// noColour is a terminal that could show all colours, whose user wants none.
var noColour = guise{"NO_COLOR", termenv.Ascii, true}

func (g guise) theme() *theme.Theme {
	env := map[string]string{"TERM": "xterm-256color", "COLORTERM": "truecolor", "CLICOLOR_FORCE": "1"}
	if g == noColour {
		env["NO_COLOR"] = "1"
	}
	r := theme.Renderer(io.Discard, func(k string) string { return env[k] }, g.dark)
	if g != noColour {
		r.SetColorProfile(g.profile)
	}
	return theme.New(r)
}

// in gives the screen as it is in a guise. All screens hold the one theme; what
// they keep drawn, they draw anew at another size.
func (p *player) in(g guise, w, h int) string {
	*p.theme = *g.theme()
	p.size(w+1, h+1)
	_ = p.root.View()
	p.size(w, h)
	return p.root.View()
}

// colourScenes are the main states of each room, and what can be in front of
// any.
var colourScenes = []struct {
	name, room string
	keys       []string
}{
	{"intake", intake.ID, []string{"shift+tab", "'harrow", "enter", "'6123"}},
	{"intake_choosing", intake.ID, []string{"shift+tab", "'h"}},
	{"intake_steps", intake.ID, []string{"ctrl+t", "down", "space", "down", "down", "'r", "'2"}},
	{"find", find.ID, []string{"'dress", "down", "down"}},
	{"find_out", find.ID, nil},
	{"same", find.ID, []string{"'6118", "ctrl+y", "down"}},
	{"same_picking", find.ID, []string{"'4173", "ctrl+y", "enter"}},
	{"same_joining", find.ID, []string{"'6123", "ctrl+y", "enter", "'4173", "down", "enter", "space"}},
	{"refile", refile.ID, nil},
	{"refile_pull", refile.ID, []string{"enter", "enter", "'n", "'s"}},
	{"refile_put", refile.ID, []string{"enter", "tab", "enter", "enter", "enter"}},
	{"split", split.ID, nil},
	{"split_whatif", split.ID, []string{"'g", "'w", "'12", "enter", "down", "down", "'k", "'l", "'500", "enter", "'b"}},
	{"split_answers", split.ID, []string{"'a", "down"}},
	{"shelf", shelf.ID, []string{"down"}},
	{"shelf_box", shelf.ID, []string{"enter", "down"}},
	{"shelf_reading", shelf.ID, []string{"down", "'r", "'q110", "enter", "'k120", "enter", "'9999", "enter", "'harrow 4276", "enter"}},
	{"shelf_form", shelf.ID, []string{"'e", "enter", "tab"}},
	{"print", press.ID, []string{"down"}},
	{"print_file", press.ID, []string{"enter"}},
	{"binders", binders.ID, []string{"'ss", "down"}},
	{"binders_sleeve", binders.ID, []string{"tab", "tab", "tab", "tab", "tab", "space"}},
	{"binders_chosen", binders.ID, []string{"'c", "'wrap", "enter", "down"}},
	{"binders_form", binders.ID, []string{"'c", "'wrap", "tab", "'dr"}},
	{"buying", buying.ID, []string{"down", "down"}},
	{"buying_owned", buying.ID, []string{"'harrow 6123"}},
	{"buying_form", buying.ID, []string{"'quill 555", "enter"}},
	{"buying_spare", buying.ID, []string{"tab", "down"}},
	{"sewing", sewing.ID, []string{"down", "down", "down"}},
	{"sewing_made", sewing.ID, []string{"tab", "down"}},
	{"sewing_shares", sewing.ID, []string{"tab", "tab", "end"}},
	{"sewing_closet", sewing.ID, []string{"shift+tab"}},
	{"sewing_form", sewing.ID, []string{"'m", "shift+tab", "ctrl+u", "'a"}},
	{"collection", collection.ID, []string{"down"}},
	{"collection_batches", collection.ID, []string{"tab", "tab", "end"}},
	{"collection_checklist", collection.ID, []string{"tab", "tab", "end", "space"}},
	{"collection_packing", collection.ID, []string{"tab", "tab", "tab", "tab"}},
	{"collection_hooks", collection.ID, []string{"shift+tab", "shift+tab", "down"}},
	{"collection_room", collection.ID, []string{"shift+tab"}},
	{"collection_form", collection.ID, []string{"tab", "'n", "'ha"}},
	{"stocktake", stocktake.ID, []string{"down"}},
	{"stocktake_counting", stocktake.ID, []string{"down", "enter", "space", "tab", "'9999", "enter", "'harrow 4276", "enter"}},
	{"stocktake_differs", stocktake.ID, []string{"enter", "space", "'Q110", "enter", "ctrl+e", "enter", "tab", "end"}},
	{"error", find.ID, []string{"ctrl+l", "enter"}},
	{"help", split.ID, []string{"f1"}},
}

// threeSizes are the usual one, a large one and the least.
var threeSizes = [][2]int{{80, 24}, {120, 40}, {40, 12}}

// A golden file holds a scene in every guise at the usual size, and in the first
// one at the others; that the others differ from it in colours only is tested
// below.
func TestGoldenColours(t *testing.T) {
	for _, s := range colourScenes {
		p := demo(t, s.room)
		p.keys(s.keys...)
		var b strings.Builder
		for i, g := range guises {
			for k, size := range threeSizes {
				if i == 0 || k == 0 {
					fmt.Fprintf(&b, "-- %s, %dx%d\n%s\n", g.name, size[0], size[1], p.in(g, size[0], size[1]))
				}
			}
		}
		fmt.Fprintf(&b, "-- %s, too small\n%s\n", guises[0].name, p.in(guises[0], 39, 9))
		goldenPart(t, filepath.Join("colours", s.name), strings.ReplaceAll(b.String(), "\x1b", `\e`))
	}
}

// goldenPart is golden for several screens in a file, and tells the first line
// that differs.
func goldenPart(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".golden")
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	now, was := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range min(len(now), len(was)) {
		if now[i] != was[i] {
			t.Errorf("%s differs at line %d; look at it and, if it is right, run: go test ./tui -update\ngot  %s\nwant %s", path, i+1, now[i], was[i])
			return
		}
	}
	t.Errorf("%s is %d lines, was %d", path, len(now), len(was))
}

var sequences = regexp.MustCompile("\x1b\\[([0-9;]*)m")

// Colours are all that a terminal with colours gets besides the text: the text
// is the same, none is wider or taller for it, and no colour goes on behind the
// end of its line. They are put in the same places whatever they are.
func TestNothingIsToldByColourAlone(t *testing.T) {
	for _, s := range colourScenes {
		p := demo(t, s.room)
		p.keys(s.keys...)
		p.coloursAddNothing(t, s.name)
	}
}

// coloursAddNothing tries what is on the screen in every guise.
func (p *player) coloursAddNothing(t *testing.T, what string) {
	t.Helper()
	for _, size := range append(threeSizes, [2]int{131, 50}, [2]int{64, 16}, [2]int{41, 10}, [2]int{39, 9}, [2]int{1, 1}) {
		plain := p.in(noColour, size[0], size[1])
		if strings.Contains(plain, "\x1b") {
			t.Fatalf("%s at %v: an escape sequence in spite of NO_COLOR:\n%q", what, size, plain)
		}
		var places string
		for _, g := range guises[:len(guises)-1] {
			view := p.in(g, size[0], size[1])
			if ansi.Strip(view) != plain {
				t.Fatalf("%s at %v with %s says\n%s\nwithout colours\n%s", what, size, g.name, ansi.Strip(view), plain)
			}
			mustFit(t, fmt.Sprintf("%s at %v with %s", what, size, g.name), view, size[0], size[1])
			now := sequences.ReplaceAllString(view, "\x1b")
			if places != "" && now != places {
				t.Fatalf("%s at %v: with %s other text is coloured than with %s", what, size, g.name, guises[0].name)
			}
			places = now
		}
	}
}

// mustFit checks a coloured view against its size, line by line.
func mustFit(t *testing.T, what, view string, w, h int) {
	t.Helper()
	lines := strings.Split(view, "\n")
	if len(lines) > max(1, h) {
		t.Fatalf("%s: %d lines", what, len(lines))
	}
	for _, l := range lines {
		if cells.Width(l) > w {
			t.Fatalf("%s: a line of %d cells: %q", what, cells.Width(l), l)
		}
		all := sequences.FindAllStringSubmatch(l, -1)
		if n := len(all); n > 0 && all[n-1][1] != "" && all[n-1][1] != "0" {
			t.Fatalf("%s: a colour goes on behind the end of %q", what, l)
		}
		if left := sequences.ReplaceAllString(l, ""); strings.Contains(left, "\x1b") {
			t.Fatalf("%s: what is no colour in %q", what, l)
		}
	}
}

// What the keys go to is seen without colours: where one thing is chosen among
// several, or a letter goes to one of several places, the text says which.
func TestWhatIsChosenIsSeenWithoutColours(t *testing.T) {
	for _, s := range []struct {
		room string
		lead []string
		key  string
	}{
		{intake.ID, nil, "tab"},
		{intake.ID, []string{"'61"}, "left"},
		{intake.ID, []string{"shift+tab", "'h"}, "down"},
		{intake.ID, []string{"ctrl+t"}, "down"},
		{intake.ID, []string{"ctrl+t"}, "space"},
		{intake.ID, []string{"ctrl+t"}, "tab"},
		{intake.ID, []string{"ctrl+e"}, "ctrl+e"},
		{intake.ID, []string{"ctrl+a", "'12"}, "left"},
		{find.ID, []string{"'dress"}, "down"},
		{find.ID, []string{"'dress"}, "left"},
		{find.ID, []string{"'dress", "ctrl+l", "'an"}, "left"},
		{find.ID, []string{"'6118", "ctrl+y"}, "down"},
		{find.ID, []string{"'4173", "ctrl+y", "enter", "'dress"}, "down"},
		{find.ID, []string{"'4173", "ctrl+y", "enter", "'dress"}, "left"},
		{find.ID, []string{"'4173", "ctrl+y", "enter", "enter"}, "down"},
		{find.ID, []string{"'4173", "ctrl+y", "enter", "enter"}, "space"},
		{find.ID, []string{"'4173", "ctrl+y", "enter", "enter"}, "'x"},
		{refile.ID, []string{"enter"}, "down"},
		{refile.ID, []string{"enter", "tab", "enter"}, "down"},
		{split.ID, nil, "down"},
		{split.ID, []string{"'a"}, "down"},
		{split.ID, []string{"'l", "'50"}, "left"},
		{press.ID, nil, "down"},
		{press.ID, []string{"enter"}, "left"},
		{shelf.ID, nil, "down"},
		{shelf.ID, []string{"enter"}, "down"},
		{shelf.ID, []string{"'r", "'61"}, "left"},
		{shelf.ID, []string{"'e"}, "down"},
		{shelf.ID, []string{"'e", "enter"}, "down"},
		{shelf.ID, []string{"'e", "enter", "tab"}, "left"},
		{sewing.ID, nil, "down"},
		{sewing.ID, nil, "tab"},
		{sewing.ID, []string{"tab"}, "down"},
		{sewing.ID, []string{"shift+tab"}, "down"},
		{sewing.ID, []string{"'m", "shift+tab", "ctrl+u", "'a"}, "left"},
		{collection.ID, nil, "down"},
		{collection.ID, nil, "tab"},
		{collection.ID, []string{"tab", "tab"}, "down"},
		{collection.ID, []string{"tab", "tab", "end"}, "space"},
		{collection.ID, []string{"shift+tab"}, "down"},
		{collection.ID, []string{"enter", "'5"}, "left"},
		{stocktake.ID, nil, "down"},
		{stocktake.ID, []string{"enter"}, "space"},
		{stocktake.ID, []string{"enter", "'61"}, "left"},
		{stocktake.ID, []string{"enter", "ctrl+e", "enter", "tab"}, "down"},
		{binders.ID, nil, "down"},
		{buying.ID, nil, "down"},
		{buying.ID, []string{"'wrap"}, "left"},
		{buying.ID, []string{"enter"}, "down"},
		{buying.ID, []string{"enter", "'har"}, "left"},
		{buying.ID, []string{"tab"}, "down"},
		{binders.ID, nil, "right"},
		{binders.ID, []string{"'c"}, "down"},
		{binders.ID, []string{"'c", "'wrap"}, "left"},
		{binders.ID, []string{"'c", "'wrap", "enter"}, "down"},
	} {
		p := demo(t, s.room)
		p.keys(s.lead...)
		before := make([]string, len(threeSizes))
		for i, size := range threeSizes {
			before[i] = p.in(noColour, size[0], size[1])
		}
		p.keys(s.key)
		for i, size := range threeSizes {
			if p.in(noColour, size[0], size[1]) == before[i] {
				t.Errorf("%s at %v: behind %s nothing says what the key %q has done\n%s", s.room, size, slices.Concat(s.lead), s.key, before[i])
			}
		}
	}
}
