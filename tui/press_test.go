package tui_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.org/tuckrow/model"
	"example.org/tuckrow/ordering"
	"example.org/tuckrow/storage/paper"
	"example.org/tuckrow/tui/press"
)

// elsewhere makes a folder of the test's own the one that names alone lead to.
func elsewhere(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	t.Chdir(dir)
	return dir
}

// work is what the same order comes to without the interface.
func (p *player) work(o paper.Order, onlyNew bool, day model.Date) *paper.Work {
	p.Helper()
	a4, err := model.PaperNamed("A4")
	if err != nil {
		p.Fatal(err)
	}
	w, err := o.Work(paper.Source{Layout: ordering.Arrange(p.listed()), Paper: a4, Date: day, OnlyNew: onlyNew})
	if err != nil {
		p.Fatal(err)
	}
	return w
}

// What is written is what the same order gives, byte for byte.
func TestPrintWritesWhatWasOrdered(t *testing.T) {
	dir := elsewhere(t)
	p := demo(t, press.ID)
	p.size(120, 40)
	p.mustShow("which       new only", "n all")
	p.keys("'n")
	p.mustShow("which       all", "n new only")
	p.keys("'n")
	p.mustShow("which       new only", "n all")
	p.keys("'n")
	p.size(80, 24)
	p.keys("'l", "'c", "'s", "'5", "enter")
	p.mustShow("all", "A4 2x7", "qr", "from label  5")
	p.keys("enter")
	p.mustShow("write it into", "envelopes.pdf")
	p.keys("enter")
	p.mustShow("written: ", "the rule must measure 50 mm")
	var want strings.Builder
	if _, err := p.work(paper.Order{Kind: paper.EnvelopesKind, Labels: "A4 2x7", Code: model.CodeQR, Start: 5}, false, "").PDF(&want); err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(dir, "envelopes.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want.String() {
		t.Errorf("the file has %d bytes, the order comes to %d others", len(got), want.Len())
	}
}

