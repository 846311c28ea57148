package tui_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/growth"
	"example.org/tuckrow/model/identify"
	"example.org/tuckrow/model/propose"
	"example.org/tuckrow/model/worth"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/ordering/newroom"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/ordering/supplies"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/frame"
)

var collectionScenes = []struct {
	name string
	keys []string
}{
	{"supplies", []string{"down", "down"}},
	{"worth", []string{"tab"}},
	{"batches", []string{"tab", "tab", "down", "down"}},
	{"checklist", []string{"tab", "tab", "end", "space"}},
	{"barcodes", []string{"tab", "tab", "tab"}},
	{"packing", []string{"tab", "tab", "tab", "tab", "down"}},
	{"hooks", []string{"shift+tab", "shift+tab", "down"}},
	{"drop", []string{"tab", "tab", "'d"}},
	{"known", []string{"tab", "tab", "end", "enter"}},
	{"room", []string{"shift+tab", "down"}},
	{"form", []string{"tab", "tab", "enter", "'her"}},
}

func TestGoldenCollection(t *testing.T) {
	for _, s := range collectionScenes {
		p := demo(t, collection.ID)
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("collection_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// Supplies are those of the model, before a count and after it.
func TestSuppliesAreShownAndCounted(t *testing.T) {
	p := demo(t, collection.ID)
	listed := func() {
		for _, l := range supplies.List(ordering.Arrange(p.listed()), p.store.Today()) {
			have, short := strconv.Itoa(l.Have), ""
			if l.On == "" {
				have = "?"
			}
			if l.Short > 0 {
				short = " " + strconv.Itoa(l.Short)
			}
			p.mustList(fmt.Sprintf("%s %s %d%s %s", l.Item, have, l.Need, short, l.Yearly()))
			p.mustShow(fmt.Sprintf("%d needed to file all there is, %d short", l.Need, l.Short))
			p.keys("down")
		}
	}
	listed()
	p.keys("up", "pgup", "pgdown", "home", "enter", "ctrl+u", "'many", "space", "right", "down", "up", "shift+tab", "tab", "enter")
	p.mustShow(`"many" is not a count of envelopes; give a whole number, like 60`)
	p.keys("esc", "ctrl+u", "'75", "enter")
	if got := p.listed().Stock()[0]; got.Item != model.EnvelopeStock || got.Have != 75 {
		t.Errorf("counted is %+v", got)
	}
	listed()
	p.keys("end", "up", "up", "up", "up", "enter", "'3", "enter")
	p.mustList("boxes 3 1")
	p.keys("ctrl+z")
	p.mustList("boxes ? 1")
}

// The owner's own figure goes before what was counted, and where nothing can be
// counted yet, that is said.
func TestThePaceOfGrowth(t *testing.T) {
	p := demo(t, collection.ID)
	grows := growth.Of(p.listed(), p.store.Today())
	p.keys("end")
	p.mustList(fmt.Sprintf("growth %.0f copies a year", grows.PerYear))
	p.mustShow("by what came since 2025-05-24: an estimate")
	p.keys("enter", "'lots", "enter")
	p.mustShow(`"lots" is not a number of copies that a year brings`)
	p.keys("esc", "ctrl+u", "'62", "enter")
	p.mustList("growth 62 copies a year")
	p.mustShow("as you have said")
	if p.listed().PerYear() != 62 {
		t.Errorf("a year brings %d", p.listed().PerYear())
	}
	p.keys("enter", "ctrl+u", "enter")
	p.mustList(fmt.Sprintf("growth %.0f copies a year", grows.PerYear))

	winter := &model.Add{Entries: sample.Copies(40, 7)}
	for i := range winter.Entries {
		winter.Entries[i].Added = "2025-12-01"
	}
	q := play(t, collection.ID, winter)
	q.keys("end")
	q.mustList("growth not known yet")
	q.mustShow("the first listing is no growth")
	q.keys("home")
	q.mustShow("how long it lasts is not known yet")
	q.keys("shift+tab")
	q.mustList("copies 40 40")
	q.mustShow("nothing grows, for growth is", "not known yet: the first listing is no growth")
}

func TestWorthIsShownAndSet(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab")
	all := worth.Add(p.listed())
	for _, g := range all.Groups {
		p.mustList(fmt.Sprintf("%s %d %s %s", g.Name(), len(g.Copies), g.Each, g.Sum))
	}
	p.mustList(fmt.Sprintf("in all %d %s", p.listed().Copies().Len(), all.Sum))
	p.keys("enter", "ctrl+u", "'a lot", "enter")
	p.mustShow(`"a lot" is not an amount of money`)
	p.keys("esc", "ctrl+u", "'20,50", "enter")
	p.mustList(fmt.Sprintf("inherited %d 20.50", len(all.Groups[0].Copies)))
	p.mustShow("not an appraisal")
	p.keys("'n", "'Nightw", "right", "down", "'5", "enter")
	for _, g := range worth.Add(p.listed()).Groups {
		p.mustList(fmt.Sprintf("%s %d %s %s", g.Name(), len(g.Copies), g.Each, g.Sum))
	}
	p.mustShow("Nightwear")
	p.keys("'n", "'nobody has this", "tab", "'5", "enter")
	p.mustList("nobody has this 0 5.00 0.00") // it can be taken off again
	p.keys("home", "down", "down", "down", "enter", "ctrl+u", "'0", "enter")
	left := worth.Add(p.listed())
	if len(left.Unvalued) == 0 {
		t.Fatal("all others are valued still")
	}
	p.mustList(fmt.Sprintf("without a value %d", len(left.Unvalued)))
	p.mustList("in all " + strconv.Itoa(p.listed().Copies().Len()) + " " + left.Sum.String())
	p.keys("end", "enter", "up", "enter", "'1", "enter")
	p.mustList(fmt.Sprintf("all others %d 1.00 %d.00", len(left.Unvalued), len(left.Unvalued)))
}

// Where batches came from, and what is not known of what lies in one.
func TestBatchesAndWhatNobodyKnows(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab")
	for _, b := range p.listed().Batches().All() {
		n := 0
		for _, cp := range p.listed().Copies().All() {
			if cp.Batch == b.ID {
				n++
			}
		}
		p.mustList(fmt.Sprintf("%s %s %d", b.Name, b.Begun, n))
	}
	p.keys("enter", "'a neighbour", "tab", "'dry", "tab", "'many", "enter")
	p.mustShow(`"many" is not a number of patterns`)
	p.keys("ctrl+u", "'160", "enter")
	first := p.listed().BatchNamed("cupboard, upper shelf")
	if first.Source != "a neighbour" || first.Notes != "dry" || first.Expected != 160 {
		t.Errorf("the batch is %+v", first)
	}
	p.mustShow("from a neighbour")
	p.keys("'n", "'Cupboard, upper shelf", "enter")
	p.mustShow("is there already")
	p.keys("esc", "ctrl+u", "'aunt Maud", "tab", "'her niece", "tab", "tab", "'300", "enter")
	if b := p.listed().BatchNamed("aunt Maud"); b == nil || b.Source != "her niece" || b.Expected != 300 {
		t.Errorf("the batch is %+v", b)
	}
	p.keys("end", "up", "up", "enter", "tab", "tab", "ctrl+u", "enter") // nobody knows after all
	if b := p.listed().BatchNamed("aunt Maud"); b.Source != "her niece" || b.Expected != 0 {
		t.Errorf("the batch is %+v", b)
	}
	p.mustList("aunt Maud")
	p.keys("end", "up")
	p.mustShow("nobody knows yet what these are", "Old paper is fragile")
	p.size(80, 20)
	p.keys("space")
	u := identify.Bin(p.listed())[0]
	p.mustShow(p.listed().Called(u.ID), "wear a dust mask and gloves", "to look at (common practice, no source)")
	p.keys("end", "pgup", "pgdown", "up", "down", "home", "end")
	looks := identify.Open(p.listed(), u)
	p.mustShow("tells " + looks[len(looks)-1].Tells)
	p.keys("esc")
	p.mustShow("space what to look at")
	p.keys("space", "space", "'f")
	p.mustShow("tuckrow: Find", "Long gown")
	p.keys("esc", "space", "'f")
	p.mustShow("tuckrow: Find")
}

func TestWhatBarcodesHaveTaught(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab", "tab")
	all := propose.New(p.listed()).Learned()
	if len(all) == 0 {
		t.Fatal("the demo has no codes")
	}
	for _, l := range all {
		p.mustList(fmt.Sprintf("%s %s %d of %d %.0f %% %.0f %%", l.Guess.Publisher, l.Prefix, l.Sleeves, l.Of, 100*l.SurePublisher(), 100*l.SureNumber()))
	}
	q := play(t, collection.ID)
	q.keys("tab", "tab")
	q.mustShow("no batch yet; n notes one")
	q.keys("enter", "space", "'f", "tab")
	q.mustShow("no sleeve with a code is listed yet")
	q.keys("tab")
	q.mustShow("there is nothing to carry")
	q.keys("tab")
	q.mustShow("there are no hooks, and nothing lies apart")
	q.keys("tab")
	q.mustList("copies 0 0")
}

// Another room, beside that of today, is the model's; nothing is changed by
// asking.
func TestAnotherRoom(t *testing.T) {
	p := demo(t, collection.ID)
	rev := p.listed().Rev()
	compared := func(q newroom.Question) {
		t.Helper()
		q.On = p.store.Today()
		a, err := newroom.Ask(p.listed(), q)
		if err != nil {
			t.Fatal(err)
		}
		then := a.Then.Lines(p.theme.Length)
		for i, today := range a.Today.Lines(p.theme.Length) {
			p.mustList(today[0] + " " + today[1] + " " + then[i][1])
		}
		p.mustShow("Local rules and qualified advice on lifting come first", "none above head height")
	}
	p.keys("shift+tab")
	p.mustShow("then: in 5 years, with 124 copies a year, with the boxes as they are: an")
	compared(newroom.Question{Years: 5})
	p.keys("enter", "backspace", "'2", "tab", "'60", "tab", "tab", "'500 mm", "enter")
	p.mustShow("then: in 2 years, with 60 copies a year, with all boxes 500 mm long: an")
	compared(newroom.Question{Years: 2, PerYear: 60, BoxLength: 500 * model.Millimetre})
	p.mustNotShow("is that right?")
	p.keys("enter", "tab", "ctrl+u", "'1", "tab", "tab", "ctrl+u", "'50", "enter")
	p.mustShow("with 1 copy a year")
	p.mustShow("boxes are taken to be 50 mm long: is that right?")
	p.keys("enter", "tab", "ctrl+u", "'60", "up", "up", "ctrl+u", "enter")
	file := filepath.Join(t.TempDir(), "room.toml")
	p.keys("enter", "tab", "tab", "'"+file, "enter")
	p.mustShow("no such file")
	other := "[[box]]\nname = \"A\"\nlength = 300\n[[box]]\nname = \"B\"\nlength = 300\n[[hooks]]\nname = \"rail\"\nhooks = 40\neach = 3\n"
	if err := os.WriteFile(file, []byte("[[box]]\nlength = long"), 0o600); err != nil {
		t.Fatal(err)
	}
	p.keys("esc", "enter")
	p.mustShow("line 2")
	if err := os.WriteFile(file, []byte(other), 0o600); err != nil {
		t.Fatal(err)
	}
	p.keys("esc", "tab", "ctrl+u", "enter")
	p.mustShow("then: in 2 years, with 60 copies a year, with the furniture of room.toml: an")
	read, err := exchange.ReadShelf(strings.NewReader(other))
	if err != nil {
		t.Fatal(err)
	}
	compared(newroom.Question{Years: 2, PerYear: 60, Shelf: &read})
	p.keys("enter", "up", "'500 mm", "enter")
	p.mustShow("with the furniture of room.toml and", "all boxes 500 mm long: an estimate")
	p.keys("enter", "backspace", "'0", "tab", "ctrl+u", "tab", "ctrl+u", "tab", "ctrl+u", "enter")
	p.mustShow("then: what there is, with the boxes as they are")
	p.keys("enter", "ctrl+u", "'99", "enter")
	p.mustShow(`"99" is not a number of years`)
	p.keys("esc", "ctrl+u", "'0", "tab", "'some", "enter")
	p.mustShow(`"some" is not a number of copies`)
	p.keys("esc", "ctrl+u", "tab", "tab", "'wide", "enter")
	p.mustShow(`"wide" is not a length of boxes`)
	p.keys("esc", "esc")
	if p.listed().Rev() != rev {
		t.Error("something was changed")
	}
}

// What comes of an older question is followed by what comes of the present one.
func TestAnOlderAnswerIsNotShown(t *testing.T) {
	p := onSample(t, collection.ID, sample.Cupboard(3000))
	late := p.started(tea.KeyMsg{Type: tea.KeyShiftTab})
	p.mustShow("not worked out yet")
	p.keys("enter", "backspace", "'1", "tab", "'50", "enter")
	p.mustShow("not worked out yet")
	p.run(late)
	p.mustShow("then: in a year, with 50 copies a year")
	p.mustList("copies 3000 3050")
}

// Half-written forms stay; a write that fails leaves all as it is.
func TestAHalfWrittenBatchStays(t *testing.T) {
	p := demo(t, collection.ID)
	p.keys("tab", "tab", "enter", "'XIV ")
	p.send(frame.Rested{})
	p.keys("esc", "enter")
	p.mustShow("XIV")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("parcels\n")})
	p = p.again()
	p.keys("f6", "tab", "tab", "enter")
	p.mustShow("XIV parcels")
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "XIV parcels")
	p.store.fail = nil
	p.keys("esc", "enter")
	if b := p.listed().BatchNamed("cupboard, upper shelf"); b.Source != "XIV parcels" {
		t.Errorf("the batch is %+v", b)
	}
}
