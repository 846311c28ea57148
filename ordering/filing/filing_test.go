package filing

import (
	"bytes"
	"os"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

// block is one of a file of rows that must file in the order written.
type block struct {
	title, source, scheme string
	lines                 []string
}

// readBlocks reads such a file: how it is made is said at its head.
func readBlocks(t *testing.T, file string) []block {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all []block
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSuffix(strings.TrimSuffix(line, "\n"), "\r")
		if title, ok := strings.CutPrefix(line, "== "); ok {
			all = append(all, block{title: title})
			continue
		}
		if line == "" || strings.HasPrefix(line, "# ") {
			continue
		}
		if len(all) == 0 {
			t.Fatalf("%s: %q stands before the first block", file, line)
		}
		b := &all[len(all)-1]
		if source, ok := strings.CutPrefix(line, "source: "); ok {
			b.source = source
		} else if scheme, ok := strings.CutPrefix(line, "scheme: "); ok {
			b.scheme = scheme
		} else {
			b.lines = append(b.lines, line)
		}
	}
	for _, b := range all {
		if b.source == "" || len(b.lines) == 0 {
			t.Errorf("%s: block %q has no source or no lines", file, b.title)
		}
	}
	return all
}

// The first block is the published list of 31 headings, in its order without an
// exception. Its source is named in the file.
func TestNamesFileInTheOrderWritten(t *testing.T) {
	blocks := readBlocks(t, "testdata/names.txt")
	if n := len(blocks[0].lines); n != 31 {
		t.Errorf("the published list has 31 headings, the file %d", n)
	}
	for _, b := range blocks {
		for i := 1; i < len(b.lines); i++ {
			x, y := words.Clean(b.lines[i-1]), words.Clean(b.lines[i])
			if bytes.Compare(AppendName(nil, x), AppendName(nil, y)) >= 0 {
				t.Errorf("%s: %q does not come before %q", b.title, x, y)
			}
			if slowCompare(x, y) >= 0 {
				t.Errorf("%s: by the slow rule, %q does not come before %q", b.title, x, y)
			}
		}
	}
}

// The letters that tell two names apart: pieces that the rules treat each in
// another way.
var pieces = []string{"a", "A", "á", "b", "ß", "ss", " ", "-", "/", ".", ",", "'", "$", "%", "&", "0", "00", "7", "07", "12", "Z", "φ", "ς", "着", "é", "e\u0301", "٣", "３", "+", "*", "€", "=", "´", "`", "–", "½", "™", "कि", "कु", "\u0301", "🧵", "№"}

func drawName(t *rapid.T, label string) string {
	parts := rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 8).Draw(t, label)
	return words.Clean(strings.Join(parts, ""))
}

// drawPair draws two names that often begin alike, since names that differ in
// the first letter try nothing.
func drawPair(t *rapid.T) (a, b string) {
	head := ""
	if rapid.Bool().Draw(t, "alike") {
		head = drawName(t, "head")
	}
	return words.Clean(head + drawName(t, "a")), words.Clean(head + drawName(t, "b"))
}

func TestNameKeysAreTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPair(t)
		if same := bytes.Equal(AppendName(nil, a), AppendName(nil, b)); same != (a == b) {
			t.Fatalf("%q and %q: same key %v", a, b, same)
		}
	})
}

// A key compares like the slow rule written out below.
func TestNameKeysFollowTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawPair(t)
		want := slowCompare(a, b)
		if got := bytes.Compare(AppendName(nil, a), AppendName(nil, b)); got != want {
			t.Fatalf("%q against %q: %d, by the rule %d", a, b, got, want)
		}
	})
}

// Keys of several fields, one behind the other, compare field by field.
func TestKeysDoNotRunIntoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a1, b1 := drawPair(t)
		a2, b2 := drawPair(t)
		if rapid.Bool().Draw(t, "same first") {
			b1 = a1
		}
		want := bytes.Compare(AppendName(nil, a1), AppendName(nil, b1))
		if want == 0 {
			want = bytes.Compare(AppendName(nil, a2), AppendName(nil, b2))
		}
		got := bytes.Compare(AppendName(AppendName(nil, a1), a2), AppendName(AppendName(nil, b1), b2))
		if got != want {
			t.Fatalf("%q %q against %q %q: %d, field by field %d", a1, a2, b1, b2, got, want)
		}
	})
}

