package tui_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/frame"
)

var bindersScenes = []struct {
	name string
	keys []string
}{
	{"pockets", nil},
	{"sleeve", []string{"'ss", "'ss", "space"}},
	{"chosen", []string{"'c", "tab", "'dress", "right", "tab", "space", "tab", "tab", "'ad", "right", "enter", "down"}},
	{"form", []string{"'c", "'wrap", "tab", "'dre"}},
	{"nothing", []string{"'c", "'qqqqq", "enter"}},
}

func TestGoldenBinders(t *testing.T) {
	for _, s := range bindersScenes {
		p := demo(t, binders.ID)
		p.wrapDress()
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("binders_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// wrapDress leafs to the sleeve of the wrap dress, by the tabs.
func (p *player) wrapDress() {
	p.Helper()
	for range 40 {
		if p.shows("┃ 6123 Wrap dress") {
			return
		}
		p.keys("down")
	}
	p.Fatalf("the wrap dress is in no pocket:\n%s", p.root.View())
}

// One leafs as the engine lays the sleeves: pocket by pocket, binder by binder.
func TestBindersAreLeafedThroughAsTheyAreLaid(t *testing.T) {
	p := demo(t, binders.ID)
	laid := ordering.Arrange(p.listed()).Binders()
	p.size(120, 40)
	for _, h := range laid {
		p.mustShow("→ "+h.Title(), fmt.Sprintf("%s · %d of %d pockets", h.Title(), h.Used(), h.Binder.Pockets))
		for _, k := range h.Pockets {
			at := fmt.Sprintf(" pocket %d\n", k.N)
			if k.N == 0 {
				at = "see also\n" // a line on the index page
			}
			p.mustShow(at)
			if !strings.Contains(beside(p), k.Pattern.Short()) || !strings.Contains(beside(p), p.listed().Publisher(k.Pattern.Publisher).Name) {
				t.Fatalf("%s, pocket %d does not show %s\n%s", h.Title(), k.N, k.Pattern.Heading(), p.root.View())
			}
			p.keys("down")
		}
		p.keys("right")
	}
	p.keys("left", "home", "pgdown", "pgup", "end")
	p.mustShow(fmt.Sprintf(" pocket %d\n", laid[len(laid)-2].Used()))
}

// A binder that is parted has a tab for each part; a pattern for several garments
// has its pocket in one and an entry in the others that leads there; and each
// pocket says what is in it.
func TestBindersWithSubDividersAndSeeAlso(t *testing.T) {
	p := play(t, binders.ID, &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Binders: []model.BinderSpec{
		{Category: "Coats", Pockets: 10, SubDividers: []string{"Capes", "Jackets"}}, {Category: "Dresses", Pockets: 10, SeeAlso: model.ByPocket}}}},
		&model.Add{Entries: []model.Entry{
			{Publisher: "Quillon", Number: "1", Name: "Hooded cape", Category: "Coats", Also: []string{"Dresses"}, Sleeve: model.SleeveInBinder},
			{Publisher: "Quillon", Number: "2", Name: "Boxy jacket", Category: "Coats", Sleeve: model.SleeveMissing},
			{Publisher: "Quillon", Number: "3", Name: "Tea gown", Category: "Dresses", Also: []string{"Coats"}, Sleeve: model.SleevePhotocopy},
			{Publisher: "Harrow", Number: "4", Name: "Swagger jacket", Category: "Coats"},
		}})
	p.mustShow("▌Capes", "▌Jackets", "3 of 10 pockets")
	p.mustList("1 1 Hooded cape")
	p.mustList("4 Swagger jacket sleeve to come")
	p.mustList("2 Boxy jacket no sleeve")
	p.keys("end")
	p.mustShow("see also\n", "also in   Coats", "sleeve    Dresses, pocket 2")
	p.mustList("3 Tea gown see Dresses, pocket 2")
	p.keys("'p") // which the binder of coats has a pocket for then, though entries are lines there
	p.mustShow(" pocket 4\n", "also in   Coats (photocopy)", "4 of 10 pockets")
	p.mustList("4 3 Tea gown photocopy")
	if got := p.listed().Pattern(3).Copied; len(got) != 1 {
		t.Errorf("photocopies of the tea gown are noted in %v, want in one category", got)
	}
	p.keys("'p")
	p.mustList("3 Tea gown see Dresses, pocket 2")
	p.keys("'s")
	p.mustShow("→ Dresses", " pocket 2\n", "photocopy")
	p.keys("'p") // there it is the sleeve itself, of which nothing is to be noted
	p.mustShow("photocopy")
	p.keys("up")
	p.mustList("1 1 Hooded cape see Coats, pocket 1")
	p.keys("'s")
	p.mustShow("→ Coats", " pocket 1\n")
	p.fitsEverySize("sub-dividers")
}

// beside is what stands right of the pockets.
func beside(p *player) string {
	var out []string
	for line := range strings.SplitSeq(p.root.View(), "\n") {
		if _, right, ok := strings.Cut(line, "┃ "); ok {
			out = append(out, strings.TrimSpace(right))
		}
	}
	return strings.Join(out, " ")
}

// Tabs lead from publisher to publisher and back.
func TestBindersTabs(t *testing.T) {
	p := demo(t, binders.ID)
	p.keys("tab")
	p.mustShow("┃ Brindlecote")
	p.keys("tab", "down", "shift+tab")
	p.mustShow("┃ Harrow & Pell", "pocket 5\n")
	p.keys("up", "shift+tab")
	p.mustShow("┃ Brindlecote", "pocket 2\n")
	p.keys("shift+tab", "shift+tab", "shift+tab")
	p.mustShow("pocket 1\n")
}

// Where the envelope is, is one key away, and esc leads back to the pocket.
func TestASleeveLeadsToItsEnvelope(t *testing.T) {
	for _, k := range []string{"enter", "'f"} {
		p := demo(t, binders.ID)
		p.wrapDress()
		p.keys(k)
		p.mustShow("tuckrow: Find", "Look for  Harrow & Pell 6123", "box 1 (cupboard, top drawer), place 38")
		p.keys("esc")
		p.mustShow("tuckrow: Binders", "┃ 6123 Wrap dress")
		p.keys("space", k)
		p.mustShow("tuckrow: Find", "place 38")
		p.keys("esc")
		p.mustShow("tuckrow: Binders", " 6123 Wrap dress")
		p.keys("'s") // see also, in another binder
		p.mustShow("6118 Wrap skirt")
		p.keys("esc", "'c", "'wrap dress", "enter", k)
		p.mustShow("tuckrow: Find", "place 38")
	}
}

// All that is known of a sleeve stands on one page: measured against what the
// model says.
func TestAWholeSleeve(t *testing.T) {
	p := demo(t, binders.ID)
	p.wrapDress()
	p.keys("space")
	p.size(120, 40)
	p.mustShow("Harrow & Pell", "6123 Wrap dress", "14-20 · 2008", "box 1, place 38 · partly cut · 14-18 left", "Ada: fits, as printed", "which is not left",
		"blue wool", "striped cotton", "2025-10-11 for Ilse · view A · size 18", "next time: line the", "6118 Wrap skirt")
	p.size(40, 12)
	p.mustNotShow("tie, facing")
	p.keys("down", "down", "pgdown", "pgup", "up", "home", "end")
	p.mustShow("facing", "more")
	p.size(80, 24)
	p.keys("right")
	p.mustShow("6647 Bias-cut shirt dress")
	p.keys("left", "esc")
	p.mustShow("6123 Wrap dress", "space whole sleeve")
	p.keys("space", "space")
	p.mustShow("space whole sleeve")
}

// q puts a sleeve in the queue and takes it out, from a pocket, from the whole
// sleeve and from what was chosen.
func TestQueueFromTheBinders(t *testing.T) {
	for _, lead := range [][]string{nil, {"space"}, {"'c", "'wrap dress", "enter"}} {
		p := demo(t, binders.ID)
		p.wrapDress()
		p.keys(lead...)
		before := len(p.listed().Queue())
		p.keys("'q")
		q := p.listed().Queue()
		if len(q) != before+1 && len(lead) < 3 {
			t.Fatalf("behind %v %d are queued, were %d", lead, len(q), before)
		}
		if got := p.listed().Pattern(q[len(q)-1].Pattern).Heading(); got != "6123 Wrap dress" {
			t.Errorf("queued is %s", got)
		}
		if len(lead) == 3 { // what is queued is offered no more
			p.mustShow("nothing at hand is like that")
			continue
		}
		p.size(120, 40)
		p.mustShow("place 3", "q not to sew")
		p.keys("'q")
		if len(p.listed().Queue()) != before {
			t.Errorf("it is still queued")
		}
	}
}

// What is chosen is what the model offers, in its order, however the form is
// filled in; what cannot be understood is said and stays in the form.
func TestChooseFromTheBinders(t *testing.T) {
	p := demo(t, binders.ID)
	p.keys("'c", "tab", "'dress", "right", "tab", "space", "space", "'y", "down", "' u", "tab", "'Ad", "tab", "'bust, waist", "tab", "'striped", "tab", "'14", "enter")
	p.mustShow("Chosen: Dresses, uncut, never made, fits Ada, of striped cotton", "not known whether")
	p.keys("tab", "'c")
	p.mustShow("category    Dresses", "size        14", "never made  yes")
	p.keys("up", "shift+tab", "ctrl+x")
	p.mustNotShow("Dresses")
	p.keys("'wrap", "tab", "tab", "tab", "tab", "tab", "'belly", "enter")
	p.mustShow(`there is no measure "belly"; use bust, waist or hip`, "words       wrap")
	for _, x := range []struct{ back, typed, says string }{
		{"fits", "Zed", `there is no person "Zed"; note measures with: tuckrow person`},
		{"cloth", "felt", `there is no cloth "felt"`},
		{"category", "hose", `there is no category "hose"`},
		{"publisher", "Nobody", `there is no publisher "Nobody"`},
		{"years", "soon", `"soon" is not a year`},
	} {
		p.keys("esc", "ctrl+x")
		for !p.shows("→ " + x.back) {
			p.keys("tab")
		}
		p.keys("'"+x.typed, "enter")
		p.mustShow(x.says)
	}
	p.keys("esc", "ctrl+u", "'1990-2000", "up", "'harrow", "right", "enter")
	want := 0
	for _, pat := range p.listed().Patterns().All() {
		here := slices.ContainsFunc(copiesOf(p.listed(), pat.ID), func(cp *model.Copy) bool { return cp.Out == nil })
		queued := slices.ContainsFunc(p.listed().Queue(), func(q model.Queued) bool { return q.Pattern == pat.ID })
		if here && !queued && pat.Year >= 1990 && pat.Year <= 2000 && p.listed().Publisher(pat.Publisher).Name == "Harrow & Pell" {
			want++
		}
	}
	p.mustShow("Chosen: Harrow & Pell, 1990-2000", fmt.Sprintf("1 of %d", want))
	p.keys("pgdown", "pgup", "down", "up", "home", "end", "space", "left", "esc", "esc")
	p.mustShow("→ Dresses", "pocket 1\n")
	p.keys("'c", "esc", "'c") // what was filled in stays
	p.mustShow("1990-2000")
}

func copiesOf(c *model.Collection, id model.PatternID) (out []*model.Copy) {
	for _, cp := range c.Copies().All() {
		if cp.Pattern == id {
			out = append(out, cp)
		}
	}
	return out
}

func TestPastingIntoTheChoosing(t *testing.T) {
	p := demo(t, binders.ID)
	p.keys("'c")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("wrap\tdress\n")})
	p.mustShow("wrap dress▏")
}

