package tui_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"example.org/tuckrow/model"
	pick "example.org/tuckrow/model/sewing"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/tui/binders"
	"example.org/tuckrow/tui/buying"
	"example.org/tuckrow/tui/frame"
	"example.org/tuckrow/tui/sewing"
)

var sewingScenes = []struct {
	name string
	keys []string
}{
	{"next", []string{"down", "down", "down"}},
	{"made", []string{"tab"}},
	{"shares", []string{"tab", "tab", "end"}},
	{"closet", []string{"shift+tab"}},
	{"form", []string{"'m", "shift+tab", "ctrl+u", "'ad"}},
	{"sleeve", []string{"down", "space"}},
}

func TestGoldenSewing(t *testing.T) {
	for _, s := range sewingScenes {
		p := demo(t, sewing.ID)
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("sewing_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

func (p *player) queue() (out []string) {
	for _, q := range p.listed().Queue() {
		out = append(out, p.listed().Pattern(q.Pattern).Heading())
	}
	return out
}

func (p *player) mustQueue(want ...string) {
	p.Helper()
	if got := p.queue(); !reflect.DeepEqual(got, want) {
		p.Fatalf("the queue is %q, want %q\n%s", got, want, p.root.View())
	}
}

// What is proposed is what the model proposes, in its order and with its
// reasons.
func TestWhatToSewNextIsShownWithReasons(t *testing.T) {
	p := demo(t, sewing.ID)
	c := p.listed()
	p.size(120, 40)
	p.keys("down", "down")
	for i, x := range pick.Suggest(c, pick.Asked{On: p.store.Today()})[:30] {
		said := beside(p)
		if !strings.Contains(said, c.Pattern(x.Pattern).Short()) || !strings.Contains(said, strings.Join(x.Reasons, ", ")) {
			t.Fatalf("proposal %d: %s for %v\n%s", i+1, c.Called(x.Pattern), x.Reasons, p.root.View())
		}
		p.keys("down")
	}
	p.keys("end", "pgup", "pgdown", "up", "home")
	p.mustShow("→  1  K837")
}

// The queue: in, out, earlier, later, for whom and by when; and undone.
func TestTheQueue(t *testing.T) {
	p := demo(t, sewing.ID)
	p.mustQueue("K837 Half-lined car coat with a back vent", "6131 Shift dress")
	p.keys("'>")
	p.mustQueue("6131 Shift dress", "K837 Half-lined car coat with a back vent")
	p.keys("'>", "'<", "'<")
	p.mustQueue("K837 Half-lined car coat with a back vent", "6131 Shift dress")
	p.keys("down", "down", "'<", "'q")
	p.mustShow("to be sewn: ")
	if n := len(p.queue()); n != 3 {
		t.Fatalf("%d are queued", n)
	}
	p.keys("ctrl+z", "home", "'q")
	p.mustQueue("6131 Shift dress")
	p.keys("home", "enter", "ctrl+u", "'Il", "right", "down", "shift+tab", "tab", "'2025-12-01", "tab", "'striped", "tab", "' soon", "enter")
	if q := p.listed().Queue()[0]; q.For != "Ilse" || q.Notes != "for the spring fair soon" || q.By != "2025-12-01" {
		t.Fatalf("queued is %+v", q)
	}
	p.mustShow("late, 2025-12-01")
	p.keys("enter", "tab", "ctrl+u", "'some day", "enter")
	p.mustShow(`"some day"`, "some day▏")
	p.keys("esc", "esc", "'q")
	p.mustShow("nothing yet; q puts something here")
}

// What was made is noted, for today unless it is said otherwise, with what the
// queue said already; and it is taken out of the queue.
func TestWhatWasMade(t *testing.T) {
	p := demo(t, sewing.ID)
	p.keys("'m")
	p.mustShow("Made of Quillon K837", "on         "+string(p.store.Today()), "for        Ada", "cloth      blue wool")
	p.keys("'B", "tab", "'12", "tab", "tab", "'sleeves longer", "tab", "'line it", "enter")
	p.mustShow("noted; tab shows all that was made")
	p.mustQueue("6131 Shift dress")
	m := p.listed().Makes().Get(uint32(p.listed().Counters().Make))
	want := model.Make{ID: m.ID, On: p.store.Today(), Pattern: m.Pattern, Title: "Quillon K837 Half-lined car coat with a back vent", For: "Ada", View: "B", Size: "12",
		Cloth: "blue wool", Changed: "sleeves longer", Better: "line it"}
	if *m != want {
		t.Fatalf("made is %+v, want %+v", *m, want)
	}
	p.keys("tab")
	p.mustShow("→ made", "for Ada · view B · size 12 · blue wool · changed: sleeves longer · next time:")
	p.keys("enter", "tab", "ctrl+u", "'Il", "right", "enter")
	if got := p.listed().Makes().Get(uint32(m.ID)); got.For != "Ilse" || got.Better != "line it" {
		t.Errorf("said anew it is %+v", got)
	}
	n := p.listed().Makes().Len()
	p.keys("down", "up", "pgdown", "pgup", "end", "home", "'d")
	if p.listed().Makes().Len() != n-1 || p.listed().Makes().Get(uint32(m.ID)) != nil {
		t.Errorf("%d are noted as made, were %d", p.listed().Makes().Len(), n)
	}
	p.keys("ctrl+z", "space")
	p.mustShow("made      "+string(p.store.Today())+" for Ilse", "esc back to the list")
	p.keys("down", "up", "pgdown", "pgup", "esc", "space", "space", "'f")
	p.mustShow("tuckrow: Find", "K837")
	p.keys("esc", "space", "'f")
	p.mustShow("tuckrow: Find", "K837")
}

// What is corrected, or merged, goes by what it is called now wherever sewing
// names it.
func TestWhatIsCorrectedIsNamedSo(t *testing.T) {
	p := demo(t, sewing.ID)
	en := p.listed().EntryOf(p.listed().Copy(12)) // of the first that is to be sewn
	en.Number, en.Name = "K838", "Half-lined cape"
	revise := func() {
		commit, err := p.store.Commit(t.Context(), &model.Revise{Entry: en})
		if err != nil {
			t.Fatal(err)
		}
		p.send(frame.StoreChanged{Commit: commit})
	}
	revise()
	p.size(40, 12) // where the line below says more of it
	p.keys("tab", "shift+tab", "home")
	p.mustShow("K838 Half-lin", "Quillon K838")
	p.size(80, 24)
	p.keys("enter")
	p.mustShow("To sew: Quillon K838 Half-lined cape")
	p.keys("esc", "'m", "enter", "tab", "home")
	p.mustShow("Quillon K838 Half-lined cape")
	en.Number = "K839"
	revise()
	p.keys("down", "home")
	p.mustShow(string(p.store.Today())+"  Quillon K839 Half-lined cape", string(p.store.Today())+" Quillon K839")
	p.keys("enter")
	p.mustShow("Made of Quillon K839 Half-lined cape")
}

// The mark stays on what it was on; of what leaves the list the next one has it.
func TestTheMarkStaysInSewing(t *testing.T) {
	marked := func(p *player) string {
		p.Helper()
		for l := range strings.SplitSeq(p.root.View(), "\n") {
			if text, ok := strings.CutPrefix(ansi.Strip(l), "→ "); ok {
				return strings.TrimSpace(text)
			}
		}
		p.Fatalf("no line is marked\n%s", p.root.View())
		return ""
	}
	row := func(p *player, want string) {
		p.Helper()
		if got := marked(p); !strings.Contains(got, want) {
			p.Errorf("the mark is on %q, want %q\n%s", got, want, p.root.View())
		}
	}
	p := demo(t, sewing.ID)
	row(p, "K837")
	p.keys("'m", "enter") // out of the queue: the next of it
	row(p, "1  6131")
	p.keys("ctrl+z")
	row(p, "2  6131")
	p.keys("'<")
	row(p, "1  6131")
	p.keys("down", "'m", "enter") // the last of the queue: the one before
	row(p, "1  6131")
	p.keys("'q") // nothing is left in the queue
	p.mustShow("nothing yet; q puts something here")

	p = demo(t, sewing.ID)
	p.keys("down", "down", "down", "down")
	here := marked(p)
	p.keys("down")
	after := marked(p)
	p.keys("up", "'q") // of what could be next the one behind it
	row(p, after[:20])
	p.keys("ctrl+z", "up")
	row(p, here[:20])
	p.keys("'m", "tab", "tab", "tab", "'12", "enter")
	if got := marked(p); got[:20] != here[:20] && got[:20] != after[:20] {
		p.Errorf("the mark is on %q, want %q or %q", got, here, after)
	}
	p.keys("tab") // what was made last is what one comes to see
	row(p, here[:15])
}

// What was made leaves its copy listed as uncut until one says otherwise, by one key.
func TestWhatWasMadeMayBeCut(t *testing.T) {
	made := func(changes ...model.Change) *player {
		p := play(t, sewing.ID, append([]model.Change{add("Quillon", "300", "Coat", "", 0), &model.Enqueue{Item: model.Queued{Pattern: 1}}}, changes...)...)
		p.keys("f4", "'m", "enter")
		p.mustShow("noted; ")
		return p
	}
	p := made()
	p.mustShow("copy 1 is not listed as cut: c if it is now", "c it is cut now")
	if got := p.listed().Copy(1).Cut; got != model.CutUnknown {
		t.Errorf("unasked it is %q", got)
	}
	p.keys("'c")
	if got := p.listed().Copy(1).Cut; got != model.FullyCut || p.listed().Makes().Len() != 1 {
		t.Errorf("it is %q, want cut", got)
	}
	p.mustNotShow("it is cut now")
	p.keys("ctrl+z")
	if got := p.listed().Copy(1).Cut; got != model.CutUnknown || p.listed().Makes().Len() != 1 {
		t.Errorf("undone it is %q, with %d made", got, p.listed().Makes().Len())
	}
	again := &model.Add{Entries: []model.Entry{{Pattern: 1, Publisher: "Quillon", Number: "300", Cut: model.FullyCut}}}
	made(again).mustNotShow("not listed as cut") // it was that one
	again.Entries[0].Cut = model.Uncut
	made(again).mustNotShow("not listed as cut") // which it was is not known
	made(again, &model.TakeOut{Copy: 2}).mustShow("copy 2 is not listed as cut")
}

// From Binders, where every sleeve is, one comes to the form at once.
func TestNoteMadeFromTheBinders(t *testing.T) {
	for _, lead := range [][]string{nil, {"space"}, {"'c", "'wrap dress", "enter"}} {
		p := demo(t, binders.ID)
		p.wrapDress()
		p.keys(lead...)
		p.keys("'m")
		p.mustShow("tuckrow: Sewing", "Made of Harrow & Pell 6123 Wrap dress")
		p.keys("'me", "esc", "esc")
		p.mustShow("tuckrow: Binders")
		p.keys("'m")
		p.mustShow("for        me▏") // it stays
		p.keys("enter")
		if m := p.listed().Makes().Get(uint32(p.listed().Counters().Make)); m.For != "me" || m.Title != "Harrow & Pell 6123 Wrap dress" {
			t.Errorf("made is %+v", m)
		}
	}
}

// The picture says in numbers what it says in bars, and both are the model's.
func TestOwnedAgainstMade(t *testing.T) {
	p := demo(t, sewing.ID)
	p.keys("tab", "tab")
	for _, s := range pick.Shares(p.listed()) {
		name := s.Category
		if name == "" {
			name = "(no category)"
		}
		p.mustList(fmt.Sprintf("%s %d of %d", name, s.Made, s.Owned))
		switch {
		case s.Makes == 0:
			p.mustShow(fmt.Sprintf("nothing made yet from the %d owned", s.Owned))
		case s.Makes == 1:
			p.mustShow(fmt.Sprintf("made once, from the %d owned", s.Owned))
		default:
			p.mustShow(fmt.Sprintf("made %d times, from %d of the %d owned", s.Makes, s.Made, s.Owned))
		}
		p.keys("down")
	}
	p.mustShow("→ harvest play", "✓ Coats and jackets: Quillon Q396 Reversible cape, 2025-07-05", "· beret: not yet")
}

func TestGoals(t *testing.T) {
	p := demo(t, sewing.ID)
	p.keys("tab", "tab", "up", "pgdown", "pgup", "down", "home", "end", "enter")
	p.mustShow("Goal: harvest play", "Coats and jackets; Nightwear; dress; beret")
	p.keys("tab", "'; Hats", "right", "enter")
	p.mustShow("Hats and small things: not yet", "2 of 5")
	p.keys("'n", "'spring", "tab", "'skirt; dress", "enter")
	p.mustShow("spring")
	p.mustList("spring 0 of 2")
	p.keys("'n", "enter")
	p.mustShow("a goal has no name")
	p.keys("esc", "esc", "end", "'d")
	if p.listed().GoalNamed("spring") != nil {
		t.Error("it was not given up")
	}
	p.keys("'d")
	p.mustShow("none yet; n sets one")
	p.keys("enter")
	p.mustShow("A goal: at least one of each of these")
}

func TestPeopleAndCloth(t *testing.T) {
	p := demo(t, sewing.ID)
	p.keys("shift+tab", "up", "pgdown", "pgup", "down", "home", "enter", "tab", "ctrl+u", "'36 1/4 in", "tab", "tab", "tab", "'x", "enter")
	p.mustShow(`height: "168 cmx" is not a length`)
	p.keys("esc", "backspace", "enter")
	ada := p.listed().PersonNamed("Ada")
	if ada.Bust.MM() != 36.25*25.4 || ada.Waist != model.MM(730) || ada.Height != model.MM(1680) {
		t.Fatalf("Ada is %+v", ada)
	}
	p.keys("'n", "'Bo", "tab", "tab", "'80 cm", "enter")
	if bo := p.listed().PersonNamed("Bo"); bo == nil || bo.Waist != model.MM(800) || bo.Bust != 0 || bo.On == "" {
		t.Fatalf("Bo is %+v", bo)
	}
	p.keys("end", "enter", "tab", "tab", "ctrl+u", "'4 yd", "tab", "space", "down", "up", "'y", "enter")
	if x := p.listed().ClothNamed("curtain lining"); x.Length.MM() != 4*914.4 || !x.OneWay || x.Width != model.MM(900) {
		t.Fatalf("the cloth is %+v", x)
	}
	p.keys("'n", "'felt", "tab", "'wide", "enter")
	p.mustShow(`width: "wide" is not a length`)
	p.keys("esc", "ctrl+u", "'90 cm", "tab", "'long", "enter")
	p.mustShow(`length: "long" is not a length`)
	p.keys("esc", "ctrl+u", "'1 m", "enter")
	if x := p.listed().ClothNamed("felt"); x == nil || x.Length != model.MM(1000) {
		t.Fatalf("the cloth is %+v", x)
	}
	p.keys("end", "'d", "home", "'d")
	if c := p.listed(); c.Cloths().Len() != 3 || c.ClothNamed("felt") != nil || c.People().Len() != 2 || c.PersonNamed("Ada") != nil {
		t.Errorf("%d people, %d cloths", c.People().Len(), c.Cloths().Len())
	}
	q := play(t, sewing.ID)
	q.mustShow("nothing yet; q puts something here")
	q.keys("'q", "'m", "enter", "space", "'f", "'<", "'d", "tab")
	q.mustShow("nothing is noted yet")
	q.keys("enter", "'d", "tab", "tab", "enter", "'Ada", "tab", "'92 cm", "enter", "end", "enter", "'felt", "tab", "'90 cm", "tab", "'1 m", "enter")
	if c := q.listed(); c.People().Len() != 1 || c.Cloths().Len() != 1 {
		t.Errorf("%d people, %d cloths", c.People().Len(), c.Cloths().Len())
	}
}

// What is half written is there when one comes back, also weeks later.
func TestAHalfWrittenMakeStays(t *testing.T) {
	p := demo(t, sewing.ID)
	p.keys("'m", "'C", "esc", "'m") // the day, for whom and the cloth are known
	p.mustShow("view       C")
	p.keys("tab", "tab")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("12\n")})
	p = p.again()
	p.keys("f4", "'m")
	p.mustShow("view       C")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "view       C")
	p.store.fail = nil
	p.keys("esc", "enter", "tab")
	p.mustShow("view C")
}

