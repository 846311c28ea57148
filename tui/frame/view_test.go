package frame

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.org/tuckrow/model"
	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// filledStore holds as many copies at each step as told.
func filledStore(n model.StepCounts) *fakeStore {
	shelf := &model.Shelf{Settings: model.DefaultSettings(), Boxes: []model.Box{{ID: 1, Name: "1", Length: 380}}}
	records := []model.Record{&model.Publisher{ID: 1, Name: "Harrow & Pell"}}
	row := &model.Row{Box: 1}
	var last uint32
	for step := range n {
		for range n[step] {
			last++
			cp := &model.Copy{Accession: model.Accession(last), Pattern: model.PatternID(last)}
			if model.Step(step) > model.StepSleeve {
				cp.Sleeve = model.SleeveInBinder
			}
			cp.Enveloped, cp.Grouped = model.Step(step) > model.StepEnvelope, model.Step(step) > model.StepGroup
			if model.Step(step) == model.Filed {
				row.Copies = append(row.Copies, cp.Accession)
			}
			records = append(records, &model.Pattern{ID: cp.Pattern, Publisher: 1, Name: fmt.Sprint("Cape ", last)}, cp)
		}
	}
	records = append(records, shelf, row)
	c, err := model.Build(7, model.Counters{}, func(yield func(model.Record) bool) {
		for _, r := range records {
			if !yield(r) {
				return
			}
		}
	})
	if err != nil {
		panic(err)
	}
	return &fakeStore{col: c}
}

func bind(keys, does string) key.Binding {
	return key.NewBinding(key.WithKeys(strings.Split(keys, "/")...), key.WithHelp(keys, does))
}

// bigHouse is a house with 420 copies and screens that have keys.
func bigHouse(t *testing.T, th *theme.Theme) *house {
	t.Helper()
	h := &house{t: t, store: filledStore(model.StepCounts{12, 30, 8, 8, 362})}
	h.intake = &fake{
		short: []key.Binding{bind("enter", "save"), bind("tab", "next field"), bind("ctrl+z", "not ours"), bind("ctrl+d", "same publisher")},
		full: [][]key.Binding{
			{bind("enter", "save the entry and begin the next"), bind("tab", "go to the next field")},
			{bind("ctrl+d", "take the publisher of the entry before, and everything else that is remembered from it")},
		},
	}
	h.find = &fake{}
	o := options(h.intake, h.find, h.store)
	if th != nil {
		o.Theme = th
	}
	h.Root = New(o)
	h.pump(h.Init())
	return h
}

func TestGolden(t *testing.T) {
	for name, prepare := range map[string]func(h *house){
		"plain":  func(*house) {},
		"remark": func(h *house) { h.send(Say{"saved 6123 Wrap dress: it will stand in box 2"}) },
		"error":  func(h *house) { h.send(Complain{errDisk}) },
		"help":   func(h *house) { h.press("f1") },
		"ascii": func(h *house) {
			h.theme.Glyphs = theme.ASCIIGlyphs
			h.intake.view = func(int, int) string { return "Jupe évasée · …" }
			h.send(Complain{errors.New("“évasée” is there already")})
		},
	} {
		for _, size := range []tea.WindowSizeMsg{{Width: 80, Height: 24}, {Width: 40, Height: 12}, {Width: 31, Height: 6}} {
			name := fmt.Sprintf("%s_%dx%d", name, size.Width, size.Height)
			t.Run(name, func(t *testing.T) {
				h := bigHouse(t, nil)
				h.send(size)
				prepare(h)
				golden(t, name, h.View())
			})
		}
	}
}

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name+".golden")
	// A bar at the end of each line keeps spaces there from being lost.
	got = strings.ReplaceAll(got, "\n", "|\n") + "|\n"
	if *update {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the view is not that of %s; if it should be: go test ./tui/frame -update\ngot:\n%s\nwant:\n%s", path, got, want)
	}
}

