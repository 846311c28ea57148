package form

import (
	"io"
	"slices"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"example.org/tuckrow/tui/cells"
	"example.org/tuckrow/tui/theme"
)

func fields() []Field {
	names := func(typed string) []string {
		return slices.DeleteFunc([]string{"Dresses", "Dungarees", "Coats"}, func(n string) bool {
			return typed == "" || !strings.HasPrefix(strings.ToLower(n), strings.ToLower(typed))
		})
	}
	return []Field{
		{Label: "name", Hint: "what it is called"},
		{Label: "cut", Choices: []string{"", "uncut", "partly", "cut"}},
		{Label: "category", Names: names, Listed: true},
		{Label: "of", Names: names, Parted: true},
	}
}

// press gives keys: a text letter by letter, or a key by its type.
func press(f *Form, keys ...any) {
	for _, k := range keys {
		switch k := k.(type) {
		case tea.KeyType:
			f.Update(tea.KeyMsg{Type: k})
		case string:
			for _, r := range k {
				msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
				if r == ' ' {
					msg.Type = tea.KeySpace
				}
				f.Update(msg)
			}
		}
	}
}

func TestFillingIn(t *testing.T) {
	for _, x := range []struct {
		keys []any
		want string
	}{
		{[]any{"Wrap dress"}, "Wrap dress|||"},
		{[]any{tea.KeyDown, " "}, "|uncut||"},
		{[]any{tea.KeyDown, "   ", tea.KeyUp, "x"}, "x|cut||"},
		{[]any{tea.KeyTab, "c"}, "|cut||"},
		{[]any{tea.KeyTab, "pz"}, "|partly||"},
		{[]any{tea.KeyTab, tea.KeyTab, "d", tea.KeyTab}, "||Dresses|"},                               // the likeliest, when one goes on
		{[]any{tea.KeyTab, tea.KeyTab, "du", tea.KeyRight, tea.KeyShiftTab}, "||Dungarees|"},         // as it is spelled
		{[]any{tea.KeyTab, tea.KeyTab, "hose", tea.KeyTab}, "||hose|"},                               // nothing begins so
		{[]any{tea.KeyShiftTab, "coats; du", tea.KeyRight}, "|||coats; Dungarees"},                   // the last of several
		{[]any{tea.KeyShiftTab, "coats; du", tea.KeyTab}, "|||coats; Dungarees"},                     // or one goes on
		{[]any{tea.KeyShiftTab, "coats; du ", tea.KeyTab}, "|||coats; du"},                           // a space keeps it
		{[]any{tea.KeyTab, tea.KeyTab, "coat", tea.KeyBackspace, tea.KeyLeft, tea.KeyTab}, "||coa|"}, // inside, nothing is proposed
		{[]any{tea.KeyShiftTab, "du", tea.KeyLeft, tea.KeyRight, tea.KeyRight}, "|||Dungarees"},      // right moves first
		{[]any{tea.KeyUp, tea.KeyUp, tea.KeyUp, tea.KeyUp, "a", tea.KeyBackspace, "b"}, "b|||"},      // round about
		{[]any{"a", tea.KeyDown, tea.KeyDown, tea.KeyDown, tea.KeyDown, " b"}, "a b|||"},             // and back
	} {
		f := New("t", fields(), make([]string, 4))
		press(f, x.keys...)
		if got := strings.Join(f.Values(), "|"); got != x.want {
			t.Errorf("%v: %q, want %q", x.keys, got, x.want)
		}
	}
}

// A letter moves on from what stands there, though that is the first that begins so;
// more letters choose as if nothing stood there.
func TestALetterMovesOn(t *testing.T) {
	for _, x := range []struct{ was, typed, want string }{
		{"not used", "n", "number"}, {"not used", "nn", "name"}, {"not used", "nnn", "not used"}, {"not used", "na", "name"}, {"not used", "not", "not used"},
		{"name", "n", "not used"}, {"name", "na", "name"}, {"number", "nn", "number"}, {"year", "y", "year"}, {"year", "n", "not used"},
	} {
		f := New("t", []Field{{Label: "is", Choices: []string{"not used", "number", "name", "year"}}}, []string{x.was})
		press(f, x.typed)
		if got := f.Value("is"); got != x.want {
			t.Errorf("%q behind %q is %q, want %q", x.typed, x.was, got, x.want)
		}
	}
}

