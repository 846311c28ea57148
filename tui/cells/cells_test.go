package cells

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/charmbracelet/lipgloss"
	"pgregory.net/rapid"
)

// awkward is text that libraries measure differently or break on.
var awkward = []struct {
	name, text string
	width      int
}{
	{"plain", "Wrap dress", 10},
	{"accents", "Jupe évasée", 11},
	{"accents apart", "Jupe e\u0301vase\u0301e", 11},
	{"wide", "浴衣 6123", 9},
	{"half wide", "ｱｲ", 2},
	{"flag", "🇫🇷 coat", 7},
	{"flag spelled out", "\U0001F3F4\U000E0067\U000E0062\U000E0073\U000E0063\U000E0074\U000E007F", 2},
	{"family", "👩‍👩‍👧 set", 6},
	{"heart as emoji", "❤\ufe0f", 2},
	{"skin tone", "👍🏽", 2},
	{"right to left", "שמלה 12", 7},
	{"nothing", "", 0},
}

func TestWidthIsOneRule(t *testing.T) {
	for _, a := range awkward {
		t.Run(a.name, func(t *testing.T) {
			if got := Width(a.text); got != a.width {
				t.Errorf("Width(%q) = %d, want %d", a.text, got, a.width)
			}
			if got := lipgloss.Width(a.text); got != Width(a.text) {
				t.Errorf("lipgloss measures %q as %d, we as %d", a.text, got, Width(a.text))
			}
			if got, want := Plain(a.text), strings.ReplaceAll(a.text, "\ufe0f", ""); got != want {
				t.Errorf("Plain(%q) = %q, want %q", a.text, got, want)
			}
		})
	}
}

func TestFitIsExact(t *testing.T) {
	for _, a := range awkward {
		for w := -1; w < 14; w++ {
			for name, got := range map[string]string{"Fit": Fit(a.text, w), "Right": Right(a.text, w), "Pad": Pad(a.text, w)} {
				if Width(got) != max(0, w) {
					t.Errorf("%s(%q, %d) = %q is %d cells", name, a.text, w, got, Width(got))
				}
			}
			if got := Cut(a.text, w); Width(got) > max(0, w) {
				t.Errorf("Cut(%q, %d) = %q is %d cells", a.text, w, got, Width(got))
			}
			if got := CutFront(a.text, w); Width(got) > max(0, w) || !strings.HasSuffix(Plain(a.text), strings.TrimPrefix(got, Ellipsis)) {
				t.Errorf("CutFront(%q, %d) = %q is %d cells", a.text, w, got, Width(got))
			}
		}
	}
}

// U+FE0F makes the character before it an emoji, which is two cells wide.
func TestCutWithWideningSigns(t *testing.T) {
	for _, s := range []string{"a\ufe0fbcdefgh", "abc\ufe0fdefgh", "1\ufe0f\ufe0f2345678", "    \ufe0f    "} {
		for w := range 9 {
			if got := Width(Cut(s, w)); got > w {
				t.Errorf("Cut(%q, %d) is %d cells wide", s, w, got)
			}
			if got := Width(Fit(s, w)); got != w {
				t.Errorf("Fit(%q, %d) is %d cells wide", s, w, got)
			}
		}
	}
}

func TestFitted(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Fit("Wrap dress", 12), "Wrap dress  "},
		{Fit("Wrap dress", 10), "Wrap dress"},
		{Fit("Wrap dress", 6), "Wrap …"},
		{Fit("浴衣浴衣", 4), "浴… "},
		{Fit("浴", 1), "…"},
		{Right("6123", 6), "  6123"},
		{Right("6123", 3), "61…"},
		{Cut("Wrap dress", 40), "Wrap dress"},
		{Cut("a\tb\nc", 40), "a b c"},
		{CutFront("Wrap dress", 10), "Wrap dress"},
		{CutFront("Wrap dress", 6), "…dress"},
		{CutFront("浴衣浴衣", 4), "…衣"},
		{CutFront("浴衣", 1), "…"},
		{CutFront("浴衣", 0), ""},
		{Pad("\x1b[1mbold\x1b[0m", 6), "\x1b[1mbold\x1b[0m  "},
		{Clamp("one\ntwo\nthree", 9, 2), "one\ntwo"},
		{Clamp("one\ntwo", 2, 9), "on\ntw"},
		{Clamp("one", 0, 9), ""},
		{Clamp("one", 9, -1), ""},
		{ASCII("Jupe évasée · 2 × C5 …"), "Jupe evasee - 2 x C5 ~"},
		{ASCII("浴衣 ok"), "???? ok"},
		{ASCII("plain"), "plain"},
		{ASCII("\x1b[1mé\x1b[0m"), "\x1b[1me\x1b[0m"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// What a file or a scanner may hold must not move the cursor, ring or rename
// the window.
var harmful = []string{
	"\x1b[2Jgone", "\x1b]0;title\x07x", "\x1b]52;c;Zm9v\x1b\\x", "a\rb", "a\bb", "a\x00b", "\x9b31m", "\u009b31m", "\x1b", "a\x1b[",
	"\x1bPq#0\x1b\\x", "\u202eevil", "\u2066x\u2069", "x\u200fy", "\xff\xfe", "a\u2028b", "\x7f", "\x1b[?1049l", "a\x0eb", "soft\u00adhyphen",
}

func checkHarmless(t interface {
	Errorf(string, ...any)
}, what, got string) {
	for _, r := range got {
		if unicode.IsControl(r) || r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069' || r == '\u200f' {
			t.Errorf("%s left %q in %q", what, r, got)
		}
	}
	if !utf8.ValidString(got) {
		t.Errorf("%s left broken UTF-8: %q", what, got)
	}
}

