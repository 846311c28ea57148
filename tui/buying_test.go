package tui_test

import (
	"fmt"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/lookup"
	"example.org/tuckrow/model/surplus"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/buying"
)

var buyingScenes = []struct {
	name string
	keys []string
}{
	{"wanted", []string{"down", "down"}},
	{"owned", []string{"'harrow 6123"}},
	{"close", []string{"'brindlecote 6764 L5"}},
	{"wish", []string{"'quill 555 swing dress", "enter"}},
	{"spare", []string{"tab", "down"}},
}

func TestGoldenBuying(t *testing.T) {
	for _, s := range buyingScenes {
		p := demo(t, buying.ID)
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("buying_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// The answer is the one that have gives, for every pattern of the demo and for
// numbers that nobody has.
func TestBuyingAnswersAsHaveDoes(t *testing.T) {
	p := demo(t, buying.ID)
	x := lookup.New(p.listed())
	says := map[lookup.Answer]string{lookup.Own: "! owned already:", lookup.Close: "! not exactly, but close: ", lookup.None: "  not owned"}
	seen := map[lookup.Answer]int{}
	ask := func(question string) {
		t.Helper()
		p.keys("ctrl+u", "'"+question)
		answer, owned := x.Have(question)
		seen[answer]++
		if !p.shows(says[answer]) {
			t.Errorf("%q: the answer is %s\n%s", question, answer, p.root.View())
		}
		if len(owned) > 0 && !strings.Contains(strings.Join(strings.Fields(p.root.View()), " "), strings.Join(strings.Fields(owned[0].Why), " ")) {
			t.Errorf("%q: it does not say why: %s\n%s", question, owned[0].Why, p.root.View())
		}
	}
	i := 0
	for _, pat := range p.listed().Patterns().All() {
		if i++; i%15 == 0 {
			pub := p.listed().Publisher(pat.Publisher).Name
			ask(pub + " " + pat.Short())
			ask(pub + " " + pat.Number + "77")
			ask(pub + " " + pat.Number + " ZZ")
		}
	}
	for answer := range says {
		if seen[answer] == 0 {
			t.Errorf("nothing was answered with %s", answer)
		}
	}
}

// From the question to the list, to the post, to the pile: with where it will
// stand all along.
func TestWantedOrderedArrived(t *testing.T) {
	p := demo(t, buying.ID)
	p.keys("'harr 4500 Tea gown", "enter")
	p.mustShow("Wanted", "publisher  Harrow & Pell", "number     4500", "name       Tea gown")
	p.keys("tab", "down", "up", "shift+tab", "tab", "'dress", "right", "enter")
	if w := p.latestWish(); w.Publisher != "Harrow & Pell" || w.Number != "4500" || w.Name != "Tea gown" || w.Category != "Dresses" || w.OnTheWay() {
		t.Fatalf("wanted is %+v", w)
	}
	p.mustShow("not owned, but on your list:")
	p.mustList("Harrow & Pell 4500 Tea gown wanted")
	p.keys("down")
	g := ordering.Arrange(p.listed()).GapFor("Harrow & Pell", &model.Pattern{Number: "4500", Name: "Tea gown"})
	p.mustShow("behind "+g.Behind.Pattern.Heading(), "before "+g.Before.Pattern.Heading(), fmt.Sprintf("%s from the front", g.FromFront.Whole()))
	p.keys("ctrl+o")
	p.mustShow("→ expected", "ordered    "+string(p.store.Today()))
	p.keys("'2025-12-01", "tab", "'a fair", "enter")
	if w := p.latestWish(); w.Ordered != p.store.Today() || w.Expected != "2025-12-01" || w.From != "a fair" {
		t.Fatalf("on the way is %+v", w)
	}
	p.mustShow("late: it was expected on 2025-12-01 from a fair")
	p.keys("enter", "up", "up", "up", "ctrl+u", "'2025-13-01", "enter")
	p.mustShow(`"2025-13-01"`, "2025-13-01▏") // it cannot be, and is still there
	p.keys("esc", "ctrl+u", "'2025-12-24", "enter")
	p.mustList("due 2025-12-24")
	p.keys("ctrl+a")
	c := p.listed()
	a := model.Accession(c.Counters().Copy)
	if got := c.PatternOf(a).Heading(); got != "4500 Tea gown" || c.StepOf(c.Copy(a)) != model.StepSleeve {
		t.Errorf("arrived is %s", got)
	}
	p.mustShow(fmt.Sprintf("entered as %d; ctrl+e opens it", a), "! owned already")
	p.keys("ctrl+z")
	p.mustShow("not owned, but on your list:")
}

// The beginning of a publisher is no new one, in the form as in Intake.
func TestAWishOfAPublisherByItsFirstLetters(t *testing.T) {
	p := demo(t, buying.ID)
	was := p.listed().Publishers().Len()
	p.keys("enter", "'har")
	p.mustShow(`"Harrow & Pell" is taken; for "har" as it is, put a space behind it`)
	p.keys("tab", "'9001", "enter")
	if w := p.latestWish(); w.Publisher != "Harrow & Pell" || w.Number != "9001" {
		t.Errorf("wanted is %+v", w)
	}
	p.keys("ctrl+u", "enter", "'har", "' ", "tab", "'9002", "enter")
	if w := p.latestWish(); w.Publisher != "har" {
		t.Errorf("wanted is %+v, want it of a new publisher", w)
	}
	if n := p.listed().Publishers().Len(); n != was {
		t.Errorf("%d publishers are listed, want %d: a wish makes none", n, was)
	}
}

// What has come is amended with one key, and nothing else is, whatever batch
// Intake is at.
func TestWhatHasComeIsAmended(t *testing.T) {
	p := play(t, buying.ID, &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "100", Name: "Cape", Batch: "drawer"}}},
		&model.Want{Wish: model.Wish{Publisher: "Harrow & Pell", Number: "7", Name: "Apron"}})
	p.keys("ctrl+n", "'101", "enter", "'Coat", "enter", "f3", "down", "ctrl+a", "ctrl+e")
	p.mustShow("tuckrow: Intake", "Apron")
	p.keys("tab", "tab", "'S-L", "enter") // from the number to the sizes
	c := p.listed()
	a := model.Accession(c.Counters().Copy)
	if got := c.PatternOf(a); got.Name != "Apron" || c.Copy(a).Batch != 0 {
		t.Errorf("amended is %+v", got)
	}
	for acc := model.Accession(1); acc < a; acc++ {
		if got := c.PatternOf(acc); got.Publisher == c.PatternOf(a).Publisher || got.SizeRange != "" {
			t.Errorf("another was amended: %+v", got)
		}
	}
	p.mustShow("Number      ▏")
	p.keys("f3", "ctrl+e") // no more than the end of the line
	p.mustShow("tuckrow: Buying")
}