// What is a name already, or stood there before, is not made a longer one.
func TestAWholeNameStays(t *testing.T) {
	names := func(string) []string { return []string{"Coats and capes", "Coats"} }
	for _, x := range []struct{ was, typed, want string }{
		{"", "coat", "Coats and capes"}, {"", "coats", "coats"}, {"", "coat ", "coat"}, {"Coat", "", "Coat"}, {"Coat", "s a", "Coats and capes"},
	} {
		f := New("t", []Field{{Label: "category", Names: names}, {Label: "name"}}, []string{x.was, ""})
		press(f, tea.KeyTab, tea.KeyTab, x.typed, tea.KeyTab, tea.KeyTab)
		f.Settle()
		if got := f.Value("category"); got != x.want {
			t.Errorf("%q behind %q: %q, want %q", x.typed, x.was, got, x.want)
		}
	}
}

// What is typed is there when one comes back, also after the program was closed;
// not where the form is about something else by then.
func TestAFormLeftIsAsItWas(t *testing.T) {
	var o Forms
	none := make([]string, 4)
	press(o.Open("a", "t", fields(), none), "Cape", tea.KeyTab, "u")
	press(o.Open("b", "t", fields(), none))
	if got := o.Open("a", "t", fields(), none).Values(); got[0] != "Cape" || got[1] != "uncut" || !o.Begun("a") || o.Begun("b") {
		t.Fatalf("come back to: %q", got)
	}
	var later Forms
	later.Recall(o.Draft())
	if !later.Begun("a") {
		t.Error("it is not begun")
	}
	kept := later.Draft()
	if got := later.Open("a", "t", fields(), none).Values(); got[0] != "Cape" || got[1] != "uncut" {
		t.Errorf("opened anew: %q", got)
	}
	if string(kept) != string(o.Draft()) {
		t.Errorf("what was not opened again is kept as %s, was %s", kept, o.Draft())
	}
	if got := later.Open("a", "t", fields(), []string{"Coat", "", "", ""}).Values(); got[0] != "Coat" {
		t.Errorf("about another thing: %q", got)
	}
	o.Done("a")
	later.Done("a")
	for _, f := range []*Forms{&o, &later} {
		if f.Draft() != nil || f.Begun("a") {
			t.Errorf("done with, it is kept as %s", f.Draft())
		}
	}
	for _, broken := range []string{"", "{", `{"format":2,"forms":{"a":{}}}`, "[]"} {
		var x Forms
		x.Recall([]byte(broken))
		if x.Begun("a") {
			t.Errorf("%q was taken for a draft", broken)
		}
	}
}

// The field that is filled in is seen at any size, and no line is too wide.
func TestAFormFits(t *testing.T) {
	th := theme.New(theme.Renderer(io.Discard, func(string) string { return "" }, true))
	f := New("A form of some 夏の長いドレス", fields(), []string{"夏の長いドレス、襟付き", "cut", "Dresses", "x"})
	for at := range 4 {
		for w := 0; w < 60; w++ {
			for h := 0; h < 14; h++ {
				lines := f.View(th, w, h)
				for _, l := range lines {
					if cells.Width(l) > w {
						t.Fatalf("%dx%d: a line of %d: %q", w, h, cells.Width(l), l)
					}
				}
				if h >= 4 && w >= 30 && (len(lines) > h || !strings.Contains(strings.Join(lines, "\n"), th.Glyphs.Arrow+" "+fields()[at].Label)) {
					t.Fatalf("%dx%d: %d lines:\n%s", w, h, len(lines), strings.Join(lines, "\n"))
				}
			}
		}
		press(f, tea.KeyDown)
	}
}

// One letter again and again goes through all choices that begin so; more letters
// choose among them.
func TestOneLetterAgainIsTheNextChoice(t *testing.T) {
	for typed, want := range map[string]string{"a": "accession", "aa": "also_in", "aaa": "added", "aaaa": "accession", "ad": "added", "aad": "added", "v": "version", "vv": "value", "av": "version", "x": "not used"} {
		f := New("what is it", []Field{{Label: "Got on", Choices: []string{"not used", "accession", "number", "also_in", "added", "version", "value"}}}, []string{"not used"})
		press(f, typed)
		if got := f.Value("Got on"); got != want {
			t.Errorf("%q chooses %q, want %q", typed, got, want)
		}
	}
}
