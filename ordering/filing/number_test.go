package filing

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/words"
)

func numberKey(s string, scheme model.Scheme) []byte {
	return AppendNumber(nil, model.ParseNumber(s, scheme), scheme)
}

func TestNumbersFileInTheOrderWritten(t *testing.T) {
	for _, b := range readBlocks(t, "testdata/numbers.txt") {
		scheme, err := model.ParseScheme(b.scheme)
		if err != nil {
			t.Errorf("%s: %v", b.title, err)
		}
		var last []byte
		for i, line := range b.lines {
			same := strings.Split(line, " = ")
			k := numberKey(same[0], scheme)
			for _, s := range same[1:] {
				if !bytes.Equal(k, numberKey(s, scheme)) {
					t.Errorf("%s: %q and %q file apart", b.title, same[0], s)
				}
			}
			if i > 0 && bytes.Compare(last, k) >= 0 {
				t.Errorf("%s: %q does not come before %q", b.title, b.lines[i-1], line)
			}
			last = k
		}
	}
}

func drawNumber(t *rapid.T, label string) string {
	parts := rapid.SliceOfN(rapid.SampledFrom([]string{"K", "k", "-", " ", "0", "7", "12", "2019", "/", ".", "A", "H5", "(8-14)", "No. ", "٣", "é"}), 0, 6).Draw(t, label)
	return words.Clean(strings.Join(parts, ""))
}

// Behind the key, the printed form tells apart all that differ: with it the
// order is total, and shuffling changes nothing.
func TestNumberKeysAreTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scheme := rapid.SampledFrom([]model.Scheme{model.Consecutive, model.PrefixFirst, model.Issue, model.BookPage, model.Unnumbered}).Draw(t, "scheme")
		key := func(s string) []byte {
			n := model.ParseNumber(s, scheme)
			return AppendPrinted(AppendSize(AppendNumber(nil, n, scheme), n.Size), n)
		}
		var list []string
		for range rapid.IntRange(2, 8).Draw(t, "n") {
			list = append(list, drawNumber(t, "number"))
		}
		if a, b := list[0], list[1]; bytes.Equal(key(a), key(b)) != (a == b) {
			t.Fatalf("%q and %q: same key %v", a, b, a != b)
		}
		byKey := func(a, b string) int { return bytes.Compare(key(a), key(b)) }
		once := slices.SortedFunc(slices.Values(list), byKey)
		if again := slices.SortedFunc(slices.Values(rapid.Permutation(list).Draw(t, "shuffled")), byKey); !slices.Equal(once, again) {
			t.Fatalf("filed as %q, shuffled as %q", once, again)
		}
	})
}

// What is one number to a duplicate check files in one place, and the other way
// round. What holds no digits is left out: its check ignores case, which breaks
// a tie in filing.
func TestNumbersThatAreOneFileAsOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		scheme := rapid.SampledFrom([]model.Scheme{model.Consecutive, model.PrefixFirst, model.Issue, model.BookPage}).Draw(t, "scheme")
		a, b := model.ParseNumber(drawNumber(t, "a"), scheme), model.ParseNumber(drawNumber(t, "b"), scheme)
		if len(a.Parts) == 0 || len(b.Parts) == 0 {
			return
		}
		file := bytes.Equal(AppendNumber(nil, a, scheme), AppendNumber(nil, b, scheme))
		if one := a.Key() == b.Key(); one != file {
			t.Fatalf("%s: %+v and %+v: one number %v, file as one %v", scheme, a, b, one, file)
		}
	})
}

// The rule for what is left: as printed, byte by byte.
func TestPrintedFormBreaksTheTie(t *testing.T) {
	order := []string{"007", "07", "7", "K 7", "K-7", "K7"}
	for i := 1; i < len(order); i++ {
		a, b := model.ParseNumber(order[i-1], model.Consecutive), model.ParseNumber(order[i], model.Consecutive)
		x, y := AppendNumber(nil, a, model.Consecutive), AppendNumber(nil, b, model.Consecutive)
		if bytes.Compare(AppendPrinted(x, a), AppendPrinted(y, b)) >= 0 {
			t.Errorf("%q does not come before %q", order[i-1], order[i])
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