func (p *player) latestWish() model.Wish {
	p.Helper()
	w := p.listed().Wishes().Get(uint32(p.listed().Counters().Wish))
	if w == nil {
		p.Fatal("there is no wish")
	}
	return *w
}

// What has come and was entered in Intake meanwhile is not entered twice by a
// slip.
func TestAWishThatIsHereAlready(t *testing.T) {
	p := play(t, buying.ID, &model.Want{Wish: model.Wish{Publisher: "Quillon", Number: "7", Name: "Cape"}}, add("Quillon", "7", "Cape", "", 0))
	p.keys("down", "ctrl+a")
	p.mustShow("here already", "Quillon 7 Cape is listed already: ctrl+d takes the wish off the list, ctrl+a\nagain")
	p.keys("up", "down", "ctrl+a")
	if n := p.listed().Copies().Len(); n != 1 {
		t.Fatalf("%d copies are listed", n)
	}
	p.keys("ctrl+a")
	if c := p.listed(); c.Copies().Len() != 2 || c.Patterns().Len() != 1 || c.Wishes().Len() != 0 {
		t.Fatalf("%d copies of %d patterns, %d wishes", c.Copies().Len(), c.Patterns().Len(), c.Wishes().Len())
	}
	p.keys("ctrl+z", "down", "ctrl+d")
	if c := p.listed(); c.Copies().Len() != 1 || c.Wishes().Len() != 0 {
		t.Errorf("%d copies, %d wishes", c.Copies().Len(), c.Wishes().Len())
	}
	p.keys("ctrl+a", "ctrl+o", "ctrl+d", "ctrl+u") // nothing is chosen
	p.mustShow("nothing is wanted yet")
}

// What is owned leads to its place; typing on arrival asks something else.
func TestBuyingLeadsToFind(t *testing.T) {
	p := demo(t, buying.ID)
	p.keys("'harrow 6123")
	p.mustShow("box 1, place 38") // seen without a key more
	p.keys("down", "up", "down", "enter")
	p.mustShow("tuckrow: Find", "Look for  Harrow & Pell 6123")
	p.keys("esc", "'wrap")
	p.mustShow("Do I have   wrap▏")
}

// What is half written is there when one comes back, also weeks later.
func TestAHalfWrittenWishStays(t *testing.T) {
	p := demo(t, buying.ID)
	p.keys("'quillon 999", "enter", "'Hooded", "esc")
	p.mustShow("not owned; what you began to write of it is kept, enter goes on")
	p.keys("enter")
	p.mustShow("name       Hooded")
	p = p.again()
	p.keys("f3", "'quillon 999", "enter")
	p.mustShow("name       Hooded")
	p.keys("enter")
	if w := p.latestWish(); w.Name != "Hooded" {
		t.Errorf("wanted is %+v", w)
	}
	p = p.again()
	p.keys("f3", "'quillon 9999", "enter")
	p.mustNotShow("Hooded")
}

