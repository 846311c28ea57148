package filing

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/collate"
	"golang.org/x/text/language"
	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

func TestNamesFileInTheOrderWritten(t *testing.T) {
	data, err := os.ReadFile("testdata/names.txt")
	if err != nil {
		t.Fatal(err)
	}
	var block, last string
	var lastKey []byte
	n := 0
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, "\n")
		switch {
		case strings.HasPrefix(line, "== "):
			block, lastKey = line[3:], nil
			continue
		case line == "", strings.HasPrefix(line, "# "), strings.HasPrefix(line, "source: "):
			continue
		}
		k := AppendName(nil, words.Clean(line))
		if lastKey != nil && bytes.Compare(lastKey, k) >= 0 {
			t.Errorf("%s: %q does not come before %q", block, last, line)
		}
		last, lastKey = line, k
		n++
	}
	if n < 50 {
		t.Fatalf("only %d names were read", n)
	}
}

// The letters that tell two names apart: pieces that the rules treat each in
// another way.
var pieces = []string{"a", "A", "á", "b", "ß", "ss", " ", "-", "/", ".", ",", "'", "$", "%", "&", "0", "00", "7", "07", "12", "Z", "φ", "着", "é", "e\u0301", "٣", "３"}

func drawName(t *rapid.T, label string) string {
	parts := rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 8).Draw(t, label)
	return words.Clean(strings.Join(parts, ""))
}

func TestNameKeysAreTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawName(t, "a"), drawName(t, "b")
		if same := bytes.Equal(AppendName(nil, a), AppendName(nil, b)); same != (a == b) {
			t.Fatalf("%q and %q: same key %v", a, b, same)
		}
	})
}

// A key compares like the slow rule written out below.
func TestNameKeysFollowTheRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawName(t, "a"), drawName(t, "b")
		want := slowCompare(a, b)
		if got := bytes.Compare(AppendName(nil, a), AppendName(nil, b)); got != want {
			t.Fatalf("%q against %q: %d, by the rule %d", a, b, got, want)
		}
	})
}

// Keys of several fields, one behind the other, compare field by field.
func TestKeysDoNotRunIntoEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a1, a2, b1, b2 := drawName(t, "a1"), drawName(t, "a2"), drawName(t, "b1"), drawName(t, "b2")
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
			t.Skip("nothing is added")
		}
		longer := words.Clean(a + " " + b)
		if bytes.Compare(AppendName(nil, a), AppendName(nil, longer)) >= 0 {
			t.Fatalf("%q does not come before %q", a, longer)
		}
	})
}

func numberKey(s string, scheme model.Scheme) []byte {
	return AppendNumber(nil, model.ParseNumber(s, scheme), scheme)
}

func TestNumbersFileInTheOrderWritten(t *testing.T) {
	for _, x := range []struct {
		scheme model.Scheme
		order  []string
		source string
	}{
		{model.Consecutive, []string{"123", "K123", "124"}, "shared rule of the trade: a letter prefix is not filed"},
		{model.Consecutive, []string{"0", "7", "12", "99", "100", "6123", "6123A", "6123B", "6124", "99999999999999999999999"}, "by value"},
		{model.Consecutive, []string{"12", "12A", "12/5", "12/40", "13"}, "our rule: nothing before something, so what has no further part comes first; parts by value"},
		{model.Consecutive, []string{"9999", "Apron pattern", "Zouave"}, "what holds no digits comes last, by its text"},
		{model.PrefixFirst, []string{"7", "900", "A12", "B3", "B20", "BA1", "K1"}, "prefix first, nothing before something"},
		{model.Issue, []string{"2018/12 140", "04/2019 112", "2019-04-113", "2019/4 #120", "2019/11 101"}, "year, issue, style"},
		{model.BookPage, []string{"Book 2, page 100", "3 p. 7", "3/45", "10 p. 1"}, "book, page"},
		// GNU sort manual, section on version sort: its rule and ours agree on
		// these, where no part has zeros in front.
		{model.Consecutive, []string{"8.1", "8.5", "8.10", "8.49", "8.100"}, "GNU sort -V"},
	} {
		for i := 1; i < len(x.order); i++ {
			a, b := x.order[i-1], x.order[i]
			if bytes.Compare(numberKey(a, x.scheme), numberKey(b, x.scheme)) >= 0 {
				t.Errorf("%s (%s): %q does not come before %q", x.scheme, x.source, a, b)
			}
		}
	}
	// Zeros in front and signs between do not count: year and size decide.
	for _, same := range [][]string{{"7", "07", "007"}, {"K124", "k-124", "K 0124"}, {"123", "No. 123", "#123"}} {
		for _, other := range same[1:] {
			if !bytes.Equal(numberKey(same[0], model.Consecutive), numberKey(other, model.Consecutive)) {
				t.Errorf("%q and %q file apart", same[0], other)
			}
		}
	}
}