// A cupboard with nothing in it says what to do.
func TestEmptyBinders(t *testing.T) {
	p := play(t, binders.ID)
	p.mustShow("no sleeve is in a binder yet")
	p.keys("down", "right", "left", "enter", "space", "'q", "'s", "tab", "esc", "'c", "enter")
	p.mustShow("nothing at hand is like that; c chooses otherwise")
	p.keys("esc")
	p.mustShow("no sleeve is in a binder yet")
	q := play(t, binders.ID, &model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Binders: []model.BinderSpec{{Category: "Capes", Pockets: 10}}}})
	q.mustShow("Capes · 0 of 10 pockets", "the binder is empty")
}

// What is entered while one leafs comes into its pocket, and one stays where one
// was; what goes while it is looked at is not looked at any more.
func TestBindersFollowWhatChanges(t *testing.T) {
	p := play(t, binders.ID, add("Quillon", "1", "Cape", "", 0), add("Quillon", "5", "Apron", "", 0))
	p.keys("down")
	p.mustShow("┃ 5 Apron", "pocket 2\n")
	p.keys("ctrl+n", "'3", "enter", "'Coat", "enter", "f2")
	p.mustShow("┃ 5 Apron", "pocket 3\n")
	p.keys("up", "space")
	p.mustShow("3 Coat", "pocket 2\n")
	p.keys("ctrl+z")
	p.mustShow("5 Apron", "pocket 2\n")
	p.keys("up", "ctrl+z", "ctrl+z", "ctrl+z")
	p.mustShow("no sleeve is in a binder yet")
}

