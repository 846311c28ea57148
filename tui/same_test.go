package tui_test

import (
	"fmt"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/find"
	"example.org/tuckrow/tui/frame"
)

// relatives are copies of which some are listed as what they are not: 300 twice,
// and two designs in the record of 410.
func relatives() []model.Change {
	other := model.Entry{Publisher: "Quillon", Number: "300", Name: "Coat for winter", Year: 1974, DatedBy: "copyright", Notes: "from aunt Maud", Tags: []string{"old"}}
	again := model.Entry{Pattern: 3, Publisher: "Harrow & Pell", Number: "410", Notes: "the bib is round"}
	return []model.Change{
		&model.SetShelf{Spec: model.ShelfSpec{Settings: model.DefaultSettings(), Boxes: []model.BoxSpec{{Name: "7", Length: model.MM(380), Place: "hall"}}}},
		add("Quillon", "300", "Winter coat", "10-16", 0), &model.Add{Entries: []model.Entry{other}}, add("Harrow & Pell", "410", "Apron", "", 0), &model.Add{Entries: []model.Entry{again}}, add("Quillon", "301", "Winter coat, short", "", 0),
		&model.TakeOut{Copy: 2, To: "Nan"},
		&model.Sewn{Make: model.Make{Pattern: 2, On: "2025-03-01", For: "Ada"}},
		&model.Sewn{Make: model.Make{Pattern: 3, On: "2025-04-01", For: "Bo"}},
		&model.Enqueue{Item: model.Queued{Pattern: 3, Notes: "round bib"}},
		&model.SetLink{A: 2, B: 4},
	}
}

var sameScenes = []struct {
	name string
	keys []string
}{
	{"deeds", []string{"'6118", "ctrl+y", "down"}},
	{"picking", []string{"'4173", "ctrl+y", "enter"}},
	{"found", []string{"'wrap dress", "ctrl+y", "end", "up", "enter", "'coat", "down"}},
	{"joining", []string{"'6123", "ctrl+y", "enter", "'4173", "down", "enter", "space"}},
	{"parting", []string{"'6976", "ctrl+y", "down", "enter", "down", "space"}},
	{"saying", []string{"'6976", "ctrl+y", "down", "enter", "enter", "tab"}},
}

func TestGoldenSame(t *testing.T) {
	for _, s := range sameScenes {
		p := demo(t, find.ID)
		p.keys(s.keys...)
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("same_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
	}
}

// Side by side: what each says, what will be said, and what goes over. Merged it
// says that, and one step of undo makes two of it.
func TestMergingFromFind(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	p.keys("'300", "ctrl+y")
	p.mustShow("Quillon 300 Winter coat", "1 copy listed", "like it: Quillon 300 Coat for winter · 1974, same number, year not known")
	p.keys("down", "up", "enter")
	p.mustShow("is the same as which other?", "like it; type to look for another:")
	p.keys("'qqq", "enter") // there is nothing to take
	p.mustShow("nothing found; try fewer words")
	p.keys("esc", "enter")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("coat\n")})
	p.mustShow("2 patterns:") // not itself
	p.keys("down", "up", "enter")
	p.mustShow("Merge two records into one", "record kept", "merged into it")
	p.mustList("publisher ✓ Quillon ✓ Quillon")
	p.mustList("→ name ✓ Winter coat Coat for winter")
	p.mustList("category ✓ Dresses")
	p.mustList("size range ✓ 10-16")
	p.mustList("year ✓ 1974")
	p.mustList("dated by ✓ copyright")
	p.mustList("tags ✓ old")
	p.mustList("copy 2 goes over: out since")
	p.mustList("made goes over: 2025-03-01 · for Ada")
	p.mustList("see also goes over: Quillon 301 Winter coat, short")
	p.mustShow("name: it will say Winter coat, and not Coat for winter; space turns that round")
	p.keys("space")
	p.mustList("→ name Winter coat ✓ Coat for winter")
	p.mustShow("name: it will say Coat for winter, and not Winter coat")
	p.keys("space")
	p.mustShow("name: it will say Winter coat, and not Coat for winter")
	p.keys("space", "pgdown")
	p.mustShow("see also goes over: Quillon 301")
	p.keys("home", "'x") // the other is kept
	p.mustList("name ✓ Coat for winter Winter coat")
	p.mustList("copy 1 goes over: on the to-file pile")
	p.keys("'x", "down", "up", "end", "pgup", "space", "home") // nothing to turn round there
	p.mustShow("publisher: both say Quillon")
	p.keys("down", "down", "space", "esc", "esc", "esc")
	was := p.listed() // nothing was confirmed
	if was.Patterns().Len() != 4 {
		t.Fatalf("merged without a word:\n%s", p.root.View())
	}
	p.mustShow("tuckrow: Find", "Look for  300▏")
}

