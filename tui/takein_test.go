package tui_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/clean"
	"example.org/tuckrow/ordering/sample"
	"example.org/tuckrow/storage/exchange"
	"example.org/tuckrow/tui/collection"
	"example.org/tuckrow/tui/frame"
)

// messy is a spreadsheet as people keep them.
const messy = `House;No.;What it is;Sz;Where;Remarks;Where
Quillon;K-100;Hooded cape;10-16;left;;
Quilon;K101;Winter coat sizes 12-18;;left;torn sleeve;
Quillon 4107;;Tea gown;14;left;;x
Quillon;6123 (cut);Wrap dress;H5;right;;
Quillon;6124 - no guide;Wrap skirt;;right;;

;;nobody knows;;right;;
Brindle;6970;Boat-necked top;;right;;;;
Quillon;K-100;Hooded cape;10-16;left;second copy;
`

// inFolder writes files into a folder of their own, in which the test then is: the
// screens show no name that differs from run to run.
func inFolder(t *testing.T, files map[string]string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range files {
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

var takeInScenes = []struct {
	name string
	keys []string
}{
	{"file", []string{"'i", "down"}},
	{"columns", []string{"'i", "'mess", "tab", "enter", "down", "down", "'na"}},
	{"proposals", []string{"'i", "'mess", "tab", "enter", "down", "down", "'na", "enter", "space", "down"}},
	{"verdict", []string{"'i", "'mess", "tab", "enter", "down", "down", "'na", "enter", "'a", "enter"}},
	{"stored", []string{"'i", "'mess", "tab", "enter", "down", "down", "'na", "enter", "'a", "enter", "enter"}},
}

func TestGoldenTakeIn(t *testing.T) {
	home, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range takeInScenes {
		inFolder(t, map[string]string{"messy.csv": messy, "old/a.csv": "a\n", "cupboard.jsonl": "", "photo.png": "", ".hidden.csv": ""})
		p := demo(t, collection.ID)
		p.keys(s.keys...)
		t.Chdir(home) // where the goldens are
		for _, size := range threeSizes {
			p.size(size[0], size[1])
			golden(t, fmt.Sprintf("takein_%s_%dx%d.golden", s.name, size[0], size[1]), p.root.View())
		}
		p.fitsEverySize(s.name)
		p.coloursAddNothing(t, s.name)
	}
}

// A file is named, with what could be meant below it.
func TestNamingTheFileToTakeIn(t *testing.T) {
	inFolder(t, map[string]string{"messy.csv": messy, "old/a.csv": "a\n", "photo.png": "", ".hidden.csv": ""})
	p := play(t, collection.ID, add("Quillon", "9", "Smock", "", 0))
	p.keys("'i")
	p.mustShow("Take in a spreadsheet", "messy.csv", "old/")
	p.mustNotShow("photo.png", ".hidden.csv")
	p.keys("down", "up", "enter", "'zz", "enter") // nothing is meant, nothing is there
	p.mustShow("nothing here begins so", `there is no file "`)
	p.keys("esc", "ctrl+u", "'old", "tab")
	p.mustShow("old/▏", "a.csv")
	p.keys("down", "enter")
	p.mustShow("0 rows: what its columns are")
	p.keys("enter")
	p.mustShow("no column is read as publisher, and one as number or name; choose one")
	p.keys("esc", "esc", "ctrl+u", "'no/such/folder/")
	p.mustShow("there is no such folder")
	p.keys("ctrl+u", "down", "down", "enter") // opens the folder
	p.mustShow("old/▏")
	p.keys("ctrl+u", "esc")
	p.mustShow("supplies")
	p.keys("'i", "'.", "tab")
	p.mustShow(".hidden.csv▏")
	p.keys("ctrl+u")
	p.send(tea.KeyMsg{Type: tea.KeyRunes, Paste: true, Runes: []rune("messy.csv\n")})
	p.keys("enter")
	p.mustShow("9 rows: what its columns are")
	p.keys("esc", "esc", "'i")
	p.mustShow("messy.csv▏") // it is there again
}

// readMessy opens the interface on the messy spreadsheet, read.
func readMessy(t *testing.T) *player {
	t.Helper()
	inFolder(t, map[string]string{"messy.csv": messy})
	p := play(t, collection.ID, add("Quillon", "9", "Smock", "", 0))
	p.keys("'i", "'messy.csv", "enter")
	return p
}

// What columns are, and what is mended, is said before anything is stored.
func TestSayingWhatIsMended(t *testing.T) {
	p := readMessy(t)
	p.mustShow("9 rows: what its columns are")
	p.mustList("→ House publisher")
	p.mustList("What it is not used")
	p.mustList("Sz size_range")
	p.mustShow(`it holds "Quillon", "Quilon", "Quillon 4107"; its letters choose, one again`, "the next: not used, accession")
	p.keys("up", "down", "tab", "shift+tab", "down", "down", "'na", "space", "'na")
	p.mustList("→ What it is name")
	p.keys("up", "up", "up", "'hall drawer")
	p.mustList("batch of all rows hall drawer")
	p.send(frame.Rested{})
	p.keys("enter")

	p.mustShow("messy.csv: 0 of 5 proposals taken")
	p.mustList("▌publisher and number in one cell: 0 of 1 taken")
	p.mustList(`line 4 publisher "Quillon 4107" → "Quillon"; number → "4107"`)
	p.mustList("▌a note in the number: 0 of 2 taken")
	p.mustList("▌sizes in the name: 0 of 1 taken")
	p.mustList("▌a publisher spelled otherwise: 0 of 1 taken")
	p.keys("down", "space")
	p.mustList(`✓ line 4`)
	p.mustShow("line 4: publisher and number in one cell", "1 of 5 proposals taken")
	p.keys("tab", "space", "down", "space")
	p.mustList("a note in the number: 1 of 2 taken")
	p.keys("tab", "tab", "tab", "tab", "space", "space", "'a")
	p.mustShow("5 of 5 proposals taken")
	p.keys("'a")
	p.mustShow("0 of 5 proposals taken")
	p.keys("'a", "pgdown", "pgup", "end", "home", "up", "down", "space", "end", "space", "esc")
	p.mustShow("what its columns are")
	p.keys("enter") // what was decided of the same columns stays
	p.mustShow("3 of 5 proposals taken")
	p.keys("esc", "up", "up", "up", "up", "'no", "enter") // other columns are looked through anew
	p.mustShow("0 of 4 proposals taken")
	p.keys("esc", "'na", "enter", "'a", "end", "space", "enter") // all but the spelling
	p.mustShow("messy.csv: nothing is stored yet", "4 proposals taken")
}

// What would be stored is seen before it is, and all of it comes back in one step.
func TestTakingInASpreadsheet(t *testing.T) {
	p := readMessy(t)
	p.keys("down", "down", "'na", "up", "up", "up", "'hall drawer", "enter", "'a", "end", "space", "enter") // all but the spelling
	p.mustShow("messy.csv: nothing is stored yet", "6 copies would be stored, 1 of them further copies", "4 proposals taken", `the column "Where" is not used`,
		"2 rows cannot be used, and would go with the reasons into", "messy.csv.rejected.csv:", "line 8: ", "line 9: the row has")
	p.size(80, 12)
	p.keys("down", "up", "pgdown", "pgup", "end", "home")
	p.size(80, 24)
	p.keys("esc")
	p.mustShow("4 of 5 proposals taken")
	rev := p.listed().Rev()
	p.keys("enter")
	if p.listed().Rev() != rev {
		t.Fatal("something is stored already")
	}
	p.store.fail = errDisk
	p.keys("enter")
	p.mustShow("the disk is gone", "nothing is stored yet")
	p.store.fail = nil
	p.keys("esc", "enter")
	p.mustShow("messy.csv is taken in", "imported 6 copies from messy.csv; ctrl+z takes all of it back", "2 rows rejected, with the reasons in messy.csv.rejected.csv")
	if got := p.listed().Copies().Len(); got != 7 {
		t.Errorf("%d copies are listed, want 7", got)
	}
	for a, want := range map[model.Accession]string{3: "Quilon|K101|Winter coat|12-18", 4: "Quillon|4107|Tea gown|14", 5: "Quillon|6123|Wrap dress|H5", 6: "Quillon|6124|Wrap skirt|"} {
		en := p.entryOf(a)
		if got := strings.Join([]string{en.Publisher, en.Number, en.Name, en.SizeRange}, "|"); got != want || en.Batch != "hall drawer" {
			t.Errorf("copy %d is %s in batch %q, want %s", a, got, en.Batch, want)
		}
	}
	rejected, err := os.ReadFile("messy.csv.rejected.csv")
	if err != nil || !strings.Contains(string(rejected), "nobody knows") || strings.Count(string(rejected), "\n") != 3 {
		t.Errorf("rejected: %v\n%s", err, rejected)
	}
	p.keys("enter", "ctrl+z")
	if got := p.listed().Copies().Len(); got != 1 {
		t.Errorf("undone there are %d copies, want 1", got)
	}
	p.mustShow("undid: imported 6 copies")
}

// A spreadsheet in which there is nothing to mend goes straight to what would be
// stored, and a box that it names is told of. What is stored elsewhere meanwhile
// counts.
func TestTakingInWhatIsClean(t *testing.T) {
	inFolder(t, map[string]string{"mine.csv": "publisher,number,name,box,hook\nQuillon,1,Cape,9,\nQuillon,2,Coat,,door 3\n", "none.csv": "publisher,number\n,\n", "bad.csv": "publisher,number\n\"x\n"})
	p := play(t, collection.ID)
	p.keys("'i", "'bad.csv", "enter")
	p.mustShow(`reading "`, "quote")
	p.keys("esc", "ctrl+u", "'none.csv", "enter", "enter")
	p.mustShow("0 copies would be stored")
	p.keys("enter", "esc", "esc", "ctrl+u", "'mine.csv", "enter", "enter")
	p.mustShow("2 copies would be stored, 0 of them", "box 9 is new; it is taken to be 380 mm long: Shelf takes its true length", `the row of hooks "door" is new, with 3 hooks for 3 each`)
	commit, err := p.store.Store.Commit(t.Context(), &model.Add{Entries: []model.Entry{{Publisher: "Quillon", Number: "1", Name: "Cape"}}})
	if err != nil {
		t.Fatal(err)
	}
	p.send(frame.StoreChanged{Commit: commit})
	p.mustShow("2 copies would be stored, 1 of them")
	p.keys("enter", "esc")
	if c := p.listed(); c.Copies().Len() != 3 || c.Patterns().Len() != 2 {
		t.Errorf("%d copies of %d patterns, want 3 of 2", c.Copies().Len(), c.Patterns().Len())
	}
	p.keys("'i", "ctrl+u", "'mine.csv", "enter", "enter")
	p.mustShow("2 of the 2 rows say nothing that is not listed: was this file taken in before?", "Then leave it with esc")
}

// What is stored is what the command of the same name stores, with the same taken.
func TestTheInterfaceTakesInWhatTheCommandDoes(t *testing.T) {
	im, err := exchange.ReadToClean(strings.NewReader(messy), map[string]string{}, false)
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, map[string]string{"messy.csv": messy})
	p := play(t, collection.ID)
	p.keys("'i", "'messy.csv", "enter", "enter")
	p.mustShow(fmt.Sprintf("0 of %d proposals", len(clean.Propose(p.listed(), im.Entries))))
	p.keys("'a", "enter", "enter")
	q := play(t, collection.ID)
	im.Settle(clean.Propose(q.listed(), im.Entries))
	if _, err := q.store.Commit(t.Context(), im.Plan(q.listed(), "", "messy.csv").Change); err != nil {
		t.Fatal(err)
	}
	var a, b strings.Builder
	if err := exchange.WriteCSV(&a, p.listed()); err != nil {
		t.Fatal(err)
	}
	if err := exchange.WriteCSV(&b, q.listed()); err != nil {
		t.Fatal(err)
	}
	if a.String() != b.String() {
		t.Errorf("the interface stores\n%s\nthe command\n%s", a.String(), b.String())
	}
}

// A whole cupboard goes into an empty one, and into no other.
func TestTakingInAWholeCupboard(t *testing.T) {
	c, err := sample.Demo().Collection()
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := exchange.WriteJSONL(&b, c); err != nil {
		t.Fatal(err)
	}
	inFolder(t, map[string]string{"all.jsonl": b.String(), "cut.jsonl": b.String()[:b.Len()/2]})
	p := play(t, collection.ID)
	p.keys("'i", "'cut.jsonl", "enter")
	p.mustShow(`reading "`)
	p.keys("esc", "ctrl+u", "'all", "tab", "enter")
	p.mustShow(fmt.Sprintf("the export is whole: %d copies would be stored, with shelf and settings", c.Copies().Len()))
	p.keys("esc", "enter", "enter")
	p.mustShow("imported the cupboard from all.jsonl")
	var got strings.Builder
	if err := exchange.WriteJSONL(&got, p.listed()); err != nil {
		t.Fatal(err)
	}
	if got.String() != b.String() {
		t.Error("the cupboard is not what the export says")
	}
	p.keys("enter", "ctrl+z")
	if n := p.listed().Copies().Len(); n != 0 {
		t.Errorf("undone there are %d copies", n)
	}
	p.keys("'i", "'all.jsonl", "enter")
	p.mustShow("goes only into one in which nothing was", "ever entered")
}

// What is said of one column makes no other be read otherwise than the form shows.
func TestColumnsAreReadAsTheFormShowsThem(t *testing.T) {
	inFolder(t, map[string]string{"mine.csv": "Company,Brand,Pattern,Title,Title\nQuillon,Averlock,451 torn,Cape,x\nQuillon,Averlock,452,Coat,y\n"})
	p := play(t, collection.ID)
	p.keys("'i", "'mine.csv", "enter")
	p.mustShow("Company            publisher", "Brand              not used", "Pattern            number", "Title              name")
	p.keys("backspace", "'not", "down", "down", "down", "backspace", "'notes", "enter") // what Company and Title hold
	p.mustShow("0 of 1 proposal taken")
	p.keys("esc", "up", "up", "backspace", "'publ", "enter", "'a", "enter", "enter")
	if en := p.entryOf(1); en.Publisher != "Averlock" || en.Number != "451" || en.Name != "" || en.Notes != "Cape; torn" {
		t.Errorf("it is stored as %+v", en)
	}
}

// What is chosen of a file and not stored is there again when the program was
// closed: its name, what its columns are, the batch, and what was taken.
func TestWhatIsChosenOfAFileStaysWhenTheProgramEnds(t *testing.T) {
	inFolder(t, map[string]string{"messy.csv": messy, "fine.csv": "publisher,number\nQuillon,1\n"})
	p := play(t, collection.ID)
	p.keys("'i", "'messy.csv", "enter", "down", "down", "'na", "up", "up", "up", "'the hall", "enter", "down", "' ", "end", "' ")
	p.mustShow("messy.csv: 2 of 5 proposals taken")
	was := p.root.View()
	p = p.again()
	p.keys("f6", "'i")
	p.mustShow("messy.csv▏")
	p.keys("enter")
	p.mustShow("what its columns are, as they were left", "What it is         name", "batch of all rows  the hall")
	p.keys("enter", "end")
	p.mustShow("messy.csv: 2 of 5 proposals taken")
	if now := p.root.View(); lineOf(now, "taken") != lineOf(was, "taken") {
		t.Errorf("before it was closed\n%s\nand now\n%s", was, now)
	}
	// Of a file that is another by now, what is the same in it.
	if err := os.WriteFile("messy.csv", []byte(strings.Replace(messy, "Quilon;K101", "Quillon;K101", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	p = p.again()
	p.keys("f6", "'i", "enter", "enter")
	p.mustShow("1 of 4 proposals taken")
	p.keys("enter", "enter")
	p.mustShow("messy.csv is taken in")
	p = p.again()
	p.keys("f6", "'i")
	p.mustNotShow("messy.csv▏")
	p.keys("'fine.csv", "enter")
	p.mustShow("what its columns are")
	p.mustNotShow("as they were left")
}

// Killed, the program has kept it when the hands rested.
func TestWhatIsChosenOfAFileIsKeptAtRest(t *testing.T) {
	inFolder(t, map[string]string{"messy.csv": messy})
	p := play(t, collection.ID)
	p.keys("'i", "'messy.csv", "enter", "down", "down", "'na", "enter", "' ")
	p.send(frame.Rested{})
	kept, err := p.store.LoadDraft("draft-takein")
	if err != nil || !strings.Contains(string(kept), `"what it is":"name"`) {
		t.Errorf("kept is %s (%v)", kept, err)
	}
}

// lineOf is the line of a view that says something.
func lineOf(view, says string) string {
	for l := range strings.SplitSeq(view, "\n") {
		if strings.Contains(l, says) {
			return l
		}
	}
	return ""
}

// Who waits no longer gets nothing, and can begin anew; a form that is filled in
// is not disturbed.
func TestStoppingToTakeIn(t *testing.T) {
	inFolder(t, map[string]string{"messy.csv": messy})
	p := play(t, collection.ID)
	p.keys("'i", "'messy.csv")
	late := p.started(tea.KeyMsg{Type: tea.KeyEnter})
	p.mustShow("reading messy.csv")
	p.keys("'x", "enter") // nothing is to be done meanwhile
	p.send(frame.Stopped{})
	p.run(late)
	p.mustNotShow("what its columns are")
	p.clock = p.clock.Add(1e9)
	p.keys("esc", "'i", "enter")
	p.mustShow("what its columns are")
}

// A column of days that are not written as ours costs no row: what they are read as is
// proposed, and numbers that may be none are told of before anything is stored.
func TestTakingInDaysWrittenOtherwise(t *testing.T) {
	inFolder(t, map[string]string{"days.csv": "Company,No,Got on\nQuillon,1,12.6.2019\nQuillon,2,03/04/2019\nQuillon,4.11E+03,June 2020\n"})
	p := play(t, collection.ID, add("Quillon", "9", "Smock", "", 0))
	p.keys("'i", "'days.csv", "enter")
	p.mustList("Got on added")
	p.keys("enter")
	p.mustShow("days.csv: 0 of 3 proposals taken")
	p.mustList("▌a day written otherwise: 0 of 2 taken")
	p.mustList(`line 2 added "12.6.2019" → "2019-06-12"`)
	p.mustList("▌what cannot be read or cannot be, into the notes: 0 of 1 taken")
	p.keys("enter")
	p.mustShow("3 rows cannot be used", "0 copies would be stored")
	p.keys("esc", "'a", "enter")
	p.mustShow("3 copies would be stored", "3 proposals taken", `line 4: doubtful number "4.11E+03"`)
	p.keys("enter")
	p.mustShow("imported 3 copies from days.csv")
}
