package files

import (
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

// folder has spreadsheets, a folder, and what is none.
func folder(t *testing.T) {
	t.Helper()
	dir := t.TempDir()
	for _, name := range []string{"Mine.csv", "mine too.csv", "other.csv", "photo.png", ".hidden.csv", "old/deep.csv", "夏の型紙.csv"} {
		if err := os.MkdirAll(filepath.Dir(filepath.Join(dir, name)), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink("old", filepath.Join(dir, "linked")); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	t.Setenv("HOME", dir)
}

func picker() *Picker {
	p := NewPicker(func(name string) bool { return strings.HasSuffix(name, ".csv") })
	settle(p)
	return p
}

// settle looks into the folder that is wanted, as the room does aside.
func settle(p *Picker) {
	if dir := p.Wants(); dir != "" {
		p.Take(Look(dir))
	}
}

func press(p *Picker, keys ...any) {
	for _, k := range keys {
		switch k := k.(type) {
		case tea.KeyType:
			p.Update(tea.KeyMsg{Type: k})
			settle(p)
		case string:
			for _, r := range k {
				p.Update(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
				settle(p)
			}
		}
	}
}

func TestNamingAFile(t *testing.T) {
	folder(t)
	for _, x := range []struct {
		keys  []any
		value string
		meant string
		enter string
	}{
		{nil, "", "linked/|mine too.csv|Mine.csv|old/|other.csv|夏の型紙.csv", ""},
		{[]any{"mi"}, "mi", "mine too.csv|Mine.csv", "mi"},
		{[]any{"mi", tea.KeyTab}, "mine", "mine too.csv|Mine.csv", "mine"}, // as far as only one can be meant
		{[]any{"mi", tea.KeyTab, ".", tea.KeyTab}, "Mine.csv", "Mine.csv", "Mine.csv"},
		{[]any{"mi", tea.KeyDown, tea.KeyDown, tea.KeyDown}, "mi", "mine too.csv|Mine.csv", "Mine.csv"},
		{[]any{"mi", tea.KeyDown, tea.KeyUp, tea.KeyUp}, "mi", "mine too.csv|Mine.csv", "mi"},
		{[]any{"mi", tea.KeyDown, tea.KeyTab}, "mine too.csv", "mine too.csv", "mine too.csv"},
		{[]any{"old", tea.KeyTab}, "old/", "deep.csv", ""},
		{[]any{"old/", tea.KeyTab}, "old/deep.csv", "deep.csv", "old/deep.csv"},
		{[]any{"linked/d"}, "linked/d", "deep.csv", "linked/d"},
		{[]any{"~/old/"}, "~/old/", "deep.csv", ""},
		{[]any{"~"}, "~", "linked/|mine too.csv|Mine.csv|old/|other.csv|夏の型紙.csv", ""},
		{[]any{".", tea.KeyTab}, ".hidden.csv", ".hidden.csv", ".hidden.csv"},
		{[]any{"夏", tea.KeyTab}, "夏の型紙.csv", "夏の型紙.csv", "夏の型紙.csv"},
		{[]any{"zzz", tea.KeyTab, tea.KeyDown}, "zzz", "", "zzz"},
		{[]any{"none/x", tea.KeyTab}, "none/x", "", "none/x"},
	} {
		p := picker()
		press(p, x.keys...)
		value, meant := p.Value(), strings.Join(p.Meant(), "|")
		if enter := p.Enter(); value != x.value || meant != x.meant || enter != x.enter {
			t.Errorf("%v: %q, meant %q, enter gives %q; want %q, %q, %q", x.keys, value, meant, enter, x.value, x.meant, x.enter)
		}
	}
	p := picker()
	p.Paste("  other.csv\n")
	if p.Value() != "other.csv" {
		t.Errorf("pasted it is %q", p.Value())
	}
	press(p, tea.KeyCtrlU, tea.KeyDown)
	if got := p.Enter(); got != "" || p.Value() != "linked/" {
		t.Errorf("a folder gives %q, and the field is %q", got, p.Value())
	}
}

// A folder that was looked into too late is not taken for the one that is typed,
// and nothing is looked into twice.
func TestOnlyTheFolderThatIsTyped(t *testing.T) {
	folder(t)
	p := picker()
	if p.Wants() != "" {
		t.Errorf("it wants %q again", p.Wants())
	}
	here := Look(".")
	press(p, "old/")
	p.Take(here)
	if got := strings.Join(p.Meant(), "|"); got != "deep.csv" {
		t.Errorf("in old lies %q", got)
	}
	p.Again()
	if p.Wants() == "" {
		t.Error("it is not looked into again")
	}
}

func TestAPickerFits(t *testing.T) {
	folder(t)
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	for _, keys := range [][]any{nil, {tea.KeyDown, tea.KeyDown, tea.KeyDown}, {"夏"}, {"none/"}, {"zzz"}} {
		p := picker()
		press(p, keys...)
		for w := 0; w < 60; w++ {
			for h := 0; h < 12; h++ {
				lines := p.View(th, "File", w, h)
				if len(lines) > max(h, 2) {
					t.Fatalf("%v at %dx%d: %d lines", keys, w, h, len(lines))
				}
				for _, l := range lines {
					if cells.Width(l) > w {
						t.Fatalf("%v at %dx%d: a line of %d: %q", keys, w, h, cells.Width(l), l)
					}
				}
			}
		}
	}
}