// Size charts and cloth are compared in the units that the owner writes, and never
// as bare millimetres.
func TestMergingShowsChartsInTheOwnersUnits(t *testing.T) {
	for units, want := range map[string][]string{
		"mm":         {"10 | 92 cm", "10 | 88.9 cm", "140 cm | 2.00 m"},
		model.Inches: {"10 | 36 1/4 in", "10 | 35 in", "55 1/8 in | 2 1/4 yd"},
	} {
		set := model.DefaultSettings()
		set.Units = units
		one := model.Entry{Publisher: "Quillon", Number: "300", Name: "Coat", Sizes: []model.Size{{Name: "10", Bust: 920 * model.Millimetre}}}
		two := model.Entry{Publisher: "Quillon", Number: "300", Name: "Coat", Year: 1974, DatedBy: "copyright", Sizes: []model.Size{{Name: "10", Bust: 889 * model.Millimetre}},
			Needs: []model.Need{{View: "A", Width: 1400 * model.Millimetre, Length: 2000 * model.Millimetre}}}
		p := play(t, find.ID, &model.SetShelf{Spec: model.ShelfSpec{Settings: set}}, &model.Add{Entries: []model.Entry{one}}, &model.Add{Entries: []model.Entry{two}})
		p.keys("'300", "ctrl+y", "enter", "enter")
		p.mustShow("Merge two records into one")
		p.mustShow(want...)
		p.mustShow("size chart: it will say " + want[0])
		p.mustNotShow("920", "889", "1400")
	}
}

// What merging comes to is stored, in one step.
func TestMergedAndUndoneInFind(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	before := p.listed()
	p.keys("'300", "ctrl+y", "enter", "enter", "space", "enter")
	c := p.listed()
	kept := c.Pattern(1)
	if c.Pattern(2) != nil || kept.Name != "Coat for winter" || kept.Year != 1974 || kept.DatedBy != "copyright" || !slices.Equal(kept.Tags, []string{"old"}) {
		t.Fatalf("merged it says %+v", kept)
	}
	if c.Copy(2).Pattern != 1 || c.Copy(2).Notes != "from aunt Maud" || c.Copy(2).Out == nil || c.Makes().Get(1).Pattern != 1 || c.Pattern(4) == nil || !slices.Equal(c.Pattern(4).Links, []model.Link{{To: 1, Kind: model.SeeAlso}}) {
		t.Errorf("what lay on the other has not gone over: %+v, %+v", c.Copy(2), c.Makes().Get(1))
	}
	p.mustShow("Look for  300", "1 pattern:", "undo: merged Quillon 300")
	p.keys("ctrl+z")
	if c := p.listed(); c.Patterns().Len() != before.Patterns().Len() || c.Copy(2).Pattern != 2 || c.Pattern(1).Name != "Winter coat" {
		t.Errorf("undone it is %+v", c.Pattern(1))
	}
	// Or taken apart much later.
	p.keys("ctrl+y", "enter", "enter", "enter", "ctrl+y", "end")
	p.mustShow("take apart again", "Quillon 300 Coat for winter, which was merged into it")
	p.keys("enter")
	if p.listed().Copy(2).Pattern != 2 {
		t.Error("it is not taken apart")
	}
}

