package choose

import (
	"strconv"
	"strings"

	"example.org/tuckrow/model"
)

// ParseYears reads "1950", "1950-1965", "1950-" or "-1965"; 0 is an end that is
// left open.
func ParseYears(text string) (from, to int, err error) {
	first, last, both := strings.Cut(text, "-")
	if !both {
		last = first
	}
	for _, x := range []struct {
		text string
		to   *int
	}{{first, &from}, {last, &to}} {
		if x.text = strings.TrimSpace(x.text); x.text == "" {
			continue
		}
		if *x.to, err = strconv.Atoi(x.text); err != nil || *x.to < 1 || *x.to > 2999 {
			return 0, 0, model.Inputf("%q is not a year, nor from one to another; write 1950 or 1950-1965", text)
		}
	}
	return from, to, nil
}