// A screen that does not keep to its size must not push the frame apart.
func TestNoViewIsLargerThanTold(t *testing.T) {
	wild := func(int, int) string {
		return strings.Repeat(strings.Repeat("浴衣 👩‍👩‍👧 x\x1b[31m", 10)+"\x1b[2J\n", 33)
	}
	colour := theme.New(theme.Renderer(&strings.Builder{}, func(k string) string {
		return map[string]string{"CLICOLOR_FORCE": "1", "TERM": "xterm-256color"}[k]
	}, true))
	long := errors.New(strings.Repeat("a long error with a 浴衣 in it ", 9))
	for name, prepare := range map[string]func(h *house){
		"plain":  func(*house) {},
		"wild":   func(h *house) { h.intake.view = wild },
		"error":  func(h *house) { h.send(Complain{long}) },
		"remark": func(h *house) { h.intake.view = wild; h.send(Say{long.Error()}) },
		"help":   func(h *house) { h.press("f1", "end") },
		"a job": func(h *house) {
			h.undoable = strings.Repeat("浴衣", 30)
			h.jobs.asked["intake"] = running{1, strings.Repeat("浴衣 ", 30), time.Time{}}
		},
		"titles": func(h *house) {
			h.title = strings.Repeat("浴衣", 30)
			h.rooms[0].Title = strings.Repeat("浴衣", 30) + "\x1b[2J"
		},
	} {
		t.Run(name, func(t *testing.T) {
			h := bigHouse(t, colour)
			prepare(h)
			for hh := range 31 {
				for w := range 91 {
					h.Update(tea.WindowSizeMsg{Width: w, Height: hh})
					checkSize(t, h, w, hh)
				}
			}
			h.Update(tea.WindowSizeMsg{Width: -3, Height: -1})
			checkSize(t, h, 0, 0)
		})
	}
}

func checkSize(t *testing.T, h *house, w, hh int) {
	t.Helper()
	if h.intake.w < 0 || h.intake.h < 0 || h.intake.w > w || h.intake.h > hh {
		t.Errorf("%dx%d: the screen was told %dx%d", w, hh, h.intake.w, h.intake.h)
	}
	view := h.View()
	if view == "" {
		if w > 0 && hh > 0 {
			t.Errorf("%dx%d: no view", w, hh)
		}
		return
	}
	lines := strings.Split(view, "\n")
	small := w < minW || hh < minH
	if len(lines) > hh || !small && len(lines) != hh {
		t.Errorf("%dx%d: %d lines", w, hh, len(lines))
	}
	for _, l := range lines {
		if cells.Width(l) > w {
			t.Errorf("%dx%d: the line %q is %d cells", w, hh, l, cells.Width(l))
		}
		if strings.Contains(l, "\x1b[2J") {
			t.Fatalf("%dx%d: a sequence got through: %q", w, hh, l)
		}
	}
	if footer := lines[len(lines)-1]; !small && !strings.Contains(footer, "keys") {
		t.Errorf("%dx%d: the footer is %q, want the key for the help in it", w, hh, footer)
	}
}

func TestTheBodyGetsWhatIsLeft(t *testing.T) {
	h := newHouse(t)
	want := func(w, hh int) {
		t.Helper()
		for _, f := range []*fake{h.intake, h.find} {
			if f.w != w || f.h != hh {
				t.Errorf("a screen was told %dx%d, want %dx%d", f.w, f.h, w, hh)
			}
		}
	}
	want(80, 21)
	h.send(Say{"a remark"})
	want(80, 20)
	h.send(Complain{errors.New(strings.Repeat("long ", 100))})
	want(80, 18)
	h.press("esc")
	want(80, 20)
	h.press("ctrl+f")
	want(80, 21)
	sizes := h.find.sizes
	h.press("a", "b")
	if h.find.sizes != sizes {
		t.Error("the screen is told its size with every key")
	}
}

func TestKeysWorkWhereTheWindowIsTooSmall(t *testing.T) {
	h := newHouse(t)
	h.send(tea.WindowSizeMsg{Width: 31, Height: 6})
	h.wantView("tuckrow needs 40x10, this is")
	h.press("a", "ctrl+f")
	h.wantGot(h.intake, "a")
	h.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	h.wantView("Find")
}

func TestNoColourNoSequences(t *testing.T) {
	h := bigHouse(t, nil)
	h.send(tea.WindowSizeMsg{Width: 80, Height: 24}, Complain{errDisk})
	h.wantNotInView("\x1b")
	h.press("f1")
	h.wantNotInView("\x1b")
}

func TestHeaderShortens(t *testing.T) {
	n := model.StepCounts{12, 30, 8, 8, 362}
	for _, c := range []struct {
		w    int
		n    model.StepCounts
		want string
	}{
		{90, n, "attic: Intake             to sleeve 12 · to envelope 30 · to group 8 · to box 8 · done 362"},
		{72, n, "attic: Intake    to sleeve 12 · envelope 30 · group 8 · box 8 · done 362"},
		{64, n, "Intake   to sleeve 12 · envelope 30 · group 8 · box 8 · done 362"},
		{40, n, "attic: Intake        58 to do · done 362"},
		{30, n, "Intake     58 to do · done 362"},
		{20, n, "Intake      58 to do"},
		{10, n, "Intake"},
		{4, n, "Int…"},
		{40, model.StepCounts{}, "attic: Intake        nothing entered yet"},
		{40, model.StepCounts{0, 0, 0, 0, 9}, "attic: Intake                 all 9 done"},
		{40, model.StepCounts{0, 0, 0, 0, 9, 1}, "attic: Intake         done 9 · missing 1"},
		{50, model.StepCounts{0, 0, 3, 0, 9, 1}, "attic: Intake         3 to do · done 9 · missing 1"},
		{40, model.StepCounts{0, 0, 0, 0, 0, 1}, "attic: Intake         done 0 · missing 1"},
	} {
		if got := headerFor(noColour(), "attic", "Intake", c.n, c.w); got != c.want {
			t.Errorf("at %d cells: %q, want %q", c.w, got, c.want)
		}
	}
}

