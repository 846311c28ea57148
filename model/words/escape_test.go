package words

import (
	"encoding/json"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"
)

func TestEscape(t *testing.T) {
	for in, want := range map[string]string{
		"Wrap dress": "Wrap dress", "two\nlines": "two\nlines", "é 日本 👗": "é 日本 👗", "a\u200db": "a\u200db",
		"\x1b[31mred": `\x1b[31mred`, "\u009b31m": `\u009b31m`, "\x9b31m": `\x9b31m`, "\x07\x00\t\r": `\x07\x00\x09\x0d`,
		"\u202eabc": `\u202eabc`, "\u2066\u2069": `\u2066\u2069`, "\u2028": `\u2028`, "\U000e0041": `\U000e0041`, "\xffx": `\xffx`, "\ufffd": "\ufffd",
	} {
		if got := Escape(in); got != want {
			t.Errorf("Escape(%q) = %q, want %q", in, got, want)
		}
	}
}

// safe tells by other means than Escape whether text can be shown: apart from
// line ends, all of it prints, but for spaces of other widths, joiners and
// what Unicode gave no meaning yet.
func safe(s string) bool {
	return utf8.ValidString(s) && !strings.ContainsFunc(s, func(r rune) bool {
		return r != '\n' && r != '\u200c' && r != '\u200d' &&
			(unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Cf, unicode.Zl, unicode.Zp, unicode.Co))
	})
}

func TestEscapedTextIsSafe(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.OneOf(rapid.String(), rapid.Map(rapid.SliceOf(rapid.Byte()), func(b []byte) string { return string(b) })).Draw(t, "text")
		if got := Escape(s); !safe(got) || Escape(got) != got {
			t.Fatalf("%q became %q", s, got)
		}
		if c := Clean(s); Escape(c) != c {
			t.Fatalf("clean text %q is escaped", c)
		}
		text, err := json.Marshal(map[string]string{"text": s})
		if err != nil {
			t.Fatal(err)
		}
		var want, got struct{ Text string }
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		escaped := EscapeJSON(string(text))
		if err := json.Unmarshal([]byte(escaped), &got); err != nil || got != want || !safe(escaped) {
			t.Fatalf("%s became %s, which is %q (%v)", text, escaped, got.Text, err)
		}
	})
}