// In a large cupboard the sleeves are laid aside, and choosing can be stopped;
// what comes of it late is not put in front.
func TestBindersOfALargeCupboard(t *testing.T) {
	p := onSample(t, find.ID, sample.Cupboard(5000))
	late := p.started(named["f2"])
	p.mustShow("laying the sleeves into their binders")
	p.keys("down", "space", "'c", "'dress")
	p.run(late)
	p.keys("esc")
	p.mustShow("pocket 1\n")
	p.keys("'c")
	late = p.started(tea.KeyMsg{Type: tea.KeyEnter})
	p.clock = p.clock.Add(time.Second)
	p.mustShow("looking through the shelf")
	p.keys("esc")
	p.mustShow("stopped", "Choose from the binders", "words       dress▏")
	p.run(late)
	p.mustNotShow("Chosen")
	late = p.started(tea.KeyMsg{Type: tea.KeyEnter})
	first := p.started(named["ctrl+f"])
	p.run(first)
	p.run(late)
	p.keys("f2")
	p.mustShow("Chosen: dress", "1 of ")
}

// A sleeve that is kept elsewhere is said to be.
func TestASleeveInNoBinder(t *testing.T) {
	p := play(t, binders.ID, add("Quillon", "1", "Cape", "", 0), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "2", Name: "Coat"}}},
		&model.SetLink{A: 1, B: 2})
	p.keys("'s")
	p.mustShow("the sleeve of Quillon 2 Coat is in no binder", "┃ 1 Cape")
}

// What sleeves are chosen by is in the form again when the program comes back,
// whether it was closed, killed or in the middle of being typed; and is gone once
// the form was emptied.
func TestWhatBindersAreChosenByIsKept(t *testing.T) {
	p := demo(t, binders.ID)
	again := func(want ...string) {
		t.Helper()
		p.open(binders.ID, p.theme)
		p.keys("'c")
		p.mustShow(want...)
	}
	p.keys("'c", "'cape", "tab", "'Coa", "right", "tab", "space", "enter")
	p.mustShow("Chosen: cape, Coats and jackets, never made")
	again("cape", "Coats and jackets", "yes") // as after a kill: nothing was closed
	p.keys("tab", "tab", "tab", "tab", "'Ad")
	p.send(frame.Rested{})
	again("cape", "Coats and jackets", "yes", "fits        Ad")
	p.press(tea.KeyCtrlX)
	p.mustNotShow("yes")
	p.keys("esc")
	p.open(binders.ID, p.theme)
	p.keys("'c")
	p.mustNotShow("yes", "  cape")
}