func TestTheHeaderFollows(t *testing.T) {
	h := newHouse(t)
	h.wantView("tuckrow: Intake", "nothing entered yet")
	h.send(Write{Change: add("Cape")})
	h.wantView("to sleeve 1")
	h.press("ctrl+f")
	h.wantView("tuckrow: Find")
	h.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	h.wantView("tuckrow: Find", "1 to do")
}

func TestFooterShowsKeysThatWorkNow(t *testing.T) {
	h := bigHouse(t, nil)
	off := bind("ctrl+x", "switched off")
	off.SetEnabled(false)
	h.intake.short = append(h.intake.short, off, bind("?", "typed here"))
	h.undoable = "added 6123 Wrap dress"
	footer := func(w int) string {
		h.send(tea.WindowSizeMsg{Width: w, Height: 12})
		lines := strings.Split(h.View(), "\n")
		return lines[len(lines)-1]
	}
	for _, c := range []struct {
		w    int
		want string
	}{
		{90, "enter save   tab next field   ctrl+d same publisher   ctrl+z undo   ctrl+f find    f1 keys"},
		{70, "enter save   tab next field   ctrl+d same publisher            f1 keys"},
		{40, "enter save   tab next field      f1 keys"},
	} {
		if got := footer(c.w); got != c.want {
			t.Errorf("at %d cells:\n%q, want\n%q", c.w, got, c.want)
		}
	}
	h.send(tea.WindowSizeMsg{Width: 80, Height: 24}) // room for two lines
	h.wantView("enter save   tab next field   ctrl+d same publisher\n" +
		"ctrl+z undo: added 6123 Wrap dress   ctrl+f find   ctrl+q quit           f1 keys")
	h.intake.text = true // now the ? is typed, and not the root's
	if got := footer(100); !strings.Contains(got, "? typed here") {
		t.Errorf("%q, want the key that the field takes", got)
	}
}

func TestTheHelpScrolls(t *testing.T) {
	h := bigHouse(t, nil)
	h.send(tea.WindowSizeMsg{Width: 40, Height: 10})
	h.press("f1")
	h.wantView("Intake", "more lines")
	h.wantNotInView("dead after a broken paste")
	top := h.View()
	h.press("up")
	if h.View() != top {
		t.Error("it scrolls above the top")
	}
	h.press("end")
	h.wantView("Nothing confirmed is lost.")
	h.wantNotInView("more lines")
	bottom := h.View()
	h.press("down", " ", "pgdown")
	if h.View() != bottom {
		t.Error("it scrolls below the end")
	}
	h.press("pgup", "enter", "up", " ", "pgup", "home")
	if h.View() != top {
		t.Error("home does not lead back to the top")
	}
	h.press("pgdown", "pgup")
	if h.View() != top {
		t.Error("a page down and a page up do not lead back to the top")
	}
	for range 40 {
		h.press("down")
	}
	if h.View() != bottom {
		t.Error("down does not lead to the end")
	}
	h.send(tea.WindowSizeMsg{Width: 80, Height: 60}) // all of it fits now
	h.wantView("save the entry", "confirmed is lost.")
	h.press("end", "esc")
	h.wantView("body 80x57")
}

func TestTheHelpTellsTheProcess(t *testing.T) {
	h := bigHouse(t, nil)
	h.pid = 4711
	h.send(tea.WindowSizeMsg{Width: 80, Height: 40})
	h.press("f1")
	h.wantView("kill -TERM 4711")
}

func BenchmarkView(b *testing.B) {
	h := &house{store: filledStore(model.StepCounts{12, 30, 8, 8, 362}), intake: &fake{}, find: &fake{}}
	h.Root = New(options(h.intake, h.find, h.store))
	h.Update(tea.WindowSizeMsg{Width: 120, Height: 40})
	for b.Loop() {
		_ = h.View()
	}
}