// Where the one looked for is called otherwise afterwards, it is shown all the
// same.
func TestWhatWasMergedIsShown(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	p.keys("'301", "ctrl+y", "enter", "'300 coat for", "enter", "enter")
	if p.listed().Pattern(4) != nil {
		t.Fatalf("nothing was merged:\n%s", p.root.View())
	}
	p.mustShow("Quillon 300", "typing looks for something else")
	p.keys("'410")
	p.mustShow("Look for  410")
}

// Copies, what was made and what waits go to the other design, which says what its
// own sleeve says: one step.
func TestPartingFromFind(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	p.keys("'301", "ctrl+y", "down", "enter")
	p.mustShow("there is only one copy of Quillon 301")
	p.keys("esc", "esc", "ctrl+u", "'410", "down", "ctrl+y", "down", "enter")
	p.mustList("stays copy 3 on the to-file pile")
	p.mustList("✓ goes copy 4 on the to-file pile · the bib is round")
	p.mustList("stays made 2 2025-04-01 · for Bo")
	p.mustList("stays to sew round bib")
	p.keys("space", "enter")
	p.mustShow("all copies would go to the other design; leave at least one")
	p.keys("esc", "space", "down", "space", "enter")
	p.mustShow("no copy goes to the other design yet")
	p.keys("esc", "space", "down", "space", "end", "space", "home", "pgdown", "pgup", "up", "down", "esc", "enter", "enter")
	p.mustShow("What the sleeve of the other design says")
	p.keys("ctrl+u", "'Harr", "right", "shift+tab", "up", "tab", "down", "tab", "ctrl+u", "'411", "tab", "ctrl+u", "'Round apron")
	p.send(frame.Rested{})
	p = p.again()
	p.keys("ctrl+f", "'410", "down", "ctrl+y", "down", "enter", "down", "down", "space", "down", "space", "enter")
	p.mustList("number 411") // it was kept
	p.keys("tab", "tab")
	for range 6 {
		p.keys("tab")
	}
	p.keys("'soon", "enter")
	p.mustShow(`"soon"`)
	p.keys("esc", "ctrl+u", "'1975")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("\n")})
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "411")
	p.store.fail = nil
	p.keys("esc", "esc", "enter", "enter") // back, and on again
	c := p.listed()
	fresh, old := c.PatternOf(4), c.Pattern(3)
	if fresh.ID == 3 || fresh.Number != "411" || fresh.Name != "Round apron" || fresh.Year != 1975 || old.Number != "410" || old.Name != "Apron" || c.Copy(3).Pattern != 3 {
		t.Fatalf("parted it is %+v and %+v\n%s", fresh, old, p.root.View())
	}
	if c.Makes().Get(2).Pattern != fresh.ID || c.Queue()[0].Pattern != fresh.ID {
		t.Errorf("what was made, and what waits, are of %d and %d", c.Makes().Get(2).Pattern, c.Queue()[0].Pattern)
	}
	p.mustShow("411", "Round apron", "undo: parted 1 copy from 410") // in the word of the room; Split is another
	p.keys("ctrl+z")
	if c := p.listed(); c.Copy(4).Pattern != 3 || c.Patterns().Len() != 4 {
		t.Error("undo did not make one of them")
	}
}

// Another design is not made before something tells it from the one it was taken
// for; it has no barcode but one that is given.
func TestPartingWantsADifference(t *testing.T) {
	en := model.Entry{Publisher: "Quillon", Number: "500", Name: "Tunic", Barcode: "2000000000015"}
	p := play(t, find.ID, append(relatives(), &model.Add{Entries: []model.Entry{en}}, &model.Add{Entries: []model.Entry{{Pattern: 5, Publisher: "Quillon", Number: "500"}}})...)
	was := p.listed().Patterns().Len()
	p.keys("'500", "down", "ctrl+y", "down", "enter", "enter", "enter")
	p.mustShow("this would be Quillon 500 Tunic once more", "What the sleeve of the other design says")
	if n := p.listed().Patterns().Len(); n != was {
		t.Fatalf("%d patterns are listed, want %d", n, was)
	}
	p.keys("esc", "tab", "'s of linen", "enter")
	c := p.listed()
	old, fresh := c.PatternOf(6), c.PatternOf(7)
	if old.ID > fresh.ID {
		old, fresh = fresh, old
	}
	if c.Patterns().Len() != was+1 || fresh.Name == "Tunic" || fresh.Barcode != "" || old.Name != "Tunic" || old.Barcode != en.Barcode {
		t.Errorf("parted it is %+v and %+v\n%s", old, fresh, p.root.View())
	}
}