// After a kill, too: what is typed is kept when the hands rest.
func TestAHalfWrittenMakeIsThereAfterAKill(t *testing.T) {
	for room, keys := range map[string][]string{sewing.ID: {"'m", "tab", "tab"}, buying.ID: {"enter", "tab"}} {
		p := demo(t, room)
		p.keys(keys...)
		p.keys("'XIV")
		p.send(frame.Rested{})
		p = playOn(t, room, p.store.Store)
		p.keys(keys[0])
		p.mustShow("XIV")
	}
}

// In a large cupboard what could be next is looked for aside; what comes of an
// older cupboard is followed by what comes of the present one.
func TestSewingInALargeCupboard(t *testing.T) {
	p := onSample(t, sewing.ID, sample.Cupboard(5000))
	p.keys("ctrl+f")
	p.mustShow("tuckrow: Find")
	p.keys("f4", "down", "'q")
	late := p.started(tea.KeyMsg{Type: tea.KeyDown})
	p.keys("'q")
	p.run(late)
	p.mustShow("to sew, in this order")
	p.keys("end")
	p.mustShow("more; c in Binders chooses")
	if n := len(p.queue()); n != 2 {
		t.Errorf("%d are queued", n)
	}
	p.keys("tab", "tab")
	p.mustShow(" of ")
}
