package tui_test

import (
	"testing"

	"example.org/tuckrow/tui/collection"
)

// The question after the publisher says what it may be.
func TestTheColumnOfPublisherAndNumberIsTheQuestion(t *testing.T) {
	inFolder(t, map[string]string{"two.csv": "What,Which\nQuillon 4107,Tea gown\n"})
	p := play(t, collection.ID, add("Quillon", "9", "Smock", "", 0))
	p.keys("'i", "'two.csv", "enter", "enter")
	p.mustShow("publisher and number in one cell")
}

// What the command line would do about it is told as such: in the form a column is
// left out by its letters.
func TestTwoColumnsForTheSameAreToldForTheForm(t *testing.T) {
	inFolder(t, map[string]string{"two.csv": "Company,Pattern,What\nQuillon,4107,Cape\n"})
	p := play(t, collection.ID)
	p.keys("'i", "'two.csv", "enter", "down", "down", "'nu", "enter")
	p.mustShow(`columns "Pattern" and "What" both go into "number"; leave one out (at the`, "command line: ")
	p.mustNotShow("leave one out with --")
}