// A failed write leaves what is typed, and the error is there to be read.
func TestAWishThatCannotBeSaved(t *testing.T) {
	p := demo(t, buying.ID)
	p.keys("enter", "enter")
	p.mustShow("a wish has no number and no name", "Wanted")
	p.keys("esc", "tab", "'12", "tab", "'Cape")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "name       Cape")
	p.store.fail = nil
	p.keys("esc", "enter")
	if w := p.latestWish(); w.Number != "12" || w.Name != "Cape" {
		t.Errorf("wanted is %+v", w)
	}
}

// A scanner in the shop: the very code, one like those of a publisher, and one
// that nobody knows. Its Enter opens no form; a hand's does.
func TestBuyingByBarcode(t *testing.T) {
	p := play(t, buying.ID, sleeves(4107, 4222, 4300))
	p.burst(codeOf(4222))
	p.mustShow("! owned already:", "4222 Cape 4222 · the same barcode")
	p.burst(codeOf(4555))
	p.mustShow("not owned: by its barcode it is probably Quillon 4555")
	p.keys("enter")
	p.mustShow("publisher  Quillon", "number     4555")
	p.keys("enter")
	p.mustShow("not owned, but on your list:")
	p.keys("ctrl+n", "'4600", "enter", "'Cape", "enter", "f3")
	p.burst(codeOf(4600))
	p.mustShow("not exactly, but close: by its barcode it is probably Quillon 4600: look at")
	p.burst("6291041500213")
	p.mustShow("this barcode is on no sleeve that is listed, and like none")
}

func TestPastingAQuestion(t *testing.T) {
	p := demo(t, buying.ID)
	paste := tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("harrow\t6123\n")}
	p.send(paste)
	p.mustShow("! owned already")
	p.keys("ctrl+u", "enter")
	p.send(paste)
	p.mustShow("publisher  harrow 6123▏")
}

// Copies to pass on are those that the model advises to, with its reasons; one
// that is to be kept is not taken off the list.
func TestCopiesToPassOn(t *testing.T) {
	p := demo(t, buying.ID)
	p.keys("'wrap", "tab")
	want, passing := map[model.Accession]surplus.Judged{}, 0
	for _, g := range surplus.Groups(p.listed()) {
		for _, j := range g.Copies {
			want[j.Copy.Accession] = j
			if j.Advice == surplus.PassOn {
				passing++
			}
		}
	}
	p.mustShow(fmt.Sprintf("%d of %d of which there are several", passing, len(want)))
	p.size(120, 40)
	for range want {
		said := strings.Join(strings.Fields(p.root.View()), " ")
		a := model.Accession(0)
		for acc := range want {
			if strings.Contains(said, fmt.Sprintf(" copy %d ·", acc)) {
				a = acc
			}
		}
		if j := want[a]; !strings.Contains(said, string(j.Advice)+" · "+strings.Join(j.Why, " · ")) {
			t.Fatalf("copy %d: the advice is %s, %v\n%s", a, j.Advice, j.Why, p.root.View())
		}
		p.keys("down")
	}
	p.keys("home", "'g", "enter")
	p.mustShow("tuckrow: Find")
	p.keys("esc", "pgdown", "pgup", "end", "up", "home", "down", "'g")
	p.mustShow("is off the list; ctrl+z brings it back", fmt.Sprintf("%d of %d of which there are several", passing-1, len(want)-2))
	p.keys("ctrl+z")
	p.mustShow(fmt.Sprintf("%d of %d", passing, len(want)))
	p.keys("esc", "tab", "tab")
	p.mustShow("Do I have   wrap▏")
	q := play(t, buying.ID, add("Quillon", "1", "Cape", "", 0))
	q.keys("tab", "down", "'g", "enter")
	q.mustShow("there is one copy of everything")
}

// In a large cupboard copies are compared aside, and that can be stopped.
func TestPassingOnInALargeCupboard(t *testing.T) {
	p := onSample(t, buying.ID, sample.Cupboard(5000))
	late := p.started(named["tab"])
	p.mustShow("comparing copies · 1 s   esc stop it")
	p.keys("down", "esc")
	p.mustShow("stopped", "Do I have")
	p.run(late)
	p.mustShow("Do I have")
	p.keys("tab")
	p.mustShow("of which there are several")
	p.keys("ctrl+f")
	if _, err := p.store.Commit(t.Context(), &model.Want{Wish: model.Wish{Name: "Cape"}}); err != nil {
		t.Fatal(err)
	}
	p.keys("f3")
	p.mustShow("of which there are several")
}
