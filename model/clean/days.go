package clean

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"example.org/tuckrow/model/words"
)

// dayFields are the fields that hold a day.
var dayFields = []string{"added", "missing", "out_since", "out_due"}

// months are names of the months in English, German and French, folded. Three
// letters do where they begin one month alone.
var months = [12][]string{
	{"january", "januar", "janvier"}, {"february", "februar", "fevrier"}, {"march", "marz", "mars"}, {"april", "avril"},
	{"may", "mai"}, {"june", "juni", "juin"}, {"july", "juli", "juillet"}, {"august", "aout"}, {"september", "septembre"},
	{"october", "oktober", "octobre"}, {"november", "novembre"}, {"december", "dezember", "decembre"},
}

// monthNamed finds a month by its name; 0: it is none, or could be several.
func monthNamed(text string) (month int) {
	text = words.Fold(text)
	for i, names := range months {
		for _, name := range names {
			if text == name {
				return i + 1
			}
			if len(text) >= 3 && strings.HasPrefix(name, text) {
				if month != 0 && month != i+1 {
					return 0
				}
				month = i + 1
			}
		}
	}
	return month
}

var (
	inNumbers = regexp.MustCompile(`^(\d{1,4}) ?([./-]) ?(\d{1,2}) ?([./-]) ?(\d{1,4})$`)
	inMonths  = regexp.MustCompile(`^(\d{1,4}) ?[./-] ?(\d{1,4})$`)
	atTime    = regexp.MustCompile(`[ T]\d{1,2}:\d\d(:\d\d)?$`)
	wordSigns = strings.NewReplacer(",", " ", ".", " ", "-", " ")
)

// written is a day as somebody wrote it: two numbers of which either may be the
// month, or day, month and year known.
type written struct {
	a, b    int // as they stand, where they are not told apart
	day     int // 0 where none is given
	month   int
	year    int
	how     string
	twoways bool
}

// readDay reads a day; ok is false where the text is none.
func readDay(text string) (w written, ok bool) {
	text = atTime.ReplaceAllString(words.Clean(text), "")
	if p := inNumbers.FindStringSubmatch(text); p != nil && p[2] == p[4] {
		a, b, c := number(p[1]), number(p[3]), number(p[5])
		switch {
		case len(p[1]) == 4 && len(p[5]) <= 2:
			return written{year: a, month: b, day: c, how: "year, month, day"}, valid(a, b, c)
		case len(p[5]) != 4 || len(p[1]) > 2:
			return w, false // a year of two digits is not guessed at
		case p[2] == ".":
			return written{year: c, month: b, day: a, how: "day.month.year"}, valid(c, b, a)
		case a == b:
			return written{year: c, month: b, day: a, how: "day and month are the same number"}, valid(c, b, a)
		}
		return written{a: a, b: b, year: c, twoways: true}, valid(c, b, a) || valid(c, a, b)
	}
	if p := inMonths.FindStringSubmatch(text); p != nil {
		month, year := p[1], p[2]
		if len(month) == 4 {
			month, year = year, month
		}
		return written{year: number(year), month: number(month), how: firstOfMonth}, len(year) == 4 && len(month) <= 2 && valid(number(year), number(month), 1)
	}
	return inWords(strings.Fields(wordSigns.Replace(text)))
}

const firstOfMonth = "no day is given: the first of the month"

// inWords reads "12 June 2020", "June 12th, 2020" and "June 2020".
func inWords(fields []string) (w written, ok bool) {
	if len(fields) < 2 || len(fields) > 3 || len(fields[len(fields)-1]) != 4 {
		return w, false
	}
	w.year, w.how = number(fields[len(fields)-1]), "the month is named"
	for _, f := range fields[:len(fields)-1] {
		digits := strings.TrimRight(f, "stndrh") // of 1st, 2nd, 3rd, 4th
		switch m := monthNamed(f); {
		case m != 0 && w.month == 0:
			w.month = m
		case number(digits) > 0 && w.day == 0:
			w.day = number(digits)
		default:
			return w, false
		}
	}
	if w.day == 0 {
		w.how = firstOfMonth
	}
	return w, valid(w.year, w.month, max(1, w.day))
}

// number is a whole number; 0 where the text is none.
func number(text string) int {
	n, err := strconv.Atoi(text)
	if err != nil {
		return 0
	}
	return n
}

// valid tells whether there is such a day, in times of which people keep patterns.
func valid(year, month, day int) bool {
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	return year >= 1800 && year <= 2199 && t.Month() == time.Month(month) && t.Day() == day
}

// CanRead tells whether a cell that a field cannot read may be one that is proposed
// to be read: a day written otherwise.
func CanRead(field, text string) bool {
	_, ok := readDay(text)
	return ok && slices.Contains(dayFields, field)
}

// order says which comes first in the days of a column that are written in numbers
// with a slash or a hyphen. Days that can be read one way alone tell it, unless they
// contradict each other.
type order struct {
	dayFirst, monthFirst string // a day of the column that tells it
}

func orderOf(texts []string) (o order) {
	for _, text := range texts {
		w, ok := readDay(text)
		if !ok || !w.twoways {
			continue
		}
		if !valid(w.year, w.a, w.b) {
			o.dayFirst = text
		}
		if !valid(w.year, w.b, w.a) {
			o.monthFirst = text
		}
	}
	return o
}

// day reads a day in a column of an order: as our fields have it, and what tells so.
// Where it cannot be told, that says why.
func (o order) day(text string) (day, why string, ok bool) {
	w, ok := readDay(text)
	switch {
	case !ok:
		return "", "it is not a day that can be read", false
	case !w.twoways:
	case !valid(w.year, w.a, w.b):
		w.day, w.month, w.how = w.a, w.b, "there is no month of that number: the day comes first"
	case !valid(w.year, w.b, w.a):
		w.day, w.month, w.how = w.b, w.a, "there is no month of that number: the month comes first"
	case o.dayFirst != "" && o.monthFirst == "":
		w.day, w.month, w.how = w.a, w.b, fmt.Sprintf("the column has %q too: the day comes first", o.dayFirst)
	case o.monthFirst != "" && o.dayFirst == "":
		w.day, w.month, w.how = w.b, w.a, fmt.Sprintf("the column has %q too: the month comes first", o.monthFirst)
	default:
		return "", "it can be either of two days, and the column does not tell which comes first", false
	}
	return fmt.Sprintf("%04d-%02d-%02d", w.year, w.month, max(1, w.day)), w.how, true
}
