package clean

import (
	"regexp"
	"strings"
	"unicode"

	"example.org/tuckrow/model"
)

// Doubt is a number that may not be one, and that nobody but the owner can mend.
type Doubt struct {
	Row  int // index of the row
	Text string
	Why  string
}

var (
	// inPowers is how spreadsheets write a long number that is too wide for its cell.
	inPowers = regexp.MustCompile(`^\d+([.,]\d+)?[eE]\+?\d+$`)
	twoOfIt  = regexp.MustCompile(`^[A-Za-z]?\d{3,} ?[/&+] ?[A-Za-z]?\d{3,}$`)
)

// Doubts looks through the numbers of rows for what is likely none, or more than
// one. Nothing of it is altered.
func Doubts(rows []model.Entry) []Doubt {
	var out []Doubt
	for i, en := range rows {
		why := ""
		switch number := en.Number; {
		case number == "":
		case inPowers.MatchString(number):
			why = "a spreadsheet has shortened it, and what it was cannot be known: look at the sleeve"
		case !strings.ContainsFunc(number, unicode.IsDigit):
			why = "there is no digit in it: where the pattern has no number, leave it empty"
		case twoOfIt.MatchString(number) && !issue.MatchString(number):
			why = "it may be two patterns: they are two rows then"
		}
		if why != "" {
			out = append(out, Doubt{i, en.Number, why})
		}
	}
	return out
}