// A file that is there is not replaced by one enter.
func TestPrintAsksBeforeItReplaces(t *testing.T) {
	dir := elsewhere(t)
	path := filepath.Join(dir, "envelopes.pdf")
	mine := func() string {
		t.Helper()
		b, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if err := os.WriteFile(path, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	p := demo(t, press.ID)
	p.keys("enter", "enter")
	p.mustShow("envelopes.pdf is there already")
	p.keys("'x", "backspace", "enter") // typing takes the question back
	p.mustShow("is there already")
	p.keys("esc", "enter", "esc")
	if mine() != "mine" {
		t.Fatal("it was replaced")
	}
	p.keys("enter", "enter", "enter")
	p.mustShow("written: ")
	if !strings.HasPrefix(mine(), "%PDF-") {
		t.Error("it was not replaced though it was said twice")
	}
}

func TestPrintSaysWhatIsWrongAndKeepsWhatIsTyped(t *testing.T) {
	elsewhere(t)
	p := demo(t, press.ID)
	for _, x := range []struct {
		keys []string
		says string
	}{
		{[]string{"enter", "ctrl+u", "enter"}, "name the file"},
		{[]string{"esc", "ctrl+u", "'nowhere/labels.pdf", "enter"}, "there is no such folder"},
		{[]string{"esc", "'s", "'zero", "enter"}, `"zero" is no place on the sheet`},
		{[]string{"esc", "esc", "'s", "'999", "enter"}, "cannot be begun at"},
	} {
		p.keys(x.keys...)
		p.mustShow(x.says)
	}
	p.keys("'s", "'2", "enter")
	p.mustShow("on 3 sheets")
	p = demo(t, press.ID)
	p.keys("down", "down", "down", "'w", "'7", "enter")
	p.mustShow("a spine of 7 mm gets no label")
	p.keys("'w", "'4 cm", "enter")
	p.mustShow("40 mm")
	p.keys("'w", "'wide", "enter")
	p.mustShow(`"wide"`)
}

// Each kind is shown as it will come out: the sheets that the preview counts are
// those of the order, and the texts on it are seen.
func TestPrintShowsEachKind(t *testing.T) {
	day := model.Date("")
	p := demo(t, press.ID)
	for i, k := range paper.Kinds() {
		if i > 0 {
			p.keys("down")
		}
		onlyNew := k == paper.EnvelopesKind || k == paper.DividersKind || k == paper.BoxesKind
		w := p.work(paper.Order{Kind: k, Start: 1, Binders: paper.BinderOptions{Spine: paper.SpineWidth}}, onlyNew, day)
		var r paper.Report
		sheets := 0
		for range w.Sheets(&r) {
			sheets++
		}
		want := fmt.Sprintf("%d on %d sheet", w.Count, sheets)
		if sheets > 40 {
			want = fmt.Sprintf("%d, on more than 40 sheets", w.Count)
		}
		p.mustShow(want, "sheet 1 of ")
		_, named, _ := strings.Cut(p.root.View(), "Print: ")
		named, _, _ = strings.Cut(named, "  ")
		if named == "" || strings.HasPrefix(named, " ") {
			t.Errorf("%s has no name", k)
		}
		p.mustShow("→ " + named)
	}
	p.keys("down")
	p.mustShow("refiling walk") // the last one
	p.keys("up")
	p.mustShow("insurance list")
}

func TestPrintLeafsAndScrolls(t *testing.T) {
	p := demo(t, press.ID)
	p.mustShow("sheet 1 of 3", "Harrow & Pell", "27 lines more; pgdn")
	p.keys("right")
	p.mustShow("sheet 2 of 3")
	p.keys("right", "right")
	p.mustShow("sheet 3 of 3")
	p.keys("left")
	p.mustShow("sheet 2 of 3")
	p.keys("pgdown", "pgdown", "pgdown")
	p.mustShow("more; pgup")
	p.keys("pgup", "pgup", "pgup")
	p.mustShow("more; pgdn")
	p.keys("'v")
	p.mustNotShow("divider cards")
	p.keys("down")
	p.mustShow("Print: envelope labels")
	p.keys("esc")
	p.mustShow("divider cards")
}

// What can be set, each with what the preview says to it.
func TestPrintSettings(t *testing.T) {
	p := demo(t, press.ID)
	p.keys("'o")
	p.mustShow("C5", "41, on more than 40 sheets", "229 x 162 mm")
	p.keys(times(5, "'o")...)
	p.mustShow("labels")
	p.keys("down", "'o")
	p.mustShow("C6")
	p.keys("'u", "'a", "'p")
	p.mustShow("Letter")
	p.keys("'f")
	p.mustShow("as text", "14 entries")
	p.keys("'f")
	p.mustShow("tape", "12 mm", " mm  Harrow & Pell")
	p.keys("'h", "'6", "enter")
	p.mustShow("6 mm")
	p.keys("'h", "'99", "enter")
	p.mustShow("a tape of 99 mm is not known")
	p.keys("'h", "'9 mm", "enter", "'f")
	p.mustShow("sheet 1 of")
	p.keys("down", "down")
	for _, part := range paper.BinderParts() {
		p.keys("'t")
		p.mustShow(part)
	}
	p.keys("'t")
	p.mustShow("all")
}

func TestPrintWhenThereIsNothing(t *testing.T) {
	p := play(t, press.ID)
	p.mustShow("there is no envelope label to print", "in a box does, or none was chosen")
	p.keys("enter", "'v", "right", "pgdown")
	p.mustShow("there is no envelope label to print", "in a box does, or none was chosen")
	for _, k := range []string{"f1", "esc"} {
		p.keys(k)
	}
	p.keys("down", "down")
	p.mustShow("Print: box labels")
}

// What is shown is of the cupboard as it is now.
func TestPrintFollowsTheCupboard(t *testing.T) {
	p := play(t, press.ID, wardrobe())
	before := p.listed().Copies().Len()
	p.mustShow(fmt.Sprintf("%d on 1 sheet", before))
	p.keys("ctrl+z")
	p.mustNotShow(" on 1 sheet")
	p.mustShow("there is no envelope label to print", "in a box does, or none was chosen")
}