func TestSizesFileByValue(t *testing.T) {
	order := []string{"", "6-14", "8-14", "8-16", "10-16", "A5", "H5", "XS-M"}
	for i := 1; i < len(order); i++ {
		if bytes.Compare(AppendSize(nil, order[i-1]), AppendSize(nil, order[i])) >= 0 {
			t.Errorf("size %q does not come before %q", order[i-1], order[i])
		}
	}
}

// agreed are numbers on which all rules agree: no zeros in front, no signs, no
// prefix beside a number without.
func agreed() []string {
	var list []string
	for _, n := range []int{0, 1, 2, 9, 10, 11, 23, 99, 100, 101, 999, 1000, 4107, 6123, 6890, 9999, 10000, 65536, 123456} {
		list = append(list, fmt.Sprint(n), fmt.Sprintf("%da", n), fmt.Sprintf("%db", n))
	}
	return list
}

func byOurKeys(list []string) []string {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b string) int {
		return bytes.Compare(numberKey(a, model.Consecutive), numberKey(b, model.Consecutive))
	})
	return list
}

// other runs another program's sort, or says that it is not there.
func other(t *testing.T, name string, args ...string) *exec.Cmd {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is needed here and is not installed", name)
		}
		t.Skipf("%s is not installed; the comparison with it is left out", name)
	}
	return exec.Command(path, args...)
}

func TestAgreesWithVersionSort(t *testing.T) {
	list := agreed()
	slices.Reverse(list)
	cmd := other(t, "sort", "-V")
	cmd.Env = append(os.Environ(), "LC_ALL=C")
	cmd.Stdin = strings.NewReader(strings.Join(list, "\n") + "\n")
	out, err := cmd.Output()
	if err != nil {
		t.Skipf("sort has no -V here: %v", err)
	}
	if theirs, ours := strings.Fields(string(out)), byOurKeys(list); !slices.Equal(theirs, ours) {
		t.Errorf("sort -V gives %v, we file %v", theirs, ours)
	}
}

func TestAgreesWithICU(t *testing.T) {
	list := agreed()
	slices.Reverse(list)
	cmd := other(t, "node", "-e", `const a=require("fs").readFileSync(0,"utf8").trim().split("\n");
		a.sort(new Intl.Collator("en",{numeric:true}).compare);console.log(a.join("\n"))`)
	cmd.Stdin = strings.NewReader(strings.Join(list, "\n"))
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	if theirs, ours := strings.Fields(string(out)), byOurKeys(list); !slices.Equal(theirs, ours) {
		t.Errorf("ICU gives %v, we file %v", theirs, ours)
	}
}

// Why names are not filed by golang.org/x/text/collate: it has no rule that
// puts signs, digits and letters in the order of NISO TR03, and its numeric
// option takes 007 and 7 for equal, so a rule of our own would be needed for
// ties anyway.
func TestCollateIsNotTheRule(t *testing.T) {
	c := collate.New(language.English, collate.Numeric)
	if c.CompareString("007", "7") != 0 {
		t.Error("collate tells 007 from 7 now: look again whether it serves")
	}
	got := []string{"A B C", "A-1 steak sauce"}
	c.SortStrings(got)
	if got[0] == "A-1 steak sauce" && c.CompareString("Abalone", "A.B.C.") < 0 {
		t.Error("collate files these as NISO does now: look again whether it serves")
	}
}

func FuzzNameOrder(f *testing.F) {
	f.Add("A-1 steak sauce", "A 99")
	f.Add("$10 a day", "1, 2, buckle my shoe")
	f.Add("e\u0301a", "\u00e9a")
	f.Fuzz(func(t *testing.T, a, b string) {
		a, b = words.Clean(a), words.Clean(b)
		got := bytes.Compare(AppendName(nil, a), AppendName(nil, b))
		if want := slowCompare(a, b); got != want {
			t.Fatalf("%q against %q: %d, by the rule %d", a, b, got, want)
		}
	})
}

func BenchmarkKeys(b *testing.B) {
	b.ReportAllocs()
	var buf []byte
	for b.Loop() {
		buf = AppendName(buf[:0], "Wrap dress and cape")
		buf = AppendNumber(buf, model.ParseNumber("K6123 H5", model.Consecutive), model.Consecutive)
	}
}
