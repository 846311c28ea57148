package propose

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"example.org/tuckrow/model"
	"example.org/tuckrow/model/gtin"
)

// What was guessed wrong and put right counts against the guess, until it is
// wrong oftener than right; what is then listed teaches anew.
func TestWrongGuessesUnlearn(t *testing.T) {
	changes := []model.Change{add(sleeve("Quillon", "4107", code(t, "012345604107")), sleeve("Quillon", "4222", code(t, "012345604222")))}
	for i, want := range []Guess{
		{Publisher: "Quillon", Sleeves: 2, Of: 2, Number: "4955", Agree: 2, Tried: 2},
		{Publisher: "Quillon", Sleeves: 3, Of: 3, Number: "4955", Agree: 2, Tried: 3},
		{Publisher: "Quillon", Sleeves: 4, Of: 4}, // right twice, wrong twice
		{Publisher: "Quillon", Sleeves: 4, Of: 5},
		{Publisher: "Quillon", Sleeves: 4, Of: 6},
		{Publisher: "Quillon", Sleeves: 4, Of: 7},
		{}, // as many of the one as of the other
		{Publisher: "Harrow & Pell", Sleeves: 5, Of: 9},
	} {
		switch { // the sleeves that turn out to be something else
		case i > 2:
			changes = append(changes, add(sleeve("Harrow & Pell", fmt.Sprint("A", i), code(t, fmt.Sprintf("0123456045%d0", i)))))
		case i > 0:
			changes = append(changes, add(sleeve("Quillon", fmt.Sprint(900+i), code(t, fmt.Sprintf("0123456043%d0", i)))))
		}
		if got := follow(t, changes...).Code(code(t, "012345604955")); got != want {
			t.Errorf("after %d sleeves that were something else: %+v, want %+v", i, got, want)
		}
	}
}

// A record put right is no longer evidence for what it said.
func TestWhatIsPutRightIsForgotten(t *testing.T) {
	wrong := sleeve("Harrow & Pell", "410", code(t, "765432110410"))
	right := wrong
	right.Accession, right.Publisher = 1, "Quillon"
	k := follow(t, add(wrong, sleeve("Quillon", "411", code(t, "765432110411"))))
	if got := k.Code(code(t, "765432110500")); got != (Guess{}) {
		t.Errorf("one sleeve against one: %+v, want nothing", got)
	}
	k = follow(t, add(wrong, sleeve("Quillon", "411", code(t, "765432110411"))), &model.Revise{Entry: right})
	want := Guess{Publisher: "Quillon", Sleeves: 2, Of: 2, Number: "500", Agree: 2, Tried: 2}
	if got := k.Code(code(t, "765432110500")); got != want {
		t.Errorf("after it was put right: %+v, want %+v", got, want)
	}
}

// The rule of succession (Laplace, 1774): (m+1)/(n+2).
func TestHowSure(t *testing.T) {
	g := Guess{Sleeves: 1, Of: 1, Agree: 10, Tried: 10}
	if got := g.SurePublisher(); got != 2.0/3 {
		t.Errorf("one sleeve makes sure by %v, want 2/3", got)
	}
	if got := g.SureNumber(); got != 11.0/12 {
		t.Errorf("ten of ten make sure by %v, want 11/12", got)
	}
	if got := (Guess{Of: 3}).SurePublisher(); got != 0 {
		t.Errorf("nothing guessed is sure by %v", got)
	}
}

// A UPC-E, a GTIN-12 and a GTIN-13 of one sleeve are one code: 04252614 stands
// for 042100005264 (published).
func TestEveryWayOfPrintingACodeIsOne(t *testing.T) {
	k := follow(t, add(sleeve("Quillon", "526", "04252614")))
	for _, text := range []string{"04252614", "042100005264", "0042100005264", "0 42100 00526 4"} {
		if got := k.Code(text); got != (Guess{Pattern: 1}) {
			t.Errorf("%s: %+v, want pattern 1", text, got)
		}
	}
	for _, text := range []string{"", "526", "042100005265"} {
		if got := k.Code(text); got != (Guess{}) {
			t.Errorf("%s: %+v, want nothing", text, got)
		}
	}
}