func TestControlCharactersNeverReachTheTerminal(t *testing.T) {
	for _, s := range harmful {
		checkHarmless(t, "Plain", Plain(s))
		checkHarmless(t, "Fit", Fit(s, 8))
		checkHarmless(t, "Cut", Cut(s, 8))
		checkHarmless(t, "Right", Right(s, 8))
		checkHarmless(t, "Wrap", strings.Join(Wrap(s, 8), ""))
		checkHarmless(t, "Clamp", Clamp(s, 80, 1))
	}
}

func TestClampKeepsColoursOnly(t *testing.T) {
	const red = "\x1b[1;38;2;200;0;0mred\x1b[0m"
	if got := Clamp(red, 10, 1); got != red {
		t.Errorf("got %q, want the colour kept", got)
	}
	if got, want := Clamp("a\x1b[2J"+red+"\x1b]0;t\x07b", 10, 1), "a"+red+"b"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got := Clamp(red, 2, 1); Width(got) != 2 || !strings.HasSuffix(got, "\x1b[0m") {
		t.Errorf("got %q, want two cells and the colour ended", got)
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		w    int
		want []string
	}{
		{"behind 6118 Wrap skirt", 12, []string{"behind 6118", "Wrap skirt"}},
		{"one\ntwo", 12, []string{"one", "two"}},
		{"one\r\n\r\ntwo", 12, []string{"one", "", "two"}},
		{"unbreakable", 4, []string{"unbr", "eaka", "ble"}},
		{"浴衣", 1, []string{"…", "…"}},
		{"  ", 9, nil},
		{"x", 0, nil},
		{"x", -3, nil},
	} {
		got := Wrap(c.text, c.w)
		if len(got) != len(c.want) || strings.Join(got, "|") != strings.Join(c.want, "|") {
			t.Errorf("Wrap(%q, %d) = %q, want %q", c.text, c.w, got, c.want)
		}
	}
}

func TestWhateverTheText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOf(rapid.OneOf(
			rapid.String(),
			rapid.SampledFrom(harmful),
			rapid.Custom(func(t *rapid.T) string { return rapid.SampledFrom(awkward).Draw(t, "awkward").text }),
			rapid.SampledFrom([]string{"\x1b[1m", "\x1b[0m", "\n", " "}),
		)).Draw(t, "parts")
		s := strings.Join(parts, "")
		w, h := rapid.IntRange(-2, 40).Draw(t, "w"), rapid.IntRange(-2, 9).Draw(t, "h")
		checkHarmless(t, "Fit", Fit(s, w))
		if got := Width(Fit(s, w)); got != max(0, w) {
			t.Errorf("Fit(%q, %d) is %d cells", s, w, got)
		}
		if got := Width(CutFront(s, w)); got > max(0, w) {
			t.Errorf("CutFront(%q, %d) is %d cells", s, w, got)
		}
		for _, line := range Wrap(s, w) {
			if Width(line) > w {
				t.Errorf("Wrap(%q, %d) has the line %q", s, w, line)
			}
			checkHarmless(t, "Wrap", line)
		}
		for what, view := range map[string]string{"Clamp": Clamp(s, w, h), "ASCII": ASCII(Clamp(s, w, h))} {
			lines := strings.Split(view, "\n")
			if view != "" && len(lines) > h {
				t.Errorf("%s(%q) is %d lines, want at most %d", what, s, len(lines), h)
			}
			for _, line := range lines {
				if Width(line) > max(0, w) {
					t.Errorf("%s(%q, %d) has the line %q of %d cells", what, s, w, line, Width(line))
				}
			}
		}
	})
}

// Columns that are fitted each by itself stand straight beside each other too:
// no text reaches into the one before it, or changes how wide that is.
func TestColumnsStandStraight(t *testing.T) {
	text := rapid.OneOf(
		rapid.String(),
		rapid.Custom(func(t *rapid.T) string { return rapid.SampledFrom(awkward).Draw(t, "awkward").text }),
		rapid.SampledFrom([]string{"\ufe0fcoat", "\u200dcoat", "\u0301coat", "\u093fcoat", "\u1161coat", "coat\u0600", "coat\u1100", "🇫", "🇫🇷🇩", "1\ufe0f", "\u20e3x", "👩\u200d", "🏽x"}),
	)
	rapid.Check(t, func(t *rapid.T) {
		line, want := "", 0
		for range rapid.IntRange(2, 5).Draw(t, "columns") {
			s, w := text.Draw(t, "text"), rapid.IntRange(0, 12).Draw(t, "w")
			line, want = line+Fit(s, w)+" ", want+w+1
			if got := Width(line); got != want {
				t.Fatalf("%q is %d cells, its columns are %d", line, got, want)
			}
		}
	})
}
