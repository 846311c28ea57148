package fit

import (
	"slices"
	"strconv"
	"strings"

	"example.org/tuckrow/model/words"
)

// within lists the sizes of an order that a text names: "10-14", "10, 12",
// "6-8-10" or one alone, as sleeves print them. What it names beyond the end of
// the order is left out; it is false where the text names none of them, or
// begins before them: a range from 2 to 8 is another kind of size than one from
// 6 to 16.
func within(text string, order []string) ([]string, bool) {
	var out []string
	add := func(i int) {
		if !slices.Contains(out, order[i]) {
			out = append(out, order[i])
		}
	}
	for part := range strings.FieldsFuncSeq(words.Clean(text), func(r rune) bool { return strings.ContainsRune(",;+&", r) }) {
		if i := indexOf(order, strings.TrimSpace(part)); i >= 0 {
			add(i)
			continue
		}
		ends := strings.FieldsFunc(part, func(r rune) bool { return words.Hyphen(r) || r == ' ' })
		if len(ends) == 0 {
			return nil, false
		}
		first, last := indexOf(order, ends[0]), indexOf(order, ends[len(ends)-1])
		if last < 0 && first >= 0 && beyond(ends[len(ends)-1], order) {
			last = len(order) - 1
		}
		if first < 0 || last < first {
			return nil, false
		}
		if len(ends) == 2 {
			for i := first; i <= last; i++ {
				add(i)
			}
			continue
		}
		for _, e := range ends { // each is named
			if i := indexOf(order, e); i >= 0 {
				add(i)
			} else if !beyond(e, order) {
				return nil, false
			}
		}
	}
	return out, len(out) > 0
}

func indexOf(order []string, name string) int {
	return slices.IndexFunc(order, func(o string) bool { return strings.EqualFold(o, name) })
}

// beyond tells whether a size is a number above the last of the order.
func beyond(name string, order []string) bool {
	n, err := strconv.Atoi(name)
	last, errLast := strconv.Atoi(order[len(order)-1])
	return err == nil && errLast == nil && n > last
}

// letters are the letter sizes in order (common practice, no source).
var letters = []string{"XXS", "XS", "S", "M", "L", "XL", "XXL", "XXXL"}

// Covers tells whether a range as sleeves print it holds a size: "10-14" holds
// 12, "S-L" holds M. An empty range holds every size.
func Covers(sizeRange, size string) bool {
	if words.Clean(sizeRange) == "" {
		return true
	}
	if strings.EqualFold(sizeRange, size) {
		return true
	}
	numbers := make([]string, 0, 100)
	for n := range cap(numbers) {
		numbers = append(numbers, strconv.Itoa(n))
	}
	for _, order := range [][]string{letters, numbers} {
		if names, ok := within(sizeRange, order); ok {
			return indexOf(names, size) >= 0
		}
	}
	return false
}