// A book and a magazine have one code for many patterns: it stands for none of
// them. A supplement tells the issues apart; an ISSN like another says nothing.
func TestBooksAndMagazines(t *testing.T) {
	book := code(t, "978000000001") // invented
	k := follow(t, add(
		sleeve("Cutting for a Lantern Stage", "p. 18", book), sleeve("Cutting for a Lantern Stage", "p. 40", book),
		sleeve("Ombrévaux", "04/2019 112", "9771144875007+04"), sleeve("Ombrévaux", "04/2019 112", "9771144875007+04"), sleeve("Ombrévaux", "05/2019 101", "9771144875007+05")))
	for text, want := range map[string]Guess{
		book:                    {Publisher: "Cutting for a Lantern Stage", Sleeves: 2, Of: 2},
		"9771144875007+05":      {Pattern: 5},
		"9771144875007+06":      {Publisher: "Ombrévaux", Sleeves: 3, Of: 3},
		"9771144875007":         {Publisher: "Ombrévaux", Sleeves: 3, Of: 3},
		code(t, "977114487600"): {},
	} {
		if got := k.Code(text); got != want {
			t.Errorf("%s: %+v, want %+v", text, got, want)
		}
	}
	if got := follow(t, add(sleeve("Ombrévaux", "04/2019 112", "9771144875007"))).Code("9771144875007"); got.Pattern != 0 || got.Publisher != "Ombrévaux" {
		t.Errorf("the code of a magazine alone: %+v, want its publisher and no issue", got)
	}
}

// Where a publisher keeps to one way of putting its numbers into codes, two
// sleeves are enough to read every other, and none is read wrong.
func TestAPublishersWayIsLearned(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prefix := rapid.StringMatching("0[1-9][0-9]{5}").Draw(t, "prefix")
		letter := rapid.SampledFrom([]string{"", "K", "Q"}).Draw(t, "letter")
		numbers := rapid.SliceOfNDistinct(rapid.IntRange(1000, 9999), 3, 8, func(n int) int { return n }).Draw(t, "numbers")
		codeFor := func(n int) string {
			body := fmt.Sprintf("%s0%d", prefix, n)
			return body + string(gtin.Check(body))
		}
		var list []model.Entry
		for _, n := range numbers[1:] {
			list = append(list, sleeve("Quillon", fmt.Sprint(letter, n), codeFor(n)))
		}
		c, _, err := model.NewCollection().Apply(add(list...), day)
		if err != nil {
			t.Fatal(err)
		}
		got, want := New(c).Code(codeFor(numbers[0])), fmt.Sprint(letter, numbers[0])
		if got.Publisher != "Quillon" || got.Sleeves != len(list) || got.Of != len(list) {
			t.Fatalf("%s: %+v, want Quillon by %d sleeves", codeFor(numbers[0]), got, len(list))
		}
		// Chance can put a number into a code twice; then it is not read, rather
		// than read wrong.
		if got.Number != want && got.Number != "" {
			t.Fatalf("%s: number %q, want %q", codeFor(numbers[0]), got.Number, want)
		}
		if got.Number == want && (got.Agree != len(list) || got.Tried != len(list)) {
			t.Fatalf("%s: %+v, want that all %d agree", codeFor(numbers[0]), got, len(list))
		}
	})
}

// What was learned says from how many sleeves, and unlearns with them: a sleeve
// that turns out to be another publisher's counts against the first at once.
func TestWhatIsLearnedAndUnlearned(t *testing.T) {
	first := add(sleeve("Quillon", "K4107", code(t, "012345604107")), sleeve("Quillon", "K4222", code(t, "012345604222")), sleeve("Quillon", "K980", code(t, "012345600980")),
		sleeve("Harrow & Pell", "6123", code(t, "765432161230")), sleeve("Ostrimel", "04/2019", "9771144875007"))
	k := follow(t, first)
	for i, want := range []Learned{
		{1, "01234560", Guess{Publisher: "Quillon", Sleeves: 3, Of: 3, Agree: 3, Tried: 3}},
		{2, "7654321612", Guess{Publisher: "Harrow & Pell", Sleeves: 1, Of: 1}},
	} {
		if got := k.Learned(); len(got) != 2 || got[i] != want {
			t.Errorf("learned is %+v, want %+v", got, want)
		}
	}
	wrong := sleeve("Harrow & Pell", "7001", code(t, "012345604222"))
	wrong.Accession = 2
	k = follow(t, first, &model.Revise{Entry: wrong})
	got := k.Learned()
	if len(got) != 3 || got[0].Sleeves != 2 || got[0].Of != 3 || got[0].SurePublisher() >= 0.7 || got[1].Publisher != 2 {
		t.Errorf("with one of them another's, learned is %+v", got)
	}
}