func TestNothingBeforeSomething(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawName(t, "a"), drawName(t, "b")
		if len(slowTokens(b)) == 0 {
			b += "b" // or nothing would be added
		}
		longer := words.Clean(a + " " + b)
		if bytes.Compare(AppendName(nil, a), AppendName(nil, longer)) >= 0 {
			t.Fatalf("%q does not come before %q", a, longer)
		}
	})
}

func TestShuffledNamesFileAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var names []string
		for range rapid.IntRange(0, 12).Draw(t, "n") {
			names = append(names, drawName(t, "name"))
		}
		byKey := func(a, b string) int { return bytes.Compare(AppendName(nil, a), AppendName(nil, b)) }
		once := slices.SortedFunc(slices.Values(names), byKey)
		again := slices.SortedFunc(slices.Values(rapid.Permutation(names).Draw(t, "shuffled")), byKey)
		if !slices.Equal(once, again) {
			t.Fatalf("%q filed as %q, shuffled as %q", names, once, again)
		}
	})
}

// A count of digits takes more bytes from 255 digits on; the order goes on
// across that.
func TestLongRunsOfDigits(t *testing.T) {
	var last []byte
	for _, n := range []int{1, 254, 255, 256, 509, 510, 511, 3000} {
		for _, d := range []string{"1", "8", "9"} {
			digits := d + strings.Repeat("7", n-1)
			k := AppendName(nil, "coat "+digits+" lined")
			if z := AppendName(nil, "coat 000"+digits+" lined"); bytes.Compare(z, k) >= 0 {
				t.Errorf("%d digits: zeros in front do not come first", n)
			}
			if bytes.Compare(last, k) >= 0 {
				t.Errorf("%d digits beginning with %s do not come behind the ones before", n, d)
			}
			num := model.Number{Printed: digits, Parts: []string{digits}}
			if x := AppendNumber(nil, num, model.Consecutive); bytes.Compare(x, AppendNumber(nil, model.ParseNumber(digits+"A", model.Consecutive), model.Consecutive)) >= 0 {
				t.Errorf("%d digits do not come before the same with a suffix", n)
			}
			last = k
		}
	}
}

func FuzzNameOrder(f *testing.F) {
	f.Add("A-1 steak sauce", "A 99")
	f.Add("$10 a day", "1, 2, buckle my shoe")
	f.Add("e\u0301a", "\u00e9a")
	f.Add("C# ballad", "C++ debugger")
	f.Add("कि 007", "कु ٧")
	f.Fuzz(func(t *testing.T, a, b string) {
		a, b = words.Clean(a), words.Clean(b)
		got := bytes.Compare(AppendName(nil, a), AppendName(nil, b))
		if want := slowCompare(a, b); got != want {
			t.Fatalf("%q against %q: %d, by the rule %d", a, b, got, want)
		}
	})
}

// Filing thousands of ASCII names must not make garbage.
func TestASCIIKeysDoNotAllocate(t *testing.T) {
	buf := make([]byte, 0, 256)
	n := model.ParseNumber("K6123 H5", model.Consecutive)
	if allocs := testing.AllocsPerRun(100, func() {
		k := AppendName(buf, "Wrap dress 12, view B")
		k = AppendNumber(k, n, model.Consecutive)
		if k = AppendSize(k, n.Size); len(k) == 0 {
			t.Error("no key was made")
		}
	}); allocs != 0 {
		t.Errorf("a key allocated %v times", allocs)
	}
}

func BenchmarkKeys(b *testing.B) {
	buf := make([]byte, 0, 256)
	n := model.ParseNumber("K6123 H5", model.Consecutive)
	for name, key := range map[string]func() []byte{
		"name, 20 letters":  func() []byte { return AppendName(buf, "Wrap dress and capes") },
		"number":            func() []byte { return AppendNumber(buf, n, model.Consecutive) },
		"name and number":   func() []byte { return AppendNumber(AppendName(buf, "Wrap dress and capes"), n, model.Consecutive) },
		"name with accents": func() []byte { return AppendName(buf, "Élégante robe à fleurs") },
		"parsing and number": func() []byte {
			return AppendNumber(buf, model.ParseNumber("K6123 H5", model.Consecutive), model.Consecutive)
		},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if len(key()) == 0 {
					b.Fatal("no key was made")
				}
			}
		})
	}
}