// A publisher that is not listed is asked about before it is made, and once.
func TestPartingAsksAboutANewPublisher(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	was := p.listed().Publishers().Len()
	p.keys("'410", "down", "ctrl+y", "down", "enter", "enter", "ctrl+u", "'Quillom", "tab", "ctrl+u", "'411", "enter")
	p.mustShow(`"Quillom" would be a new publisher`, "What the sleeve of the other design says")
	if n := p.listed().Publishers().Len(); n != was {
		t.Fatalf("%d publishers are listed, want %d", n, was)
	}
	p.keys("backspace", "'n and Sons", "enter") // another is asked about again
	p.mustShow(`"Quillon and Sons" would be a new publisher`)
	p.keys("enter")
	if c := p.listed(); c.Publishers().Len() != was+1 || c.PublisherNamed("Quillon and Sons") == nil {
		t.Errorf("it was not taken at the second enter:\n%s", p.root.View())
	}
	p = play(t, find.ID, relatives()...)
	p.keys("'410", "down", "ctrl+y", "down", "enter", "enter", "ctrl+u", "'quillon", "enter") // one that is listed is not asked about
	if c := p.listed(); c.Publishers().Len() != was || c.PatternOf(4).ID == 3 {
		t.Errorf("a listed publisher was asked about:\n%s", p.root.View())
	}
}

// Links go both ways, and are taken away again.
func TestLinkingFromFind(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	p.keys("'410", "ctrl+y", "down", "down", "enter")
	p.mustShow("was issued again as which other?", "nothing is like it; type its number")
	p.keys("'301", "enter")
	linked := func(want string) {
		t.Helper()
		if got := fmt.Sprint(p.listed().Pattern(3).Links, p.listed().Pattern(4).Links); got != want {
			t.Errorf("the links are %s, want %s", got, want)
		}
	}
	linked("[{4 reissue}] [{2 see also} {3 reissue}]")
	p.mustShow("tuckrow: Find", "undo: linked")
	p.keys("ctrl+y", "end", "up", "enter")
	p.mustShow("has to do with which other?")
	p.keys("'301", "enter")
	linked("[{4 see also}] [{2 see also} {3 see also}]")
	p.keys("ctrl+y", "end")
	p.mustList("→ no longer see also Quillon 301 Winter coat, short")
	p.keys("home", "pgdown", "pgup", "end", "enter")
	linked("[] [{2 see also}]")
	p.keys("ctrl+z")
	linked("[{4 see also}] [{2 see also} {3 see also}]")
	p.burst("6291041500213")
	p.keys("ctrl+u", "'410", "ctrl+y", "down", "down", "enter")
	p.burst("6291041500213")
	p.mustShow("nothing found")
}

// What the sheet is about can go while it is open, and a slot is one key away from
// it.
func TestTheSheetGivesWay(t *testing.T) {
	p := play(t, find.ID, relatives()...)
	p.mustShow("ctrl+y merge") // of what is out
	p.keys("ctrl+y", "esc", "'300", "ctrl+y", "enter", "ctrl+f", "'410")
	p.mustShow("Look for  410▏")
	p.keys("ctrl+y", "down", "enter")
	for _, ch := range []model.Change{&model.Remove{Copies: []model.Accession{4}}, &model.Remove{Copies: []model.Accession{3}}} {
		commit, err := p.store.Store.Commit(t.Context(), ch)
		if err != nil {
			t.Fatal(err)
		}
		p.send(frame.StoreChanged{Commit: commit})
	}
	p.mustShow("Look for  410▏", "nothing found")
}
